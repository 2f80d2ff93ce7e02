"""Readings of one pit or crack through the years, with the errors of their instruments and the rate."""

from collections.abc import Sequence
from statistics import median
from typing import NamedTuple

WIDTH, HEIGHT = 330.0, 160.0
LEFT, RIGHT, TOP, BASE = 58.0, 14.0, 14.0, 128.0
LIMIT_SEEN = 2.0
"""A limit is drawn up to this multiple of the greatest reading; beyond, the readings would lie flat."""


class YearlyReading(NamedTuple):
    """One reading: decimal year, value and largest error [mm]."""

    year: float
    value_mm: float
    error_mm: float


class Placed(NamedTuple):
    """A reading in drawing units: its middle, the ends of its error, and its year."""

    x: float
    y: float
    low_y: float
    high_y: float
    year: int


class GrowthDrawing(NamedTuple):
    """Readings over the years.

    ``slope`` is the line of the rate as x1, y1, x2, y2; ``marks`` are heights with their values [mm];
    ``limit_y`` is where the limit of wear lies, None where it is not in the picture.
    """

    width: float
    height: float
    left: float
    base: float
    points: tuple[Placed, ...]
    slope: tuple[float, float, float, float] | None
    marks: tuple[tuple[float, float], ...]
    limit_y: float | None
    limit_mm: float | None


def growth_drawing(
    readings: Sequence[YearlyReading], per_year_mm: float | None = None, limit_mm: float | None = None
) -> GrowthDrawing | None:
    """Draw readings over the years.

    Parameters
    ----------
    readings : sequence of YearlyReading
        The oldest first.
    per_year_mm : float, optional
        The rate; its line goes through the median of what it leaves over at each reading (the intercept that
        belongs to a Theil-Sen slope).
    limit_mm : float, optional
        Limit of wear, in the quantity that is read.

    Returns
    -------
    GrowthDrawing or None
        None with fewer than three readings or all in one moment: two points make no course.
    """
    if len(readings) < 3 or readings[0].year == readings[-1].year:
        return None
    first, last = readings[0].year, readings[-1].year
    least = min(0.0, *(each.value_mm - each.error_mm for each in readings))
    most = max(each.value_mm + each.error_mm for each in readings)
    limit_seen = limit_mm is not None and 0.0 < limit_mm <= LIMIT_SEEN * max(most, 0.0)
    if limit_seen and limit_mm is not None:
        most = max(most, limit_mm)
    if most <= least:
        return None

    def across(year: float) -> float:
        return round(LEFT + 10.0 + (year - first) / (last - first) * (WIDTH - LEFT - RIGHT - 20.0), 1)

    def up(value: float) -> float:
        return round(BASE - (value - least) / (most - least) * (BASE - TOP), 1)

    slope = None
    if per_year_mm is not None:
        start = median(each.value_mm - per_year_mm * (each.year - first) for each in readings)
        slope = (across(first), up(start), across(last), up(start + per_year_mm * (last - first)))
    greatest = max(each.value_mm for each in readings)
    return GrowthDrawing(
        WIDTH,
        HEIGHT,
        LEFT,
        BASE,
        tuple(
            Placed(
                across(each.year),
                up(each.value_mm),
                up(each.value_mm - each.error_mm),
                up(each.value_mm + each.error_mm),
                int(each.year),
            )
            for each in readings
        ),
        slope,
        tuple((up(value), value) for value in dict.fromkeys((0.0, greatest))),
        up(limit_mm) if limit_seen and limit_mm is not None else None,
        limit_mm,
    )
