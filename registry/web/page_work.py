"""The work list: what is to be done across the registry, and when to look again; as CSV and calendar too."""

import sqlite3
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from typing import Annotated

from datasette.utils.asgi import Response

from registry.model.cautions import Caution, cautions
from registry.model.vocabulary import vocabulary
from registry.store.pages import Row, read_regions, read_tower, read_towers
from registry.store.work import WorkCounts, WorkQuery, count_work, read_inspections, read_to_do
from registry.web import rendering
from registry.web.asking import Ask
from registry.web.tabular import as_csv
from registry.wording.inspections import inspection_calendar
from registry.wording.judged import urgency_words

PAGE_SIZE = 30
INSPECTIONS_SHOWN = 20
CALENDAR = "text/calendar; charset=utf-8"

Pairs = list[tuple[str, str]]


@dataclass(frozen=True)
class WorkPage:
    """What is to be done, and when to look again."""

    title: Annotated[str, "Heading of the page."]
    tower: Annotated[Row | None, "The one tower asked for; None for several."]
    pairs: Annotated[Pairs, "What was asked, as in the address."]
    values: Annotated[Mapping[str, str], "What stands in the fields of the form."]
    towers: Annotated[list[Row], "Towers to choose from."]
    regions: Annotated[list[tuple[str, str]], "Regions to choose from, id and name."]
    components: Annotated[list[tuple[str, str]], "Components to choose from."]
    urgencies: Annotated[list[tuple[int, str]], "Urgencies to choose from."]
    ignored: Annotated[list[str], "Arguments that made no sense."]
    counts: Annotated[WorkCounts, "How much there is to do, and how many inspections are to come."]
    to_do: Annotated[list[Row], "Those of this page, the most urgent first."]
    first: Annotated[int, "Number of the first of them."]
    at: Annotated[int, "Number of this page."]
    pages: Annotated[int, "Number of pages."]
    inspections: Annotated[list[Row], "The inspections that come next, the first one first."]
    today: Annotated[str, "The day of asking."]
    cautions: Annotated[list[Caution], "Cautions that go with such a list."]


class _Reading:
    """The address as it is read: the question, and what made no sense in it."""

    def __init__(self, ask: Ask) -> None:
        self.pairs: Pairs = []
        self.ignored: list[str] = []
        urgency = self._chosen(ask, "urgency", ("0", "1", "2", "3"))
        until = self._day(ask)
        self.query = WorkQuery(
            tower_id=self._kept(ask, "tower"),
            region=self._kept(ask, "region"),
            component=tuple(filter(None, [self._chosen(ask, "component", vocabulary("component").terms)])),
            urgency=int(urgency or 0),
            until=until,
        )

    def _kept(self, ask: Ask, name: str) -> tuple[str, ...]:
        value = ask.one(name)[:80]
        if not value:
            return ()
        self.pairs.append((name, value))
        return (value,)

    def _chosen(self, ask: Ask, name: str, known: object) -> str:
        value = ask.one(name)
        if value and value not in known:  # type: ignore[operator]
            self.ignored.append(name)
            return ""
        if value:
            self.pairs.append((name, value))
        return value

    def _day(self, ask: Ask) -> date | None:
        text = ask.one("until")
        try:
            day = date.fromisoformat(text) if text else None
        except ValueError:
            self.ignored.append("until")
            return None
        if day:
            self.pairs.append(("until", day.isoformat()))
        return day


def work_page(conn: sqlite3.Connection, ask: Ask) -> Response:
    """Make the page of the work list."""
    read = _Reading(ask)
    query, today = read.query, date.today()
    counts = count_work(conn, today, query)
    first = (ask.page() - 1) * PAGE_SIZE
    return rendering.page(
        ask,
        "work",
        WorkPage(
            title="Work list",
            tower=read_tower(conn, query.tower_id[0]) if query.tower_id else None,
            pairs=read.pairs,
            values=dict.fromkeys(("tower", "region", "component", "urgency", "until"), "") | dict(read.pairs),
            towers=read_towers(conn),
            regions=[(region.id, region.name) for region in read_regions(conn)],
            components=[(code, term.label) for code, term in vocabulary("component").terms.items()],
            urgencies=[(step, urgency_words(step)) for step in (3, 2, 1, 0)],
            ignored=read.ignored,
            counts=counts,
            to_do=read_to_do(conn, query, limit=PAGE_SIZE, offset=first),
            first=first + 1,
            at=ask.page(),
            pages=max(-(-counts.to_do // PAGE_SIZE), 1),
            inspections=read_inspections(conn, today, query, limit=INSPECTIONS_SHOWN),
            today=today.isoformat(),
            cautions=[cautions()["going-up"], cautions()["no-certificate"]],
        ),
    )


def work_csv(conn: sqlite3.Connection, ask: Ask) -> Response:
    """Give all things to do that were asked for as CSV."""
    return as_csv(read_to_do(conn, _Reading(ask).query), "work.csv")


def inspections_csv(conn: sqlite3.Connection, ask: Ask) -> Response:
    """Give all inspections that were asked for as CSV."""
    return as_csv(read_inspections(conn, date.today(), _Reading(ask).query), "inspections.csv")


def inspections_calendar(conn: sqlite3.Connection, ask: Ask) -> Response:
    """Give the same as a calendar (RFC 5545), for programs that keep one."""
    today = date.today()
    text = inspection_calendar(read_inspections(conn, today, _Reading(ask).query), on=today)
    headers = {"content-disposition": 'attachment; filename="inspections.ics"', "cache-control": "no-cache"}
    return Response(text, 200, headers, CALENDAR)
