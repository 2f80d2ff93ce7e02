"""Bells on a line of years: one row for each, its bar the years in which it can have been cast."""

from collections.abc import Sequence
from math import ceil
from typing import NamedTuple

ROW = 34.0
"""Height of a row whose name stands above its bars."""
LOW_ROW = 25.0
"""Height of a row whose name stands beside its bars."""
TOP = 26.0
MARGIN = 8.0
GAP = 7.0
LEAST_WIDTH = 5.0
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
    """One bell: its name beside its bars where there is room, else above them.

    ``label_x`` is where the name begins, or ends where ``label_ends`` says so; ``label_y`` and ``bar_y`` are
    its line of writing and the middle of the bars.
    """

    bell: BellSpan
    y: float
    height: float
    label: str
    label_x: float
    label_y: float
    bar_y: float
    bars: tuple[SpanBar, ...]
    label_ends: bool = False


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

    rows: list[SpanRow] = []
    y = TOP
    for bell in bells:
        bars = []
        for begin, end in bell.spans:
            if begin is None and end is None:
                continue
            left = MARGIN + ARROW if begin is None else at(begin)
            right = width - MARGIN - ARROW if end is None else at(end + 1)
            bars.append(
                SpanBar(round(left, 1), round(max(right - left, LEAST_WIDTH), 1), begin is None, end is None)
            )
        rows.append(_row(bell, tuple(bars), y, width))
        y += rows[-1].height
    marks = tuple((round(at(year), 1), year) for year in range(first, last + 1, step))
    return LifespansDrawing(width, y + 6.0, tuple(rows), marks)


def _row(bell: BellSpan, bars: tuple[SpanBar, ...], y: float, width: float) -> SpanRow:
    """Lay out one bell: its name to the right of its bars, to their left, or above them, as there is room."""
    text = f"{bell.name}, {bell.words}"
    long = len(text) * LETTER_WIDTH
    left = min((bar.x - ARROW * bar.opens_left for bar in bars), default=MARGIN)
    right = max((bar.x + bar.width + ARROW * bar.opens_right for bar in bars), default=MARGIN)
    middle = LOW_ROW / 2.0
    if right + GAP + long <= width - MARGIN:
        return SpanRow(bell, y, LOW_ROW, text, round(right + GAP, 1), y + middle + 4.0, y + middle, bars)
    if left - GAP - long >= MARGIN:
        row = SpanRow(bell, y, LOW_ROW, text, round(left - GAP, 1), y + middle + 4.0, y + middle, bars)
        return row._replace(label_ends=True)
    room = int((width - 2 * MARGIN) / LETTER_WIDTH)
    label = text if len(text) <= room else text[: room - 1].rstrip() + "…"
    return SpanRow(bell, y, ROW, label, MARGIN, y + 14.0, y + 23.0, bars)
