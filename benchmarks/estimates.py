"""How good are the estimates of mass and note? Leave one tower out, refit, and look at the bells left out.

Run ``python benchmarks/estimates.py``. It reads the published bells and foundry tables of
``tests/derive/tables``, fits constants and intervals of the law without one tower (or one founder's table),
estimates the bells of that tower, and goes on to the next. The table tells, for every method, the median
error and how often the 90 % interval held. Last come the constants from all rows, beside the shipped ones in
``schema/rules/estimates.yaml``.

Founders have habits, so bells of one founder in one tower are not independent. In a group of n each counts
1/(1 + (n - 1)/2): the design effect for a correlation of one half within the group, about what a mixed model
of ln(m/(f d^4)) finds (0.055 between groups, 0.05 to 0.07 within).

All carillon trebles come from one tower: where it is left out, nothing teaches the law how they differ. The
church bells tell how well the rest is known.
"""

import csv
import math
import operator
import re
from collections import Counter, defaultdict
from collections.abc import Callable, Iterable, Sequence
from pathlib import Path
from statistics import median
from typing import NamedTuple

from registry.derive.law import Law, Spreading, law_of
from registry.derive.mass import mass_estimates
from registry.derive.strike import strike_estimate
from registry.model.derived import Derived

TABLES = Path(__file__).resolve().parent.parent / "tests" / "derive" / "tables"
SEMITONE = {
    "C": -9,
    "C#": -8,
    "D": -7,
    "D#": -6,
    "E": -5,
    "F": -4,
    "F#": -3,
    "G": -2,
    "G#": -1,
    "A": 0,
    "A#": 1,
    "B": 2,
}
CLASS_OF = {"super-heavy": "ultra-heavy"}
"""Words of sources for classes of the table; other words, such as a founder's own profile, are no class."""
WITHIN_GROUP = 0.5


class Row(NamedTuple):
    """One published bell or catalogue line: metres, kilograms, hertz."""

    tower: str
    group: str
    diameter_m: float
    mass_kg: float
    strike_hz: float | None
    profile_class: str | None
    cast_year: int | None
    kind: str
    """``church``, ``carillon`` or ``catalogue``."""


class Outcome(NamedTuple):
    """One estimate beside the published value: error in natural logarithm, and whether the interval held."""

    row: Row
    error: float
    held: bool


def lines_of(name: str) -> Iterable[dict[str, str]]:
    """Read a published table without its comment lines."""
    with (TABLES / name).open(encoding="utf-8", newline="") as table:
        yield from csv.DictReader(line for line in table if not line.startswith("#"))


def hertz(note: str) -> float:
    """Give the frequency of a note in scientific pitch, a' = 440 Hz."""
    name, octave = re.fullmatch(r"([A-G]#?)(\d)", note).groups()
    return 440.0 * 2.0 ** (int(octave) - 4 + SEMITONE[name] / 12)


def published_rows() -> list[Row]:
    """Give every row of bronze fit for judging: bells not disputed, catalogue lines with a diameter."""
    classes = {*law_of("bronze").half_semitones, "carillon"}
    rows = []
    for line in lines_of("published_bells.csv"):
        if line["material"] == "bronze" and line["use_in_fit"] == "1":
            word = CLASS_OF.get(line["profile_stated"], line["profile_stated"])
            row = Row(
                tower=line["tower"],
                group=f"{line['tower']}/{line['founder']}",
                diameter_m=float(line["mouth_diameter_m"]),
                mass_kg=float(line["mass_kg"]),
                strike_hz=float(line["strike_hz"]) if line["strike_hz"] else None,
                profile_class=word if word in classes else None,
                cast_year=int(line["year_cast"]) if line["year_cast"] else None,
                kind="carillon" if word == "carillon" else "church",
            )
            rows.append(row)
    for line in lines_of("foundry_tables.csv"):
        if line["mouth_diameter_m"]:
            row = Row(
                tower=line["source"],
                group=line["source"],
                diameter_m=float(line["mouth_diameter_m"]),
                mass_kg=float(line["mass_kg"]),
                strike_hz=hertz(line["note"]) if line["note"] else None,
                profile_class=line["profile"] if line["profile"] in classes else None,
                cast_year=None,
                kind="catalogue",
            )
            rows.append(row)
    return rows


def weights(rows: Sequence[Row]) -> list[float]:
    """Weigh the rows so that each group counts about once."""
    size = Counter(row.group for row in rows)
    return [1.0 / (1.0 + (size[row.group] - 1) * WITHIN_GROUP) for row in rows]


def quantile(rows: Sequence[Row], value: Callable[[Row], float], share: float) -> float:
    """Give a weighted quantile over the rows."""
    pairs = sorted(zip(map(value, rows), weights(rows), strict=True))
    below, wanted = 0.0, share * sum(weight for _, weight in pairs)
    for each, weight in pairs:
        below += weight
        if below >= wanted:
            return each
    return pairs[-1][0]


