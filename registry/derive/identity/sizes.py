"""Size, note and mass as one: normal in their logarithms, held together by the law of similarity.

A bell in general has a mouth diameter d from a normal distribution of ln d, a strike note about the law's,
and a mass about the law's for both. What a record states narrows that to what one would find on its bell; a
find is held against it and against bells in general. So a note that merely follows from the size, which any
bell of that size has, speaks for no record; and a note can be held against a record that has the size alone.

Factors are given in the order diameter, note, mass: each says what it adds to those before it.

Notes
-----
With z = (ln d, ln f, ln m), prior N(μ, Σ) and independent statements r of some parts of z, z given r is
normal with precision Σ⁻¹ + diag(1/sd²); a find x of some parts has the density of a normal distribution about
its mean, with that covariance and the variances of x added (conditioning of normal distributions, e.g. A.
Gelman et al., Bayesian Data Analysis, 3rd ed. 2013, ch. 3). Slips, such as an octave, are a mixture of
shifted ones.
"""

import math
from collections.abc import Sequence
from functools import cache
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from registry.derive.identity.facts import CENTS, Facts
from registry.derive.identity.rules import rules
from registry.derive.law import NINETY_PERCENT, Law, law_of

Real = NDArray[np.float64]

PARTS = ("mouth_diameter_mm", "strike_hz", "mass_kg")
UNKNOWN_SD = 1e3
"""Standard deviation of what is not known: wide enough to weigh nothing."""

LAWS = ("bronze", "cast-steel", "cast-iron")
"""Materials with a law of their own; the others are taken for bronze, iron sheet for iron."""


def law_index(material: str | None) -> int:
    """Give the place in `LAWS` of the law for a material."""
    return {"cast-steel": 1, "cast-iron": 2, "sheet-iron": 2}.get(material or "", 0)


class Sizes(NamedTuple):
    """Sizes of many bells, a row each: ln d, ln f, ln m, their standard deviations, and whose law holds."""

    value: Real
    sd: Real
    law: NDArray[np.int64]

    @property
    def known(self) -> NDArray[np.bool_]:
        """Which of the three are known."""
        return self.sd < UNKNOWN_SD

    def take(self, rows: NDArray[np.int64]) -> "Sizes":
        """Give some of the rows."""
        return Sizes(self.value[rows], self.sd[rows], self.law[rows])


def sizes_of(bells: Sequence[Facts]) -> Sizes:
    """Lay the sizes of bells out in rows."""
    value = np.zeros((len(bells), 3))
    sd = np.full((len(bells), 3), UNKNOWN_SD)
    for row, bell in enumerate(bells):
        told = (
            (bell.mouth_diameter_mm, bell.diameter_sd, 1000.0),
            (bell.strike_hz, bell.strike_sd_cents / CENTS, 1.0),
            (bell.mass_kg, bell.mass_sd, 1.0),
        )
        for column, (number, spread, unit) in enumerate(told):
            if number is not None and number > 0.0:
                value[row, column] = math.log(number / unit)
                sd[row, column] = max(spread, 1e-4)
    return Sizes(value, sd, np.array([law_index(bell.material) for bell in bells], dtype=np.int64))


class General(NamedTuple):
    """Bells in general: mean and spread of ln d, and the share of each of `LAWS`."""

    mean: float
    spread: float
    shares: tuple[float, ...]


def general_sizes(sizes: Sizes, shares: Sequence[float]) -> General:
    """Estimate how large bells are in general from those of a registry, and from published ones beside."""
    rule = rules()["mouth_diameter"]
    weight, mean, spread = float(rule["counts_as"]), math.log(rule["mean_m"]), float(rule["spread"])
    own = sizes.value[sizes.known[:, 0], 0]
    total = weight + len(own)
    middle = (weight * mean + float(own.sum())) / total
    squares = weight * (spread**2 + (mean - middle) ** 2) + float(((own - middle) ** 2).sum())
    return General(middle, math.sqrt(squares / total), tuple(shares))


