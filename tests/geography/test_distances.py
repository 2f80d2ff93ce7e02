"""Distances equal published geodesics, and boxes miss nothing that lies within the distance."""

import csv
import math
import subprocess
import sys
from pathlib import Path

import pytest
from geographiclib.geodesic import Geodesic
from hypothesis import example, given, settings
from hypothesis import strategies as st

from registry.geography import Box, CoordinateError, box_around, distance_m

TABLE = Path(__file__).parent / "tables" / "geodesics.csv"
LATITUDES = st.floats(-90.0, 90.0)
LONGITUDES = st.floats(-180.0, 180.0)


def published() -> list[dict[str, str]]:
    """Read the published lengths."""
    lines = [line for line in TABLE.read_text(encoding="utf-8").splitlines() if not line.startswith("#")]
    return list(csv.DictReader(lines))


@pytest.mark.parametrize("case", published(), ids=lambda case: f"{case['source']}-{case['length_m']}")
def test_published_geodesics(case: dict[str, str]) -> None:
    """The distance both ways equals the published length."""
    a = (float(case["latitude_1"]), float(case["longitude_1"]))
    b = (float(case["latitude_2"]), float(case["longitude_2"]))
    expected = pytest.approx(float(case["length_m"]), abs=float(case["tolerance_m"]), rel=0)
    assert distance_m(a, b) == expected
    assert distance_m(b, a) == expected


@settings(deadline=None, max_examples=50)
@given(LATITUDES, LONGITUDES, LATITUDES, LONGITUDES)
def test_distances_are_near_those_on_a_sphere(lat_1: float, lon_1: float, lat_2: float, lon_2: float) -> None:
    """A geodesic differs from the great circle on the mean sphere by 0.6 % at most."""
    phi_1, phi_2 = math.radians(lat_1), math.radians(lat_2)
    half = math.sin((phi_2 - phi_1) / 2) ** 2
    half += math.cos(phi_1) * math.cos(phi_2) * math.sin(math.radians(lon_2 - lon_1) / 2) ** 2
    great_circle = 2 * 6371008.8 * math.asin(math.sqrt(min(1.0, half)))
    assert distance_m((lat_1, lon_1), (lat_2, lon_2)) == pytest.approx(great_circle, rel=0.006, abs=0.1)


@pytest.mark.parametrize(
    ("latitude", "longitude"),
    [(90.1, 0.0), (0.0, 180.1), (0.0, 372.5), (math.nan, 0.0), (0.0, math.inf), (-91.0, 0.0)],
)
def test_places_that_are_none_have_no_distance(latitude: float, longitude: float) -> None:
    """A latitude or longitude out of range is refused, not wrapped round."""
    with pytest.raises(CoordinateError):
        distance_m((latitude, longitude), (0.0, 0.0))
    with pytest.raises(CoordinateError):
        distance_m((0.0, 0.0), (latitude, longitude))
    with pytest.raises(CoordinateError):
        box_around(latitude, longitude, 1000.0)


@settings(deadline=None)
@given(LATITUDES, LONGITUDES, st.floats(0.0, 2.1e7), st.floats(0.0, 360.0), st.floats(0.0, 1.0))
@example(89.95, 10.0, 25000.0, 0.0, 1.0)
@example(-89.95, -170.0, 25000.0, 180.0, 1.0)
@example(52.0, 179.9, 25000.0, 90.0, 1.0)
@example(52.0, -180.0, 25000.0, 270.0, 1.0)
@example(0.0, 0.0, 1.0e7, 0.0, 1.0)
def test_boxes_miss_nothing(lat: float, lon: float, radius: float, azimuth: float, share: float) -> None:
    """A place reached by a geodesic no longer than the distance lies in one of the boxes."""
    reached = Geodesic.WGS84.Direct(lat, lon, azimuth, radius * share)
    assert any(box.has(reached["lat2"], reached["lon2"]) for box in box_around(lat, lon, radius))


@settings(deadline=None)
@given(LATITUDES, LONGITUDES, st.floats(0.0, 2.1e7))
def test_boxes_are_well_formed(latitude: float, longitude: float, radius: float) -> None:
    """Boxes stay within the map, run from south to north and west to east, and are two at most."""
    boxes = box_around(latitude, longitude, radius)
    assert 1 <= len(boxes) <= 2
    for box in boxes:
        assert -90.0 <= box.south <= box.north <= 90.0
        assert -180.0 <= box.west <= box.east <= 180.0


@settings(deadline=None)
@given(st.floats(-75.0, 75.0), st.floats(-170.0, 170.0), st.floats(1000.0, 300000.0))
def test_boxes_are_not_much_too_large(latitude: float, longitude: float, radius: float) -> None:
    """Half a per cent beyond the distance, straight north, south, east or west, lies outside the box."""
    (box,) = box_around(latitude, longitude, radius)
    line = Geodesic.WGS84
    for azimuth in (0.0, 180.0):
        beyond = line.Direct(latitude, longitude, azimuth, radius * 1.005)
        assert not box.has(beyond["lat2"], longitude)
    # The easternmost point lies a little poleward of due east: step along the parallel it reaches.
    widest = max(line.Direct(latitude, longitude, azimuth, radius)["lon2"] for azimuth in range(30, 151))
    assert box.east - longitude <= (widest - longitude) * 1.006


def test_boxes_at_the_edges_of_the_map() -> None:
    """A circle over a pole takes all longitudes; one over the antimeridian takes two boxes."""
    assert box_around(89.9, 30.0, 25000.0) == [Box(pytest.approx(89.675, abs=0.001), -180.0, 90.0, 180.0)]
    east, west = box_around(0.0, 179.9, 25000.0)
    assert (east.east, west.west) == (180.0, -180.0)
    assert east.west == pytest.approx(179.675, abs=0.001)
    assert west.east == pytest.approx(-179.875, abs=0.001)
    assert any(box.has(0.0, -180.0) for box in box_around(0.0, 180.0, 0.0))
    assert any(box.has(0.0, 180.0) for box in box_around(0.0, -180.0, 0.0))
    assert box_around(10.0, 20.0, 3.0e7) == [Box(-90.0, -180.0, 90.0, 180.0)]


@pytest.mark.parametrize("radius", [-1.0, math.inf, math.nan])
def test_radii_that_are_none_are_refused(radius: float) -> None:
    """A radius is finite and not negative."""
    with pytest.raises(ValueError, match="radius"):
        box_around(50.0, 10.0, radius)


def test_heavy_libraries_load_late() -> None:
    """Importing the room loads neither of the libraries that take long."""
    program = "import sys, registry.geography; print({'geopy', 'shapely', 'numpy'} & set(sys.modules))"
    result = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=True)
    assert result.stdout.strip() == "set()"
