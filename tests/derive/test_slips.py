"""Whether readings fit each other: against the full normal model, and on bells drawn from the law."""

import math
import random

import numpy as np
import pytest
from published import published
from scipy.stats import chi2

from registry.derive.law import NINETY_PERCENT, law_of
from registry.derive.slips import UNHEARD_OF, USUAL, Readings, likely_slips, misfit

LAW = law_of("bronze")


@pytest.mark.parametrize(("limits", "share"), [(USUAL, 0.9), (UNHEARD_OF, 0.999)])
def test_quantiles(limits, share):
    """The limits are the quantiles of the chi-square distribution (SciPy), to the printed figure."""
    for freedom in (1, 2, 3):
        assert limits[freedom] == pytest.approx(chi2.ppf(share, freedom), abs=0.005)


def test_against_numpy():
    """Squares and breadth are those of the covariance written out in full."""
    readings = Readings("bronze", 1200.0, 330.0, 84.0, 1200.0)
    found = misfit(readings)
    strike = LAW.strike(1.2)
    pitch = (strike.spread / NINETY_PERCENT) ** 2
    bow = (LAW.thickness.spread / NINETY_PERCENT) ** 2
    mass = (LAW.mass_by_strike(1.2, 330.0).spread / NINETY_PERCENT) ** 2
    covariance = np.full((3, 3), pitch) + np.diag([0.0, bow, mass])
    off = np.array(
        [
            math.log(330.0 / strike.value),
            math.log(0.084 / (strike.value * 1.2**2 / LAW.thickness.factor)),
            math.log(1200.0 / LAW.mass_by_strike(1.2, strike.value).value),
        ]
    )
    assert found.squares == pytest.approx(off @ np.linalg.solve(covariance, off))
    assert found.breadth == pytest.approx(np.linalg.slogdet(covariance)[1])
    assert found.readings == 3


def test_sound_bells_rarely_misfit():
    """Of 2000 bells drawn from the law nine in ten fit, and about one in a thousand is called impossible."""
    draw = random.Random(7)  # noqa: S311 - no secret
    sd = NINETY_PERCENT
    fitting = strange = 0
    for _ in range(2000):
        diameter_m = draw.uniform(0.5, 2.5)
        expected = LAW.strike(diameter_m)
        strike_hz = expected.value * math.exp(draw.gauss(0.0, expected.spread / sd))
        thickness_m = strike_hz * diameter_m**2 / LAW.thickness.factor
        thickness_m *= math.exp(draw.gauss(0.0, LAW.thickness.spread / sd))
        mass = LAW.mass_by_strike(diameter_m, strike_hz)
        mass_kg = mass.value * math.exp(draw.gauss(0.0, mass.spread / sd))
        found = misfit(Readings("bronze", 1000.0 * diameter_m, strike_hz, 1000.0 * thickness_m, mass_kg))
        fitting += found.fits
        strange += found.contradicts
    assert 0.88 <= fitting / 2000 <= 0.92
    assert strange <= 8


def test_published_bells_fit():
    """No published church bell of bronze contradicts itself, and nine in ten fit (published_bells.csv)."""
    found = [
        misfit(
            Readings(
                "bronze",
                1000.0 * float(row["mouth_diameter_m"]),
                float(row["strike_hz"]) if row["strike_hz"] else None,
                mass_kg=float(row["mass_kg"]),
            )
        )
        for row in published("published_bells.csv")
        if row["material"] == "bronze" and row["use_in_fit"] == "1" and row["profile_stated"] != "carillon"
    ]
    assert not any(each.contradicts for each in found)
    assert 0.86 <= sum(each.fits for each in found) / len(found) <= 0.96


def test_disputed_mass_is_not_explained_away():
    """The bell of Speyer whose mass its source doubts (600 kg for 1.15 m) misfits, and no slip is made up."""
    readings = Readings("bronze", 1150.0, 350.28, mass_kg=600.0)
    assert not misfit(readings).fits
    assert all("cast" in slip for slip in likely_slips(readings))
