"""Bells by place the long way: every tower looked at, geodesics by Karney, polygons in whole numbers.

Places stand on a grid of eighths of a degree, so that sides of polygons meet them exactly and every sum is
one of whole numbers.
"""

import random
import sqlite3
from collections.abc import Sequence
from itertools import pairwise
from math import cos, pi, sin

from geographiclib.geodesic import Geodesic

from registry.geography.areas import Area
from registry.store.database import create_schema

EIGHTHS = 8
Place = tuple[float, float]
"""Latitude and longitude [°]."""
SPECIAL: tuple[Place, ...] = (
    (90.0, 0.0), (90.0, -120.0), (-90.0, 0.0), (-90.0, 180.0), (0.0, 180.0), (0.0, -180.0), (47.5, 180.0),
    (47.5, -180.0), (47.5, 179.875), (47.5, -179.875), (89.875, 10.0), (-89.875, -170.0), (0.0, 0.0),
)  # fmt: skip


def towers_on_the_grid(count: int, seed: int) -> list[Place]:
    """Place towers: the special ones, then crowds and loners all over the world."""
    chance = random.Random(seed)  # noqa: S311
    places = list(SPECIAL)
    while len(places) < count:
        latitude, longitude = chance.randint(-720, 720), chance.randint(-1440, 1440)
        for _ in range(chance.choice((1, 1, 4))):
            near = (latitude + chance.randint(-6, 6)) / EIGHTHS, (longitude + chance.randint(-6, 6)) / EIGHTHS
            places.append((max(-90.0, min(90.0, near[0])), max(-180.0, min(180.0, near[1]))))
    return places[:count]


def registry_of(places: Sequence[Place]) -> sqlite3.Connection:
    """Make a registry in memory: a tower at each place with one to three bells, and one tower without."""
    conn = sqlite3.connect(":memory:")
    create_schema(conn)
    for number, place in enumerate([*places, (None, None)]):
        tower = f"t-{number}"
        conn.execute(
            "INSERT INTO tower_current (id, name, place, latitude_deg, longitude_deg, bells, bells_gone,"
            " surveys, last_survey_id, last_survey_date)"
            " VALUES (?, ?, 'Nowhere', ?, ?, 1, 0, 1, 's', '2020-01-01')",
            (tower, tower, *place),
        )
        if place[0] is not None:
            north, east = place
            conn.execute(
                "INSERT INTO tower_location (west_deg, east_deg, south_deg, north_deg, tower_id)"
                " VALUES (?, ?, ?, ?, ?)",
                (east, east, north, north, tower),
            )
        for bell in range(1 + number % 3):
            conn.execute(
                "INSERT INTO bell_current (id, tower_id, tower_name, place, latitude_deg, longitude_deg,"
                " material, surveys, disagreements, last_survey_id, last_survey_date)"
                " VALUES (?, ?, ?, 'Nowhere', ?, ?, ?, 1, 0, 's', '2020-01-01')",
                (
                    f"{tower}-{bell}",
                    tower,
                    tower,
                    *place,
                    ("bronze", "cast-steel", None)[(number + bell) % 3],
                ),
            )
    return conn


def distances_by_hand(origin: Place, places: Sequence[Place]) -> list[float]:
    """Measure from one place to all others [m], by Karney's method (geographiclib)."""
    inverse, mask = Geodesic.WGS84.Inverse, Geodesic.DISTANCE
    return [inverse(*origin, *place, mask)["s12"] for place in places]


def drawn_area(chance: random.Random) -> Area:
    """Draw a star-shaped polygon on the grid, often with a hole, over the antimeridian or up to a pole."""
    tall = chance.randint(8, 160)
    wide = chance.randint(8, 480)
    north = chance.choice((chance.randint(tall - 720, 720 - tall), 720 - tall, tall - 720))
    east = chance.choice((chance.randint(-1440, 1440), 1440, -1440))
    corners = chance.randint(4, 14)
    turns = sorted({0.25, *(chance.random() for _ in range(corners))})
    reach = {turn: 1.0 if turn == 0.25 else chance.uniform(0.35, 1.0) for turn in turns}

    def ring(scale: float) -> tuple[tuple[float, float], ...]:
        along = []
        for turn in turns:
            away = reach[turn] * scale
            x = round(east + wide * away * cos(2 * pi * turn))
            y = round(north + (1 if north >= 0 else -1) * tall * away * sin(2 * pi * turn))
            along.append((((x + 1440) % 2880 - 1440) / EIGHTHS, max(-720, min(720, y)) / EIGHTHS))
        return tuple(along)

    holes = (ring(chance.uniform(0.3, 0.7)),) if chance.random() < 0.6 else ()
    return Area(((ring(1.0), *holes),))


def inside_by_hand(area: Area, place: Place) -> bool:
    """Say whether a place lies in an area or on a border, by counting crossings in whole numbers."""
    y, x = round(place[0] * EIGHTHS), round(place[1] * EIGHTHS)
    for outer, *holes in area.polygons:
        border = _unrolled(outer)
        if abs(y) == 90 * EIGHTHS:
            if y in (row for _, row in border):
                return True
            continue
        where = [_where(border, x + turn, y) for turn in (-5760, -2880, 0, 2880, 5760)]
        in_hole = any(
            _where(_unrolled(hole), x + turn, y) > 0
            for hole in holes
            for turn in (-5760, -2880, 0, 2880, 5760)
        )
        if max(where) >= 0 and not in_hole:
            return True
    return False


def _unrolled(ring: Sequence[tuple[float, float]]) -> list[tuple[int, int]]:
    """Give a ring in eighths, closed, that goes on beyond 180 where it crosses the antimeridian."""
    along = [(round(ring[0][0] * EIGHTHS), round(ring[0][1] * EIGHTHS))]
    for longitude, latitude in (*ring[1:], ring[0]):
        x = round(longitude * EIGHTHS)
        while x - along[-1][0] > 1440:
            x -= 2880
        while along[-1][0] - x > 1440:
            x += 2880
        along.append((x, round(latitude * EIGHTHS)))
    return along


def _where(ring: Sequence[tuple[int, int]], x: int, y: int) -> int:
    """Give 1 inside, 0 on the ring, -1 outside."""
    crossings = False
    for (x1, y1), (x2, y2) in pairwise(ring):
        side = (x2 - x1) * (y - y1) - (y2 - y1) * (x - x1)
        if side == 0 and min(x1, x2) <= x <= max(x1, x2) and min(y1, y2) <= y <= max(y1, y2):
            return 0
        if (y1 > y) != (y2 > y) and (side > 0) == (y2 > y1):
            crossings = not crossings
    return 1 if crossings else -1
