"""How far each bell of a founder first hung from where it was cast: lines on the WGS 84 ellipsoid.

The reach of a founder in the search is measured by `registry.derive.reach`, from one place for all bells;
here every bell counts from the workshop of its time.
"""

from collections.abc import Sequence
from statistics import median
from typing import NamedTuple

from registry.geography import distance_m
from registry.model.validity import Validity


class Site(NamedTuple):
    """A workshop with its coordinates [°] and the time in which the founder cast there."""

    place: str
    latitude_deg: float
    longitude_deg: float
    time: Validity


class Delivered(NamedTuple):
    """A bell with the coordinates [°] of the tower it first hung in, and the days of its casting."""

    bell_id: str
    latitude_deg: float
    longitude_deg: float
    cast: Validity


class Deliveries(NamedTuple):
    """Distances from the workshop [m]: of each bell by its id, nearest, middle and farthest.

    ``unjudged`` counts bells of which workshop or tower is not known.
    """

    distance_m: dict[str, float]
    nearest_m: float | None
    median_m: float | None
    farthest_m: float | None
    unjudged: int


def delivered_from(sites: Sequence[Site], bells: Sequence[Delivered], total: int) -> Deliveries:
    """Measure how far bells hang from where they were cast.

    Parameters
    ----------
    sites : sequence of Site
        Workshops; of several whose time a bell fits the nearest counts, which is the least that it travelled.
    bells : sequence of Delivered
        Bells whose first tower has coordinates.
    total : int
        All bells of the founder.
    """
    found = {}
    for bell in bells:
        fitting = [site for site in sites if site.time.overlaps(bell.cast)]
        if fitting:
            there = (bell.latitude_deg, bell.longitude_deg)
            found[bell.bell_id] = min(distance_m((site[1], site[2]), there) for site in fitting)
    if not found:
        return Deliveries({}, None, None, None, total)
    lengths = found.values()
    return Deliveries(found, min(lengths), median(lengths), max(lengths), total - len(found))
