"""Put surveys into a registry and take them out, marking the bells and towers touched."""

import sqlite3
from collections.abc import Iterable, Sequence
from functools import cache
from typing import NamedTuple

from registry.store.rows import SurveyRows
from registry.store.tables import SECTION_TABLES, column_names


class SourceFile(NamedTuple):
    """A file as it is kept: ``path`` seen from the registry's folder, ``kind`` as in the table."""

    path: str
    kind: str
    sha256: str
    data: bytes


class KnownSource(NamedTuple):
    """A file the registry holds; ``survey_id`` is empty but for a form."""

    path: str
    kind: str
    sha256: str
    survey_id: str


def known_sources(conn: sqlite3.Connection) -> list[KnownSource]:
    """List the files a registry holds, by path."""
    rows = conn.execute(
        "SELECT path, source.kind, sha256, coalesce(survey.id, '') FROM source"
        " LEFT JOIN survey ON survey.source_path = source.path ORDER BY path"
    )
    return [KnownSource(*row) for row in rows]


def stored_text(conn: sqlite3.Connection, path: str) -> bytes:
    """Give the bytes of a file the registry holds."""
    row = conn.execute("SELECT text FROM source WHERE path = ?", (path,)).fetchone()
    return bytes(row[0])


def loaded_at(conn: sqlite3.Connection) -> dict[str, str]:
    """Tell of each file when it was loaded."""
    return dict(conn.execute("SELECT path, loaded_at FROM source"))


def statement(conn: sqlite3.Connection, key: str) -> str:
    """Give what the registry says of itself under a key; empty where it says nothing."""
    row = conn.execute("SELECT value FROM registry_meta WHERE key = ?", (key,)).fetchone()
    return row[0] if row else ""


def state(conn: sqlite3.Connection, key: str, value: str) -> None:
    """Let the registry say something of itself."""
    conn.execute("INSERT OR REPLACE INTO registry_meta VALUES (?, ?)", (key, value))


def begin_changes(conn: sqlite3.Connection) -> None:
    """Start to remember what is touched."""
    for kind in ("bell", "tower", "region", "founder"):
        conn.execute(f"CREATE TEMP TABLE IF NOT EXISTS touched_{kind} (id TEXT PRIMARY KEY) WITHOUT ROWID")
        conn.execute(f"DELETE FROM touched_{kind}")


def touch(conn: sqlite3.Connection, tower_ids: Iterable[str]) -> None:
    """Mark towers."""
    conn.executemany("INSERT OR IGNORE INTO touched_tower VALUES (?)", ((id_,) for id_ in tower_ids))


def touch_all(conn: sqlite3.Connection) -> None:
    """Mark everything, as when a way of computing has changed."""
    conn.execute("INSERT OR IGNORE INTO touched_tower SELECT DISTINCT tower_id FROM survey")
    conn.execute("INSERT OR IGNORE INTO touched_region SELECT id FROM region")
    conn.execute("INSERT OR IGNORE INTO touched_founder SELECT id FROM founder")


def spread_touch(conn: sqlite3.Connection) -> None:
    """Mark the bells of the towers that were touched, and the other towers where these bells were seen."""
    conn.execute(
        "INSERT OR IGNORE INTO touched_bell SELECT bell_id FROM touched_tower"
        " JOIN survey ON survey.tower_id = touched_tower.id JOIN bell_seen ON bell_seen.survey_id = survey.id"
    )
    conn.execute(
        "INSERT OR IGNORE INTO touched_bell SELECT bell_current.id FROM touched_tower"
        " JOIN bell_current ON bell_current.tower_id = touched_tower.id"
    )
    conn.execute(
        "INSERT OR IGNORE INTO touched_tower SELECT survey.tower_id FROM touched_bell"
        " JOIN bell_seen ON bell_seen.bell_id = touched_bell.id"
        " JOIN survey ON survey.id = bell_seen.survey_id"
    )
    conn.execute(
        "INSERT OR IGNORE INTO touched_tower SELECT tower_id FROM touched_bell"
        " JOIN bell_current ON bell_current.id = touched_bell.id"
    )


def put_source(conn: sqlite3.Connection, source: SourceFile, loaded_at: str) -> None:
    """Keep a file whole, in place of an earlier text of the same path."""
    conn.execute(
        "INSERT OR REPLACE INTO source VALUES (?, ?, ?, ?, ?, ?)",
        (source.path, source.kind, source.sha256, len(source.data), source.data, loaded_at),
    )


