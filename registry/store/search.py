"""Find bells: what can be asked, and how many bells could not be judged for want of data."""

import sqlite3
from collections.abc import Iterator
from typing import Any, Literal, NamedTuple

from registry.geography import box_around, distance_m
from registry.model.vocabulary import vocabulary
from registry.store.rows import to_json
from registry.store.text_search import formula_condition, text_condition


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
    founder_id, material, status, region, country, note, crack_state : tuple of str
        Wanted terms; ``note`` in scientific pitch, e.g. ``C#4``.
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
    exact: bool = False
    formula: tuple[str, ...] = ()
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


class _Filter(NamedTuple):
    """A condition on ``bell_current AS bell``; ``lacks`` is the one that a bell gives no data for it."""

    name: str
    condition: str
    values: tuple[Any, ...] = ()
    lacks: str = ""

    def lacking(self) -> "_Filter":
        """Give the filter for bells that cannot be judged."""
        return _Filter(self.name, self.lacks)


MASS = "coalesce(bell.mass_kg, bell.mass_estimate_kg)"

TERMS = {
    "founder_id": "bell.founder_id",
    "material": "bell.material",
    "status": "bell.status",
    "region": "bell.region",
    "country": "bell.country",
    "note": "bell.note_name",
    "crack_state": "bell.crack_state",
}
"""Filters that take a list of words, with the column they ask."""

UNGRADED = {"condition": "not-assessed", "grade": "not-graded"}
"""Filters that take grades, with their word for bells without one."""

SORTS = {
    "name": "bell.name COLLATE NOCASE",
    "place": "bell.place COLLATE NOCASE",
    "date": "coalesce(bell.cast_earliest_year, bell.cast_latest_year)",
    "diameter": "bell.mouth_diameter_mm",
    "mass": MASS,
    "condition": "bell.condition",
    "distance": "near.distance_km",
}


def find_bells(conn: sqlite3.Connection, query: BellQuery) -> FoundBells:
    """Find bells.

    Raises
    ------
    ValueError
        Where ``sort`` is none of the known ones, or is ``distance`` without ``near``.
    CoordinateError
        Where ``near`` names no place on the earth.
    """
    search = _Search(conn, query)
    order = _order(query)
    limit = -1 if query.limit is None else query.limit
    columns = "bell.*, near.distance_km" if query.near else "bell.*"
    cursor = search.select(
        columns, search.filters, f"ORDER BY {order} LIMIT ? OFFSET ?", (limit, query.offset)
    )
    names = [column[0] for column in cursor.description]
    rows = [dict(zip(names, row, strict=True)) for row in cursor]
    unjudged = {
        each.name: search.count([each.lacking() if other is each else other for other in search.filters])
        for each in search.filters
        if each.lacks
    }
    if query.near:
        elsewhere = _Search(conn, query._replace(near=None))
        nowhere = _Filter("near", "bell.latitude_deg IS NULL")
        unjudged["near"] = elsewhere.count([*elsewhere.filters, nowhere])
    return FoundBells(rows, search.count(search.filters), unjudged)


class _Search:
    """One question put to one registry."""

    def __init__(self, conn: sqlite3.Connection, query: BellQuery) -> None:
        self.conn = conn
        words = text_condition(conn, query.text, exact=query.exact)
        self.filters = [*([_Filter("text", *words)] if words else []), *_filters(query)]
        self.near = None if query.near is None else to_json(_towers_near(conn, *query.near))

    def select(
        self, columns: str, filters: list[_Filter], rest: str = "", rest_values: tuple[Any, ...] = ()
    ) -> sqlite3.Cursor:
        """Select columns of the bells that meet the filters and are near enough."""
        parts = [f"SELECT {columns} FROM bell_current AS bell"]
        values: list[Any] = []
        if self.near is not None:
            parts.insert(0, "WITH near AS MATERIALIZED (SELECT key, value AS distance_km FROM json_each(?))")
            parts.append("JOIN near ON near.key = bell.tower_id")
            values.append(self.near)
        if filters:
            parts.append("WHERE " + " AND ".join(each.condition for each in filters))
        values += [value for each in filters for value in each.values]
        return self.conn.execute(" ".join([*parts, rest]), [*values, *rest_values])

    def count(self, filters: list[_Filter]) -> int:
        """Count these bells."""
        return int(self.select("count(*)", filters).fetchone()[0])


def _filters(query: BellQuery) -> Iterator[_Filter]:
    """Turn what is asked, but for the words and the distance, into conditions."""
    if query.formula:
        yield _Filter("formula", *formula_condition(query.formula))
    if query.tower_id is not None:
        yield _Filter("tower_id", "bell.tower_id = ?", (query.tower_id,))
    for name, column in TERMS.items():
        wanted: tuple[str, ...] = getattr(query, name)
        if wanted:
            lacks = f"{column} IS NULL" + ("" if "unknown" in wanted else f" OR {column} = 'unknown'")
            yield _Filter(name, f"{column} IN ({', '.join('?' * len(wanted))})", wanted, f"({lacks})")
    for name, column in (("condition", "bell.condition"), ("grade", "bell.grade_at_least")):
        asked: tuple[int | str, ...] = getattr(query, name)
        grades = tuple(int(grade) for grade in asked if grade != UNGRADED[name])
        condition = f"{column} IN ({', '.join('?' * len(grades))})"
        if UNGRADED[name] in asked:
            yield _Filter(name, f"({condition} OR {column} IS NULL)", grades)
        elif asked and name == "grade":
            listed = ", ".join(map(str, grades))
            yield _Filter(name, condition, grades, f"(bell.grade IS NULL AND {column} NOT IN ({listed}))")
        elif asked:
            yield _Filter(name, condition, grades, f"{column} IS NULL")
    yield from _year_filter(query)
    for name, column in (("diameter_mm", "bell.mouth_diameter_mm"), ("mass_kg", MASS)):
        low, high = getattr(query, name)
        limits = [(sign, limit) for sign, limit in ((">=", low), ("<=", high)) if limit is not None]
        if limits:
            condition = " AND ".join(f"{column} {sign} ?" for sign, _ in limits)
            yield _Filter(name, condition, tuple(limit for _, limit in limits), f"{column} IS NULL")


