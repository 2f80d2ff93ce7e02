"""Bars: an estimate with its interval beside what was observed, and castings through the centuries."""

from collections.abc import Sequence
from typing import NamedTuple

INTERVAL_WIDTH = 270.0
INTERVAL_HEIGHT = 34.0
MARGIN = 26.0

BIN_YEARS = 50
WIDEST_RANGE_YEARS = 300
"""A date that leaves more room than this says too little to be shown on the time line."""


class Whisker(NamedTuple):
    """A value between two ends, in drawing units; an end that is not known has no tick."""

    low: float
    high: float
    value: float | None
    low_known: bool
    high_known: bool


class IntervalDrawing(NamedTuple):
    """An estimate, and the observed value on the same axis where there is one."""

    width: float
    height: float
    estimate: Whisker
    observed: float | None
    low_label: str = ""
    high_label: str = ""


def interval_drawing(
    value: float | None, low: float | None, high: float | None, observed: float | None = None
) -> IntervalDrawing | None:
    """Draw an interval.

    Parameters
    ----------
    value, low, high, observed : float or None
        All in one unit. None where not known; without any end there is nothing to draw.
    """
    known = [number for number in (value, low, high, observed) if number is not None]
    if (low is None and high is None) or len(set(known)) < 2:
        return None
    least, most = min(known), max(known)
    width = INTERVAL_WIDTH - 2 * MARGIN

    def at(number: float) -> float:
        return round(MARGIN + (number - least) / (most - least) * width, 1)

    return IntervalDrawing(
        INTERVAL_WIDTH,
        INTERVAL_HEIGHT,
        Whisker(
            at(low) if low is not None else 0.0,
            at(high) if high is not None else INTERVAL_WIDTH,
            at(value) if value is not None else None,
            low is not None,
            high is not None,
        ),
        at(observed) if observed is not None else None,
    )


class Period(NamedTuple):
    """The castings of one half-century.

    ``certain`` bells were cast in it for certain. ``share`` adds up the bells whose date spans several: each
    counts in parts, evenly over its years.
    """

    first_year: int
    last_year: int
    certain: int
    share: float


class Castings(NamedTuple):
    """Castings by half-century, and how many bells could not be placed."""

    periods: tuple[Period, ...]
    undated: int
    too_wide: int


def castings(years: Sequence[tuple[int | None, int | None]]) -> Castings:
    """Count castings by half-century.

    Parameters
    ----------
    years : sequence of (int or None, int or None)
        Earliest and latest year of casting of each bell; None where not known.
    """
    certain: dict[int, int] = {}
    shares: dict[int, float] = {}
    undated = too_wide = 0
    for earliest, latest in years:
        if earliest is None and latest is None:
            undated += 1
        elif earliest is None or latest is None or latest - earliest > WIDEST_RANGE_YEARS:
            too_wide += 1
        elif earliest // BIN_YEARS == latest // BIN_YEARS:
            certain[earliest // BIN_YEARS] = certain.get(earliest // BIN_YEARS, 0) + 1
        else:
            for period in range(earliest // BIN_YEARS, latest // BIN_YEARS + 1):
                first, last = (
                    max(earliest, period * BIN_YEARS),
                    min(latest, period * BIN_YEARS + BIN_YEARS - 1),
                )
                part = (last - first + 1) / (latest - earliest + 1)
                shares[period] = shares.get(period, 0.0) + part
    used = certain.keys() | shares.keys()
    periods = tuple(
        Period(at * BIN_YEARS, at * BIN_YEARS + BIN_YEARS - 1, certain.get(at, 0), shares.get(at, 0.0))
        for at in (range(min(used), max(used) + 1) if used else ())
    )
    return Castings(periods, undated, too_wide)


class Bar(NamedTuple):
    """One half-century of the time line."""

    period: Period
    x: float
    width: float
    certain_y: float
    certain_height: float
    share_y: float
    share_height: float


class TimelineDrawing(NamedTuple):
    """The time line as bars. ``marks`` are the years named below it, ``grid`` the counts named beside it."""

    width: float
    height: float
    base_y: float
    bars: tuple[Bar, ...]
    marks: tuple[tuple[float, int], ...]
    grid: tuple[tuple[float, int], ...]


def timeline_drawing(periods: Sequence[Period], width: float, height: float = 190.0) -> TimelineDrawing:
    """Draw castings by half-century as bars, ``width`` drawing units wide."""
    left, top, bottom = 30.0, 12.0, 26.0
    base = height - bottom
    most = max((period.certain + period.share for period in periods), default=1.0)
    step = next(
        step for step in (1, 2, 5, 10, 20, 50, 100, 200, 500, 10**3, 10**4, 10**6) if most / step <= 5
    )
    unit = (base - top) / (-(-most // step) * step)
    pitch = (width - left - 4) / max(len(periods), 1)
    bars = []
    for index, period in enumerate(periods):
        solid, hatched = period.certain * unit, period.share * unit
        place = (left + index * pitch + pitch * 0.12, pitch * 0.76)
        heights = (base - solid, solid, base - solid - hatched, hatched)
        bars.append(Bar(period, *(round(number, 1) for number in (*place, *heights))))
    years = periods[0].last_year - periods[0].first_year + 1 if periods else BIN_YEARS
    apart = next((each for each in (50, 100, 200) if each >= years and pitch * each / years >= 44), 500)
    marks = tuple(
        (round(left + index * pitch, 1), period.first_year)
        for index, period in enumerate(periods)
        if period.first_year % apart == 0 and left + index * pitch < width - 16
    )
    counts = range(0, int(-(-most // step) * step) + 1, step)
    grid = tuple((round(base - count * unit, 1), count) for count in counts)
    return TimelineDrawing(width, height, base, tuple(bars), marks, grid)
