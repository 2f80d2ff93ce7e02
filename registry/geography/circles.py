"""The outline of all that lies within a distance, for a map."""

from registry.geography.coordinates import checked_pair

CORNERS = 72


def circle_outline(latitude_deg: float, longitude_deg: float, radius_km: float) -> list[tuple[float, float]]:
    """Give the circle of a geodesic radius as corners for a map of longitudes and latitudes.

    Longitudes go on beyond 180 rather than jump; a circle that holds a pole reaches up to it. One that holds
    both is the whole map.

    Parameters
    ----------
    latitude_deg, longitude_deg : float
        The middle [°].
    radius_km : float
        The radius [km].

    Returns
    -------
    list of (float, float)
        Longitude and latitude [°], not closed.

    Raises
    ------
    CoordinateError
        When the middle lies out of range.
    """
    from geographiclib.geodesic import Geodesic  # noqa: PLC0415

    latitude, longitude = checked_pair(latitude_deg, longitude_deg)
    inverse = Geodesic.WGS84.Inverse
    poles = [
        pole
        for pole in (90.0, -90.0)
        if inverse(latitude, longitude, pole, longitude, Geodesic.DISTANCE)["s12"] < radius_km * 1000.0
    ]
    if len(poles) == 2:
        west = longitude - 180.0
        return [(west, -90.0), (west + 360.0, -90.0), (west + 360.0, 90.0), (west, 90.0)]
    corners: list[tuple[float, float]] = []
    for step in range(CORNERS + bool(poles)):
        there = Geodesic.WGS84.Direct(latitude, longitude, 360.0 * step / CORNERS, radius_km * 1000.0)
        east = there["lon2"]
        if corners:
            before = corners[-1][0]
            east += 360.0 * round((before - east) / 360.0)
        corners.append((east, there["lat2"]))
    if poles:
        corners += [(corners[-1][0], poles[0]), (corners[0][0], poles[0])]
    return corners
