"""The rate of change through two or more readings, with an interval that is honest for few of them.

With two readings the interval comes from the largest error of each. With three and more the value is the
median of all pairwise slopes (Theil-Sen) and the interval is the wider of two: the one of Sen, from the order
of the pairwise slopes, and the one from the first and the last reading with their errors. Sen's alone would
hold the truth in only two thirds of all cases at three readings, where it is simply the smallest and largest
slope; the other alone would trust that no instrument is worse than stated. Errors of an instrument do not
average out, so the interval never becomes narrower than they allow.

References
----------
H. Theil, Proc. Kon. Ned. Akad. v. Wetensch. A 53 (1950) 386-392, 521-525, 1397-1412.
P. K. Sen, Estimates of the regression coefficient based on Kendall's tau, J. Am. Stat. Assoc. 63 (1968)
1379-1389, equations 1.7 and 2.6.
"""

import math
from collections import Counter
from collections.abc import Sequence
from datetime import date
from statistics import NormalDist, median
from typing import NamedTuple

DAYS_A_YEAR = 365.2425
"""Mean year of the Gregorian calendar [d]."""


class Measured(NamedTuple):
    """One reading: its day, value, and largest error, in one unit."""

    day: date
    value: float
    error: float


class Rate(NamedTuple):
    """A rate a year.

    Parameters
    ----------
    value : float
        Best value [unit/year].
    low, high : float
        Ends of the interval [unit/year].
    level : float
        Probability that the interval holds the truth; 1 for hard bounds from the errors of two readings.
    method : str
        ``two-readings`` or ``theil-sen``.
    """

    value: float
    low: float
    high: float
    level: float
    method: str

    @property
    def told_from_zero(self) -> bool:
        """Whether the interval leaves zero out."""
        return self.low > 0.0 or self.high < 0.0


class Slope(NamedTuple):
    """Median of pairwise slopes and its interval."""

    value: float
    low: float
    high: float


def theil_sen(x: Sequence[float], y: Sequence[float], level: float) -> Slope:
    """Give the Theil-Sen slope of ``y`` on ``x`` and Sen's interval.

    Parameters
    ----------
    x, y : sequence of float
        Coordinates of the same number of points; at least two different ``x``.
    level : float
        Probability of the interval, between 0 and 1.

    Returns
    -------
    Slope
        With few points the interval cannot reach the level; it then is the smallest and largest slope.

    Raises
    ------
    ValueError
        When the numbers differ, all ``x`` are one, or the level is no probability.
    """
    if len(x) != len(y) or not 0.0 < level < 1.0:
        raise ValueError("x and y must be equally many, and level between 0 and 1")
    slopes = sorted(
        (y[j] - y[i]) / (x[j] - x[i]) for i in range(len(x)) for j in range(i + 1, len(x)) if x[j] != x[i]
    )
    if not slopes:
        raise ValueError("a slope needs two different x")
    count = len(x)

    def ties(values: Sequence[float]) -> int:
        return sum(k * (k - 1) * (2 * k + 5) for k in Counter(values).values())

    # Sen (1968), equation 2.6: variance of Kendall's statistic, with ties.
    variance = (count * (count - 1) * (2 * count + 5) - ties(x) - ties(y)) / 18.0
    reach = NormalDist().inv_cdf((1.0 + level) / 2.0) * math.sqrt(max(variance, 0.0))
    upper = min(round((len(slopes) + reach) / 2.0), len(slopes) - 1)
    lower = max(round((len(slopes) - reach) / 2.0) - 1, 0)
    return Slope(median(slopes), slopes[lower], slopes[upper])


def yearly_rate(readings: Sequence[Measured], level: float) -> Rate | None:
    """Give the rate a year of a series of readings.

    Parameters
    ----------
    readings : sequence of Measured
        The readings, the oldest first; gaps of any length.
    level : float
        Probability wanted of the interval of three and more readings.

    Returns
    -------
    Rate or None
        None where there are not two readings on different days.

    Raises
    ------
    ValueError
        When an error is negative, or the days run backwards.
    """
    days = [each.day for each in readings]
    if any(each.error < 0.0 for each in readings) or days != sorted(days):
        raise ValueError("readings must be in the order of their days, with errors of 0 or more")
    if len(set(days)) < 2:
        return None
    first, last = readings[0], readings[-1]
    years = years_between(first.day, last.day)
    rise, reach = (last.value - first.value) / years, (first.error + last.error) / years
    if len(readings) == 2:
        return Rate(rise, rise - reach, rise + reach, 1.0, "two-readings")
    slope = theil_sen([years_between(first.day, day) for day in days], [r.value for r in readings], level)
    low, high = min(slope.low, rise - reach), max(slope.high, rise + reach)
    return Rate(slope.value, low, high, level, "theil-sen")


def years_between(first: date, last: date) -> float:
    """Give the time from one day to another [a]."""
    return (last - first).days / DAYS_A_YEAR


def decimal_year(day: date) -> float:
    """Give a day as a year and its fraction: 2025.5 for the middle of 2025."""
    start, end = date(day.year, 1, 1).toordinal(), date(day.year, 12, 31).toordinal() + 1
    return day.year + (day.toordinal() - start) / (end - start)
