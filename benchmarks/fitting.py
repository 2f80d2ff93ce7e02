"""Fit the similarity law of bronze to the published bells and foundry tables of ``tests/derive/tables``.

A mixed model in natural logarithm, by generalised least squares: bells of like size from one founder, tower
and decade have a part of their deviation in common, so that many bells of one ring do not count as many
witnesses. How much they have in common is found by restricted maximum likelihood.

The constants of large and middling bells come from the documented church bells alone, for catalogue lines
are no castings. The tables of founders tell how small bells grow and what the classes mean.
"""

import csv
import math
import re
from collections import defaultdict
from collections.abc import Iterable, Sequence
from pathlib import Path
from statistics import median
from typing import Any, NamedTuple

import numpy as np
from scipy.optimize import minimize

from registry.derive.kinship import Kin, kinship
from registry.derive.law import GreatBells, Law, Scatter, law_of

TABLES = Path(__file__).resolve().parent.parent / "tests" / "derive" / "tables"
STEPS_FROM_A = {"C": -9, "D": -7, "E": -5, "F": -4, "G": -2, "A": 0, "B": 2}
CLASS_OF = {"super-heavy": "ultra-heavy"}
"""Words of sources for classes of the table; other words, such as a founder's own profile, are no class."""
SAME_FOUNDER = {"Bachert": "Bachert", "F. W. Schilling": "F. W. Schilling"}
"""Founders that the table names with and without their town."""

AS_GOOD_AS = 0.02
"""Share of its misfit by which one fit of the small bells may be worse than another and still as good."""
MEDIUM_BELLS = ("Archdiocese of Cologne", 406.0)
"""Seven medium-profile bells, f d = 406.0 (G. Hoffs): one more founder's notion of medium."""
SMALL_M = 0.7
"""Below this diameter bells tell how small bells grow."""
HABIT_OF_A_TIME = 0.06
"""Standard deviation [ln] with which the habits of founders of a time are drawn towards none."""
PULL_OF_SLOPE = 0.1
"""The same for the slope of great bells: similar bells have none (Rossing and Perrin 1987)."""
SCATTER_OF_MORE_BELLS = 0.10
"""Standard deviation of ln m/(f d^4) in a larger set of 124 published bells; ours has less, by chance."""


class Row(NamedTuple):
    """One published bell or catalogue line: metres, kilograms, hertz."""

    tower: str
    kin: Kin
    diameter_m: float
    mass_kg: float
    strike_hz: float | None
    profile_class: str | None
    cast_year: int | None
    kind: str
    """``church``, ``carillon`` or ``catalogue``."""


def lines_of(name: str) -> Iterable[dict[str, str]]:
    """Read a published table without its comment lines."""
    with (TABLES / name).open(encoding="utf-8", newline="") as table:
        yield from csv.DictReader(line for line in table if not line.startswith("#"))


def hertz(note: str) -> float:
    """Give the frequency of a note in scientific pitch, a' = 440 Hz."""
    letter, sharp, octave = re.fullmatch(r"([A-G])(#?)(\d)", note).groups()
    return 440.0 * 2.0 ** (int(octave) - 4 + (STEPS_FROM_A[letter] + bool(sharp)) / 12)


def published_rows() -> list[Row]:
    """Give every row of bronze fit for judging: bells not disputed, catalogue lines with a diameter."""
    classes = {*law_of("bronze").half_semitones, "carillon"}
    rows = []
    for line in lines_of("published_bells.csv"):
        if line["material"] == "bronze" and line["use_in_fit"] == "1":
            word = CLASS_OF.get(line["profile_stated"], line["profile_stated"])
            year = int(line["year_cast"]) if line["year_cast"] else None
            diameter_m = float(line["mouth_diameter_m"])
            founder = line["founder"].split(",")[0]
            row = Row(
                tower=line["tower"],
                kin=Kin(SAME_FOUNDER.get(founder, founder), line["tower"], year, diameter_m),
                diameter_m=diameter_m,
                mass_kg=float(line["mass_kg"]),
                strike_hz=float(line["strike_hz"]) if line["strike_hz"] else None,
                profile_class=word if word in classes else None,
                cast_year=year,
                kind="carillon" if word == "carillon" else "church",
            )
            rows.append(row)
    for line in lines_of("foundry_tables.csv"):
        if line["mouth_diameter_m"]:
            diameter_m = float(line["mouth_diameter_m"])
            row = Row(
                tower=line["source"],
                kin=Kin(line["source"], line["source"], 0, diameter_m),
                diameter_m=diameter_m,
                mass_kg=float(line["mass_kg"]),
                strike_hz=hertz(line["note"]) if line["note"] else None,
                profile_class=line["profile"] if line["profile"] in classes else None,
                cast_year=None,
                kind="catalogue",
            )
            rows.append(row)
    return rows


