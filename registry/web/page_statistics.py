"""Statistics of the bells asked for: castings, reach of founders, masses, survival; each with its data."""

import sqlite3
from collections.abc import Sequence
from dataclasses import dataclass
from math import exp, log
from typing import Annotated

from datasette.utils.asgi import Response

from registry.derive.law import law_of
from registry.drawing.bars import TimelineDrawing
from registry.drawing.map import MapDrawing, map_drawing
from registry.drawing.map_symbols import TowerOnMap
from registry.drawing.masses import BandPoint, MassDrawing, WeighedBell, mass_drawing
from registry.drawing.shares import SharesDrawing, ShareSeen, shares_drawing
from registry.store.mark import mark_of
from registry.store.search import Search
from registry.store.statistics import WeighedRow
from registry.web import rendering
from registry.web.asking import Ask
from registry.web.bell_questions import Question, asked, asked_plainly, shown
from registry.web.context import NotHereError
from registry.web.map_reading import view_of
from registry.web.page_timeline import decade_drawings
from registry.web.tabular import CSV, csv_lines
from registry.wording.statistics import (
    TABLES,
    FounderReach,
    Row,
    Statistics,
    Table,
    founders_against_law,
    masses_in_short,
)

FOUNDERS_SHOWN = 12
DOTS_SHOWN = 600
"""Bells drawn against the law; of more, evenly chosen ones by size."""
BAND_POINTS = 40


@dataclass(frozen=True)
class StatisticsPage:
    """The statistics of a question."""

    title: Annotated[str, "Heading of the page."]
    question: Annotated[Question, "What was asked."]
    castings: Annotated[Table, "Bells per decade."]
    decades: Annotated[TimelineDrawing, "The same as a drawing."]
    decades_narrow: Annotated[TimelineDrawing, "The same for narrow windows."]
    survival: Annotated[Table, "Which share still exists."]
    shares: Annotated[SharesDrawing | None, "The same as a drawing."]
    shares_narrow: Annotated[SharesDrawing | None, "The same for narrow windows."]
    reach: Annotated[Table, "How far the bells of the first founders went."]
    founders: Annotated[int, "How many founders there are."]
    reach_of: Annotated[str, "The founder whose towers are drawn."]
    map: Annotated[MapDrawing | None, "The towers of this founder, and their hull."]
    map_narrow: Annotated[MapDrawing | None, "The same for narrow windows."]
    masses: Annotated[Table, "Mass against diameter."]
    against_law: Annotated[list[Row], "The same by founder, beside the law."]
    weighed: Annotated[MassDrawing | None, "The same as a drawing."]
    material: Annotated[str, "The material whose law is drawn."]
    dots: Annotated[int, "Bells in the drawing."]
    of_material: Annotated[int, "Bells of this material with a diameter and a mass on record."]


def statistics_page(conn: sqlite3.Connection, ask: Ask) -> Response:
    """Make the statistics of a question."""
    read = asked(ask)
    search = Search(conn, read.query)
    statistics = Statistics(search)
    decades, decades_narrow = decade_drawings(statistics)
    shares = [
        ShareSeen(
            each.first_year,
            each.last_year,
            each.share,
            each.low or 0.0,
            each.high or 0.0,
            f"{each.first_year} to {each.last_year}: {each.exist:.1f} of {each.exist + each.gone:.1f} bells",
        )
        for each in statistics.survival()
    ]
    material, weighed = _weighed(statistics.weighed())
    chosen = [
        WeighedBell(
            bell.name or bell.bell_id, bell.mouth_diameter_mm, bell.mass_kg, bell.mass_basis == "weighed"
        )
        for bell in weighed[:: max(-(-len(weighed) // DOTS_SHOWN), 1)]
    ]
    reach_map = _reach_maps(statistics.reaches(FOUNDERS_SHOWN))
    return rendering.page(
        ask,
        "statistics",
        StatisticsPage(
            title="Statistics",
            question=shown(conn, ask, read, search),
            castings=statistics.table("castings"),
            decades=decades,
            decades_narrow=decades_narrow,
            survival=statistics.table("survival"),
            shares=shares_drawing(shares, 660.0),
            shares_narrow=shares_drawing(shares, 330.0),
            reach=statistics.table("reach", FOUNDERS_SHOWN),
            founders=len(statistics.founders()[0]),
            reach_of=reach_map[0],
            map=reach_map[1],
            map_narrow=reach_map[2],
            masses=masses_in_short(statistics),
            against_law=founders_against_law(statistics.weighed(), FOUNDERS_SHOWN),
            weighed=mass_drawing(chosen, _band(material, chosen)),
            material=material,
            dots=len(chosen),
            of_material=len(weighed),
        ),
    )


def statistics_file(conn: sqlite3.Connection, ask: Ask) -> Response:
    """Give one of the statistics with all its rows, as CSV or JSON.

    Raises
    ------
    NotHereError
        When there is none of this name.
    """
    name = ask.names["name"]
    if name not in TABLES:
        raise NotHereError
    read = asked_plainly(ask)
    table = Statistics(Search(conn, read.query)).table(name)
    if ask.names["format"] == "json":
        link = ask.url("/statistics", read.pairs)
        return rendering.as_json({"link": link, "registry": mark_of(conn)} | table._asdict())
    columns = list(table.columns)
    text = csv_lines([columns]) + csv_lines([[row[column] for column in columns] for row in table.rows])
    headers = {"content-disposition": f'attachment; filename="{name}.csv"', "cache-control": "no-cache"}
    return Response(text, 200, headers, CSV)


def _weighed(bells: Sequence[WeighedRow]) -> tuple[str, list[WeighedRow]]:
    """Choose the material with most bells that a law knows, and its bells by size."""
    by_material: dict[str, list[WeighedRow]] = {}
    for bell in bells:
        by_material.setdefault(bell.material or "unknown", []).append(bell)
    known = {material: each for material, each in by_material.items() if law_of(material)}
    if not known:
        return "bronze", []
    return max(known.items(), key=lambda item: (len(item[1]), item[0]))


def _band(material: str, bells: Sequence[WeighedBell]) -> list[BandPoint]:
    """Give the band that the law of a material leaves open, over the sizes of some bells."""
    law = law_of(material)
    if law is None or not bells:
        return []
    low, high = log(bells[0].mouth_diameter_mm / 1.3), log(bells[-1].mouth_diameter_mm * 1.3)
    band = []
    for step in range(BAND_POINTS + 1):
        mm = exp(low + (high - low) * step / BAND_POINTS)
        mass = law.mass_by_size(mm / 1000.0)
        band.append(BandPoint(mm, mass.value, *mass.interval))
    return band


def _reach_maps(reaches: Sequence[FounderReach]) -> tuple[str, MapDrawing | None, MapDrawing | None]:
    """Draw the towers of the founder in most of them, with their hull; the name comes first."""
    if not reaches:
        return "", None, None
    founder, among, reach = max(reaches, key=lambda each: (len(each.towers), each.founder.bells))
    towers = [
        TowerOnMap(each.tower_id, each.name, each.latitude_deg, each.longitude_deg, each.bells, 0)
        for each in among
    ]
    corners = reach.hull.corners if reach.hull else ()
    hull = [("convex hull", [[(east, north) for north, east in corners]])] if corners else []
    view = view_of(towers)
    return (
        founder.name,
        map_drawing(towers, [], view, 560.0, 380.0, asked=hull),
        map_drawing(towers, [], view, 330.0, 300.0, asked=hull),
    )
