"""Radius, nearest and polygon agree with looking at every tower, at poles, antimeridian and in holes too.

``benchmarks/places.py`` puts ten thousand such cases.
"""

import random
import sqlite3
from collections.abc import Iterator
from contextlib import closing

import pytest
from places_by_hand import (
    SPECIAL,
    Place,
    distances_by_hand,
    drawn_area,
    inside_by_hand,
    registry_of,
    towers_on_the_grid,
)

from registry.geography.areas import read_area, shapes_of
from registry.geography.many import distances_m
from registry.geography.rings import BorderError
from registry.questions import BellQuery
from registry.store.search import find_bells
from registry.store.search_places import towers_inside, towers_near

TOWERS = towers_on_the_grid(90, 1)


@pytest.fixture(scope="module")
def conn() -> Iterator[sqlite3.Connection]:
    """Give a registry of towers all over the world."""
    with closing(registry_of(TOWERS)) as connection:
        yield connection


def origins() -> list[Place]:
    """Give places to measure from: the special ones, towers, their antipodes, and any."""
    chance = random.Random(2)  # noqa: S311
    antipodes = [(-north, east - 180.0 if east > 0 else east + 180.0) for north, east in TOWERS[14:18]]
    anywhere = [(chance.uniform(-90, 90), chance.uniform(-180, 180)) for _ in range(20)]
    return [*SPECIAL, *TOWERS[20:24], *antipodes, *anywhere]


@pytest.mark.parametrize("origin", origins(), ids=str)
def test_radius_and_nearest_agree_with_every_tower(conn: sqlite3.Connection, origin: Place) -> None:
    """What lies within a radius, and the nearest bells of a material, are those found by measuring all."""
    away = distances_by_hand(origin, TOWERS)
    assert distances_m(origin, *zip(*TOWERS, strict=True)) == pytest.approx(away, abs=2e-4)
    chance = random.Random(str(origin))  # noqa: S311
    for radius_km in (chance.uniform(1, 2000), chance.uniform(2000, 20_003), sorted(away)[5] / 1000 + 1e-3):
        expected = {f"t-{at}" for at, metres in enumerate(away) if metres / 1000 <= radius_km}
        assert towers_near(conn, *origin, radius_km).keys() == expected
    for wanted in (1, 7, 1000):
        query = BellQuery(material=("bronze",), nearest=(*origin, wanted), sort="distance", limit=None)
        found = find_bells(conn, query)
        bells = sorted(
            (away[at], f"t-{at}-{bell}")
            for at in range(len(TOWERS))
            for bell in range(1 + at % 3)
            if (at + bell) % 3 == 0
        )
        reach = bells[min(wanted, len(bells)) - 1][0]
        assert {row["id"] for row in found.rows} == {bell for metres, bell in bells if metres <= reach + 1e-3}
        kilometres = [row["distance_km"] for row in found.rows]
        assert kilometres == sorted(kilometres)
        assert kilometres == pytest.approx(
            [metres / 1000 for metres, _ in bells[: len(kilometres)]], abs=1e-6
        )
        assert found.unjudged["nearest"] == 1


def test_polygons_agree_with_counting_crossings(conn: sqlite3.Connection) -> None:
    """Polygons with holes, over the antimeridian and up to the poles, hold the towers that crossings tell."""
    chance = random.Random(3)  # noqa: S311
    counted = inside = crossed = 0
    while counted < 150:
        area = drawn_area(chance)
        try:
            shapes_of(area)
        except BorderError:
            continue
        expected = {f"t-{at}" for at, place in enumerate(TOWERS) if inside_by_hand(area, place)}
        assert set(towers_inside(conn, area)) == expected, area
        counted += 1
        inside += len(expected)
        crossed += any(abs(a[0] - b[0]) > 180 for ring in area.polygons[0] for a in ring for b in ring)
    assert inside > 200
    assert crossed > 30


SQUARE = "0,0 4,0 4,4 0,4"


@pytest.mark.parametrize(
    ("area", "place", "expected"),
    [
        (SQUARE, (2, 2), True),
        (SQUARE, (0, 2), True),
        (SQUARE, (4, 4), True),
        (SQUARE, (4.000001, 4), False),
        (f"{SQUARE};1,1 3,1 3,3 1,3", (2, 2), False),
        (f"{SQUARE};1,1 3,1 3,3 1,3", (1, 2), True),
        (f"{SQUARE};1,1 3,1 3,3 1,3|1.5,1.5 2.5,1.5 2.5,2.5", (1.75, 2.25), True),
        ("170,-10 -170,-10 -170,10 170,10", (0, 180), True),
        ("170,-10 -170,-10 -170,10 170,10", (0, -175), True),
        ("170,-10 -170,-10 -170,10 170,10", (0, 0), False),
        ("170,-10 180,-10 180,10 170,10", (0, -180), True),
        ("-180,60 -90,60 0,60 90,60 180,60 180,90 -180,90", (90, 33), True),
        ("-180,60 -90,60 0,60 90,60 180,60 180,90 -180,90", (60, 45), True),
        ("-180,60 -90,60 0,60 90,60 180,60 180,90 -180,90", (59.99, 45), False),
        ("0,60 120,60 -120,60", (90, 0), True),
        ("0,-60 120,-60 -120,-60", (-75, 90), True),
    ],
)
def test_borders_holes_seam_and_poles(area: str, place: tuple[float, float], expected: bool) -> None:
    """A border belongs to its area, that of a hole too; the seam of the map and the poles are no gaps."""
    with closing(registry_of([place])) as registry:
        assert towers_inside(registry, read_area(area)) == ["t-0"] * expected


def test_bells_without_a_place_are_counted(conn: sqlite3.Connection) -> None:
    """A bell whose tower has no coordinates is never found by a place, and always counted."""
    bells = 1 + len(TOWERS) % 3
    for query in (
        BellQuery(near=(0.0, 0.0, 20_004.0)),
        BellQuery(nearest=(0.0, 0.0, 1000)),
        BellQuery(area=read_area(SQUARE)),
    ):
        assert list(find_bells(conn, query).unjudged.values()) == [bells]


def test_places_narrow_each_other(conn: sqlite3.Connection) -> None:
    """The nearest are the nearest of those within the area; what lacks a filter counts within their reach."""
    area = read_area("-180,0 -90,0 0,0 90,0 180,0 180,90 -180,90")
    query = BellQuery(area=area, nearest=(-80.0, 10.0, 3), sort="distance", limit=None)
    rows = find_bells(conn, query).rows
    assert len(rows) >= 3
    assert min(row["latitude_deg"] for row in rows) >= 0.0
    steel = find_bells(conn, query._replace(material=("cast-steel",)))
    assert steel.unjudged["material"] >= 0
    assert len({row["tower_id"] for row in steel.rows}) >= 1
