"""Shares by period, each with its interval."""

from collections.abc import Sequence
from typing import NamedTuple

LEFT, RIGHT, TOP, BOTTOM = 44.0, 20.0, 12.0, 28.0


class ShareSeen(NamedTuple):
    """The share of one period [0 to 1] with its interval; ``share`` None where nothing is known."""

    first_year: int
    last_year: int
    share: float | None
    low: float
    high: float
    words: str


class ShareMark(NamedTuple):
    """One period in drawing units; ``y`` is the share, ``low`` and ``high`` are the ends of the interval."""

    x: float
    y: float
    low: float
    high: float
    words: str


class SharesDrawing(NamedTuple):
    """Shares over time. ``grid`` are percents beside, ``years`` the years below."""

    width: float
    height: float
    left: float
    base: float
    marks: tuple[ShareMark, ...]
    grid: tuple[tuple[float, int], ...]
    years: tuple[tuple[float, int], ...]


def shares_drawing(shares: Sequence[ShareSeen], width: float, height: float = 190.0) -> SharesDrawing | None:
    """Draw shares by period, ``width`` drawing units wide; None without any."""
    told = [each for each in shares if each.share is not None]
    if not told:
        return None
    first, last = shares[0].first_year, shares[-1].last_year + 1
    base = height - BOTTOM

    def at(year: float) -> float:
        return round(LEFT + (year - first) / (last - first) * (width - LEFT - RIGHT), 1)

    def up(share: float) -> float:
        return round(base - share * (base - TOP), 1)

    apart = next((step for step in (50, 100, 200, 500) if at(first + step) - at(first) >= 44.0), 1000)
    return SharesDrawing(
        width,
        height,
        LEFT,
        base,
        tuple(
            ShareMark(
                at((each.first_year + each.last_year + 1) / 2),
                up(each.share),
                up(each.low),
                up(each.high),
                each.words,
            )
            for each in told
            if each.share is not None
        ),
        tuple((up(percent / 100.0), percent) for percent in (0, 25, 50, 75, 100)),
        tuple((at(year), year) for year in range(-(-first // apart) * apart, last + 1, apart)),
    )
