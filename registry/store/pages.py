"""What the pages read on the registry as a whole and on its towers."""

import json
import sqlite3
from collections.abc import Mapping
from typing import Any, NamedTuple

GONE = ("moved", "requisitioned", "lost", "stolen", "destroyed", "recast")
"""States in which a bell is no longer in its tower, as in ``schema/views/attention.sql``."""


class Counts(NamedTuple):
    """How much the registry holds."""

    towers: int
    bells: int
    bells_gone: int
    visits: int
    documents: int
    first_day: str | None
    last_day: str | None


class Finding(NamedTuple):
    """One thing that needs attention. ``severity`` is 3 at once, 2 soon, 1 when there is time."""

    kind: str
    severity: int
    bell_id: str | None
    bell_name: str | None
    tower_id: str
    tower_name: str
    place: str
    survey_id: str | None
    what: str


class FindingGroup(NamedTuple):
    """All findings of one kind, of which the first are given."""

    kind: str
    severity: int
    total: int
    source: str
    first: list[Finding]


class SurveyLine(NamedTuple):
    """One survey in a list."""

    id: str
    kind: str
    date: str
    as_of: str
    tower_id: str
    tower_name: str
    place: str
    surveyors: list[str]
    purpose: str | None
    bells: int
    document_title: str | None


class RegionBorder(NamedTuple):
    """A region with its border as GeoJSON geometry."""

    id: str
    name: str
    geometry: dict[str, Any]


Row = dict[str, Any]

_FINDINGS = """
    SELECT attention.kind, attention.severity, attention.bell_id, bell_current.name AS bell_name,
        attention.tower_id, tower_current.name AS tower_name, tower_current.place, attention.survey_id,
        attention.what
    FROM attention
    JOIN tower_current ON tower_current.id = attention.tower_id
    LEFT JOIN bell_current ON bell_current.id = attention.bell_id
"""

_SURVEYS = """
    SELECT survey.id, survey.kind, survey.date, survey.as_of, survey.tower_id,
        coalesce(tower_seen.name, tower_current.name) AS tower_name, tower_current.place, survey.surveyors,
        survey.purpose,
        (SELECT count(*) FROM bell_seen WHERE bell_seen.survey_id = survey.id) AS bells,
        document.title AS document_title
    FROM survey
    JOIN tower_current ON tower_current.id = survey.tower_id
    LEFT JOIN tower_seen ON tower_seen.survey_id = survey.id
    LEFT JOIN document ON document.survey_id = survey.id
"""


def dict_rows(
    conn: sqlite3.Connection, sql: str, values: tuple[Any, ...] | Mapping[str, Any] = ()
) -> list[Row]:
    """Read rows by column name, whatever row factory the connection has."""
    cursor = conn.execute(sql, values)
    names = [column[0] for column in cursor.description]
    return [dict(zip(names, row, strict=True)) for row in cursor]


def read_counts(conn: sqlite3.Connection) -> Counts:
    """Count towers, bells and surveys."""
    gone = ", ".join("?" * len(GONE))
    sql = f"""
        SELECT
            (SELECT count(*) FROM tower_current),
            (SELECT count(*) FROM bell_current),
            (SELECT count(*) FROM bell_current WHERE status IN ({gone})),
            (SELECT count(*) FROM survey WHERE kind = 'visit'),
            (SELECT count(*) FROM survey WHERE kind = 'document'),
            (SELECT min(date) FROM survey WHERE kind = 'visit'),
            (SELECT max(date) FROM survey WHERE kind = 'visit')
    """
    return Counts(*conn.execute(sql, GONE).fetchone())


def read_cast_years(conn: sqlite3.Connection) -> list[tuple[int | None, int | None]]:
    """Give the earliest and latest year of casting of every bell."""
    sql = "SELECT cast_earliest_year, cast_latest_year FROM bell_current ORDER BY id"
    return [(row[0], row[1]) for row in conn.execute(sql)]


def read_finding_groups(conn: sqlite3.Connection, most: int) -> list[FindingGroup]:
    """List what needs attention, grouped by kind, gravest kind first, ``most`` findings of each."""
    sources = dict(conn.execute("SELECT kind, source FROM attention_rule").fetchall())
    groups: dict[str, FindingGroup] = {}
    order = " ORDER BY attention.rank, tower_current.place, tower_current.name, attention.bell_id"
    for row in dict_rows(conn, _FINDINGS + order):
        finding = Finding(**row)
        group = groups.get(finding.kind)
        if group is None:
            group = FindingGroup(finding.kind, finding.severity, 0, sources.get(finding.kind, ""), [])
        if len(group.first) < most:
            group.first.append(finding)
        groups[finding.kind] = group._replace(total=group.total + 1)
    return list(groups.values())


