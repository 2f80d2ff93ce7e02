"""Founders: the list of all, and the page of one with the bells given to it."""

import sqlite3
from dataclasses import dataclass
from datetime import date
from typing import Annotated

from datasette.utils.asgi import Response

from registry.derive.condition.slope import decimal_year
from registry.derive.delivery import Deliveries
from registry.drawing.life import LifeDrawing, TimeBar, TimeSign, life_drawing
from registry.drawing.map import MapDrawing, map_drawing
from registry.model.life import days_of
from registry.model.validity import Validity
from registry.store import pages
from registry.store import pages_founders as read
from registry.store.pages import Row
from registry.web import rendering
from registry.web.asking import Ask
from registry.web.context import NotHereError
from registry.web.map_reading import borders, towers_on_map, view_of
from registry.wording.life import year_of
from registry.wording.words import date_words

MOST_UNLISTED = 200
MOST_SIGNS = 40
"""Bells that are drawn on the line of years; more would cover each other."""


@dataclass(frozen=True)
class FoundersPage:
    """All founders."""

    title: Annotated[str, "Heading of the page."]
    founders: Annotated[list[Row], "Founders by name, with their bells counted."]
    unlisted: Annotated[list[Row], "Names on bells that no file of founders has, with their bells counted."]


@dataclass(frozen=True)
class FounderPage:
    """One founder."""

    title: Annotated[str, "Name of the founder."]
    founder: Annotated[Row, "What is known: dates, kind, sources, remarks."]
    variants: Annotated[list[Row], "Spellings of the name, that of today first."]
    workshops: Annotated[list[Row], "Where the founder cast."]
    ties: Annotated[list[Row], "Ties to other founders, as this entry has them."]
    ties_back: Annotated[list[Row], "Ties that other entries have to this one."]
    names: Annotated[dict[str, str], "Names of founders by id."]
    bells: Annotated[list[tuple[int | None, Row]], "Bells with their numbers in the drawing."]
    counts: Annotated[tuple[int, int, int], "Bells stated, proposed and doubtful."]
    reach: Annotated[Deliveries, "How far they hung from the workshop."]
    work: Annotated[LifeDrawing | None, "The time of work with the castings; None without any year."]
    work_narrow: Annotated[LifeDrawing | None, "The same for narrow windows."]
    map: Annotated[MapDrawing | None, "Where the bells first hung; None without coordinates."]
    map_narrow: Annotated[MapDrawing | None, "The same for narrow windows."]


def founders_page(conn: sqlite3.Connection, ask: Ask) -> Response:
    """Make the list of founders."""
    page = FoundersPage(
        title="Founders",
        founders=read.read_founders(conn),
        unlisted=read.read_unlisted_names(conn, MOST_UNLISTED),
    )
    return rendering.page(ask, "founders", page)


def founder_page(conn: sqlite3.Connection, ask: Ask) -> Response:
    """Make the page of one founder.

    Raises
    ------
    NotHereError
        When no founder has this id.
    """
    founder_id = ask.names["id"]
    founder = read.read_founder(conn, founder_id)
    if founder is None:
        raise NotHereError
    bells = read.read_bells_of(conn, founder_id)
    workshops = read.read_parts(conn, "founder_workshop", founder_id)
    numbered = _numbered(bells)
    wide, narrow = _maps(conn, founder_id)
    stated = sum(bell["basis"] == "stated" for bell in bells)
    doubtful = sum(bell["basis"] == "proposed" and bell["certainty"] == "doubtful" for bell in bells)
    return rendering.page(
        ask,
        "founder",
        FounderPage(
            title=founder["name"],
            founder=founder,
            variants=read.read_parts(conn, "founder_variant", founder_id),
            workshops=workshops,
            ties=read.read_parts(conn, "founder_tie", founder_id),
            ties_back=read.read_ties_back(conn, founder_id),
            names=read.read_names_of(conn),
            bells=numbered,
            counts=(stated, len(bells) - stated - doubtful, doubtful),
            reach=read.read_deliveries(conn, founder_id),
            work=_work(founder, workshops, numbered, 640.0),
            work_narrow=_work(founder, workshops, numbered, 326.0),
            map=wide,
            map_narrow=narrow,
        ),
    )


def _numbered(bells: list[Row]) -> list[tuple[int | None, Row]]:
    """Give numbers to the bells that stand on the line of years, if they are few enough to be told apart."""
    if len(bells) > MOST_SIGNS:
        return [(None, bell) for bell in bells]
    numbered: list[tuple[int | None, Row]] = []
    for bell in bells:
        dated = days_of(bell["cast_date"] or "") != Validity()
        number = sum(each is not None for each, _ in numbered) + 1 if dated else None
        numbered.append((number, bell))
    return numbered


def _work(
    founder: Row, workshops: list[Row], bells: list[tuple[int | None, Row]], width: float
) -> LifeDrawing | None:
    """Draw the time of work, the workshops and the castings."""
    times = [("at work", founder["active"])]
    times += [
        (row["place"], row["valid"]) for row in workshops if row["valid"] not in (None, founder["active"])
    ]
    bars = [_bar(label, days_of(text)) for label, text in times if text and days_of(text) != Validity()]
    signs = []
    for number, bell in bells:
        if number is not None:
            cast = days_of(bell["cast_date"])
            words = f"{bell['name'] or bell['bell_id']}, {date_words(bell['cast_date'])}"
            signs.append(TimeSign(number, year_of(cast.first), year_of(cast.last), words))
    return life_drawing(bars, signs, width, decimal_year(date.today()))


def _bar(label: str, time: Validity) -> TimeBar:
    first, last = year_of(time.first), year_of(time.last)
    sure = first if first is not None else last or 0.0
    return TimeBar(label, "there", first, sure, last, last, lasts=time.last is None)


def _maps(conn: sqlite3.Connection, founder_id: str) -> tuple[MapDrawing, MapDrawing] | tuple[None, None]:
    """Draw where the bells of a founder first hung."""
    first = read.read_first_towers(conn, founder_id)
    counted: dict[str, int] = {}
    for row in first:
        counted[row["id"]] = counted.get(row["id"], 0) + 1
    towers = towers_on_map([row for row in pages.read_towers(conn) if row["id"] in counted], counted)
    if not towers:
        return None, None
    regions = borders(conn)
    view = view_of(towers, regions)
    return map_drawing(towers, regions, view, 560.0, 400.0), map_drawing(towers, regions, view, 330.0, 300.0)
