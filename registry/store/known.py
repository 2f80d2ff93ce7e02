"""What a registry knows before a new form comes: for the rules across surveys, and to fill a blank form."""

import json
import sqlite3
from collections.abc import Collection, Iterable, Mapping
from typing import Any, NamedTuple

from registry.forms.footprints import ARRIVALS, MEASURING
from registry.geography import Region, read_regions
from registry.model.footprint import BellFootprint, Footprint
from registry.model.known import GONE, KnownBell, KnownFields, KnownTower, KnownValue
from registry.model.life import Happening
from registry.store.facts import FACT_TABLES, PER_SURVEY, TOGETHER
from registry.store.rows import OF_BELL, TABLES, to_json
from registry.store.tables import SectionTable, value_fields

_NEWEST = "survey.as_of DESC, survey.date DESC, survey.id DESC"


class KnownRegion(NamedTuple):
    """A region of the registry and the file it comes from."""

    region: Region
    source: str


def known_regions(conn: sqlite3.Connection) -> list[KnownRegion]:
    """Give the regions whose borders are loaded, by id."""
    rows = conn.execute(
        "SELECT source_path, geojson, id, name, kind, valid, parent, version_of FROM region ORDER BY id"
    ).fetchall()
    if not rows:
        return []
    names = ("name", "kind", "valid", "parent", "version_of")
    features = [
        {
            "type": "Feature",
            "id": id_,
            "properties": dict(zip(names, told, strict=True)),
            "geometry": json.loads(geometry),
        }
        for _, geometry, id_, *told in rows
    ]
    regions = read_regions(to_json({"type": "FeatureCollection", "features": features}))
    return [KnownRegion(region, row[0]) for region, row in zip(regions, rows, strict=True)]


def footprints(conn: sqlite3.Connection, around: Iterable[Footprint]) -> list[Footprint]:
    """Gather the surveys that share their id, their tower or a bell with one of ``around``, oldest first.

    Bells that are bound to one of those, over any number of castings, count too.
    """
    around = list(around)
    bells = {bell.bell_id for each in around for bell in each.bells}
    bells |= {
        event.other_bell
        for each in around
        for bell in each.bells
        for event in bell.happenings
        if event.other_bell
    }
    bound = conn.execute(
        """
        WITH RECURSIVE bound (id) AS (
            SELECT value FROM json_each(?)
            UNION
            SELECT other_bell_id FROM bound JOIN lineage ON bell_id = bound.id
        )
        SELECT id FROM bound
        """,
        (to_json(sorted(bells)),),
    )
    bells |= {row[0] for row in bound}
    found = conn.execute(
        """
        SELECT survey.source_path, survey.as_written, survey.id, survey.kind, survey.date, survey.surveyors,
            survey.tower_id, latitude_deg, longitude_deg, accuracy_m
        FROM survey JOIN tower_seen ON tower_seen.survey_id = survey.id
        WHERE survey.id IN (SELECT value FROM json_each(:surveys))
            OR survey.tower_id IN (SELECT value FROM json_each(:towers))
            OR survey.id IN (
                SELECT survey_id FROM bell_seen WHERE bell_id IN (SELECT value FROM json_each(:bells))
            )
        ORDER BY survey.date, survey.id
        """,
        {
            "surveys": to_json([each.survey_id for each in around]),
            "towers": to_json([each.tower_id for each in around]),
            "bells": to_json(sorted(bells)),
        },
    ).fetchall()
    return [_footprint(conn, row) for row in found]


def _footprint(conn: sqlite3.Connection, row: tuple[Any, ...]) -> Footprint:
    path, as_written, survey_id, kind, date, surveyors, tower_id, latitude_deg, longitude_deg, accuracy_m = (
        row
    )
    line, column, _ = json.loads(as_written)["id"]
    tolerances = [
        tolerance
        for instrument, tolerance in conn.execute(
            "SELECT kind, tolerance_mm FROM instrument WHERE survey_id = ? AND tolerance_mm IS NOT NULL",
            (survey_id,),
        )
        if instrument in MEASURING
    ]
    return Footprint(
        path,
        line,
        column,
        survey_id,
        kind,
        date,
        tuple(json.loads(surveyors)),
        tower_id,
        latitude_deg,
        longitude_deg,
        tuple(_bell_footprints(conn, survey_id, max(tolerances, default=None))),
        accuracy_m,
    )


def _bell_footprints(
    conn: sqlite3.Connection, survey_id: str, tolerance: float | None
) -> Iterable[BellFootprint]:
    happenings: dict[str, list[Happening]] = {}
    for bell_id, *told in conn.execute(
        "SELECT bell_id, kind, date, tower, other_bell FROM event WHERE survey_id = ?"
        " ORDER BY bell_id, ordinal",
        (survey_id,),
    ):
        happenings.setdefault(bell_id, []).append(Happening(*(value or "" for value in told)))
    arrived = {
        bell_id for bell_id, events in happenings.items() if any(event.kind in ARRIVALS for event in events)
    }
    cracks: dict[str, list[tuple[int, str]]] = {}
    for bell_id, number, state in conn.execute(
        "SELECT bell_id, number, state FROM crack WHERE survey_id = ? ORDER BY bell_id, number", (survey_id,)
    ):
        cracks.setdefault(bell_id, []).append((number, state))
    for bell_id, as_written, status, material, diameter, readings, cast_date in conn.execute(
        """
        SELECT bell_seen.bell_id, bell_seen.as_written, status, material,
            mouth_diameter_mm, mouth_diameter_readings_mm, cast_date
        FROM bell_seen LEFT JOIN dimensions USING (survey_id, bell_id)
        WHERE bell_seen.survey_id = ? ORDER BY bell_seen.ordinal
        """,
        (survey_id,),
    ):
        line, column, _ = json.loads(as_written)["id"]
        read = json.loads(readings) if readings else []
        own = tolerance
        if len(read) > 1:
            own = (tolerance or 0.0) + (max(read) - min(read)) / 2
        told = cracks.get(bell_id, [])
        yield BellFootprint(
            bell_id,
            line,
            column,
            diameter,
            own,
            material,
            bell_id in arrived,
            tuple(number for number, state in told if state != "none"),
            tuple(number for number, _ in told),
            bool(told),
            status in GONE,
            cast_date or "",
            tuple(happenings.get(bell_id, ())),
        )


