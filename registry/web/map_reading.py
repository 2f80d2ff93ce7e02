"""From rows of the registry to what a map draws."""

import sqlite3
from collections.abc import Mapping, Sequence
from typing import Any

from registry.drawing.map import View, view_around
from registry.drawing.map_outline import rings_of
from registry.drawing.map_symbols import TowerOnMap
from registry.geography.areas import shapes_of
from registry.geography.circles import circle_outline
from registry.questions import BellQuery
from registry.store import pages

Border = tuple[str, list[list[tuple[float, float]]]]


FARTHER = 2.5
"""How many times wider the borders may be than the towers before they are left out of the first view."""


def towers_on_map(
    towers: Sequence[Mapping[str, Any]], bells: Mapping[str, int] | None = None
) -> list[TowerOnMap]:
    """Take the towers that have coordinates.

    Parameters
    ----------
    towers : sequence of mapping
        Rows of ``read_towers``.
    bells : mapping, optional
        Bells to count by tower, where only some were asked for; towers without any are left out.
    """
    return [
        TowerOnMap(
            row["id"],
            row["name"],
            row["latitude_deg"],
            row["longitude_deg"],
            row["bells"] if bells is None else bells[row["id"]],
            row["attention"],
        )
        for row in towers
        if row["latitude_deg"] is not None
        and row["longitude_deg"] is not None
        and (bells is None or row["id"] in bells)
    ]


def borders(conn: sqlite3.Connection) -> list[Border]:
    """Give the borders of all regions."""
    return [(region.name, rings_of(region.geometry)) for region in pages.read_regions(conn)]


def asked_outlines(query: BellQuery, words: Mapping[str, str]) -> list[Border]:
    """Give the area and the circle that a question asks for; ``words`` names them by their part of it."""
    outlines: list[Border] = []
    if query.area is not None:
        rings = [ring for shape in shapes_of(query.area) for ring in rings_of(shape.__geo_interface__)]
        outlines.append((words["area"], rings))
    if query.near is not None:
        outlines.append((words["near"], [circle_outline(*query.near)]))
    return outlines


def view_of(
    towers: Sequence[TowerOnMap], regions: Sequence[Border] = (), asked: Sequence[Border] = ()
) -> View:
    """Give the view that holds all towers and what was asked, with borders that reach not much farther."""
    points = [(tower.longitude_deg, tower.latitude_deg) for tower in towers]
    points += [point for _, rings in asked for ring in rings for point in ring]
    corners = [point for _, rings in regions for ring in rings for point in ring]
    near, far = view_around(points), view_around([*points, *corners])
    if points and (far.east - far.west > FARTHER * (near.east - near.west)):
        return near
    return far
