"""Places in regions agree with a count by hand, over the antimeridian, round the poles and in holes."""

import json
import math
import random
from itertools import pairwise
from typing import Any

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from registry.geography import (
    Border,
    BorderError,
    CoordinateError,
    Place,
    Region,
    area_contains,
    border_of,
    contains,
    places_in_regions,
    read_regions,
)

Ring = list[tuple[float, float]]

CASES = 10_000


def turns_round(ring: Ring, latitude: float, longitude: float) -> int:
    """Count how often a ring goes round a place, by the angles at which its corners are seen.

    The ring is unrolled by taking every step the short way; the place is looked for on each turn of the
    earth. A ring that goes once round the earth is closed by way of the pole. Nothing here is shared with the
    program: no cutting, no library.
    """
    along = [ring[0]]
    for (before, _), (after, north) in pairwise(ring):
        step = (after - before + 180.0) % 360.0 - 180.0
        along.append((along[-1][0] + step, north))
    turn = along[-1][0] - along[0][0]
    if abs(turn) > 1.0:
        middle = sum((a[1] + b[1]) * (b[0] - a[0]) for a, b in pairwise(along)) / turn
        pole = math.copysign(90.0, middle)
        along += [(along[-1][0], pole), (along[0][0], pole), along[0]]
    found = 0
    for shift in (-720.0, -360.0, 0.0, 360.0, 720.0):
        angle = 0.0
        for (x0, y0), (x1, y1) in pairwise(along):
            ax, ay = x0 - longitude - shift, y0 - latitude
            bx, by = x1 - longitude - shift, y1 - latitude
            angle += math.atan2(ax * by - ay * bx, ax * bx + ay * by)
        found += round(angle / (2 * math.pi)) != 0
    return found


def is_inside_by_hand(polygons: list[list[Ring]], latitude: float, longitude: float) -> bool:
    """Say whether a place lies in an outer ring and in none of its holes."""
    return any(
        turns_round(outer, latitude, longitude) > 0
        and not any(turns_round(hole, latitude, longitude) for hole in holes)
        for outer, *holes in polygons
    )


def wrapped(longitude: float) -> float:
    """Bring a longitude within 180."""
    return (longitude + 180.0) % 360.0 - 180.0


def star(random_: random.Random, centre: tuple[float, float], low: float, high: float, corners: int) -> Ring:
    """Make a ring whose corners are seen from its centre one after the other, some near and some far."""
    ring = []
    for corner in range(corners):
        angle = 2 * math.pi * (corner + random_.uniform(0.1, 0.9)) / corners
        far = random_.uniform(low, high)
        longitude, latitude = centre[0] + far * math.cos(angle), centre[1] + far * math.sin(angle)
        ring.append((wrapped(longitude), max(min(latitude, 90.0), -90.0)))
    return [*ring, ring[0]]


def cap(random_: random.Random, low: float, high: float, sign: int, corners: int) -> Ring:
    """Make a ring round a pole, eastward or westward."""
    ring = [
        (
            wrapped(360.0 * (corner + random_.uniform(0.1, 0.9)) / corners),
            sign * random_.uniform(low, high),
        )
        for corner in range(corners)
    ]
    if random_.random() < 0.5:
        ring.reverse()
    return [*ring, ring[0]]


def some_polygons(random_: random.Random) -> tuple[list[list[Ring]], float, float]:
    """Make polygons of one kind, and give a longitude and latitude near which they lie."""
    kind = random_.choice(
        ["plain", "hole", "antimeridian", "antimeridian-hole", "pole", "pole-hole", "parts"]
    )
    sign = random_.choice([-1, 1])
    if kind.startswith("pole"):
        outer = cap(random_, 50.0, 70.0, sign, random_.randint(4, 12))
        holes = [cap(random_, 75.0, 85.0, sign, random_.randint(4, 9))] if kind.endswith("hole") else []
        return [[outer, *holes]], 0.0, sign * 72.0
    east = wrapped(180.0 + random_.uniform(-9, 9)) if kind.startswith("anti") else random_.uniform(-150, 150)
    centre = (east, random_.uniform(-60.0, 60.0))
    holes = [star(random_, centre, 1.0, 3.0, random_.randint(4, 9))] if kind.endswith("hole") else []
    polygons = [[star(random_, centre, 5.0, 20.0, random_.randint(5, 14)), *holes]]
    if kind == "parts":
        polygons = [[star(random_, (centre[0] + 45.0 * n, centre[1]), 5.0, 19.0, 9)] for n in range(2)]
    return polygons, *centre