@cache
def _shifts(part: str) -> tuple[tuple[float, float], ...]:
    """Give the slips of a part, either way round, as (shift of the logarithm, chance); none of them first."""
    name = {"mouth_diameter_mm": "mouth_diameter", "strike_hz": "strike", "mass_kg": "mass"}[part]
    slips: list[dict[str, Any]] = rules()[name]["slips"]
    shifts = []
    for slip in slips:
        shift, chance = math.log(slip["factor"]), float(slip["chance"]) / 2.0
        shifts += [(shift, chance), (-shift, chance)]
    return ((0.0, 1.0 - sum(chance for _, chance in shifts)), *shifts)


class Expected(NamedTuple):
    """What one would find on each bell: mean (n, 3), covariance (n, 3, 3), and whether anything is known."""

    mean: Real
    covariance: Real
    known: NDArray[np.bool_]

    def take(self, rows: NDArray[np.int64]) -> "Expected":
        """Give some of the rows."""
        return Expected(self.mean[rows], self.covariance[rows], self.known[rows])


def expected(records: Sizes, general: General, about: Real | None = None) -> Expected:
    """Give what one would find on the bells of some records.

    Parameters
    ----------
    records : Sizes
        What the records state.
    general : General
        Bells in general.
    about : array of float, shape (n,), optional
        Where the law is drawn as a straight line [ln m]; about the likeliest ln d of each unless given.
    """
    mean, covariance = _prior(records.law, general, likely_ln_d(records, general) if about is None else about)
    precision = np.linalg.inv(covariance)
    told = np.where(records.known, 1.0 / records.sd**2, 0.0)
    narrowed = np.linalg.inv(precision + told[:, :, None] * np.eye(3))
    pull = np.einsum("nij,nj->ni", precision, mean) + told * records.value
    middle = np.einsum("nij,nj->ni", narrowed, pull)
    return Expected(
        np.asarray(middle), np.asarray(narrowed, dtype=np.float64), np.asarray(records.known.any(axis=1))
    )


def _prior(law: NDArray[np.int64], general: General, about: Real) -> tuple[Real, Real]:
    """Give mean and covariance of (ln d, ln f, ln m) of bells of some laws, the laws drawn straight."""
    rows = len(law)
    mean, covariance = np.empty((rows, 3)), np.empty((rows, 3, 3))
    for place, name in enumerate(LAWS):
        chosen = law == place
        if not chosen.any():
            continue
        here = _law(name)
        at = about[chosen]
        pitch, slope = _pitch(here, at)
        pitch_sd = here.pitch_scatter.spread / NINETY_PERCENT
        mass_sd = here.undated_scatter.spread / NINETY_PERCENT
        # z = base + maker @ (e_d, e_f, e_m), independent deviations of size, note and mass
        maker = np.zeros((len(at), 3, 3))
        maker[:, 0, 0] = 1.0
        maker[:, 1, 0], maker[:, 1, 1] = slope, 1.0
        maker[:, 2, 0], maker[:, 2, 1], maker[:, 2, 2] = slope + 4.0, 1.0, 1.0
        spread = np.diag([general.spread**2, pitch_sd**2, mass_sd**2])
        covariance[chosen] = maker @ spread @ maker.transpose(0, 2, 1)
        ln_f = pitch + slope * (general.mean - at)
        ln_m = math.log(here.mass_factor) + ln_f + 4.0 * general.mean
        mean[chosen] = np.stack([np.full(len(at), general.mean), ln_f, ln_m], axis=1)
    return mean, covariance


def _law(name: str) -> Law:
    law = law_of(name)
    if law is None:  # pragma: no cover - the three have one
        raise ValueError(f"no law for {name}")
    return law


def _pitch(law: Law, at: Real) -> tuple[Real, Real]:
    """Give ln f of the law at some ln d, and its slope there."""

    def ln_f(ln_d: Real) -> Real:
        d = np.exp(ln_d)
        small = 1.0 + (law.small.onset_m / np.maximum(d, law.small.smallest_m)) ** law.small.power
        great = np.maximum(d / law.great.onset_m, 1.0) ** law.great.slope
        return np.asarray(math.log(law.pitch_factor) + np.log(small * great) - ln_d)

    step = 0.01
    return ln_f(at), (ln_f(at + step) - ln_f(at - step)) / (2.0 * step)


