"""The map: towers of the registry, or of the bells that a search found."""

import sqlite3
from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass
from typing import Annotated, NamedTuple

from datasette.utils.asgi import Response

from registry.drawing.map import MapDrawing, View, map_drawing, moved
from registry.store import pages
from registry.store.pages import Row
from registry.store.search import Search
from registry.web import rendering
from registry.web.asking import Ask
from registry.web.bell_questions import Question, asked, shown
from registry.web.map_reading import asked_outlines, borders, towers_on_map, view_of
from registry.wording.asked import in_words

WIDE = (660.0, 500.0)
NARROW = (330.0, 400.0)
MOST_LISTED = 200


class MapStep(NamedTuple):
    """A link that changes the view."""

    words: str
    url: str


@dataclass(frozen=True)
class MapPage:
    """The map with the list of what it shows."""

    title: Annotated[str, "Heading of the page."]
    map: Annotated[MapDrawing, "The drawing for wide windows."]
    map_narrow: Annotated[MapDrawing, "The drawing for narrow ones."]
    steps: Annotated[list[MapStep], "Links to the neighbouring views."]
    shown: Annotated[list[Row], "Towers in the view, with the number of bells asked for."]
    bells: Annotated[Counter[str] | None, "Bells found by tower, None where all are shown."]
    more: Annotated[int, "Towers in the view beyond those listed."]
    unplaced: Annotated[list[Row], "Towers that have no coordinates."]
    question: Annotated[Question, "What the search asked for."]
    closer: Annotated[Callable[[tuple[float, float, float, float]], str], "Address of a closer view."]


def map_page(conn: sqlite3.Connection, ask: Ask) -> Response:
    """Make the map; ``bbox`` in the address is west,south,east,north, other words are those of the search."""
    read = asked(ask)
    search = Search(conn, read.query)
    towers = pages.read_towers(conn)
    bells = None
    if search.conditions:
        bells = Counter(search.count_by_tower(search.conditions))
        towers = [tower for tower in towers if tower["id"] in bells]
    placed, regions = towers_on_map(towers, bells), borders(conn)
    outlines = asked_outlines(read.query, {name: in_words(name, text) for name, text in read.pairs})
    view = read_view(ask.one("bbox")) or view_of(placed, regions, outlines)
    drawing = map_drawing(placed, regions, view, *WIDE, asked=outlines)
    seen = drawing.view

    def address(view: View | None) -> str:
        return ask.url("/map", [*read.pairs, ("bbox", view.as_text() if view else "")])

    listed = [
        tower
        for tower in towers
        if tower["latitude_deg"] is not None
        and tower["longitude_deg"] is not None
        and seen.holds(tower["longitude_deg"], tower["latitude_deg"])
    ]
    return rendering.page(
        ask,
        "map",
        MapPage(
            title="Map",
            map=drawing,
            map_narrow=map_drawing(placed, regions, view, *NARROW, asked=outlines),
            steps=[
                MapStep("Closer", address(moved(seen, zoom=2))),
                MapStep("Wider", address(moved(seen, zoom=0.5))),
                MapStep("West", address(moved(seen, east=-0.5))),
                MapStep("North", address(moved(seen, north=0.5))),
                MapStep("South", address(moved(seen, north=-0.5))),
                MapStep("East", address(moved(seen, east=0.5))),
                MapStep("All", address(None)),
            ],
            shown=listed[:MOST_LISTED],
            bells=bells,
            more=max(len(listed) - MOST_LISTED, 0),
            unplaced=[tower for tower in towers if tower["latitude_deg"] is None],
            question=shown(conn, ask, read, search),
            closer=lambda bounds: address(rendering.around(bounds)),
        ),
    )


def read_view(text: str) -> View | None:
    """Read a view from the address; None where it is absent or none."""
    parts = text.split(",")
    try:
        west, south, east, north = (float(part) for part in parts)
    except ValueError:
        return None
    sensible = -540 <= west < east <= 540 and -90 <= south < north <= 90
    return View(west, south, east, north) if sensible else None
