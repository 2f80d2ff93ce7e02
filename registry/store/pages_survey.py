"""What the pages read on one survey, and on what several surveys saw of one bell."""

import json
import sqlite3
from collections.abc import Sequence
from typing import Any, Literal, NamedTuple

from registry.store.pages import Row, dict_rows
from registry.store.tables import SECTION_TABLES, SectionTable

TABLES = {table.name: table for table in SECTION_TABLES}


Kind = Literal["bell", "tower", "survey"]
"""What an id can be of."""


class SourceText(NamedTuple):
    """A loaded file as it was."""

    path: str
    sha256: str
    size_bytes: int
    text: bytes
    loaded_at: str


def read_bell(conn: sqlite3.Connection, bell_id: str) -> Row | None:
    """Give what is known of a bell; None where there is none of this id."""
    rows = dict_rows(conn, "SELECT * FROM bell_current WHERE id = ?", (bell_id,))
    return rows[0] if rows else None


def read_facts(conn: sqlite3.Connection, bell_id: str) -> list[Row]:
    """List the newest value of each fact of a bell, with the survey it comes from."""
    return dict_rows(conn, "SELECT * FROM current_fact WHERE bell_id = ?", (bell_id,))


def read_derived(conn: sqlite3.Connection, bell_id: str) -> list[Row]:
    """List the computed values of a bell, preferred methods first; ``inputs`` as a dictionary."""
    sql = "SELECT * FROM derived WHERE bell_id = ? ORDER BY subject, quantity, rank, ordinal"
    return [{**row, "inputs": json.loads(row["inputs"])} for row in dict_rows(conn, sql, (bell_id,))]


def read_sections_of_bell(conn: sqlite3.Connection, bell_id: str) -> dict[str, list[Row]]:
    """Give by table every row that a survey has on a bell, the newest state of things first.

    ``as_written`` is a dictionary of field to (line, column, text); ``as_of`` and ``date`` are the survey's.
    """
    return {table.name: _section_rows(conn, table, bell_id) for table in SECTION_TABLES if table.of_bell}


def _section_rows(conn: sqlite3.Connection, table: SectionTable, bell_id: str) -> list[Row]:
    last = f", {table.name}.{table.counted_by}" if table.counted_by else ""
    sql = f"""
        SELECT {table.name}.*, survey.as_of, survey.date AS survey_date
        FROM {table.name} JOIN survey ON survey.id = {table.name}.survey_id
        WHERE {table.name}.bell_id = ?
        ORDER BY survey.as_of DESC, survey.date DESC, survey.id DESC{last}
    """
    return [_read_back(row) for row in dict_rows(conn, sql, (bell_id,))]


def read_of_survey(conn: sqlite3.Connection, table: str, survey_id: str) -> list[Row]:
    """Give the rows that a survey has in one observation table, in the order of the form."""
    known = TABLES[table]
    key = "id" if table == "survey" else "survey_id"
    order = ", ".join(known.key)
    sql = f"SELECT * FROM {known.name} WHERE {key} = ? ORDER BY {order}"
    return [_read_back(row) for row in dict_rows(conn, sql, (survey_id,))]


def read_of_newest(conn: sqlite3.Connection, table: str, tower_id: str) -> list[Row]:
    """Give the rows that the newest visit to a tower that has any in this table has in it."""
    known = TABLES[table]
    sql = f"""
        SELECT survey.id FROM survey
        WHERE survey.tower_id = ? AND survey.kind = 'visit'
            AND EXISTS (SELECT 1 FROM {known.name} WHERE {known.name}.survey_id = survey.id)
        ORDER BY survey.as_of DESC, survey.date DESC, survey.id DESC LIMIT 1
    """
    newest = conn.execute(sql, (tower_id,)).fetchone()
    return read_of_survey(conn, table, newest[0]) if newest else []


def read_newest_visit(conn: sqlite3.Connection, tower_id: str) -> str | None:
    """Give the id of the newest visit to a tower, None where there was none."""
    sql = """
        SELECT id FROM survey WHERE tower_id = ? AND kind = 'visit'
        ORDER BY as_of DESC, date DESC, id DESC LIMIT 1
    """
    row = conn.execute(sql, (tower_id,)).fetchone()
    return row[0] if row else None


