"""Years as a line: stays and times as bars with their open ends, events as numbered signs.

A bar is full where something certainly held, hatched where it may have, and ends in an arrow where no end is
told. A sign stands at the middle of the years an event can have happened in; a line through it spans them.
"""

from collections.abc import Callable, Iterator, Sequence
from math import floor, log10
from typing import NamedTuple

MARGIN = 12.0
ROW = 40.0
SIGN = 18.0
LETTER = 6.8
LEAST_YEARS = 8.0

At = Callable[[float], float]
"""Gives the place of a year across the drawing."""


class TimeBar(NamedTuple):
    """Something that held for a time: decimal years, None where an end is not known or not told.

    It began between ``first`` and ``first_sure`` and ended between ``last_sure`` and ``last``.
    ``lasts`` says that it goes on; ``kind`` is ``there``, ``away``, ``gone`` or ``unknown``.
    """

    label: str
    kind: str
    first: float | None
    first_sure: float
    last_sure: float | None
    last: float | None
    lasts: bool = False


class TimeSign(NamedTuple):
    """An event of the years ``low`` to ``high``, with the number it has in the list; an end can be open."""

    number: int
    low: float | None
    high: float | None
    words: str


class DrawnBar(NamedTuple):
    """A bar in drawing units: all of it, the part that is certain, its ends and its words."""

    kind: str
    x: float
    width: float
    sure_x: float
    sure_width: float
    y: float
    open_left: bool
    open_right: bool
    label: str
    label_x: float
    anchor: str


class DrawnSign(NamedTuple):
    """A sign in drawing units: its middle, and the ends of its years."""

    number: int
    x: float
    low_x: float
    high_x: float
    y: float
    open_left: bool
    open_right: bool
    words: str


class LifeDrawing(NamedTuple):
    """What the template needs to draw years."""

    width: float
    height: float
    base: float
    marks: tuple[tuple[float, int], ...]
    bars: tuple[DrawnBar, ...]
    signs: tuple[DrawnSign, ...]


def life_drawing(
    bars: Sequence[TimeBar], signs: Sequence[TimeSign], width: float, today: float
) -> LifeDrawing | None:
    """Draw bars, one below the other, and signs on lines below them.

    Parameters
    ----------
    bars : sequence of TimeBar
        From above downwards.
    signs : sequence of TimeSign
        Events whose years are known at one end at least; others belong in the list alone.
    width : float
        Width of the drawing in drawing units (CSS pixels).
    today : float
        The decimal year in which what lasts is drawn to end.

    Returns
    -------
    LifeDrawing or None
        None where no year at all is known.
    """
    years = [year for bar in bars for year in bar[2:6] if year is not None]
    years += [year for sign in signs for year in (sign.low, sign.high) if year is not None]
    if not years:
        return None
    if any(bar.lasts for bar in bars):
        years.append(today)
    start, end = min(years), max(years)
    if end - start < LEAST_YEARS:
        start, end = start - LEAST_YEARS / 2, end + LEAST_YEARS / 2
    start, end = start - (end - start) * 0.04, end + (end - start) * 0.04

    def at(year: float) -> float:
        return round(MARGIN + (year - start) / (end - start) * (width - 2 * MARGIN), 1)

    drawn = tuple(_bar(bar, place, at, width) for place, bar in enumerate(bars))
    below = len(bars) * ROW + 16.0
    placed = _signs(signs, at, below, width)
    base = max((sign.y for sign in placed), default=below - SIGN) + SIGN
    return LifeDrawing(width, base + 24.0, base, tuple(_marks(start, end, width, at)), drawn, placed)


def _bar(bar: TimeBar, place: int, at: At, width: float) -> DrawnBar:
    left = at(bar.first) if bar.first is not None else MARGIN
    right = width - MARGIN if bar.lasts or bar.last is None else at(bar.last)
    sure_left = at(bar.first_sure)
    sure_right = right if bar.lasts or bar.last_sure is None else at(bar.last_sure)
    long = len(bar.label) * LETTER
    anchor, label_x = ("start", left) if left + long <= width else ("end", width - MARGIN)
    if anchor == "end" and long > width - 2 * MARGIN:
        anchor, label_x = "start", MARGIN
    return DrawnBar(
        bar.kind,
        left,
        round(max(right - left, 2.0), 1),
        min(sure_left, sure_right),
        round(max(sure_right - sure_left, 0.0), 1),
        place * ROW + 22.0,
        bar.first is None,
        bar.lasts or bar.last is None,
        bar.label,
        label_x,
        anchor,
    )


def _signs(signs: Sequence[TimeSign], at: At, top: float, width: float) -> tuple[DrawnSign, ...]:
    """Put each sign on the first line where it covers no other."""
    lines: list[float] = []
    placed = []
    for sign in sorted(signs, key=lambda each: (_middle(each), each.number)):
        low = at(sign.low) if sign.low is not None else MARGIN
        high = at(sign.high) if sign.high is not None else width - MARGIN
        x = at(_middle(sign))
        left, right = min(low, x - SIGN / 2), max(high, x + SIGN / 2)
        line = next((number for number, taken in enumerate(lines) if taken < left), len(lines))
        lines[line:] = [right + 2.0, *lines[line + 1 :]]
        placed.append(
            DrawnSign(
                sign.number,
                x,
                low,
                high,
                top + line * (SIGN + 4.0) + SIGN / 2,
                sign.low is None,
                sign.high is None,
                sign.words,
            )
        )
    return tuple(placed)


def _middle(sign: TimeSign) -> float:
    ends = [year for year in (sign.low, sign.high) if year is not None]
    return sum(ends) / len(ends)


def _marks(start: float, end: float, width: float, at: At) -> Iterator[tuple[float, int]]:
    """Give round years with their places on the axis."""
    most = max(2, int(width // 90))
    raw = (end - start) / most
    power = 10 ** floor(log10(raw))
    step = max(1, int(next(step * power for step in (1, 2, 5, 10) if step * power >= raw)))
    year = (int(start) // step + 1) * step
    while year < end:
        yield at(year), year
        year += step
