"""Distances on the WGS 84 ellipsoid, and boxes that hold all that lies within a distance."""

import math
from typing import NamedTuple

from registry.geography.coordinates import checked_pair

FLATTENING = 1 / 298.257223563
POLAR_RADIUS_M = 6378137.0 * (1 - FLATTENING)
"""WGS 84: semi-major axis 6 378 137 m, flattening 1/298.257 223 563 (NGA.STND.0036)."""


def distance_m(a: tuple[float, float], b: tuple[float, float]) -> float:
    """Give the length of the shortest line between two places on the WGS 84 ellipsoid [m].

    Parameters
    ----------
    a, b : tuple of float
        Latitude and longitude [°].

    Raises
    ------
    CoordinateError
        When a latitude or longitude lies out of range.
    """
    from geopy.distance import geodesic  # noqa: PLC0415

    return float(geodesic(checked_pair(*a), checked_pair(*b)).m)


class Box(NamedTuple):
    """A box of latitudes and longitudes [°], its ends included; none crosses the antimeridian."""

    south: float
    west: float
    north: float
    east: float

    def has(self, latitude_deg: float, longitude_deg: float) -> bool:
        """Say whether a place lies in the box."""
        return self.south <= latitude_deg <= self.north and self.west <= longitude_deg <= self.east


_SLACK_DEG = 1e-9  # a tenth of a millimetre, more than rounding takes


def box_around(latitude_deg: float, longitude_deg: float, radius_m: float) -> list[Box]:
    """Give one box, or two at the antimeridian, that hold every place within a distance.

    The boxes reach a little further than the distance (up to about 0.4 %), never less far: measure the
    distance of what lies in them. Reduced latitudes map the ellipsoid to a sphere of the polar radius on
    which no line is longer (its metric is (a² sin² β + b² cos² β) dβ² + a² cos² β dλ², with b < a); there the
    box is that of a spherical cap.

    Parameters
    ----------
    latitude_deg, longitude_deg : float
        The centre [°].
    radius_m : float
        The distance [m], 0 or more.

    Raises
    ------
    CoordinateError
        When the centre lies out of range.
    ValueError
        When the radius is negative or not finite.
    """
    latitude, longitude = checked_pair(latitude_deg, longitude_deg)
    if not 0.0 <= radius_m < math.inf:
        raise ValueError(f"a radius is finite and not negative: {radius_m}")
    reduced = math.atan((1 - FLATTENING) * math.tan(math.radians(latitude)))
    cap = radius_m / POLAR_RADIUS_M
    south, north = _latitude_of(reduced - cap) - _SLACK_DEG, _latitude_of(reduced + cap) + _SLACK_DEG
    if south <= -90.0 or north >= 90.0:
        return [Box(max(south, -90.0), -180.0, min(north, 90.0), 180.0)]
    half = math.degrees(math.asin(min(1.0, math.sin(cap) / math.cos(reduced)))) + _SLACK_DEG
    west, east = longitude - half, longitude + half
    if west <= -180.0:
        return [Box(south, west + 360.0, north, 180.0), Box(south, -180.0, north, east)]
    if east >= 180.0:
        return [Box(south, west, north, 180.0), Box(south, -180.0, north, east - 360.0)]
    return [Box(south, west, north, east)]


def _latitude_of(reduced: float) -> float:
    """Turn a reduced latitude [rad] into a latitude [°], the poles where it lies beyond them."""
    if abs(reduced) >= math.pi / 2:
        return math.copysign(90.0, reduced)
    return math.degrees(math.atan(math.tan(reduced) / (1 - FLATTENING)))
