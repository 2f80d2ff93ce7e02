"""What the pages read on founders: their names, times and places, and the bells given to them."""

import json
import sqlite3

from registry.derive.delivery import Delivered, Deliveries, Site, delivered_from
from registry.model.life import days_of
from registry.store.pages import Row, dict_rows

_COUNTED = """
    SELECT founder_id,
        count(*) FILTER (WHERE basis = 'stated') AS stated,
        count(*) FILTER (WHERE basis = 'proposed' AND certainty <> 'doubtful') AS proposed,
        count(*) FILTER (WHERE basis = 'proposed' AND certainty = 'doubtful') AS doubtful
    FROM attribution GROUP BY founder_id
"""


def read_founders(conn: sqlite3.Connection) -> list[Row]:
    """List all founders by name: what their file tells, their places, and their bells counted by basis."""
    sql = f"""
        SELECT founder.id, coalesce(founder.name, founder.id) AS name, kind, active,
            founder_told.id IS NOT NULL AS told,
            (SELECT group_concat(place, ', ') FROM (
                SELECT DISTINCT place FROM founder_workshop WHERE founder_id = founder.id ORDER BY ordinal
            )) AS places,
            coalesce(stated, 0) AS stated, coalesce(proposed, 0) AS proposed,
            coalesce(doubtful, 0) AS doubtful
        FROM founder LEFT JOIN founder_told ON founder_told.id = founder.id
        LEFT JOIN ({_COUNTED}) AS counted ON counted.founder_id = founder.id
        ORDER BY name COLLATE NOCASE, founder.id
    """
    return dict_rows(conn, sql)


def read_founder(conn: sqlite3.Connection, founder_id: str) -> Row | None:
    """Give what is known of a founder; None where there is none of this id. ``sources`` is a list."""
    sql = """
        SELECT founder.id, coalesce(founder.name, founder.id) AS name, kind, active, born, died, sources,
            remarks, source_path
        FROM founder LEFT JOIN founder_told ON founder_told.id = founder.id WHERE founder.id = ?
    """
    rows = dict_rows(conn, sql, (founder_id,))
    return {**rows[0], "sources": json.loads(rows[0]["sources"] or "[]")} if rows else None


def read_parts(conn: sqlite3.Connection, table: str, founder_id: str) -> list[Row]:
    """List the variants, workshops or ties of a founder in the order of the file."""
    if table not in ("founder_variant", "founder_workshop", "founder_tie"):
        raise ValueError(table)
    return dict_rows(conn, f"SELECT * FROM {table} WHERE founder_id = ? ORDER BY ordinal", (founder_id,))


def read_ties_back(conn: sqlite3.Connection, founder_id: str) -> list[Row]:
    """List the ties that other founders' entries have to this one."""
    sql = """
        SELECT founder_tie.*, founder.name FROM founder_tie JOIN founder ON founder.id = founder_id
        WHERE other_id = ? ORDER BY name, ordinal
    """
    return dict_rows(conn, sql, (founder_id,))


def read_names_of(conn: sqlite3.Connection) -> dict[str, str]:
    """Give the name of every founder that has one, by id."""
    return dict(conn.execute("SELECT id, name FROM founder WHERE name IS NOT NULL").fetchall())


def read_bells_of(conn: sqlite3.Connection, founder_id: str) -> list[Row]:
    """List the bells given to a founder, by their years, each with the attribution that gives it."""
    sql = """
        SELECT attribution.*, bell_current.name, bell_current.tower_id, tower_name, place, cast_date, status,
            cast_earliest_year, cast_latest_year
        FROM attribution JOIN bell_current ON bell_current.id = bell_id
        WHERE attribution.founder_id = ?
        ORDER BY cast_earliest_year IS NULL, cast_earliest_year, cast_latest_year, bell_id
    """
    return dict_rows(conn, sql, (founder_id,))


def read_first_towers(conn: sqlite3.Connection, founder_id: str) -> list[Row]:
    """List for the bells of a founder that are not doubtful the first tower that has coordinates.

    Each is a row of ``tower_current`` with ``bell_id`` and ``cast_date``.
    """
    sql = """
        SELECT tower_current.*, bell_stay.bell_id, bell_current.cast_date, min(bell_stay.ordinal) AS first
        FROM attribution
        JOIN bell_stay ON bell_stay.bell_id = attribution.bell_id AND state = 'there'
        JOIN tower_current ON tower_current.id = bell_stay.tower_id
        JOIN bell_current ON bell_current.id = bell_stay.bell_id
        WHERE attribution.founder_id = ? AND (basis = 'stated' OR certainty <> 'doubtful')
            AND tower_current.latitude_deg IS NOT NULL AND tower_current.longitude_deg IS NOT NULL
        GROUP BY bell_stay.bell_id ORDER BY bell_stay.bell_id
    """
    return dict_rows(conn, sql, (founder_id,))


def read_deliveries(conn: sqlite3.Connection, founder_id: str) -> Deliveries:
    """Measure how far the bells of a founder that are not doubtful hung from the workshop at first."""
    sites = [
        Site(row["place"], row["latitude_deg"], row["longitude_deg"], days_of(row["valid"] or ""))
        for row in read_parts(conn, "founder_workshop", founder_id)
        if row["latitude_deg"] is not None and row["longitude_deg"] is not None
    ]
    bells = [
        Delivered(row["bell_id"], row["latitude_deg"], row["longitude_deg"], days_of(row["cast_date"] or ""))
        for row in read_first_towers(conn, founder_id)
    ]
    counted = conn.execute(
        "SELECT count(*) FROM attribution WHERE founder_id = ?"
        " AND (basis = 'stated' OR certainty <> 'doubtful')",
        (founder_id,),
    ).fetchone()
    return delivered_from(sites, bells, counted[0])


def read_unlisted_names(conn: sqlite3.Connection, most: int) -> list[Row]:
    """List founders as bells have them, of which no file of founders has the spelling and no form the id."""
    sql = """
        SELECT founder AS spelling, count(*) AS bells, min(id) AS bell_id FROM bell_current
        WHERE founder IS NOT NULL AND id NOT IN (SELECT bell_id FROM attribution)
        GROUP BY founder ORDER BY bells DESC, founder COLLATE NOCASE LIMIT ?
    """
    return dict_rows(conn, sql, (most,))


def read_proposals(conn: sqlite3.Connection, bell_id: str) -> list[Row]:
    """List the founders proposed for a bell, each with ``name``."""
    sql = """
        SELECT attribution.*, coalesce(founder.name, founder.id) AS name
        FROM attribution JOIN founder ON founder.id = founder_id
        WHERE bell_id = ? AND basis = 'proposed' ORDER BY founder_id
    """
    return dict_rows(conn, sql, (bell_id,))