def likely_ln_d(sizes: Sizes, general: General) -> Real:
    """Give the likeliest ln d of each bell from whatever is known of it, by the plain law of bronze."""
    bronze = _law("bronze")
    known, value = sizes.known, sizes.value
    by_note = math.log(bronze.pitch_factor) - value[:, 1]
    by_mass = (value[:, 2] - math.log(bronze.mass_factor * bronze.pitch_factor)) / 3.0
    guess = np.full(len(value), general.mean)
    for column, found in ((2, by_mass), (1, by_note), (0, value[:, 0])):
        guess = np.where(known[:, column], found, guess)
    return np.asarray(np.clip(guess, math.log(0.05), math.log(7.0)))


def size_ratios(
    found: Sizes, records: Expected, general: General, law_shares: Sequence[float] | None = None
) -> Real:
    """Give what diameter, note and mass found say for each record, against bells in general.

    Parameters
    ----------
    found : Sizes
        What was found: one row for all records, or one for each.
    records : Expected
        What one would find on the bells of the records.
    general : General
        Bells in general.
    law_shares : sequence of float, optional
        How likely each of `LAWS` is after what the finder says of the material; those of bells in general
        unless given.

    Returns
    -------
    array of float, shape (n, 3)
        Logarithm of the likelihood ratio that each part adds to those before it; 0 where the find lacks it or
        the record has none of the three.
    """
    same = _cumulated(found, records, max(len(found.value), len(records.mean)))
    bells, rows = [], len(found.value)
    about = likely_ln_d(found, general)
    for place, share in enumerate(law_shares or general.shares):
        nothing = Sizes(
            np.zeros((rows, 3)), np.full((rows, 3), UNKNOWN_SD), np.full(rows, place, dtype=np.int64)
        )
        anybody = expected(nothing, general, about)
        bells.append(math.log(max(share, 1e-12)) + _cumulated(found, anybody, rows))
    others = np.logaddexp.reduce(np.stack(bells), axis=0)
    gained = np.diff(same - others, axis=1, prepend=0.0)
    return np.asarray(np.where(found.known & records.known[:, None], gained, 0.0))


def _cumulated(found: Sizes, model: Expected, rows: int) -> Real:
    """Give ln p(d), ln p(d, f), ln p(d, f, m) of what was found, careless hands and slips and all."""
    rule = rules()["careless"]
    chance = float(rule["chance"])
    rough = Sizes(found.value, np.where(found.known, rule["times"] * found.sd, found.sd), found.law)
    careful = math.log1p(-chance) + _with_slips(found, model, rows)
    return np.logaddexp(careful, math.log(chance) + _with_slips(rough, model, rows, slips=False))


def _with_slips(found: Sizes, model: Expected, rows: int, *, slips: bool = True) -> Real:
    """Give the same of a find whose standard deviations hold, its slips allowed for or not."""
    variances = model.covariance + (found.sd**2)[:, :, None] * np.eye(3)
    lower = np.linalg.cholesky(np.broadcast_to(variances, (rows, 3, 3)))
    apart = np.broadcast_to(np.where(found.known, found.value - model.mean, 0.0), (rows, 3))
    known = np.broadcast_to(found.known, (rows, 3))
    diagonal = np.diagonal(lower, axis1=1, axis2=2)
    scale = -np.log(diagonal) - 0.5 * math.log(2.0 * math.pi)
    ways: list[list[Real]] = [[], [], []]
    choices = [
        _shifts(part) if slips and known[:, column].any() else ((0.0, 1.0),)
        for column, part in enumerate(PARTS)
    ]
    for first, chance_d in choices[0]:
        u0 = (apart[:, 0] - first * known[:, 0]) / diagonal[:, 0]
        p0 = math.log(chance_d) - 0.5 * u0**2 + scale[:, 0]
        ways[0].append(p0)
        for second, chance_f in choices[1]:
            u1 = (apart[:, 1] - second * known[:, 1] - lower[:, 1, 0] * u0) / diagonal[:, 1]
            p1 = p0 + math.log(chance_f) - 0.5 * u1**2 + scale[:, 1]
            ways[1].append(p1)
            rest = apart[:, 2] - lower[:, 2, 0] * u0 - lower[:, 2, 1] * u1
            for third, chance_m in choices[2]:
                u2 = (rest - third * known[:, 2]) / diagonal[:, 2]
                ways[2].append(p1 + math.log(chance_m) - 0.5 * u2**2 + scale[:, 2])
    return np.stack([np.logaddexp.reduce(np.stack(each), axis=0) for each in ways], axis=1)