class Fitted(NamedTuple):
    """Coefficients of a mixed model, and the scatter about it."""

    coefficients: Any
    scatter: Scatter


def mixed(rows: Sequence[Row], observed: Any, terms: Any, pull: Sequence[float]) -> Fitted:
    """Fit ``observed`` = ``terms`` @ coefficients + what kin have in common + what each bell has alone.

    ``pull`` is the standard deviation that draws each coefficient towards 0; infinite for none.
    """
    alike = np.array([[kinship(one.kin, other.kin) for other in rows] for one in rows])
    towards_none = np.diag([1.0 / each**2 for each in pull])

    def solved(logs: Any) -> tuple[float, Any]:
        covariance = math.exp(2.0 * logs[0]) * alike + math.exp(2.0 * logs[1]) * np.eye(len(rows))
        lower = np.linalg.cholesky(covariance)
        white, seen = np.linalg.solve(lower, terms), np.linalg.solve(lower, observed)
        normal = white.T @ white + towards_none
        coefficients = np.linalg.solve(normal, white.T @ seen)
        left = seen - white @ coefficients
        misfit = left @ left + coefficients @ towards_none @ coefficients
        deviance = 2.0 * np.log(np.diag(lower)).sum() + np.linalg.slogdet(normal)[1] + misfit
        return deviance, coefficients

    bounds = [(-6.0, 0.0)] * 2
    logs = minimize(lambda each: solved(each)[0], (-2.5, -3.0), method="L-BFGS-B", bounds=bounds).x
    return Fitted(solved(logs)[1], Scatter(*(float(each) for each in np.exp(logs))))


def fit(rows: Sequence[Row]) -> Law:
    """Fit constants and scatters of the law; powers, kinship, spreads of classes and small bells stay."""
    church = [row for row in rows if row.kind == "church"]
    law = _by_size(law_of("bronze"), church)
    onsets = [_with_onset(law, step / 100.0) for step in range(16, 31)]
    misfits = [_misfit_of_small(each, rows) for each in onsets]
    # As little growth as the tables of small bells allow.
    law = next(
        each
        for each, misfit in zip(onsets, misfits, strict=True)
        if misfit <= min(misfits) * (1.0 + AS_GOOD_AS)
    )
    law = _by_size(law, church)
    law = _with_carillon(law, [row for row in rows if row.kind == "carillon"])
    return law._replace(medium_pitch_factor=_medium(law, rows))


def _medium(law: Law, rows: Iterable[Row]) -> float:
    """Give the pitch factor of the medium class: the median of the medians of founders."""
    by_founder: dict[tuple[str, str], list[float]] = defaultdict(list)
    by_founder["", MEDIUM_BELLS[0]].append(MEDIUM_BELLS[1])
    for row in rows:
        if row.strike_hz and row.profile_class in law.half_semitones:
            factor = _pitch_factor(law, row) / 2.0 ** (law.half_semitones[row.profile_class] / 24.0)
            by_founder[row.kin.founder, row.tower].append(factor)
    return median(median(factors) for factors in by_founder.values())


def _pitch_factor(law: Law, row: Row) -> float:
    """Give f·d/g(d) of a row [Hz·m]."""
    return row.strike_hz * row.diameter_m / law.small.growth(row.diameter_m)