def read_findings(
    conn: sqlite3.Connection,
    *,
    kind: str | None = None,
    tower_id: str | None = None,
    bell_id: str | None = None,
) -> list[Finding]:
    """List what needs attention, gravest first: of one kind, in one tower with its bells, or of one bell."""
    wanted = {"attention.kind": kind, "attention.tower_id": tower_id, "attention.bell_id": bell_id}
    chosen = {column: value for column, value in wanted.items() if value is not None}
    where = " AND ".join(f"{column} = ?" for column in chosen) or "1"
    order = " ORDER BY attention.rank, tower_current.place, tower_current.name, attention.bell_id"
    rows = dict_rows(conn, f"{_FINDINGS} WHERE {where} {order}", tuple(chosen.values()))
    return [Finding(**row) for row in rows]


def _survey_lines(conn: sqlite3.Connection, rest: str, values: tuple[Any, ...]) -> list[SurveyLine]:
    rows = dict_rows(conn, _SURVEYS + rest, values)
    return [SurveyLine(**{**row, "surveyors": json.loads(row["surveyors"])}) for row in rows]


def read_recent_surveys(conn: sqlite3.Connection, most: int) -> list[SurveyLine]:
    """List the surveys made last."""
    return _survey_lines(conn, " ORDER BY survey.date DESC, survey.id LIMIT ?", (most,))


def read_surveys_of_tower(conn: sqlite3.Connection, tower_id: str) -> list[SurveyLine]:
    """List the surveys of a tower, the newest state of things first."""
    order = " ORDER BY survey.as_of DESC, survey.date DESC, survey.id DESC"
    return _survey_lines(conn, f" WHERE survey.tower_id = ?{order}", (tower_id,))


def read_surveys_of_bell(conn: sqlite3.Connection, bell_id: str) -> list[SurveyLine]:
    """List the surveys that have a bell, the newest state of things first."""
    seen = "EXISTS (SELECT 1 FROM bell_seen WHERE bell_id = ? AND survey_id = survey.id)"
    order = " ORDER BY survey.as_of DESC, survey.date DESC, survey.id DESC"
    return _survey_lines(conn, f" WHERE {seen}{order}", (bell_id,))


def read_towers(conn: sqlite3.Connection) -> list[Row]:
    """List all towers by place, each with ``attention``, the severity of its gravest finding or 0."""
    sql = """
        SELECT tower_current.*, coalesce(worst.severity, 0) AS attention, region.name AS region_name
        FROM tower_current
        LEFT JOIN (SELECT tower_id, max(severity) AS severity FROM attention GROUP BY tower_id) AS worst
            ON worst.tower_id = tower_current.id
        LEFT JOIN region ON region.id = tower_current.region
        ORDER BY tower_current.place COLLATE NOCASE, tower_current.name COLLATE NOCASE, tower_current.id
    """
    return dict_rows(conn, sql)


def read_tower(conn: sqlite3.Connection, tower_id: str) -> Row | None:
    """Give what is known of a tower; None where there is none of this id."""
    sql = """
        SELECT tower_current.*, region.name AS region_name
        FROM tower_current LEFT JOIN region ON region.id = tower_current.region
        WHERE tower_current.id = ?
    """
    rows = dict_rows(conn, sql, (tower_id,))
    return rows[0] if rows else None


def read_bells_of_tower(conn: sqlite3.Connection, tower_id: str) -> list[Row]:
    """List the bells of a tower in the order of the ring, each with its shoulder diameter if measured."""
    sql = """
        SELECT bell_current.*,
            (SELECT value FROM current_fact
                WHERE bell_id = bell_current.id AND section = 'dimensions' AND field = 'shoulder_diameter_mm'
            ) AS shoulder_diameter_mm
        FROM bell_current
        WHERE tower_id = ?
        ORDER BY position IS NULL, position, mouth_diameter_mm, id
    """
    return dict_rows(conn, sql, (tower_id,))


def read_regions(conn: sqlite3.Connection) -> list[RegionBorder]:
    """List the regions with their borders."""
    rows = conn.execute("SELECT id, name, geojson FROM region ORDER BY id")
    return [RegionBorder(row[0], row[1], json.loads(row[2])) for row in rows]


def read_meta(conn: sqlite3.Connection) -> dict[str, str]:
    """Give what the registry says of itself."""
    return {row[0]: row[1] for row in conn.execute("SELECT key, value FROM registry_meta ORDER BY key")}


def read_methods(conn: sqlite3.Connection) -> list[Row]:
    """List the methods of computation that the registry used, with their sources."""
    sql = """
        SELECT quantity, method, version, source, count(*) AS uses
        FROM derived GROUP BY quantity, method, version, source ORDER BY quantity, method, version
    """
    return dict_rows(conn, sql)


def read_rules(conn: sqlite3.Connection) -> list[Row]:
    """List the rules of what needs attention, gravest first."""
    return dict_rows(conn, "SELECT * FROM attention_rule ORDER BY rank")
