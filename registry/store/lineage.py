"""Links between bells, kept as a table and read for the page of a bell."""

import sqlite3

from registry.derive.life.lineage import FROM, INVERSE, Link, both_sides
from registry.store.pages import Row, dict_rows
from registry.store.rows import to_json

MOST_GENERATIONS = 8


def refresh_lineage(conn: sqlite3.Connection) -> None:
    """Compute all links anew: they are few, and one form changes them for bells of others."""
    conn.execute("DELETE FROM lineage")
    told = conn.execute(
        """
        SELECT bell_id, event.kind, other_bell, event.date, certainty, source, survey_id
        FROM event JOIN survey ON survey.id = survey_id
        WHERE other_bell IS NOT NULL AND other_bell <> bell_id
            AND event.kind IN (SELECT value FROM json_each(?))
        ORDER BY survey.as_of DESC, survey.date DESC, survey.id DESC, bell_id, event.ordinal
        """,
        (to_json(list(INVERSE)),),
    )
    known = {row[0] for row in conn.execute("SELECT id FROM bell")}
    rows = [link for link in both_sides(Link(*row) for row in told.fetchall()) if link.bell_id in known]
    conn.executemany(f"INSERT INTO lineage VALUES ({', '.join('?' * 8)})", rows)


def read_links(conn: sqlite3.Connection, bell_id: str) -> list[Row]:
    """List the links of a bell, each with ``name``, ``status`` and ``cast_date`` of the other if known."""
    sql = """
        SELECT lineage.*, bell_current.name, bell_current.status, bell_current.cast_date,
            bell_current.id IS NOT NULL AS known
        FROM lineage LEFT JOIN bell_current ON bell_current.id = other_bell_id
        WHERE bell_id = ? ORDER BY relation, cast_earliest_year, other_bell_id
    """
    return dict_rows(conn, sql, (bell_id,))


def read_line_of_metal(conn: sqlite3.Connection, bell_id: str) -> list[Row]:
    """List the bells whose metal is in a bell, and those in which its own is, over all generations.

    Each has ``generation``: below 0 for older bells, 0 for the bell itself, above 0 for newer ones.
    """
    older, newer = sorted(FROM), sorted(INVERSE[relation] for relation in FROM)
    sql = f"""
        WITH RECURSIVE line (id, generation) AS (
            VALUES (:bell, 0)
            UNION
            SELECT other_bell_id, generation - 1 FROM line
            JOIN lineage ON bell_id = line.id AND relation IN ({_listed(older)})
            WHERE generation <= 0 AND generation > -:most
            UNION
            SELECT other_bell_id, generation + 1 FROM line
            JOIN lineage ON bell_id = line.id AND relation IN ({_listed(newer)})
            WHERE generation >= 0 AND generation < :most
        )
        SELECT line.id, min(generation) AS generation, name, status, cast_date, tower_name, place,
            bell_current.id IS NOT NULL AS known
        FROM line LEFT JOIN bell_current ON bell_current.id = line.id
        GROUP BY line.id ORDER BY generation, cast_earliest_year, line.id
    """
    return dict_rows(conn, sql, {"bell": bell_id, "most": MOST_GENERATIONS})


def _listed(words: list[str]) -> str:
    return ", ".join(f"'{word}'" for word in words)


def read_stays(conn: sqlite3.Connection, bell_id: str) -> list[Row]:
    """List the stays of a bell in their order, each with ``tower_name`` and ``place`` if they are known."""
    sql = """
        SELECT bell_stay.*, tower_current.name AS tower_name, tower_current.place
        FROM bell_stay LEFT JOIN tower_current ON tower_current.id = bell_stay.tower_id
        WHERE bell_id = ? ORDER BY ordinal
    """
    return dict_rows(conn, sql, (bell_id,))
