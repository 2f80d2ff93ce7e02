"""One question: which bells are meant."""

from typing import Literal, NamedTuple

from registry.geography.areas import Area


class BellQuery(NamedTuple):
    """What bells to find. Every filter that is set must hold; within a list of values one is enough.

    Parameters
    ----------
    text : str
        Words that must all stand in names, places, founders or inscriptions, in whatever spelling; any
        characters are safe. The last word may be unfinished.
    exact : bool
        Look for exactly the letters of ``text`` in inscriptions, as they stand on the bell, case kept.
    formula : tuple of str
        Ids of recurrent formulas, one of which must be recognised on the bell.
    founder_id : tuple of str
        Founders by id: bells that a survey gives to one, and those whose name there is a spelling that one
        owns, which may be another's.
    founder_name : str
        A name of a founder in any spelling that a founder owns, or that surveys write.
    material, status, region, country, note, crack_state, profile_class, wartime_class : tuple
        Wanted terms; ``note`` in scientific pitch, e.g. ``C#4``.
    region_at : str or None
        A date, EDTF: bells that were or may have been in the region then, by the borders asked for; for
        None bells whose tower lies in it. Regions hold those within them.
    condition : tuple of int or "not-assessed"
        Grades 0 to 3 of the surveyors, or bells without any.
    grade : tuple of int or "not-graded"
        Computed grades 0 to 3, each meaning "this or graver": what is known to be the case; or bells that
        nobody can grade, as they are gone.
    tower_id : str or None
        One tower.
    century : int or None
        15 means the years 1401 to 1500. Joined with ``from_year`` and ``to_year`` if both are given.
    from_year, to_year : int or None
        Years of casting, ends included.
    certain : bool
        False: bells that may be of these years, and whose best mass lies in the limits; True: only bells that
        cannot be of other years, and whose mass lies in the limits with its whole interval.
    diameter_mm, mass_kg : tuple of two
        Least and greatest, None for no limit. A mass that was stated counts before one that was computed.
    from_note, to_note : str or None
        Lowest and highest strike note. A bare note such as ``C#4`` is the whole note, half a semitone to
        either side, a' = 440 Hz; with sixteenths, ``C#4+3``, it is that very pitch against a' = 435 Hz.
    recording : str or None
        ``yes`` for bells with a recording, ``analysed`` where one could be judged, ``no`` for those without.
    no_survey_since : str or None
        A day: bells whose last visit was before it, or that nobody ever visited.
    near : tuple of three or None
        Latitude and longitude [°], radius [km].
    nearest : tuple of three or None
        Latitude and longitude [°], and how many: the nearest bells that meet every other filter. Bells at the
        distance of the last one come too, so that no tower is cut in two.
    area : Area or None
        Polygons; a border belongs to its area.
    sort : str
        One of ``SORTS``; a leading ``-`` turns it round. Bells without the value come last either way.
    limit, offset : int
        How many bells to give, and how many to leave out before them; ``limit`` None gives all. No part of
        the question: they stand in no link.
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
    grade: tuple[int | Literal["not-graded"], ...] = ()
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
    from_note: str | None = None
    to_note: str | None = None
    profile_class: tuple[str, ...] = ()
    wartime_class: tuple[str, ...] = ()
    recording: str | None = None
    no_survey_since: str | None = None
    nearest: tuple[float, float, int] | None = None
    area: Area | None = None
    exact: bool = False
    formula: tuple[str, ...] = ()
    region_at: str | None = None
    founder_name: str = ""


SORTS = ("place", "name", "date", "diameter", "mass", "note", "condition", "distance")
"""What bells can be sorted by."""


def usual_sort(query: BellQuery) -> str:
    """Give the order that a question has unless it asks for another."""
    return "distance" if query.nearest else "place"


def years_of(query: BellQuery) -> tuple[int | None, int | None]:
    """Give the first and last year asked for: of the century, of the years, or of what both share."""
    first, last = query.from_year, query.to_year
    if query.century is not None:
        begin, end = 100 * (query.century - 1) + 1, 100 * query.century
        first = begin if first is None else max(first, begin)
        last = end if last is None else min(last, end)
    return first, last
