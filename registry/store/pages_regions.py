"""What the pages read on regions: their borders, what lies in them, and what was there at a date."""

import json
import sqlite3
from typing import Any, NamedTuple

from registry.model.validity import Validity
from registry.store.pages import GONE, Row, dict_rows


class RegionRow(NamedTuple):
    """A region with its counts; ``parent_id`` is the nearest region it lies in, None for the outermost."""

    id: str
    name: str
    kind: str | None
    valid: str | None
    valid_from: str | None
    valid_until: str | None
    parent_id: str | None
    version_of: str | None
    source_path: str
    towers: int
    bells: int
    gone: int

    @property
    def validity(self) -> Validity:
        """First and last day on which its border can have been in force."""
        return Validity(self.valid_from, self.valid_until)


class Standing(NamedTuple):
    """Bells in a region at a date: those that certainly were there, and those that nobody can judge."""

    certain: int
    possible: int


_GONE = ", ".join(f"'{status}'" for status in GONE)

_REGIONS = f"""
    WITH counted AS (
        SELECT region_id, count(DISTINCT tower_region.tower_id) AS towers,
            count(bell_current.id) FILTER (WHERE status IS NULL OR status NOT IN ({_GONE})) AS bells,
            count(bell_current.id) FILTER (WHERE status IN ({_GONE})) AS gone
        FROM tower_region LEFT JOIN bell_current ON bell_current.tower_id = tower_region.tower_id
        GROUP BY region_id
    )
    SELECT id, name, kind, valid, valid_from, valid_until, outer_id, version_of, source_path,
        coalesce(towers, 0), coalesce(bells, 0), coalesce(gone, 0)
    FROM region
    LEFT JOIN region_within ON region_within.region_id = region.id AND ordinal = 1
    LEFT JOIN counted ON counted.region_id = region.id
"""


def read_region_rows(conn: sqlite3.Connection) -> list[RegionRow]:
    """List all regions by name, each with the regions and bells in it counted."""
    return [RegionRow(*row) for row in conn.execute(f"{_REGIONS} ORDER BY name COLLATE NOCASE, id")]


def read_region(conn: sqlite3.Connection, region_id: str) -> RegionRow | None:
    """Give one region; None where no border of this id is loaded."""
    row = conn.execute(f"{_REGIONS} WHERE id = ?", (region_id,)).fetchone()
    return RegionRow(*row) if row else None


def read_border(conn: sqlite3.Connection, region_id: str) -> dict[str, Any]:
    """Give the border of a region as a GeoJSON geometry."""
    row = conn.execute("SELECT geojson FROM region WHERE id = ?", (region_id,)).fetchone()
    geometry: dict[str, Any] = json.loads(row[0])
    return geometry


def read_nesting(conn: sqlite3.Connection) -> dict[str, list[str]]:
    """Give for each region the regions it lies in, the nearest first."""
    found: dict[str, list[str]] = {}
    for region_id, outer_id in conn.execute(
        "SELECT region_id, outer_id FROM region_within ORDER BY region_id, ordinal"
    ):
        found.setdefault(region_id, []).append(outer_id)
    return found


def read_unloaded(conn: sqlite3.Connection) -> list[Row]:
    """List the regions that forms name and no border is loaded for, with their towers counted."""
    sql = """
        SELECT region_id, count(*) AS towers FROM tower_region
        WHERE region_id NOT IN (SELECT id FROM region) GROUP BY region_id ORDER BY region_id
    """
    return dict_rows(conn, sql)


def read_towers_in(conn: sqlite3.Connection, region_id: str) -> list[Row]:
    """List the towers of a region by place, each with the ``basis`` on which it counts."""
    sql = """
        SELECT tower_current.*, tower_region.basis
        FROM tower_region JOIN tower_current ON tower_current.id = tower_region.tower_id
        WHERE region_id = ?
        ORDER BY place COLLATE NOCASE, name COLLATE NOCASE, tower_current.id
    """
    return dict_rows(conn, sql, (region_id,))


def read_regions_of(conn: sqlite3.Connection, tower_id: str) -> list[Row]:
    """List the regions of a tower, those of today first, with name and time where a border is loaded."""
    sql = """
        SELECT region_id, name, valid FROM tower_region LEFT JOIN region ON region.id = region_id
        WHERE tower_id = ? ORDER BY valid_until IS NOT NULL, basis DESC, name, region_id
    """
    return dict_rows(conn, sql, (tower_id,))


def read_bells_in(conn: sqlite3.Connection, region_id: str) -> list[Row]:
    """List the bells whose newest survey places them in a region: id, status and years of casting."""
    sql = """
        SELECT bell_current.id, status, cast_earliest_year, cast_latest_year
        FROM tower_region JOIN bell_current ON bell_current.tower_id = tower_region.tower_id
        WHERE region_id = ? ORDER BY bell_current.id
    """
    return dict_rows(conn, sql, (region_id,))


_THEN = """
    SELECT region_id, bell_id, tower_region.tower_id,
        max(
            (:last IS NULL OR from_latest <= :last)
            AND (:first IS NULL OR until_earliest IS NULL OR until_earliest >= :first)
        ) AS certain
    FROM bell_stay JOIN tower_region ON tower_region.tower_id = bell_stay.tower_id
    WHERE state = 'there'
        AND (:last IS NULL OR from_earliest IS NULL OR from_earliest <= :last)
        AND (:first IS NULL OR until_latest IS NULL OR until_latest >= :first)
"""
"""Stays that can have a day in common with a time, as :meth:`registry.model.life.Stay.certainly_in`."""


def count_standing(conn: sqlite3.Connection, then: Validity) -> dict[str, Standing]:
    """Count for every region the bells that were there at some day of a time."""
    sql = f"""
        SELECT region_id, sum(certain), sum(NOT certain)
        FROM ({_THEN} GROUP BY region_id, bell_id) GROUP BY region_id
    """
    rows = conn.execute(sql, then._asdict())
    return {region_id: Standing(certain, possible) for region_id, certain, possible in rows}


def read_standing(conn: sqlite3.Connection, region_id: str, then: Validity) -> list[Row]:
    """List the bells that were, or may have been, in a region at some day of a time, by tower.

    ``certain`` is 1 where a bell was there for certain; ``now`` is the tower where it belongs today.
    """
    sql = f"""
        SELECT found.bell_id, found.certain, found.tower_id, bell_current.name, bell_current.status,
            bell_current.cast_date, bell_current.founder, bell_current.tower_id AS now,
            coalesce(tower_current.name, found.tower_id) AS tower_name, tower_current.place
        FROM ({_THEN} AND region_id = :region GROUP BY bell_id, tower_region.tower_id) AS found
        JOIN bell_current ON bell_current.id = found.bell_id
        LEFT JOIN tower_current ON tower_current.id = found.tower_id
        ORDER BY tower_current.place COLLATE NOCASE, found.tower_id, bell_current.position, found.bell_id
    """
    return dict_rows(conn, sql, {"region": region_id, **then._asdict()})
