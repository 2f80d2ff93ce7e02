"""Bells on a line of years: one row for each, its bar the years in which it can have been cast."""

from collections.abc import Sequence
from math import ceil
from typing import NamedTuple

ROW = 34.0
TOP = 26.0
MARGIN = 8.0
LEAST_WIDTH = 3.0
BEYOND = 26.0
"""Room at each side for bars whose end is open [drawing units]."""
ARROW = 8.0
LETTER_WIDTH = 6.6


class BellSpan(NamedTuple):
    """A bell with the spans its date may mean; an end that is open or not known is None."""

    bell_id: str
    name: str
    spans: tuple[tuple[int | None, int | None], ...]
    words: str


class SpanBar(NamedTuple):
    """One span; ``opens_left`` and ``opens_right`` say that it goes on."""

    x: float
    width: float
    opens_left: bool
    opens_right: bool


class SpanRow(NamedTuple):
    """One bell: its name above its bars."""

    bell: BellSpan
    y: float
    label: str
    bars: tuple[SpanBar, ...]


class LifespansDrawing(NamedTuple):
    """Bells on a line of years; ``marks`` are the years named above."""

    width: float
    height: float
    rows: tuple[SpanRow, ...]
    marks: tuple[tuple[float, int], ...]


def lifespans_drawing(bells: Sequence[BellSpan], width: float) -> LifespansDrawing | None:
    """Draw bells in the order given, ``width`` drawing units wide; None where none has a year."""
    years = [year for bell in bells for span in bell.spans for year in span if year is not None]
    if not years:
        return None
    first, last = min(years), max(years) + 1
    step = next(
        (each for each in (1, 2, 5, 10, 20, 50, 100, 200, 500) if (last - first) / each <= width / 70), 1000
    )
    first, last = first // step * step, ceil(last / step) * step
    inner = width - 2 * (MARGIN + BEYOND)

    def at(year: float) -> float:
        return MARGIN + BEYOND + (year - first) / (last - first) * inner

    rows = []
    for place, bell in enumerate(bells):
        bars = []
        for begin, end in bell.spans:
            if begin is None and end is None:
                continue
            left = MARGIN + ARROW if begin is None else at(begin)
            right = width - MARGIN - ARROW if end is None else at(end + 1)
            bars.append(
                SpanBar(round(left, 1), round(max(right - left, LEAST_WIDTH), 1), begin is None, end is None)
            )
        room = int((width - 2 * MARGIN) / LETTER_WIDTH)
        text = f"{bell.name}, {bell.words}"
        label = text if len(text) <= room else text[: room - 1].rstrip() + "…"
        rows.append(SpanRow(bell, TOP + place * ROW, label, tuple(bars)))
    marks = tuple((round(at(year), 1), year) for year in range(first, last + 1, step))
    return LifespansDrawing(width, TOP + len(rows) * ROW + 6.0, tuple(rows), marks)