def years_of(query: BellQuery) -> tuple[int | None, int | None]:
    """Give the first and last year asked for: of the century, of the years, or of what both share."""
    first, last = query.from_year, query.to_year
    if query.century is not None:
        begin, end = 100 * (query.century - 1) + 1, 100 * query.century
        first = begin if first is None else max(first, begin)
        last = end if last is None else min(last, end)
    return first, last


def _year_filter(query: BellQuery) -> Iterator[_Filter]:
    """Ask for the years of casting; an end that is open or unknown may be anywhere, but is never certain."""
    first, last = years_of(query)
    limits: list[tuple[str, int]] = []
    if query.certain:
        if first is not None:
            limits.append(("bell.cast_earliest_year >= ?", first))
        if last is not None:
            limits.append(("bell.cast_latest_year <= ?", last))
        condition = " AND ".join(limit for limit, _ in limits)
    else:
        if last is not None:
            limits.append(("(span.earliest_year IS NULL OR span.earliest_year <= ?)", last))
        if first is not None:
            limits.append(("(span.latest_year IS NULL OR span.latest_year >= ?)", first))
        condition = (
            "EXISTS (SELECT 1 FROM cast_span AS span WHERE span.bell_id = bell.id AND "
            + " AND ".join(limit for limit, _ in limits)
            + ")"
        )
    if limits:
        yield _Filter("year", condition, tuple(year for _, year in limits), "bell.cast_date IS NULL")


def _towers_near(
    conn: sqlite3.Connection, latitude_deg: float, longitude_deg: float, radius_km: float
) -> dict[str, float]:
    """Give the distance [km] of each tower within a radius: boxes first, then the geodesic itself."""
    found: dict[str, float] = {}
    for box in box_around(latitude_deg, longitude_deg, radius_km * 1000.0):
        for tower_id, north, east in conn.execute(
            "SELECT tower.id, tower.latitude_deg, tower.longitude_deg"
            " FROM tower_location AS place JOIN tower_current AS tower ON tower.id = place.tower_id"
            " WHERE place.west_deg <= ? AND place.east_deg >= ?"
            " AND place.south_deg <= ? AND place.north_deg >= ?",
            (box.east, box.west, box.north, box.south),
        ):
            away_km = distance_m((latitude_deg, longitude_deg), (north, east)) / 1000.0
            if away_km <= radius_km:
                found[tower_id] = away_km
    return found


def _order(query: BellQuery) -> str:
    name = query.sort.removeprefix("-")
    if name not in SORTS or (name == "distance" and query.near is None):
        raise ValueError(f"bells cannot be sorted by {query.sort!r}")
    value, direction = SORTS[name], "DESC" if query.sort.startswith("-") else "ASC"
    in_tower = "bell.tower_id, bell.position IS NULL, bell.position, bell.id"
    return f"{value} IS NULL, {value} {direction}, {in_tower}"


FACETS = {
    "founder_id": "bell.founder_id",
    "century": "(coalesce(bell.cast_earliest_year, bell.cast_latest_year) + 99) / 100",
    "material": "bell.material",
    "status": "bell.status",
    "condition": "bell.condition",
    "grade": "bell.grade_at_least",
    "crack_state": "bell.crack_state",
    "region": "bell.region",
    "country": "bell.country",
    "note": "bell.note_name",
}
"""Each facet with what it counts by; the names are those of the filters."""


def facets(conn: sqlite3.Connection, query: BellQuery) -> dict[str, list[FacetValue]]:
    """Count the bells by each of the facets.

    Each facet is counted under all filters but its own, so that a choice can be widened. A bell that can be
    of two centuries counts in the one its dates begin in. Bells without a value come last.
    """
    return {name: _facet(conn, query, name) for name in FACETS}


def _facet(conn: sqlite3.Connection, query: BellQuery, name: str) -> list[FacetValue]:
    without: dict[str, Any] = {name: None if name == "century" else ()}
    search = _Search(conn, query._replace(**without))
    counted = search.select(
        f"{FACETS[name]} AS value, count(*)", search.filters, "GROUP BY value ORDER BY value IS NULL, value"
    ).fetchall()
    labels = _labels(conn, name)
    return [
        FacetValue(UNGRADED[name], UNGRADED[name].replace("-", " "), bells)
        if name in UNGRADED and value is None
        else FacetValue(value, "not known" if value is None else labels.get(value, str(value)), bells)
        for value, bells in counted
    ]


def _labels(conn: sqlite3.Connection, name: str) -> dict[Any, str]:
    """Give the words for people for the values of a facet, where these are codes."""
    if name == "founder_id":
        return dict(conn.execute("SELECT id, name FROM founder WHERE name IS NOT NULL"))
    if name == "region":
        return dict(conn.execute("SELECT id, name FROM region"))
    if name == "century":
        return {number: f"{number}{_ENDINGS.get(number, 'th')} century" for number in range(31)}
    terms = {"material": "material", "status": "bell_status", "crack_state": "crack_state"}.get(name)
    return {code: term.label for code, term in vocabulary(terms).terms.items()} if terms else {}


_ENDINGS = {1: "st", 2: "nd", 3: "rd", 21: "st", 22: "nd", 23: "rd"}
