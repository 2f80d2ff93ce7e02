"""The list of towers, and the page of one tower."""

import sqlite3
from dataclasses import dataclass
from datetime import date
from typing import Annotated

from datasette.utils.asgi import Response

from registry.drawing.map import KM_PER_DEGREE, MapDrawing, map_drawing, moved, view_around
from registry.drawing.ring import BellOutline, Scale, ring_outlines, scale_bar
from registry.model.cautions import Caution, cautions
from registry.store import pages, pages_sound, pages_survey
from registry.store.pages import GONE, Row
from registry.store.pages_regions import read_regions_of
from registry.store.work import WorkQuery, count_work, read_inspections
from registry.web import rendering
from registry.web.asking import Ask
from registry.web.condition_shown import Step, grades_in_short
from registry.web.context import NotHereError
from registry.web.map_reading import borders, towers_on_map
from registry.wording.compared import RingPicture, ring_picture
from registry.wording.observed import Fact, facts_of_row

CLOSE_KM = 8.0
INSPECTIONS_SHOWN = 3
PAGE_SIZE = 200


@dataclass(frozen=True)
class TowersPage:
    """All towers."""

    title: Annotated[str, "Heading of the page."]
    towers: Annotated[list[Row], "Rows of tower_current with attention and region_name, of this page."]
    total: Annotated[int, "Number of towers."]
    at: Annotated[int, "Number of this page."]
    pages: Annotated[int, "Number of pages."]


@dataclass(frozen=True)
class TowerPage:
    """One tower."""

    title: Annotated[str, "Name of the tower."]
    tower: Annotated[Row, "Its row of tower_current."]
    regions: Annotated[list[Row], "Regions it lies in: region_id, name and valid, None without a border."]
    bells: Annotated[list[Row], "Its bells in the order of the ring, rows of bell_current."]
    ring: Annotated[RingPicture | None, "The bells held against a scale; None with fewer than two notes."]
    outlines: Annotated[list[BellOutline], "The same bells drawn to one scale."]
    scale: Annotated[Scale, "A bar for that scale."]
    map: Annotated[MapDrawing | None, "The tower and its neighbours; None without coordinates."]
    map_narrow: Annotated[MapDrawing | None, "The same for narrow windows."]
    findings: Annotated[list[pages.Finding], "What needs attention here, gravest first."]
    cautions: Annotated[list[Caution], "Cautions for whoever goes up."]
    hazards: Annotated[list[Row], "Hazards of the newest visit that names any."]
    not_inspected: Annotated[list[Row], "Parts the newest visit did not inspect."]
    newest_visit: Annotated[str | None, "Id of the newest visit."]
    frame: Annotated[list[Fact], "The frame as the newest survey of it has it."]
    assessments: Annotated[list[Row], "Judgements of the tower's own components, newest first."]
    surveys: Annotated[list[pages.SurveyLine], "All surveys of the tower, newest first."]
    worst: Annotated[Step | None, "Worst computed condition of its bells; None where no bell is there."]
    silent: Annotated[list[Row], "Bells that the rules say not to ring."]
    to_do: Annotated[int, "Things to do here."]
    inspections: Annotated[list[Row], "The inspections that come first, with the day each is due."]


def towers_page(conn: sqlite3.Connection, ask: Ask) -> Response:
    """Make the list of towers."""
    towers = pages.read_towers(conn)
    first = (ask.page() - 1) * PAGE_SIZE
    page = TowersPage(
        title="Towers",
        towers=towers[first : first + PAGE_SIZE],
        total=len(towers),
        at=ask.page(),
        pages=max(-(-len(towers) // PAGE_SIZE), 1),
    )
    return rendering.page(ask, "towers", page)


def tower_page(conn: sqlite3.Connection, ask: Ask) -> Response:
    """Make the page of one tower.

    Raises
    ------
    NotHereError
        When no tower has this id.
    """
    tower_id = ask.names["id"]
    tower = pages.read_tower(conn, tower_id)
    if tower is None:
        raise NotHereError
    bells = pages.read_bells_of_tower(conn, tower_id)
    sizes = [(bell["mouth_diameter_mm"], bell["height_mm"], bell["shoulder_diameter_mm"]) for bell in bells]
    newest = pages_survey.read_newest_visit(conn, tower_id)
    frames = pages_survey.read_of_newest(conn, "frame", tower_id)
    wide, narrow = _surroundings(conn, tower)
    work = WorkQuery(tower_id=(tower_id,))
    return rendering.page(
        ask,
        "tower",
        TowerPage(
            title=tower["name"],
            tower=tower,
            regions=read_regions_of(conn, tower_id),
            bells=bells,
            ring=ring_picture(pages_sound.read_ring(conn, tower_id)),
            outlines=ring_outlines(sizes),
            scale=scale_bar([diameter for diameter, _, _ in sizes]),
            map=wide,
            map_narrow=narrow,
            findings=pages.read_findings(conn, tower_id=tower_id),
            cautions=[cautions()["going-up"], cautions()["no-certificate"]],
            hazards=pages_survey.read_of_newest(conn, "hazard", tower_id),
            not_inspected=pages_survey.read_of_survey(conn, "not_inspected", newest) if newest else [],
            newest_visit=newest,
            frame=facts_of_row("frame", frames[0]) if frames else [],
            assessments=pages_survey.read_assessments(conn, bell_id=None, tower_id=tower_id),
            surveys=pages.read_surveys_of_tower(conn, tower_id),
            worst=grades_in_short(bells),
            silent=[bell for bell in bells if bell["ringing"] == "stop" and bell["status"] not in GONE],
            to_do=count_work(conn, date.today(), work).to_do,
            inspections=read_inspections(conn, date.today(), work, limit=INSPECTIONS_SHOWN),
        ),
    )


def _surroundings(conn: sqlite3.Connection, tower: Row) -> tuple[MapDrawing, MapDrawing] | tuple[None, None]:
    """Draw the tower with what stands near it, for wide and for narrow windows."""
    latitude, longitude = tower["latitude_deg"], tower["longitude_deg"]
    if latitude is None or longitude is None:
        return None, None
    near = view_around([(longitude, latitude)])
    view = moved(near, zoom=(near.north - near.south) * KM_PER_DEGREE / CLOSE_KM)
    placed, regions = towers_on_map(pages.read_towers(conn)), borders(conn)
    return (
        map_drawing(placed, regions, view, 420.0, 300.0),
        map_drawing(placed, regions, view, 330.0, 260.0),
    )
