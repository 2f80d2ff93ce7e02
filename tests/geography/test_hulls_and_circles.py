"""Hulls and circles: areas equal published ones, circles keep their radius wherever they lie."""

import math
from itertools import pairwise

import pytest
from geographiclib.geodesic import Geodesic

from registry.geography.circles import circle_outline
from registry.geography.hull import hull_of, middle_of


@pytest.mark.parametrize(
    ("latitude", "longitude", "radius_km"),
    [(45.0, 7.0, 25.0), (0.0, 180.0, 300.0), (-17.0, -179.9, 150.0), (89.0, 10.0, 500.0), (-90.0, 0.0, 800.0),
     (10.0, 20.0, 12_000.0)],
)  # fmt: skip
def test_circles_keep_their_radius(latitude: float, longitude: float, radius_km: float) -> None:
    """Every corner but those at a pole lies at the radius, and longitudes never jump."""
    corners = circle_outline(latitude, longitude, radius_km)
    for (before, _), (east, north) in pairwise(corners):
        assert abs(east - before) <= 180.0 or abs(north) == 90.0
        if abs(north) != 90.0:
            away = Geodesic.WGS84.Inverse(latitude, longitude, north, east, Geodesic.DISTANCE)["s12"]
            assert away == pytest.approx(radius_km * 1000.0, abs=1e-3)


def test_a_circle_round_both_poles_is_the_whole_map() -> None:
    """Nothing is left out of a circle that reaches beyond either pole."""
    corners = circle_outline(0.0, 30.0, 19_000.0)
    assert {abs(north) for _, north in corners} == {90.0}
    assert max(east for east, _ in corners) - min(east for east, _ in corners) == 360.0


def test_hull_leaves_out_what_lies_within() -> None:
    """The corners are the outermost places, the area that of their polygon; too far apart is none."""
    assert hull_of([(90.0, 0.0), (0.0, 0.0), (0.0, 90.0)], (45.0, 45.0)) is None
    places = [(40.0, 10.0), (40.0, 12.0), (42.0, 11.0), (40.5, 11.0), (40.0, 11.0)]
    hull = hull_of(places, middle_of(places))
    assert hull is not None
    assert set(hull.corners) <= set(places)
    polygon = Geodesic.WGS84.Polygon()
    for corner in ((40.0, 10.0), (40.0, 12.0), (42.0, 11.0)):
        polygon.AddPoint(*corner)
    assert hull.area_km2 == pytest.approx(polygon.Compute()[2] / 1e6, rel=0.01)


def test_hulls_cross_the_antimeridian_and_hold_their_places() -> None:
    """Places on both sides of the 180th meridian span a small hull."""
    places = [(-17.0, 179.5), (-17.0, -179.5), (-18.0, 180.0), (-17.4, 180.0)]
    hull = hull_of(places, middle_of(places))
    assert hull is not None
    side = 106.0 * 111.0 / 2
    assert hull.area_km2 == pytest.approx(side, rel=0.03)
    assert middle_of(places) == (-17.4, 180.0)


def test_places_in_a_line_span_no_hull() -> None:
    """Two towers, or several in one place, have no area between them."""
    assert hull_of([(45.0, 7.0), (45.0, 7.0)], (45.0, 7.0)) is None
    assert hull_of([(45.0, 7.0), (46.0, 7.0)], (45.0, 7.0)) is None
    assert math.isclose(middle_of([(45.0, 7.0)])[0], 45.0)
