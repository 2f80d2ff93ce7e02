"""Find bells, and count those that could not be judged for want of data."""

import sqlite3
from functools import cached_property
from typing import Any, NamedTuple

from registry.questions.query import SORTS as SORT_NAMES
from registry.questions.query import BellQuery
from registry.store.rows import to_json
from registry.store.search_filters import MASS, Condition, conditions
from registry.store.search_places import Places, places_of


class FoundBells(NamedTuple):
    """The bells found.

    Parameters
    ----------
    rows : list of dict
        Rows of ``bell_current`` by column name, with ``distance_km`` where a place was asked for.
    total : int
        How many there are.
    unjudged : dict
        By filter, how many bells meet all the others but lack what this one asks for.
    doubtful : dict
        By filter, how many of the bells found may not hold after all: their date reaches beyond the years,
        the interval of their computed mass beyond the limits.
    """

    rows: list[dict[str, Any]]
    total: int
    unjudged: dict[str, int]
    doubtful: dict[str, int]


SORTS = {
    "name": "bell.name COLLATE NOCASE",
    "place": "bell.place COLLATE NOCASE",
    "date": "coalesce(bell.cast_earliest_year, bell.cast_latest_year)",
    "diameter": "bell.mouth_diameter_mm",
    "mass": MASS,
    "note": "bell.strike_hz",
    "condition": "bell.condition",
    "distance": "away.value",
}
assert set(SORTS) == set(SORT_NAMES)  # noqa: S101


def find_bells(conn: sqlite3.Connection, query: BellQuery) -> FoundBells:
    """Find bells.

    Raises
    ------
    ValueError
        Where ``sort`` is none of the known ones, or is ``distance`` without a place.
    CoordinateError
        Where a place asked for is none on the earth.
    """
    return Search(conn, query).found()


class Search:
    """One question put to one registry; the places are looked up once."""

    def __init__(self, conn: sqlite3.Connection, query: BellQuery) -> None:
        self.conn = conn
        self.query = query
        self.order = _order(query)
        others = [self._looked_up(each) for each in conditions(conn, query)]
        self.places: Places = places_of(conn, query, others, self.count_by_tower)
        self.conditions: list[Condition] = [*others, *self.places.conditions]

    def _looked_up(self, condition: Condition) -> Condition:
        """Look up words once, as the answer is counted in several ways."""
        if condition.name not in ("text", "formula") or condition.sql == "FALSE":
            return condition
        ids = [row[0] for row in self.select("bell.id", [condition])]
        return Condition(condition.name, "bell.id IN (SELECT value FROM json_each(?))", (to_json(ids),))

    def found(self) -> FoundBells:
        """Find the bells, and count those in doubt."""
        return FoundBells(self.rows(), self.total, self.unjudged_counts, self.doubtful())

    @cached_property
    def total(self) -> int:
        """How many bells were found."""
        return self.count(self.conditions)

    def rows(self) -> list[dict[str, Any]]:
        """Give the bells of the page that is asked for."""
        query = self.query
        columns, source = "bell.*", "bell_current AS bell"
        values: tuple[Any, ...] = ()
        if query.near or query.nearest:
            # Tower by tower: the other way round every bell would go through the list of towers.
            columns = "bell.*, away.value AS distance_km"
            source = "json_each(?) AS away CROSS JOIN bell_current AS bell ON bell.tower_id = away.key"
            values = (to_json(self.places.distance_km),)
        where, asked = _where(self.conditions)
        limit = -1 if query.limit is None else query.limit
        cursor = self.conn.execute(
            f"SELECT {columns} FROM {source} {where} ORDER BY {self.order} LIMIT ? OFFSET ?",
            (*values, *asked, limit, query.offset),
        )
        names = [column[0] for column in cursor.description]
        return [dict(zip(names, row, strict=True)) for row in cursor]

    @cached_property
    def unjudged_counts(self) -> dict[str, int]:
        """By filter, how many bells meet all the others but lack what this one asks for."""
        return {
            each.name: self.count(self._with(each, each.lacking())) for each in self.conditions if each.lacks
        }

    def doubtful(self) -> dict[str, int]:
        """Count by filter the bells found that may not hold."""
        return {
            each.name: self.count(self._with(each, each.doubted())) for each in self.conditions if each.sure
        }

    def without(self, name: str) -> list[Condition]:
        """Give all conditions but those of one filter."""
        return [each for each in self.conditions if each.name != name]

    def select(self, columns: str, asked: list[Condition], rest: str = "") -> sqlite3.Cursor:
        """Select columns of the bells that meet conditions."""
        where, values = _where(asked)
        return self.conn.execute(f"SELECT {columns} FROM bell_current AS bell {where} {rest}", values)

    def count(self, asked: list[Condition]) -> int:
        """Count these bells."""
        return int(self.select("count(*)", asked).fetchone()[0])

    def count_by_tower(self, asked: list[Condition]) -> dict[str, int]:
        """Count these bells by tower."""
        return dict(self.select("bell.tower_id, count(*)", asked, "GROUP BY bell.tower_id").fetchall())

    def _with(self, one: Condition, other: Condition) -> list[Condition]:
        """Give the conditions with one put in the place of another."""
        return [other if each is one else each for each in self.conditions]


def _where(asked: list[Condition]) -> tuple[str, tuple[Any, ...]]:
    """Write conditions as a WHERE clause with its values."""
    clause = "WHERE " + " AND ".join(f"({each.sql})" for each in asked) if asked else ""
    return clause, tuple(value for each in asked for value in each.values)


def _order(query: BellQuery) -> str:
    name = query.sort.removeprefix("-")
    if name not in SORTS or (name == "distance" and not (query.near or query.nearest)):
        raise ValueError(f"bells cannot be sorted by {query.sort!r}")
    value, direction = SORTS[name], "DESC" if query.sort.startswith("-") else "ASC"
    in_tower = "bell.tower_id, bell.position IS NULL, bell.position, bell.id"
    return f"{value} IS NULL, {value} {direction}, {in_tower}"