def drop_source(conn: sqlite3.Connection, path: str) -> None:
    """Forget a file; its rows must be gone, or have another source."""
    conn.execute("DELETE FROM source WHERE path = ?", (path,))


def move_source(conn: sqlite3.Connection, old: str, new: str) -> None:
    """Give a file that has another name now its new path; its text and rows stay."""
    conn.execute("UPDATE source SET path = ? WHERE path = ?", (new, old))
    conn.execute("UPDATE survey SET source_path = ? WHERE source_path = ?", (new, old))
    for table in ("region", "founder_told"):
        conn.execute(f"UPDATE {table} SET source_path = ? WHERE source_path = ?", (new, old))


@cache
def _insert(name: str) -> str:
    table = next(table for table in SECTION_TABLES if table.name == name)
    places = ", ".join("?" * len(column_names(table)))
    return f"INSERT INTO {name} VALUES ({places})"


def put_surveys(conn: sqlite3.Connection, surveys: Sequence[SurveyRows]) -> None:
    """Add surveys that the registry does not hold (take an earlier text out first)."""
    conn.executemany("INSERT OR IGNORE INTO tower VALUES (?)", ((survey.tower_id,) for survey in surveys))
    conn.executemany(
        "INSERT OR IGNORE INTO bell VALUES (?)", ((id_,) for survey in surveys for id_ in survey.bell_ids)
    )
    conn.executemany(
        "INSERT OR IGNORE INTO founder (id) VALUES (?)",
        ((id_,) for survey in surveys for id_ in survey.founder_ids),
    )
    for table in SECTION_TABLES:
        rows = [row for survey in surveys for row in survey.rows[table.name]]
        if rows:
            conn.executemany(_insert(table.name), rows)
    touch(conn, (survey.tower_id for survey in surveys))


def take_out_survey(conn: sqlite3.Connection, survey_id: str) -> None:
    """Take out all rows of one survey; its source stays."""
    conn.execute("INSERT OR IGNORE INTO touched_tower SELECT tower_id FROM survey WHERE id = ?", (survey_id,))
    # A bell that no other survey has loses its tower with this one.
    conn.execute(
        "INSERT OR IGNORE INTO touched_bell SELECT bell_id FROM bell_seen WHERE survey_id = ?", (survey_id,)
    )
    for computed in ("recording_value", "recording"):
        conn.execute(f"DELETE FROM {computed} WHERE survey_id = ?", (survey_id,))
    for table in reversed(SECTION_TABLES):
        key = "id" if table.name == "survey" else "survey_id"
        conn.execute(f"DELETE FROM {table.name} WHERE {key} = ?", (survey_id,))


_OF_BELL = {
    "recording_value": "bell_id",
    "recording": "bell_id",
    "derived": "bell_id",
    "to_do": "bell_id",
    "inspection_due": "bell_id",
    "disagreement": "bell_id",
    "cast_span": "bell_id",
    "bell_text": "bell_id",
    "damaged_word": "bell_id",
    "inscription_normalised": "bell_id",
    "inscription_formula": "bell_id",
    "bell_stay": "bell_id",
    "attribution": "bell_id",
    "lineage": "bell_id",
} | {
    "bell_current": "id",
    "bell": "id",
}
_OF_TOWER = {
    "tower_region": "tower_id",
    "tower_location": "tower_id",
    "tower_current": "id",
    "tower": "id",
}


def forget_unseen(conn: sqlite3.Connection) -> None:
    """Drop touched bells and towers that no survey has any more: a registry follows from its forms alone."""
    for kind, tables, seen in (
        ("bell", _OF_BELL, "SELECT bell_id FROM bell_seen"),
        ("tower", _OF_TOWER, "SELECT tower_id FROM survey"),
    ):
        unseen = f"SELECT id FROM touched_{kind} WHERE id NOT IN ({seen})"
        if conn.execute(f"{unseen} LIMIT 1").fetchone() is not None:
            for table, column in tables.items():
                conn.execute(f"DELETE FROM {table} WHERE {column} IN ({unseen})")
            conn.execute(f"DELETE FROM touched_{kind} WHERE id IN ({unseen})")