def fit(rows: Sequence[Row]) -> Law:
    """Fit the central constants of the law one after the other; its spreads and powers stay as they are."""
    with_note = [row for row in rows if row.strike_hz]
    mass_factor = quantile(with_note, lambda row: row.mass_kg / (row.strike_hz * row.diameter_m**4), 0.5)
    law = law_of("bronze")._replace(mass_factor=mass_factor)
    law = fitted_dates(law, [row for row in with_note if row.cast_year])
    law = min(
        (with_onset(law, step / 100.0, rows) for step in range(16, 31)), key=lambda each: misfit(each, rows)
    )
    law = with_carillon(law, [row for row in with_note if row.kind == "carillon"])
    medium = quantile(
        [row for row in with_note if row.profile_class in law.half_semitones],
        lambda row: pitch_factor(law, row) / 2.0 ** (law.half_semitones[row.profile_class] / 24.0),
        0.5,
    )
    return law._replace(medium_pitch_factor=medium)


def pitch_factor(law: Law, row: Row) -> float:
    """Give f·d/g(d) of a row [Hz·m]."""
    return row.strike_hz * row.diameter_m / law.small.growth(row.diameter_m)


def with_onset(law: Law, onset_m: float, rows: Sequence[Row]) -> Law:
    """Try an onset of the growth of small bells, with the pitch factor that goes with it."""
    law = law._replace(small=law.small._replace(onset_m=onset_m), carillon=None)
    church = [row for row in rows if row.strike_hz and row.kind != "carillon"]
    return law._replace(pitch_factor=quantile(church, lambda row: pitch_factor(law, row), 0.5))


def misfit(law: Law, rows: Sequence[Row]) -> float:
    """Give the weighted sum of absolute errors of mass and note by size alone."""
    with_note = [row for row in rows if row.strike_hz]
    errors = [abs(math.log(law.mass_by_size(row.diameter_m).value / row.mass_kg)) for row in rows]
    errors += [abs(math.log(law.strike(row.diameter_m).value / row.strike_hz)) for row in with_note]
    return sum(map(operator.mul, errors, [*weights(rows), *weights(with_note)]))


def with_carillon(law: Law, rows: Sequence[Row]) -> Law:
    """Set the onset for carillon bells; without any, they are held for ordinary small bells."""
    if not rows:
        return law._replace(carillon=law.small)
    shipped = law_of("bronze").carillon

    def onset(row: Row) -> float:
        growth = row.strike_hz * row.diameter_m / law.pitch_factor - 1.0
        return row.diameter_m * max(growth, 0.0) ** (1.0 / shipped.power)

    return law._replace(carillon=shipped._replace(onset_m=quantile(rows, onset, 0.5)))


def fitted_dates(law: Law, rows: Sequence[Row]) -> Law:
    """Set the habits of founders by time: weighted means, drawn to none as by one more group without any."""
    size = Counter((row.group, time_of(law, row.cast_year)) for row in rows)
    total, sum_of_weights = Counter(), Counter()
    for row in rows:
        time = time_of(law, row.cast_year)
        weight = 1.0 / (1.0 + (size[row.group, time] - 1) * WITHIN_GROUP)
        total[time] += weight * math.log(row.mass_kg / (law.mass_factor * row.strike_hz * row.diameter_m**4))
        sum_of_weights[time] += weight
    return law._replace(
        date_factors=tuple(
            (until, math.exp(total[until] / (sum_of_weights[until] + 1.0))) for until, _ in law.date_factors
        )
    )


def time_of(law: Law, year: int) -> int:
    """Give the last year of the time a year belongs to."""
    return next(until for until, _ in law.date_factors if year <= until)


def with_spreads(law: Law, left_out: Sequence[tuple[Row, Law]]) -> Law:
    """Set the spreads to what held for nine rows in ten, each seen by a law that did not know its tower."""
    law_for = {id(row): seen for row, seen in left_out}
    rows = [row for row, _ in left_out]
    with_note = [row for row in rows if row.strike_hz]

    def needed(row: Row, estimate: Callable[[Law], Spreading], truth: float) -> float:
        """Give the plain spread that would just have held the truth, beside what small bells add anyway."""
        plain = law_for[id(row)]._replace(
            mass_spread=0.0, pitch_spread=0.0, size_spread=0.0, class_spread=0.0
        )
        value, of_small = estimate(plain)
        return math.sqrt(max(math.log(value / truth) ** 2 - of_small**2, 0.0))

    return law._replace(
        mass_spread=quantile(
            with_note,
            lambda row: needed(
                row, lambda each: each.mass_by_strike(row.diameter_m, row.strike_hz), row.mass_kg
            ),
            0.9,
        ),
        size_spread=quantile(
            rows, lambda row: needed(row, lambda each: each.mass_by_size(row.diameter_m), row.mass_kg), 0.9
        ),
        pitch_spread=quantile(
            [row for row in with_note if row.kind != "carillon"],
            lambda row: needed(row, lambda each: each.strike(row.diameter_m), row.strike_hz),
            0.9,
        ),
        class_spread=quantile(
            [row for row in with_note if row.profile_class in law.half_semitones],
            lambda row: needed(
                row, lambda each: each.strike(row.diameter_m, row.profile_class), row.strike_hz
            ),
            0.9,
        ),
    )


