"""How far a founder's bells went: geodesic distances, median and farthest, and the land between them."""

from collections.abc import Sequence
from statistics import median
from typing import NamedTuple

from registry.geography.hull import Hull, Place, hull_of, middle_of
from registry.geography.many import distances_m


class Reach(NamedTuple):
    """The reach of one founder.

    Parameters
    ----------
    origin : tuple of float
        Where the distances begin: latitude and longitude [°].
    basis : str
        ``workshop``, or ``middle``: no workshop with a place is on record, and the distances begin at the
        tower that stands nearest to the centre of gravity of all.
    median_km, farthest_km : float
        Of the distances of the bells [km].
    hull : Hull or None
        The convex hull of the towers; None where there is none.
    """

    origin: Place
    basis: str
    median_km: float
    farthest_km: float
    hull: Hull | None


def reach_of(towers: Sequence[tuple[Place, int]], workshop: Place | None) -> Reach:
    """Measure how far the bells of a founder went.

    Parameters
    ----------
    towers : sequence of (place, int)
        The towers with the bells in each, one at least.
    workshop : tuple of float or None
        Where they were cast: latitude and longitude [°].
    """
    places = [place for place, bells in towers for _ in range(bells)]
    middle = middle_of(places)
    origin = workshop or middle
    away_m = distances_m(origin, [place[0] for place in places], [place[1] for place in places])
    return Reach(
        origin,
        "workshop" if workshop else "middle",
        median(away_m) / 1000.0,
        max(away_m) / 1000.0,
        hull_of(places, middle),
    )
