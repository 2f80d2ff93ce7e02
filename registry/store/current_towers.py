"""The current view of towers and founders: of each fact the newest."""

import sqlite3
from collections import defaultdict

from registry.store.history import newest, newest_value
from registry.store.rows import Row

_NEWEST = "survey.as_of DESC, survey.date DESC, survey.id DESC"


def refresh_towers(conn: sqlite3.Connection) -> None:
    """Write the current view of every touched tower anew; :func:`count_bells` adds counts and grades."""
    for table, key in (("tower_current", "id"), ("tower_location", "tower_id")):
        conn.execute(f"DELETE FROM {table} WHERE {key} IN (SELECT id FROM touched_tower)")
    cursor = conn.cursor()
    cursor.row_factory = sqlite3.Row
    told: defaultdict[str, list[sqlite3.Row]] = defaultdict(list)
    for row in cursor.execute(
        "SELECT tower_seen.*, survey.as_of, survey.kind FROM touched_tower"
        " JOIN survey ON survey.tower_id = touched_tower.id"
        " JOIN tower_seen ON tower_seen.survey_id = survey.id"
        f" ORDER BY {_NEWEST}"
    ):
        told[row["tower_id"]].append(row)
    rows = [_tower_row(tower_id, told[tower_id]) for tower_id in sorted(told)]
    if rows:
        places = ", ".join("?" * len(rows[0]))
        conn.executemany(f"INSERT INTO tower_current VALUES ({places})", rows)
    conn.execute(
        "INSERT INTO tower_location (west_deg, east_deg, south_deg, north_deg, tower_id)"
        " SELECT longitude_deg, longitude_deg, latitude_deg, latitude_deg, id FROM tower_current"
        " WHERE latitude_deg IS NOT NULL AND longitude_deg IS NOT NULL"
        " AND id IN (SELECT id FROM touched_tower) ORDER BY id"
    )


def _tower_row(tower_id: str, told: list[sqlite3.Row]) -> Row:
    """Make a row of ``tower_current``; coordinates and accuracy, protection and its source stay together."""
    place = newest(told, "latitude_deg")
    protection = newest(told, "protection")
    return (
        tower_id,
        told[0]["name"],
        told[0]["place"],
        newest_value(told, "region"),
        newest_value(told, "country"),
        place["latitude_deg"] if place else None,
        place["longitude_deg"] if place else None,
        place["accuracy_m"] if place else None,
        newest_value(told, "owner"),
        newest_value(told, "contact"),
        protection["protection"] if protection else None,
        protection["protection_source"] if protection else None,
        newest_value(told, "natural_frequency_hz"),
        newest_value(told, "access"),
        0,
        0,
        None,
        None,
        len(told),
        told[0]["survey_id"],
        told[0]["as_of"],
        next((row["as_of"] for row in told if row["kind"] == "visit"), None),
    )


def count_bells(conn: sqlite3.Connection) -> None:
    """Fill in how many bells the touched towers have, and the worst grades of tower and bells."""
    conn.execute(
        """
        WITH bells AS (
            SELECT tower_id, count(*) AS bells,
                count(*) FILTER (
                    WHERE status IN ('moved', 'requisitioned', 'lost', 'stolen', 'destroyed', 'recast')
                ) AS gone
            FROM bell_current WHERE tower_id IN (SELECT id FROM touched_tower) GROUP BY tower_id
        )
        UPDATE tower_current SET bells = counted.bells, bells_gone = counted.gone
        FROM bells AS counted WHERE counted.tower_id = tower_current.id
        """
    )
    for grade in ("condition", "urgency"):
        conn.execute(
            f"""
            WITH newest AS (
                SELECT survey.tower_id AS tower_id, assessment.{grade} AS grade,
                    row_number() OVER (
                        PARTITION BY survey.tower_id, assessment.component
                        ORDER BY {_NEWEST}, assessment.ordinal
                    ) AS place
                FROM touched_tower
                JOIN survey ON survey.tower_id = touched_tower.id
                JOIN assessment ON assessment.survey_id = survey.id
                WHERE assessment.bell IS NULL AND assessment.{grade} IS NOT NULL
            ),
            graded AS (
                SELECT tower_id, grade FROM newest WHERE place = 1
                UNION ALL
                SELECT tower_id, {grade} FROM bell_current
                WHERE tower_id IN (SELECT id FROM touched_tower)
                    AND (
                        status IS NULL
                        OR status NOT IN ('moved', 'requisitioned', 'lost', 'stolen', 'destroyed', 'recast')
                    )
            ),
            worst AS (SELECT tower_id, max(grade) AS grade FROM graded GROUP BY tower_id)
            UPDATE tower_current SET {grade} = worst.grade FROM worst WHERE worst.tower_id = tower_current.id
            """
        )


def refresh_founders(conn: sqlite3.Connection) -> None:
    """Name the founders as their file, else the newest survey does; forget those that none has any more."""
    gone = (
        "SELECT id FROM founder"
        " WHERE id NOT IN (SELECT founder_id FROM bell_seen WHERE founder_id IS NOT NULL)"
        " AND id NOT IN (SELECT id FROM founder_told)"
    )
    conn.execute(f"DELETE FROM attribution WHERE founder_id IN ({gone})")
    conn.execute(f"DELETE FROM founder WHERE id IN ({gone})")
    conn.execute(
        f"""
        WITH named AS (
            SELECT founder_id, founder, row_number() OVER (
                PARTITION BY founder_id
                ORDER BY {_NEWEST}, bell_seen.ordinal
            ) AS place
            FROM bell_seen JOIN survey ON survey.id = bell_seen.survey_id
            WHERE founder_id IS NOT NULL AND founder IS NOT NULL
        )
        UPDATE founder SET name = named.founder FROM named
        WHERE named.founder_id = founder.id AND named.place = 1
        """
    )
    conn.execute("UPDATE founder SET name = told.name FROM founder_told AS told WHERE told.id = founder.id")