def some_place(random_: random.Random, longitude: float, latitude: float) -> tuple[float, float]:
    """Choose a place near by, on the antimeridian or at a pole."""
    chosen = random_.random()
    if chosen < 0.03:
        return math.copysign(90.0, latitude), random_.uniform(-180.0, 180.0)
    if abs(latitude) == 72.0:
        longitude = random_.uniform(-180.0, 180.0)
    north = max(min(latitude + random_.uniform(-22.0, 22.0), 89.999), -89.999)
    if chosen < 0.1:
        return north, random_.choice([-180.0, 180.0])
    return north, wrapped(longitude + random_.uniform(-25.0, 25.0))


def test_random_places_agree_with_a_count_by_hand() -> None:
    """In 10 000 cases a place lies in a region exactly where the angles of its corners add up to a turn."""
    random_ = random.Random(20_251_127)  # noqa: S311
    held = 0
    for _ in range(CASES // 20):
        polygons, longitude, latitude = some_polygons(random_)
        geometry = border_of(polygons).geometry
        west, south, east, north = geometry.bounds
        assert -180.0 <= west <= east <= 180.0
        assert -90.0 <= south <= north <= 90.0
        for _ in range(20):
            place = some_place(random_, longitude, latitude)
            # At a pole the longitude says nothing; by hand the pole is looked at from a hair away.
            near = (math.copysign(90.0 - 1e-7, place[0]), place[1]) if abs(place[0]) == 90.0 else place
            expected = is_inside_by_hand(polygons, *near)
            assert area_contains(geometry, *place) is expected, (polygons, place)
            held += expected
    assert CASES // 5 < held < 4 * CASES // 5


def test_borders_stay_the_same_when_written_and_read_again() -> None:
    """A border that was cut once is kept to the last digit: the registry can be made from itself."""
    random_ = random.Random(7)  # noqa: S311
    for _ in range(300):
        polygons, _, _ = some_polygons(random_)
        first = border_of(polygons).geometry
        written = json.loads(json.dumps(first.__geo_interface__))
        coordinates = written["coordinates"]
        again = border_of([coordinates] if written["type"] == "Polygon" else coordinates)
        assert not again.uncut
        assert shapely.equals_exact(again.geometry, first, 0.0)


def test_corners_of_an_uncut_border_stay_on_it() -> None:
    """Every corner as written lies in the region, whichever side of the antimeridian it is on."""
    random_ = random.Random(11)  # noqa: S311
    for _ in range(200):
        ring = star(random_, (wrapped(180.0 + random_.uniform(-9, 9)), 20.0), 5.0, 20.0, 11)
        geometry = border_of([[ring]]).geometry
        assert all(area_contains(geometry, latitude, longitude) for longitude, latitude in ring)


def test_many_places_are_found_like_one() -> None:
    """Asking for all places and regions at once gives the same pairs as asking one by one."""
    random_ = random.Random(3)  # noqa: S311
    regions = [
        Region(f"r{number}", "", border_of(some_polygons(random_)[0]).geometry) for number in range(40)
    ]
    places = [
        Place(f"p{number}", math.degrees(math.asin(random_.uniform(-1, 1))), random_.uniform(-180, 180))
        for number in range(200)
    ]
    places += [Place("north", 90.0, 12.0), Place("south", -90.0, 0.0), Place("seam", 10.0, -180.0)]
    found = set(places_in_regions(regions, places))
    assert found == {
        (place.id, region.id)
        for region in regions
        for place in places
        if contains(region, place.latitude_deg, place.longitude_deg)
    }
    assert ("north", "r0") in found or any(place == "north" for place, _ in found)
    assert list(places_in_regions(regions, [])) == []
    with pytest.raises(CoordinateError):
        list(places_in_regions(regions, [Place("none", 91.0, 0.0)]))


EXAMPLE_CUT = [
    [[(180.0, 40.0), (180.0, 50.0), (170.0, 50.0), (170.0, 40.0), (180.0, 40.0)]],
    [[(-170.0, 40.0), (-170.0, 50.0), (-180.0, 50.0), (-180.0, 40.0), (-170.0, 40.0)]],
]
"""RFC 7946, section 3.1.9: the box from 40° N, 170° E to 50° N, 170° W, cut into a MultiPolygon."""
EXAMPLE_UNCUT = [[[(170.0, 40.0), (-170.0, 40.0), (-170.0, 50.0), (170.0, 50.0), (170.0, 40.0)]]]


def test_the_example_of_the_standard_is_the_same_cut_and_uncut() -> None:
    """The box of RFC 7946, section 3.1.9, read uncut gives the two polygons that the standard prints."""
    cut, uncut = border_of(EXAMPLE_CUT), border_of(EXAMPLE_UNCUT)
    assert (cut.uncut, uncut.uncut) == (False, True)
    assert uncut.geometry.equals(cut.geometry)
    inside = {169.9: False, 170.0: True, 180.0: True, -180.0: True, -170.0: True, -169.9: False}
    assert {at: area_contains(uncut.geometry, 45.0, at) for at in inside} == inside


EXAMPLE_HOLES: list[list[Ring]] = [
    [
        [(100.0, 0.0), (101.0, 0.0), (101.0, 1.0), (100.0, 1.0), (100.0, 0.0)],
        [(100.8, 0.8), (100.8, 0.2), (100.2, 0.2), (100.2, 0.8), (100.8, 0.8)],
    ]
]
"""RFC 7946, appendix A.3, the Polygon with a hole."""


def test_the_example_with_a_hole() -> None:
    """In the polygon of RFC 7946, appendix A.3, the hole is outside and its border inside."""
    geometry = border_of(EXAMPLE_HOLES).geometry
    assert area_contains(geometry, 0.1, 100.5)
    assert not area_contains(geometry, 0.5, 100.5)
    assert area_contains(geometry, 0.5, 100.2)
    assert area_contains(geometry, 0.8, 100.8)


def square(west: float, south: float, east: float, north: float) -> Ring:
    """Make a closed ring."""
    return [(west, south), (east, south), (east, north), (west, north), (west, south)]


def test_edges_are_straight_in_longitude_and_latitude() -> None:
    """Between corners on one parallel the border is the parallel (RFC 7946, 3.1.1), not the great circle."""
    geometry = border_of([[square(0, 0, 60, 50)]]).geometry
    assert area_contains(geometry, 50.0, 30.0)
    assert not area_contains(geometry, 50.001, 30.0)


@pytest.mark.parametrize("sign", [-1, 1])
@pytest.mark.parametrize("direction", [-1, 1])
def test_a_ring_round_a_pole_holds_it(sign: int, direction: int) -> None:
    """A ring once round the earth holds the pole nearer to it, in whichever direction it runs."""
    ring = [(longitude, sign * 60.0) for longitude in (-120.0, 0.0, 120.0, -120.0)][::direction]
    border = border_of([[ring]])
    assert border.uncut
    assert all(area_contains(border.geometry, sign * 90.0, at) for at in (-180.0, -77.0, 0.0, 180.0))
    assert all(area_contains(border.geometry, sign * 60.0, at) for at in (-180.0, -120.0, 3.0))
    assert not area_contains(border.geometry, sign * 59.999, 5.0)
    assert not area_contains(border.geometry, sign * -90.0, 0.0)


def test_a_hole_round_the_pole_leaves_it_out() -> None:
    """The pole in a hole is outside; a cut ring with an edge along the pole holds it at every longitude."""
    outer = [(longitude, 60.0) for longitude in (-120.0, 0.0, 120.0, -120.0)]
    hole = [(longitude, 80.0) for longitude in (-120.0, 120.0, 0.0, -120.0)]
    geometry = border_of([[outer, hole]]).geometry
    assert not area_contains(geometry, 90.0, 0.0)
    assert not area_contains(geometry, 85.0, 180.0)
    assert area_contains(geometry, 80.0, 180.0)
    coast: Ring = [
        (-180.0, -70.0),
        (0.0, -65.0),
        (180.0, -70.0),
        (180.0, -90.0),
        (-180.0, -90.0),
        (-180.0, -70.0),
    ]
    cut = border_of([[coast]])
    assert not cut.uncut
    assert area_contains(cut.geometry, -90.0, 33.0)


def test_a_corner_at_the_pole_is_the_pole() -> None:
    """A region that touches a pole with a corner has the pole on its border, whatever longitude is told."""
    geometry = border_of([[[(0.0, 80.0), (20.0, 80.0), (10.0, 90.0), (0.0, 80.0)]]]).geometry
    assert area_contains(geometry, 90.0, -150.0)
    assert not area_contains(geometry, -90.0, 10.0)


def test_the_antimeridian_written_with_both_signs() -> None:
    """A border that repeats its corner at 180 and -180 instead of stepping over is read as going over."""
    ring: Ring = [
        (170.0, 0.0), (180.0, 0.0), (-180.0, 0.0), (-170.0, 0.0),
        (-170.0, 5.0), (-180.0, 5.0), (180.0, 5.0), (170.0, 5.0), (170.0, 0.0),
    ]  # fmt: skip
    border = border_of([[ring]])
    assert border == Border(border.geometry, uncut=True)
    assert border.geometry.area == pytest.approx(100.0)
    assert not area_contains(border.geometry, 2.0, 0.0)


def test_a_band_round_the_earth_is_taken_as_written() -> None:
    """An edge of 360° is one along the whole map, so that the whole world can be a region."""
    world = border_of([[square(-180, -90, 180, 90)]])
    assert not world.uncut
    assert area_contains(world.geometry, -90.0, 0.0)
    assert area_contains(border_of([[square(-180, 10, 180, 20)]]).geometry, 15.0, 0.0)


@pytest.mark.parametrize(
    "polygons",
    [
        [[square(170, 0, -170, 10), square(-150, 2, -140, 3)]],  # a hole outside
        [[square(170, 0, -170, 10)], [square(175, 5, -175, 15)]],  # polygons that overlap
        [[[(170.0, 0.0), (-170.0, 10.0), (-170.0, 0.0), (170.0, 10.0), (170.0, 0.0)]]],  # crosses itself
        [[[(-120.0, 0.0), (0.0, 0.0), (120.0, 0.0), (-120.0, 0.0)]]],  # no nearer pole
        [[[(float(at), 60.0 + n) for n, at in enumerate((0, 120, -120, 0, 120, -120))] + [(0.0, 60.0)]]],
    ],
)
def test_rings_that_make_no_area(polygons: list[list[Ring]]) -> None:
    """Rings over the antimeridian are refused like others where they cross, overlap or lie outside."""
    with pytest.raises(BorderError):
        border_of(polygons)


@settings(deadline=None, max_examples=60)
@given(st.floats(-90, 90), st.floats(-180, 180), st.floats(-180, 180))
def test_turning_the_earth_changes_nothing(latitude: float, longitude: float, turned: float) -> None:
    """A region and a place turned together about the axis keep their relation."""
    ring: Any = [(-30.0, -20.0), (25.0, -35.0), (40.0, 30.0), (0.0, 10.0), (-35.0, 45.0), (-30.0, -20.0)]
    border = shapely.LineString(ring)
    if border.distance(shapely.Point(longitude, latitude)) < 1e-6 or abs(latitude) == 90.0:
        return
    here = area_contains(border_of([[ring]]).geometry, latitude, longitude)
    moved = border_of([[[(wrapped(x + turned), y) for x, y in ring]]]).geometry
    assert area_contains(moved, latitude, wrapped(longitude + turned)) is here


def test_regions_over_the_antimeridian_say_that_they_came_uncut() -> None:
    """A region file with an uncut border is read, and the region remembers it."""
    feature = {
        "type": "Feature",
        "id": "far",
        "properties": {"name": "Far Isles"},
        "geometry": {"type": "MultiPolygon", "coordinates": EXAMPLE_UNCUT},
    }
    (region,) = read_regions(json.dumps(feature))
    assert region.uncut
    assert contains(region, 45.0, -175.0)
