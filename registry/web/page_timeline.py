"""The time line: the bells asked for on a line of years, or where there are many, counted by decade."""

import sqlite3
from dataclasses import dataclass
from typing import Annotated

from datasette.utils.asgi import Response

from registry.drawing.bars import Period, TimelineDrawing, timeline_drawing
from registry.drawing.lifespans import BellSpan, LifespansDrawing, lifespans_drawing
from registry.questions.link import Pairs
from registry.store.pages import Row
from registry.store.search import Search
from registry.store.statistics import read_dated
from registry.web import rendering
from registry.web.asking import Ask
from registry.web.bell_questions import Question, asked, shown
from registry.wording.statistics import DECADE, Statistics, Table
from registry.wording.words import date_words

MOST_ROWS = 150
"""Bells up to which each has a row; more are counted by decade."""


@dataclass(frozen=True)
class TimelinePage:
    """The time line."""

    title: Annotated[str, "Heading of the page."]
    question: Annotated[Question, "What was asked."]
    bells: Annotated[LifespansDrawing | None, "Each bell on the line; None where there are too many."]
    bells_narrow: Annotated[LifespansDrawing | None, "The same for narrow windows."]
    decades: Annotated[TimelineDrawing | None, "Bells by decade; None where each has a row."]
    decades_narrow: Annotated[TimelineDrawing | None, "The same for narrow windows."]
    counted: Annotated[Table | None, "The same as a table."]
    without: Annotated[list[Row], "Bells without any year, the first of them."]
    without_total: Annotated[int, "How many there are."]
    asked_of: Annotated[Pairs, "The question without its years, to narrow it by those of a bar."]


def timeline_page(conn: sqlite3.Connection, ask: Ask) -> Response:
    """Make the time line of a question."""
    read = asked(ask)
    ordered = read.query._replace(sort="date", limit=MOST_ROWS, offset=0)
    search = Search(conn, ordered)
    bells = bells_narrow = decades = decades_narrow = counted = None
    without: list[Row] = []
    total = 0
    if search.total <= MOST_ROWS:
        spans = read_dated(search).spans
        rows = search.rows()
        told = [
            BellSpan(
                row["id"],
                row["name"] or row["id"],
                spans[row["id"]],
                date_words(row["cast_date"]) or "undated",
            )
            for row in rows
        ]
        placed = [bell for bell in told if any(year is not None for span in bell.spans for year in span)]
        bells, bells_narrow = lifespans_drawing(placed, 660.0), lifespans_drawing(placed, 330.0)
        known = {bell.bell_id for bell in placed}
        without = [row for row in rows if row["id"] not in known]
        total = len(without)
    else:
        statistics = Statistics(search)
        counted = statistics.table("castings")
        total = statistics.spread(DECADE).undated + statistics.spread(DECADE).open_ended
        decades, decades_narrow = decade_drawings(statistics)
    return rendering.page(
        ask,
        "timeline",
        TimelinePage(
            title="Time line",
            question=shown(conn, ask, read, search),
            bells=bells,
            bells_narrow=bells_narrow,
            decades=decades,
            decades_narrow=decades_narrow,
            counted=counted,
            without=without,
            without_total=total,
            asked_of=[pair for pair in read.pairs if pair[0] not in ("from", "to", "century")],
        ),
    )


def decade_drawings(statistics: Statistics) -> tuple[TimelineDrawing, TimelineDrawing]:
    """Draw castings by decade, for wide windows and narrow ones."""
    periods = [
        Period(each.first_year, each.last_year, each.certain, each.expected - each.certain)
        for each in statistics.castings()
    ]
    return timeline_drawing(periods, 660.0), timeline_drawing(periods, 330.0)
