"""Distances from one place to many at once, on the WGS 84 ellipsoid.

References
----------
Vincenty, T. (1975), Direct and inverse solutions of geodesics on the ellipsoid with application of nested
equations, Survey Review 23 (176), 88-93, https://doi.org/10.1179/sre.1975.23.176.88. The series are good to a
tenth of a millimetre; for nearly antipodal places the iteration does not end, and these are measured by
Karney's method, as single distances are.
"""

from collections.abc import Sequence
from math import atan, cos, radians, sin, tan

from registry.geography.coordinates import checked_pair
from registry.geography.distances import FLATTENING, POLAR_RADIUS_M, distance_m

_SEMI_MAJOR_M = POLAR_RADIUS_M / (1 - FLATTENING)
_ENOUGH = 1e-12
"""Radians by which the longitude may still move: six micrometres."""
_MOST_ROUNDS = 20


def distances_m(
    origin: tuple[float, float], latitudes_deg: Sequence[float], longitudes_deg: Sequence[float]
) -> list[float]:
    """Give the length of the geodesic from one place to each of many [m].

    Parameters
    ----------
    origin : tuple of float
        Latitude and longitude [°].
    latitudes_deg, longitudes_deg : sequence of float
        The places [°], within 90 and 180.

    Raises
    ------
    CoordinateError
        When the origin lies out of range.
    """
    import numpy as np  # noqa: PLC0415

    latitude, longitude = checked_pair(*origin)
    north = np.asarray(latitudes_deg, dtype=float)
    east = np.radians(np.asarray(longitudes_deg, dtype=float) - longitude)
    reduced = atan((1 - FLATTENING) * tan(radians(latitude)))
    sin_1, cos_1 = sin(reduced), cos(reduced)
    reduced_2 = np.arctan((1 - FLATTENING) * np.tan(np.radians(north)))
    sin_2, cos_2 = np.sin(reduced_2), np.cos(reduced_2)
    turn = east.copy()
    moved = np.zeros_like(east)
    with np.errstate(invalid="ignore", divide="ignore"):
        for _ in range(_MOST_ROUNDS):
            sin_turn, cos_turn = np.sin(turn), np.cos(turn)
            sin_sigma = np.hypot(cos_2 * sin_turn, cos_1 * sin_2 - sin_1 * cos_2 * cos_turn)
            cos_sigma = sin_1 * sin_2 + cos_1 * cos_2 * cos_turn
            sigma = np.arctan2(sin_sigma, cos_sigma)
            sin_alpha = np.where(sin_sigma > 0, cos_1 * cos_2 * sin_turn / sin_sigma, 0.0)
            cos2_alpha = 1.0 - sin_alpha**2
            cos_2m = np.where(cos2_alpha > 1e-14, cos_sigma - 2.0 * sin_1 * sin_2 / cos2_alpha, 0.0)
            c = FLATTENING / 16.0 * cos2_alpha * (4.0 + FLATTENING * (4.0 - 3.0 * cos2_alpha))
            series = cos_2m + c * cos_sigma * (2.0 * cos_2m**2 - 1.0)
            again = east + (1.0 - c) * FLATTENING * sin_alpha * (sigma + c * sin_sigma * series)
            moved, turn = np.abs(again - turn), again
            if np.all(moved < _ENOUGH):
                break
    u2 = cos2_alpha * (_SEMI_MAJOR_M**2 - POLAR_RADIUS_M**2) / POLAR_RADIUS_M**2
    a = 1.0 + u2 / 16384.0 * (4096.0 + u2 * (-768.0 + u2 * (320.0 - 175.0 * u2)))
    b = u2 / 1024.0 * (256.0 + u2 * (-128.0 + u2 * (74.0 - 47.0 * u2)))
    inner = cos_sigma * (2.0 * cos_2m**2 - 1.0)
    inner -= b / 6.0 * cos_2m * (4.0 * sin_sigma**2 - 3.0) * (4.0 * cos_2m**2 - 3.0)
    lengths = POLAR_RADIUS_M * a * (sigma - b * sin_sigma * (cos_2m + b / 4.0 * inner))
    doubtful = ~(moved < _ENOUGH) | (np.abs(turn) > np.pi) & (np.abs(east) <= np.pi)
    for place in np.flatnonzero(doubtful):
        lengths[place] = distance_m(origin, (float(north[place]), float(longitudes_deg[int(place)])))
    return [float(length) for length in lengths]
