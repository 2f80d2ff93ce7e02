"""The land that some places span: convex hull and its area on the WGS 84 ellipsoid.

The hull is that of the places on a map which keeps distances and bearings from their middle (azimuthal
equidistant). Its sides are then taken as geodesics, and the area is that of the geodesic polygon.

References
----------
Karney, C. F. F. (2013), Algorithms for geodesics, Journal of Geodesy 87, 43-55,
https://doi.org/10.1007/s00190-012-0578-z, section 6: area of a geodesic polygon.
"""

from collections.abc import Sequence
from math import cos, dist, radians, sin
from typing import Any, NamedTuple

FARTHEST_KM = 5000.0
"""Places farther from their middle than this span no hull that a flat map could show."""

Place = tuple[float, float]
"""Latitude and longitude [°]."""


class Hull(NamedTuple):
    """Corners of a hull as latitude and longitude [°], anticlockwise, and its area [km²]."""

    corners: tuple[Place, ...]
    area_km2: float


def middle_of(places: Sequence[Place]) -> Place:
    """Give the place that stands nearest to the centre of gravity of all, the first of equals.

    The centre of gravity is that of points on a sphere, each place as often as it is named.
    """
    vectors = [_on_sphere(place) for place in places]
    centre = [sum(axis) / len(vectors) for axis in zip(*vectors, strict=True)]
    return min(sorted(set(places)), key=lambda place: dist(_on_sphere(place), centre))


def _on_sphere(place: Place) -> tuple[float, float, float]:
    latitude, longitude = radians(place[0]), radians(place[1])
    return cos(latitude) * cos(longitude), cos(latitude) * sin(longitude), sin(latitude)


def hull_of(places: Sequence[Place], middle: Place) -> Hull | None:
    """Give the convex hull of some places; None where they stand in a line, are too few or too far apart."""
    from geographiclib.geodesic import Geodesic  # noqa: PLC0415
    from shapely import MultiPoint  # noqa: PLC0415

    flat = []
    for place in sorted(set(places)):
        line = Geodesic.WGS84.Inverse(*middle, *place, Geodesic.DISTANCE | Geodesic.AZIMUTH)
        if line["s12"] > FARTHEST_KM * 1000.0:
            return None
        bearing = radians(line["azi1"])
        flat.append((line["s12"] * sin(bearing), line["s12"] * cos(bearing), place))
    shape: Any = MultiPoint([(x, y) for x, y, _ in flat]).convex_hull
    if shape.geom_type != "Polygon":
        return None
    by_point = {(x, y): place for x, y, place in flat}
    corners = [by_point[x, y] for x, y in shape.exterior.coords[:-1]]
    if not shape.exterior.is_ccw:
        corners.reverse()
    polygon = Geodesic.WGS84.Polygon()
    for corner in corners:
        polygon.AddPoint(*corner)
    return Hull(tuple(corners), abs(polygon.Compute()[2]) / 1e6)
