"""Bells by place: within a radius, the nearest, within an area; all become lists of towers."""

import sqlite3
from collections.abc import Callable
from typing import NamedTuple

from registry.geography import box_around, distance_m
from registry.geography.areas import Area, boxes_of, shapes_of
from registry.geography.containment import stand_inside
from registry.geography.distances import Box
from registry.geography.many import distances_m
from registry.questions.query import BellQuery
from registry.store.rows import to_json
from registry.store.search_filters import Condition

NOWHERE = "(bell.latitude_deg IS NULL OR bell.longitude_deg IS NULL)"
AMONG = "bell.tower_id IN (SELECT value FROM json_each(?))"

RIM_M = 0.01
"""Nearer to the rim than this a distance is measured once more, by Karney's method."""

SAME_KM = 1e-6
"""Towers that are as far as the last of the nearest, to a millimetre, come too."""

CountByTower = Callable[[list[Condition]], dict[str, int]]


class Places(NamedTuple):
    """The conditions that a question makes on places, and how far towers are from the place asked [km]."""

    conditions: tuple[Condition, ...]
    distance_km: dict[str, float]


def places_of(
    conn: sqlite3.Connection, query: BellQuery, others: list[Condition], count_by_tower: CountByTower
) -> Places:
    """Find the towers that a question means by its places.

    Parameters
    ----------
    conn : sqlite3.Connection
        The registry.
    query : BellQuery
        The question.
    others : list of Condition
        All its other conditions: the nearest bells are the nearest that meet these.
    count_by_tower : callable
        Counts the bells that meet conditions, by tower.
    """
    made: list[Condition] = []
    distance_km: dict[str, float] = {}
    if query.area is not None:
        made.append(_among("area", towers_inside(conn, query.area)))
    if query.near is not None:
        distance_km = towers_near(conn, *query.near)
        made.append(_among("near", distance_km))
    if query.nearest is not None:
        latitude, longitude, wanted = query.nearest
        every = towers_near(conn, latitude, longitude, None)
        reach_km = _reach(every, count_by_tower([*others, *made]), wanted)
        distance_km = {tower: away for tower, away in every.items() if away <= reach_km + SAME_KM}
        made.append(_among("nearest", distance_km))
    return Places(tuple(made), distance_km)


def _among(name: str, towers: dict[str, float] | list[str]) -> Condition:
    return Condition(name, AMONG, (to_json(list(towers)),), NOWHERE)


def _reach(every: dict[str, float], bells: dict[str, int], wanted: int) -> float:
    """Give the distance [km] of the last of the nearest bells that are wanted, of the farthest if too few."""
    away_km, counted = 0.0, 0
    for tower in sorted((tower for tower in bells if tower in every), key=lambda tower: every[tower]):
        away_km = every[tower]
        counted += bells[tower]
        if counted >= wanted:
            return away_km
    return max(every.values(), default=0.0)


def towers_near(
    conn: sqlite3.Connection, latitude_deg: float, longitude_deg: float, radius_km: float | None
) -> dict[str, float]:
    """Give the distance [km] of each tower within a radius; of every tower that has a place for None.

    Boxes come first, then the geodesic itself.
    """
    if radius_km is None:
        found = conn.execute(
            "SELECT id, latitude_deg, longitude_deg FROM tower_current"
            " WHERE latitude_deg IS NOT NULL AND longitude_deg IS NOT NULL"
        ).fetchall()
    else:
        found = _in_boxes(conn, box_around(latitude_deg, longitude_deg, radius_km * 1000.0))
    origin = (latitude_deg, longitude_deg)
    away_m = distances_m(origin, [row[1] for row in found], [row[2] for row in found])
    near: dict[str, float] = {}
    for (tower_id, north, east), length_m in zip(found, away_m, strict=True):
        exact_m = length_m
        if radius_km is not None and abs(length_m - radius_km * 1000.0) < RIM_M:
            exact_m = distance_m(origin, (north, east))
        if radius_km is None or exact_m / 1000.0 <= radius_km:
            near[tower_id] = exact_m / 1000.0
    return near


def towers_inside(conn: sqlite3.Connection, area: Area) -> list[str]:
    """Give the towers that stand in an area or on its border."""
    shapes = shapes_of(area)
    found = _in_boxes(conn, boxes_of(shapes))
    north, east = [row[1] for row in found], [row[2] for row in found]
    inside = [stand_inside(shape, north, east) for shape in shapes]
    return [row[0] for row, *among in zip(found, *inside, strict=True) if any(among)]


def _in_boxes(conn: sqlite3.Connection, boxes: list[Box]) -> list[tuple[str, float, float]]:
    """Give id, latitude and longitude of every tower in some boxes."""
    found = {}
    for box in boxes:
        for row in conn.execute(
            "SELECT tower.id, tower.latitude_deg, tower.longitude_deg"
            " FROM tower_location AS place JOIN tower_current AS tower ON tower.id = place.tower_id"
            " WHERE place.west_deg <= ? AND place.east_deg >= ?"
            " AND place.south_deg <= ? AND place.north_deg >= ?",
            (box.east, box.west, box.north, box.south),
        ):
            found[row[0]] = tuple(row)
    return list(found.values())