def read_assessments(conn: sqlite3.Connection, *, bell_id: str | None, tower_id: str | None) -> list[Row]:
    """List the surveyors' judgements of a bell, or of a tower beside its bells, the newest first."""
    column, value = ("assessment.bell", bell_id) if bell_id else ("survey.tower_id", tower_id)
    only_tower = "" if bell_id else " AND assessment.bell IS NULL"
    sql = f"""
        SELECT assessment.*, survey.as_of, survey.date AS survey_date
        FROM assessment JOIN survey ON survey.id = assessment.survey_id
        WHERE {column} = ?{only_tower}
        ORDER BY survey.as_of DESC, survey.date DESC, survey.id DESC, assessment.ordinal
    """
    return [_read_back(row) for row in dict_rows(conn, sql, (value,))]


def read_attachments(conn: sqlite3.Connection, *, bell_id: str) -> list[Row]:
    """List photos, recordings and drawings of a bell."""
    sql = """
        SELECT attachment.*, survey.date AS survey_date
        FROM attachment JOIN survey ON survey.id = attachment.survey_id
        WHERE attachment.bell = ?
        ORDER BY survey.as_of DESC, survey.id DESC, attachment.ordinal
    """
    return [_read_back(row) for row in dict_rows(conn, sql, (bell_id,))]


def read_survey_source(conn: sqlite3.Connection, survey_id: str) -> SourceText | None:
    """Give the form of a survey, byte for byte; None where there is no survey of this id."""
    sql = """
        SELECT source.path, source.sha256, source.size_bytes, source.text, source.loaded_at
        FROM survey JOIN source ON source.path = survey.source_path
        WHERE survey.id = ?
    """
    row = conn.execute(sql, (survey_id,)).fetchone()
    return SourceText(*row) if row else None


def read_events_elsewhere(conn: sqlite3.Connection, bell_id: str) -> list[Row]:
    """List events that surveys tell of other bells and that name this one, as recast from it."""
    sql = """
        SELECT event.*, survey.as_of, survey.date AS survey_date
        FROM event JOIN survey ON survey.id = event.survey_id
        WHERE event.other_bell = ? ORDER BY survey.as_of DESC, event.bell_id, event.ordinal
    """
    return [_read_back(row) for row in dict_rows(conn, sql, (bell_id,))]


def read_bell_ids(conn: sqlite3.Connection, bell_ids: set[str]) -> set[str]:
    """Say which of these ids are bells of the registry, so that a page links only to what is there."""
    return {bell_id for bell_id in bell_ids if _exists(conn, "SELECT 1 FROM bell WHERE id = ?", bell_id)}


def read_bell_names(conn: sqlite3.Connection, bell_ids: Sequence[str]) -> dict[str, str | None]:
    """Give the name by which each of these bells is known now."""
    sql = "SELECT name FROM bell_current WHERE id = ?"
    return {bell_id: conn.execute(sql, (bell_id,)).fetchone()[0] for bell_id in bell_ids}


def read_tower_ids(conn: sqlite3.Connection, tower_ids: set[str]) -> set[str]:
    """Say which of these ids are towers of the registry."""
    return {tower_id for tower_id in tower_ids if _exists(conn, "SELECT 1 FROM tower WHERE id = ?", tower_id)}


def kinds_of(conn: sqlite3.Connection, known_id: str) -> list[Kind]:
    """Say what an id is of, in the order bell, tower, survey; a tower and its bell may share one."""
    kinds: tuple[Kind, ...] = ("bell", "tower", "survey")
    return [kind for kind in kinds if _exists(conn, f"SELECT 1 FROM {kind} WHERE id = ?", known_id)]


def _exists(conn: sqlite3.Connection, sql: str, value: str) -> bool:
    return conn.execute(sql, (value,)).fetchone() is not None


def _read_back(row: Row) -> Row:
    """Turn the JSON of ``as_written`` into a dictionary of field to (line, column, text)."""
    written: dict[str, Any] = json.loads(row["as_written"])
    return {**row, "as_written": {field: tuple(place) for field, place in written.items()}}
