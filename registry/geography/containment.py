"""Which places lie in a region.

Edges are straight in longitude and latitude (RFC 7946, section 3.1.1); a place on the border, or on that of a
hole, lies in the region. The antimeridian is one line, whichever sign it is written with, and a pole is one
place, whatever its longitude.
"""

from collections.abc import Iterator, Sequence
from typing import Any, NamedTuple

from registry.geography.coordinates import checked_pair
from registry.geography.regions import Region


def contains(region: Region, latitude_deg: float, longitude_deg: float) -> bool:
    """Say whether a place lies in a region or on its border.

    Raises
    ------
    CoordinateError
        When the latitude or longitude lies out of range.
    """
    return area_contains(region.geometry, latitude_deg, longitude_deg)


def area_contains(geometry: Any, latitude_deg: float, longitude_deg: float) -> bool:
    """Say the same of an area as :func:`registry.geography.rings.border_of` makes it."""
    latitude, longitude = checked_pair(latitude_deg, longitude_deg)
    return bool(_inside(geometry, [latitude], [longitude])[0])


def stand_inside(
    geometry: Any, latitudes_deg: Sequence[float], longitudes_deg: Sequence[float]
) -> list[bool]:
    """Say of each of many places, within 90 and 180 [°], whether it lies in an area or on its border."""
    return [bool(each) for each in _inside(geometry, latitudes_deg, longitudes_deg)]


def swapped_axes_suspected(region: Region, latitude_deg: float, longitude_deg: float) -> bool:
    """Say whether a place lies outside a region, and would lie in it with its axes exchanged.

    Raises
    ------
    CoordinateError
        When the latitude or longitude lies out of range.
    """
    if contains(region, latitude_deg, longitude_deg) or abs(longitude_deg) > 90.0:
        return False
    return contains(region, longitude_deg, latitude_deg)


class Place(NamedTuple):
    """Something that stands somewhere [°]."""

    id: str
    latitude_deg: float
    longitude_deg: float


def places_in_regions(regions: Sequence[Region], places: Sequence[Place]) -> Iterator[tuple[str, str]]:
    """Give every pair of a place and a region it lies in, by their ids; quick for thousands of places.

    Raises
    ------
    CoordinateError
        When a latitude or longitude lies out of range.
    """
    if not places:
        return
    pairs = [checked_pair(place.latitude_deg, place.longitude_deg) for place in places]
    latitudes, longitudes = zip(*pairs, strict=True)
    for region in regions:
        for place, inside in zip(places, _inside(region.geometry, latitudes, longitudes), strict=True):
            if inside:
                yield place.id, region.id


def _inside(geometry: Any, latitudes: Sequence[float], longitudes: Sequence[float]) -> Any:
    """Say of each place whether it lies in an area: an array of truths."""
    import numpy  # noqa: PLC0415
    from shapely import intersects_xy  # noqa: PLC0415

    north, east = numpy.asarray(latitudes, dtype=float), numpy.asarray(longitudes, dtype=float)
    inside = intersects_xy(geometry, east, north)
    on_seam = numpy.abs(east) == 180.0
    if on_seam.any():
        inside[on_seam] |= intersects_xy(geometry, -east[on_seam], north[on_seam])
    _, lowest, _, highest = geometry.bounds
    for pole, reaches in ((90.0, highest == 90.0), (-90.0, lowest == -90.0)):
        inside[north == pole] = reaches
    return inside
