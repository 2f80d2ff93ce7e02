"""Find bells: what can be asked, and how many bells could not be judged for want of data."""

import sqlite3
from typing import Any, Literal, NamedTuple


class BellQuery(NamedTuple):
    """What bells to find. Every filter that is set must hold; within a list of values one is enough.

    Parameters
    ----------
    text : str
        Words that must all stand in names, places, founders or inscriptions; any characters are safe.
    founder_id, material, status, region, country, note, crack_state : tuple of str
        Wanted terms; ``note`` in scientific pitch without sign of doubt, e.g. ``C#4``.
    condition : tuple of int or "not-assessed"
        Grades 0 to 3 of the surveyors, or bells without any.
    tower_id : str or None
        One tower.
    century : int or None
        15 means the years 1401 to 1500. Joined with ``from_year`` and ``to_year`` if both are given.
    from_year, to_year : int or None
        Years of casting, ends included.
    certain : bool
        False: bells that may be of these years; True: only those that cannot be of others.
    diameter_mm, mass_kg : tuple of two
        Least and greatest, None for no limit. A mass that was stated counts before one that was computed.
    near : tuple of three or None
        Latitude and longitude [deg], radius [km].
    sort : str
        ``name``, ``place``, ``date``, ``diameter``, ``mass``, ``condition``, ``distance``; a leading ``-``
        turns it round. Bells without the value come last either way.
    limit, offset : int
        How many bells to give, and how many to leave out before them; ``limit`` None gives all.
    """

    text: str = ""
    founder_id: tuple[str, ...] = ()
    material: tuple[str, ...] = ()
    status: tuple[str, ...] = ()
    region: tuple[str, ...] = ()
    country: tuple[str, ...] = ()
    note: tuple[str, ...] = ()
    crack_state: tuple[str, ...] = ()
    condition: tuple[int | Literal["not-assessed"], ...] = ()
    tower_id: str | None = None
    century: int | None = None
    from_year: int | None = None
    to_year: int | None = None
    certain: bool = False
    diameter_mm: tuple[float | None, float | None] = (None, None)
    mass_kg: tuple[float | None, float | None] = (None, None)
    near: tuple[float, float, float] | None = None
    sort: str = "place"
    limit: int | None = 100
    offset: int = 0


class FoundBells(NamedTuple):
    """The bells found.

    ``rows`` are rows of ``bell_current`` by column name (``distance_km`` added where ``near`` was asked),
    ``total`` counts all that were found, ``unjudged`` says by filter how many bells meet all the other
    filters but lack what this one asks for.
    """

    rows: list[dict[str, Any]]
    total: int
    unjudged: dict[str, int]


class FacetValue(NamedTuple):
    """One value of a facet: ``value`` is what the filter takes, None for bells without any."""

    value: str | int | None
    label: str
    bells: int


def find_bells(conn: sqlite3.Connection, query: BellQuery) -> FoundBells:
    """Find bells; see :class:`BellQuery`."""
    raise NotImplementedError


def facets(conn: sqlite3.Connection, query: BellQuery) -> dict[str, list[FacetValue]]:
    """Count the bells by founder, century, material, status, condition, crack state, region, country, note.

    Each facet is counted under all filters but its own, so that a choice can be widened.
    """
    raise NotImplementedError