class Judge:
    """Fits the law without some towers; remembers what it has fitted."""

    def __init__(self, rows: Sequence[Row]) -> None:
        self.rows = rows
        self.towers = sorted({row.tower for row in rows})
        self._fitted: dict[frozenset[str], Law] = {}

    def central(self, *without: str) -> Law:
        """Give the central constants from all but these towers."""
        key = frozenset(without)
        if key not in self._fitted:
            self._fitted[key] = fit([row for row in self.rows if row.tower not in key])
        return self._fitted[key]

    def law(self, *without: str) -> Law:
        """Give constants and spreads from all but these towers."""
        seen = [(row, self.central(row.tower, *without)) for row in self.rows if row.tower not in without]
        return with_spreads(self.central(*without), seen)


def outcomes(law: Law, rows: Iterable[Row]) -> dict[str, list[Outcome]]:
    """Estimate every row in every way, as a user would, and compare."""
    found: dict[str, list[Outcome]] = defaultdict(list)
    for row in rows:
        diameter_mm = row.diameter_m * 1000.0
        estimates = [*mass_estimates(diameter_mm, row.strike_hz, row.profile_class, law=law)]
        if row.strike_hz and row.cast_year:
            estimates.append(mass_estimates(diameter_mm, row.strike_hz, cast_year=row.cast_year, law=law)[0])
        for estimate in estimates:
            found[f"mass by {estimate.method}"].append(outcome(row, estimate, row.mass_kg))
        if row.strike_hz:
            for word in dict.fromkeys((None, row.profile_class)):
                estimate = strike_estimate(diameter_mm, word, law=law)
                found[f"note by {estimate.method}"].append(outcome(row, estimate, row.strike_hz))
    return found


def outcome(row: Row, estimate: Derived, truth: float) -> Outcome:
    """Compare one estimate with the published value."""
    return Outcome(row, math.log(estimate.value / truth), estimate.low <= truth <= estimate.high)


def summary(found: dict[str, list[Outcome]]) -> Iterable[str]:
    """Tell, for every method and kind of row, number, median error and coverage."""
    yield f"{'method':29}{'rows':16}{'n':>5}{'median error':>16}{'in cents':>10}{'90 % held':>11}"
    for method in sorted(found):
        for kinds in (("church", "carillon", "catalogue"), ("church", "carillon"), ("church",)):
            chosen = [each for each in found[method] if each.row.kind in kinds]
            label = {3: "all", 2: "bells", 1: "church bells"}[len(kinds)]
            percent = median(abs(math.expm1(each.error)) for each in chosen) * 100.0
            cents = median(abs(each.error) for each in chosen) * 1200.0 / math.log(2.0)
            held = sum(each.held for each in chosen) / len(chosen) * 100.0
            in_cents = f"{cents:.0f}" if method.startswith("note") else ""
            yield f"{method:29}{label:16}{len(chosen):5}{percent:14.1f} %{in_cents:>10}{held:9.0f} %"


def constants_of(law: Law) -> dict[str, float]:
    """Give the fitted constants by name."""
    return {
        "mass_factor": law.mass_factor,
        "mass_spread": law.mass_spread,
        "pitch_factor": law.pitch_factor,
        "pitch_spread": law.pitch_spread,
        "size_spread": law.size_spread,
        "small_bells.onset_m": law.small.onset_m,
        "carillon.onset_m": law.carillon.onset_m,
        "medium_pitch_factor": law.medium_pitch_factor,
        "profile_classes.spread": law.class_spread,
        **{f"casting_dates to {until}": factor for until, factor in law.date_factors},
    }


def main() -> None:
    """Print how the estimates fare on towers they have not seen, and the constants."""
    rows = published_rows()
    judge = Judge(rows)
    bells = sum(row.kind != "catalogue" for row in rows)
    print(f"{len(rows)} rows, {bells} of them bells, from {len(judge.towers)} towers and tables")
    unseen: dict[str, list[Outcome]] = defaultdict(list)
    for tower in judge.towers:
        law = judge.law(tower)
        for method, each in outcomes(law, [row for row in rows if row.tower == tower]).items():
            unseen[method] += each
    print("\nLeaving one tower out, constants and intervals refitted without it")
    print(*summary(unseen), sep="\n")
    shipped = law_of("bronze")
    print("\nThe shipped constants on all rows")
    print(*summary(outcomes(shipped, rows)), sep="\n")
    print(f"\n{'constant':26}{'from all rows':>16}{'shipped':>12}")
    refitted = constants_of(judge.law())
    for name, value in constants_of(shipped).items():
        print(f"{name:26}{refitted[name]:16.4g}{value:12.4g}")


if __name__ == "__main__":
    main()