_FORM_KEY = {"bell_seen": "identity"} | {table: key for table, _, key in OF_BELL}
"""The key on the form that a table of single sections or of numbered items fills."""


def known_tower(conn: sqlite3.Connection, tower_id: str) -> KnownTower | None:
    """Give what the registry knows of a tower, as the surveyors wrote it; None where it has no such tower."""
    current = conn.execute("SELECT name, place FROM tower_current WHERE id = ?", (tower_id,)).fetchone()
    if current is None:
        return None
    name, place = current
    bells = conn.execute(
        "SELECT id, name FROM bell_current WHERE tower_id = ? ORDER BY position IS NULL, position, id",
        (tower_id,),
    ).fetchall()
    of_tower = "survey.tower_id = ?"
    sections = {
        key: _known_fields(TABLES[table], _rows(conn, TABLES[table], of_tower, tower_id))
        for key, table in (("tower", "tower_seen"), ("frame", "frame"))
    }
    return KnownTower(
        tower_id,
        name,
        place,
        {key: fields for key, fields in sections.items() if fields},
        _newest_list(conn, TABLES["hazard"], tower_id),
        _newest_list(conn, TABLES["not_inspected"], tower_id),
        tuple(_known_bell(conn, *bell) for bell in bells),
    )


def _known_bell(conn: sqlite3.Connection, bell_id: str, name: str | None) -> KnownBell:
    sections = {}
    for table in FACT_TABLES:
        fields = _known_fields(table, _rows(conn, table, f"{table.name}.bell_id = ?", bell_id))
        if fields:
            sections[_FORM_KEY[table.name]] = fields
    numbered: dict[str, Mapping[int, KnownFields]] = {}
    for table in TABLES.values():
        if table.of_bell and table.counted_by == "number":
            by_number: dict[int, list[sqlite3.Row]] = {}
            for row in _rows(conn, table, f"{table.name}.bell_id = ?", bell_id):
                by_number.setdefault(row["number"], []).append(row)
            if by_number:
                numbered[_FORM_KEY[table.name]] = {
                    number: _known_fields(table, rows) for number, rows in sorted(by_number.items())
                }
    return KnownBell(bell_id, name, sections, numbered)


def _rows(conn: sqlite3.Connection, table: SectionTable, where: str, id_: str) -> list[sqlite3.Row]:
    """Read the rows of a table for one tower or bell, the newest survey first."""
    cursor = conn.cursor()
    cursor.row_factory = sqlite3.Row
    joined = ""
    if table.of_bell and table.name != "bell_seen":
        # The way over bell_seen has an index.
        where = where.replace(table.name, "bell_seen", 1)
        joined = f" JOIN {table.name} USING (survey_id, bell_id)"
    first = "bell_seen" if joined else table.name
    order = f", {table.name}.{table.counted_by}" if table.counted_by else ""
    return cursor.execute(
        f"SELECT {table.name}.*, survey.as_of FROM {first}"
        f" JOIN survey ON survey.id = {first}.survey_id{joined} WHERE {where} ORDER BY {_NEWEST}{order}",
        (id_,),
    ).fetchall()


def _known_fields(table: SectionTable, rows: Collection[sqlite3.Row]) -> KnownFields:
    """Give the newest value of each field as written; what belongs together comes from one survey."""
    leaders = {field: group[0] for group in TOGETHER.get(table.name, ()) for field in (*group[0], *group[1])}
    known: dict[str, KnownValue] = {}
    for field in value_fields(table.section):
        told_by = leaders.get(field.name, (field.name,))
        row = next((row for row in rows if any(row[name] is not None for name in told_by)), None)
        if row is not None and row[field.name] is not None and field.name not in PER_SURVEY | {"number"}:
            text = _as_written(json.loads(row["as_written"]), field.name) or _shown(
                row[field.name], field.is_list
            )
            known[field.name] = KnownValue(text, row["survey_id"], row["as_of"])
    return known


def _as_written(written: Mapping[str, list[Any]], field: str) -> str:
    """Give the wording of a value; empty where the value is the wording."""
    if written.get(field, ["", "", ""])[2]:
        return str(written[field][2])
    items: list[str] = []
    while (item := f"{field}[{len(items)}]") in written:
        items.append(str(written[item][2]))
    return ", ".join(items) if any(items) else ""


def _shown(value: Any, is_list: bool) -> str:
    return ", ".join(map(str, json.loads(value))) if is_list else str(value)


def _newest_list(conn: sqlite3.Connection, table: SectionTable, tower_id: str) -> tuple[KnownFields, ...]:
    """Give the items of a list as the newest visit has it that names any."""
    rows = _rows(conn, table, "survey.kind = 'visit' AND survey.tower_id = ?", tower_id)
    return tuple(_known_fields(table, [row]) for row in rows if row["survey_id"] == rows[0]["survey_id"])