def _with_onset(law: Law, onset_m: float) -> Law:
    return law._replace(small=law.small._replace(onset_m=onset_m))


def constants_of(law: Law) -> dict[str, float]:
    """Give the fitted constants by name; a scatter as a whole."""
    scatters = ("mass_scatter", "undated_scatter", "pitch_scatter", "size_scatter")
    return {
        "mass_factor": law.mass_factor,
        "pitch_factor": law.pitch_factor,
        "great_bells.slope": law.great.slope,
        "small_bells.onset_m": law.small.onset_m,
        "carillon.onset_m": law.carillon.onset_m,
        "medium_pitch_factor": law.medium_pitch_factor,
        **{f"casting_dates to {until}": factor for until, factor in law.date_factors},
        **{name: math.hypot(*getattr(law, name)) for name in scatters},
    }


def _misfit_of_small(law: Law, rows: Sequence[Row]) -> float:
    """Give the sum of absolute errors by size alone, of mass and note of small bells that are no trebles."""
    small = [row for row in rows if row.diameter_m < SMALL_M and row.kind != "carillon"]
    errors = [abs(math.log(law.mass_by_size(row.diameter_m).value / row.mass_kg)) for row in small]
    errors += [
        abs(math.log(law.strike(row.diameter_m).value / row.strike_hz)) for row in small if row.strike_hz
    ]
    return sum(errors)


def _with_carillon(law: Law, rows: Sequence[Row]) -> Law:
    """Set the onset for carillon bells; without any, they are held for ordinary small bells."""
    if not rows:
        return law._replace(carillon=law.small)
    shipped = law_of("bronze").carillon

    def onset(row: Row) -> float:
        growth = row.strike_hz * row.diameter_m / law.pitch_factor - 1.0
        return row.diameter_m * max(growth, 0.0) ** (1.0 / shipped.power)

    return law._replace(carillon=shipped._replace(onset_m=median(map(onset, rows))))


def _time_of(law: Law, row: Row) -> int:
    """Give the last year of the time in which a bell was cast."""
    return next(until for until, _ in law.date_factors if row.cast_year <= until)


def _by_size(law: Law, church: Sequence[Row]) -> Law:
    """Fit mass and pitch factors, times and great bells, with the growth of small bells as it is."""
    noted = [row for row in church if row.strike_hz]
    mass = np.array([math.log(row.mass_kg / (row.strike_hz * row.diameter_m**4)) for row in noted])
    times = [[1.0, *(float(until == _time_of(law, row)) for until, _ in law.date_factors)] for row in noted]
    dated = mixed(noted, mass, np.array(times), [math.inf] + [HABIT_OF_A_TIME] * len(law.date_factors))
    undated = mixed(noted, mass, np.ones((len(noted), 1)), [math.inf])
    more = SCATTER_OF_MORE_BELLS / math.hypot(*undated.scatter)
    excess = [math.log(max(row.diameter_m / law.great.onset_m, 1.0)) for row in church]
    by_size = mixed(
        church,
        np.array(
            [math.log(row.mass_kg / row.diameter_m**3 / law.small.growth(row.diameter_m)) for row in church]
        ),
        np.array([[1.0, each] for each in excess]),
        [math.inf, PULL_OF_SLOPE],
    )
    slope = float(by_size.coefficients[1])
    law = law._replace(great=GreatBells(law.great.onset_m, slope))
    pitch = [math.log(_pitch_factor(law, row) / law.great.growth(row.diameter_m)) for row in noted]
    pitched = mixed(noted, np.array(pitch), np.ones((len(noted), 1)), [math.inf])
    return law._replace(
        mass_factor=math.exp(dated.coefficients[0]),
        mass_scatter=Scatter(*(more * each for each in dated.scatter)),
        undated_scatter=Scatter(*(more * each for each in undated.scatter)),
        date_factors=tuple(
            (until, math.exp(each))
            for (until, _), each in zip(law.date_factors, dated.coefficients[1:], strict=True)
        ),
        pitch_factor=math.exp(pitched.coefficients[0]),
        pitch_scatter=pitched.scatter,
        size_scatter=by_size.scatter,
    )
