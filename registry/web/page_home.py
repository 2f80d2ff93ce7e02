"""The first page: what is here, and what needs attention."""

import sqlite3
from dataclasses import dataclass
from typing import Annotated

from datasette.utils.asgi import Response

from registry.drawing.bars import Castings, TimelineDrawing, castings, timeline_drawing
from registry.drawing.map import MapDrawing, map_drawing
from registry.model.cautions import Caution, cautions
from registry.store import pages
from registry.web import rendering
from registry.web.asking import Ask
from registry.web.map_reading import borders, towers_on_map, view_of

FINDINGS_SHOWN = 5
SURVEYS_SHOWN = 8


@dataclass(frozen=True)
class HomePage:
    """The first page."""

    title: Annotated[str, "Heading of the page."]
    counts: Annotated[pages.Counts, "How much the registry holds."]
    at_once: Annotated[int, "Findings that ask for attention at once."]
    groups: Annotated[list[pages.FindingGroup], "What needs attention by kind, gravest first."]
    cautions: Annotated[list[Caution], "Cautions that belong to what is listed."]
    surveys: Annotated[list[pages.SurveyLine], "The surveys made last."]
    castings: Annotated[Castings, "Castings by half-century."]
    timeline: Annotated[TimelineDrawing, "The same as a drawing for wide windows."]
    timeline_narrow: Annotated[TimelineDrawing, "The same for narrow ones."]
    map: Annotated[MapDrawing, "All towers."]
    map_narrow: Annotated[MapDrawing, "All towers, for narrow windows."]
    towers_unplaced: Annotated[int, "Towers without coordinates."]


def home_page(conn: sqlite3.Connection, ask: Ask) -> Response:
    """Make the first page."""
    towers = pages.read_towers(conn)
    placed, regions = towers_on_map(towers), borders(conn)
    whole = view_of(placed, regions)
    groups = pages.read_finding_groups(conn, FINDINGS_SHOWN)
    counted = castings(pages.read_cast_years(conn))
    return rendering.page(
        ask,
        "home",
        HomePage(
            title="Bells of this registry",
            counts=pages.read_counts(conn),
            at_once=sum(group.total for group in groups if group.severity == 3),
            groups=groups,
            cautions=[cautions()["no-certificate"]],
            surveys=pages.read_recent_surveys(conn, SURVEYS_SHOWN),
            castings=counted,
            timeline=timeline_drawing(counted.periods, 620.0, 170.0),
            timeline_narrow=timeline_drawing(counted.periods, 330.0, 170.0),
            map=map_drawing(placed, regions, whole, 440.0, 520.0),
            map_narrow=map_drawing(placed, regions, whole, 330.0, 300.0),
            towers_unplaced=len(towers) - len(placed),
        ),
    )
