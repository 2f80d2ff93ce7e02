"""Rates from two and more readings: against SciPy, against the errors, and against truth in simulation."""

import random
from datetime import date, timedelta

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy.stats import theilslopes
from seen_bells import seen

from registry.derive.condition.growth import growths_of
from registry.derive.condition.slope import (
    Measured,
    decimal_year,
    theil_sen,
    yearly_rate,
    years_between,
)
from registry.model.condition import StrikePoint
from registry.model.visit import Instrument

YEAR = timedelta(days=365.2425)


def readings(*values, error=0.1, years=10):
    """Make readings that lie some years apart."""
    return [Measured(date(1990, 1, 1) + YEAR * years * i, value, error) for i, value in enumerate(values)]


class TestTheilSen:
    """The median of pairwise slopes and Sen's interval, checked with scipy.stats.theilslopes."""

    @given(
        st.lists(st.tuples(st.floats(0, 100), st.floats(-50, 50)), min_size=2, max_size=12),
        st.sampled_from([0.5, 0.8, 0.9, 0.95, 0.99]),
    )
    def test_as_in_scipy(self, points, level):
        """Slope and both ends of the interval are those of SciPy, ties and few points included."""
        x, y = [p[0] for p in points], [p[1] for p in points]
        gaps = [abs(a - b) for i, a in enumerate(x) for b in x[:i]]
        assume(any(gaps))
        assume(all(gap == 0 or gap > 1e-6 for gap in gaps))
        # With more ties than points SciPy has no interval.
        assume(len(set(x)) > 1 + len(x) // 2 and len(set(y)) > 1 + len(y) // 2)
        ours = theil_sen(x, y, level)
        theirs = theilslopes(y, x, alpha=level)
        assert ours.value == pytest.approx(theirs.slope, rel=1e-9, abs=1e-9)
        assert ours.low == pytest.approx(theirs.low_slope, rel=1e-9, abs=1e-9)
        assert ours.high == pytest.approx(theirs.high_slope, rel=1e-9, abs=1e-9)

    def test_one_wild_reading_does_not_carry_it_away(self):
        """One wild reading of five hardly moves the median of slopes; a fit of least squares follows it."""
        x, y = [0.0, 1.0, 2.0, 3.0, 4.0], [0.0, 1.0, 2.0, 30.0, 4.0]
        assert theil_sen(x, y, 0.9).value == pytest.approx(1.0)
        assert np.polyfit(x, y, 1)[0] > 3.0

    def test_three_points_give_smallest_and_largest_slope(self):
        """With three points no order of slopes reaches 90 %: the interval is all there is."""
        slope = theil_sen([0.0, 1.0, 2.0], [0.0, 1.0, 1.5], 0.9)
        assert slope == (0.75, 0.5, 1.0)

    @pytest.mark.parametrize(
        ("x", "y", "level"), [([1.0], [1.0], 0.9), ([1.0, 1.0], [1.0, 2.0], 0.9), ([1.0, 2.0], [1.0], 0.9),
                              ([1.0, 2.0], [1.0, 2.0], 1.0)],
    )  # fmt: skip
    def test_refused(self, x, y, level):
        """One point, points of one time, unequal lists and impossible levels are refused."""
        with pytest.raises(ValueError, match=r"two different x|equally many"):
            theil_sen(x, y, level)


class TestRate:
    """Rates a year."""

    def test_two_readings(self):
        """Two readings give hard bounds from the largest error of each."""
        rate = yearly_rate(readings(1.0, 2.0, error=0.1), 0.9)
        assert (rate.value, rate.low, rate.high) == pytest.approx((0.1, 0.08, 0.12), rel=1e-3)
        assert (rate.level, rate.method) == (1.0, "two-readings")

    def test_errors_differ(self):
        """Each reading brings the error of its own instrument."""
        told = [Measured(date(2000, 1, 1), 1.0, 0.5), Measured(date(2010, 1, 1), 2.0, 0.1)]
        rate = yearly_rate(told, 0.9)
        assert rate.high - rate.low == pytest.approx(2 * 0.6 / years_between(told[0].day, told[1].day))

    @given(st.floats(-1, 1), st.floats(0.01, 1), st.lists(st.floats(-1, 1), min_size=2, max_size=2))
    def test_two_readings_always_hold_the_truth(self, slope, error, shares):
        """No errors within the bounds lead outside the interval."""
        told = readings(0.0 + shares[0] * error, 10 * slope + shares[1] * error, error=error)
        rate = yearly_rate(told, 0.9)
        assert rate.low - 1e-3 <= slope <= rate.high + 1e-3

    def test_three_readings_take_the_wider_of_two_intervals(self):
        """With three readings neither the errors alone nor the slopes alone make the interval."""
        straight = yearly_rate(readings(1.0, 2.0, 3.0, error=0.5), 0.9)
        assert (straight.low, straight.high) == pytest.approx((0.05, 0.15), rel=1e-3)
        bent = yearly_rate(readings(1.0, 1.0, 3.0, error=0.01), 0.9)
        assert (bent.low, bent.high) == pytest.approx((0.0, 0.2), abs=1e-3)
        assert bent.method == "theil-sen"

    def test_never_narrower_than_the_instruments_allow(self):
        """However many readings agree, the errors of first and last stay: they do not average out."""
        rate = yearly_rate(readings(*[1.0 + 0.1 * i for i in range(9)], error=0.2, years=5), 0.9)
        assert rate.high - rate.low == pytest.approx(2 * 0.4 / 40, rel=1e-3)

    @pytest.mark.parametrize("told", [[], readings(1.0), [*readings(1.0), *readings(2.0)]])
    def test_no_rate(self, told):
        """Nothing, one reading, or two of one day have no rate."""
        assert yearly_rate(told, 0.9) is None

    def test_refused(self):
        """Readings that run backwards and errors below zero are refused."""
        with pytest.raises(ValueError, match="in the order"):
            yearly_rate(readings(1.0, 2.0)[::-1], 0.9)
        with pytest.raises(ValueError, match="0 or more"):
            yearly_rate(readings(1.0, 2.0, error=-0.1), 0.9)

    def test_zero_in_the_interval(self):
        """Whether an interval leaves zero out is what growth is told by."""
        assert yearly_rate(readings(1.0, 2.0), 0.9).told_from_zero
        assert not yearly_rate(readings(1.0, 1.1), 0.9).told_from_zero
        assert yearly_rate(readings(2.0, 1.0), 0.9).told_from_zero

    @pytest.mark.parametrize(
        ("day", "year"),
        [(date(2025, 1, 1), 2025.0), (date(2024, 7, 2), 2024.5), (date(2025, 12, 31), 2025.997)],
    )
    def test_decimal_year(self, day, year):
        """A day is a year and its fraction, leap years included."""
        assert decimal_year(day) == pytest.approx(year, abs=1e-3)


LAYOUTS = {
    "kestrel-gate": (("2003-07-03", 0.2), ("2015-06-18", 0.1), ("2025-03-19", 0.3)),
    "halvenau-christ-church": (("2005-04-20", 0.5), ("2014-05-07", 0.1), ("2025-10-02", 0.1)),
    "ostrelle-notre-dame": (("2005-09-14", 0.2), ("2014-06-24", 0.1), ("2025-07-11", 0.3)),
    "two visits": (("2008-05-20", 0.2), ("2023-10-10", 0.1)),
    "six visits": tuple((f"{1990 + 7 * i}-05-01", 0.2) for i in range(6)),
}
"""Days and errors of depth of towers of the sample district, and two layouts more."""

NOISE = {
    "anywhere within the error": lambda rng, error: rng.uniform(-error, error),
    "mostly well within": lambda rng, error: max(-error, min(error, rng.gauss(0, error / 2))),
    "steady offset of each instrument": lambda rng, error: rng.choice([-1, 1]) * rng.uniform(0.5, 1) * error,
}


@pytest.mark.parametrize("noise", NOISE)
@pytest.mark.parametrize("layout", LAYOUTS)
@pytest.mark.parametrize("unsteady", [0.0, 0.3])
def test_interval_holds_the_built_in_truth(layout, noise, unsteady):
    """Of 500 simulated histories at least 90 % of the intervals hold the true mean growth.

    Each history has a true rate, steady or varying by about 30 % from one gap to the next as ringing hours
    do; readings are off by the errors of their instruments and written to a tenth of a millimetre.
    """
    rng = random.Random(f"{layout} {noise} {unsteady}")  # noqa: S311 - nothing secret
    held = 0
    for _ in range(500):
        rate = rng.uniform(0.0, 0.25)
        true, depth = [], 1.0
        days = [date.fromisoformat(day) for day, _ in LAYOUTS[layout]]
        for before, day in zip([days[0], *days], days, strict=False):
            depth += rate * rng.lognormvariate(0.0, unsteady) * years_between(before, day)
            true.append(depth)
        history = tuple(
            seen(
                day,
                instruments=(Instrument("depth-gauge", tolerance_mm=error),),
                strike_points=(
                    StrikePoint(
                        1, 90.0, use="in-use", pit_depth_mm=round(deep + NOISE[noise](rng, error), 1)
                    ),
                ),
            )
            for (day, error), deep in zip(LAYOUTS[layout], true, strict=True)
        )
        (growth,) = growths_of(history)
        mean = (true[-1] - true[0]) / years_between(days[0], days[-1])
        held += growth.per_year.low <= mean <= growth.per_year.high
    assert held >= 0.9 * 500
