"""What all surveys tell of some bells, newest first, and the facts that follow from it."""

import sqlite3
from collections import defaultdict
from collections.abc import Iterable, Sequence
from typing import Any, NamedTuple

from registry.model.bell_facts import Told
from registry.model.pitch import CENTS_PER_SIXTEENTH, GERMAN_A_HZ, ISO_A_HZ, frequency_of
from registry.store.rows import TABLES, to_json

Row = sqlite3.Row


class BellHistory(NamedTuple):
    """The rows of one bell by table, the newest survey first.

    Each row carries ``survey_id``; those of ``bell_seen`` also ``as_of``, ``kind`` and ``tower_id`` of their
    survey, those of ``TOLERATED`` the tolerances of its instruments.
    """

    bell_id: str
    bell_seen: list[Row]
    dimensions: list[Row]
    sound: list[Row]
    partial: list[Row]
    strike_point: list[Row]
    crack: list[Row]
    assessment: list[Row]
    inscription: list[Row]
    profile_point: list[Row]
    crown: list[Row]


_COLUMNS = {
    "bell_seen": "name position status material founder founder_id founder_certainty cast_text"
    " cast_year_begins cast_date dating_basis protected wartime_class title",
    "dimensions": "mouth_diameter_mm height_mm slant_height_mm shoulder_diameter_mm soundbow_thickness_mm"
    " waist_thickness_mm head_thickness_mm mouth_diameter_readings_mm mass_kg mass_basis mass_includes"
    " mass_tolerance_kg profile_class",
    "sound": "note note_cents note_sixteenths reference_hz strike_hz",
    "partial": "name frequency_hz",
    "strike_point": "number use pit_depth_mm thickness_at_pit_mm thickness_beside_mm",
    "crack": "number state side",
    "assessment": "component condition urgency",
    "inscription": "number transcription expansion translation direction technique",
    "profile_point": "height_mm diameter_mm thickness_mm",
    "crown": "kind",
}
"""By table: the columns that the current view, the computations or the search need."""

TOLERATED = frozenset({"dimensions", "sound", "strike_point", "profile_point"})
"""Tables whose readings are only as good as their instruments."""

_TOLERANCES = """
    (SELECT max(tolerance_hz) FROM instrument WHERE instrument.survey_id = survey.id) AS tolerance_hz,
    (SELECT max(tolerance_mm) FROM instrument WHERE instrument.survey_id = survey.id
        AND instrument.kind IN ('caliper', 'depth-gauge', 'feeler-gauge', 'template', 'ultrasonic')
    ) AS tolerance_mm,
    (SELECT max(tolerance_mm) FROM instrument WHERE instrument.survey_id = survey.id
        AND instrument.kind IN ('tape', 'rule', 'laser-distance', 'scanner', 'template', 'level')
    ) AS outside_tolerance_mm
"""
"""Of the instruments of the survey: for frequencies, for wall and pit, for the sizes of the outside."""


def _query(table: str) -> str:
    """Write the query for the rows of the bells in the table ``batch``.

    Newer knowledge comes first; two surveys that tell of one day stand in the order of their reading, then
    of their ids.
    """
    columns = [f"{table}.survey_id", "batch.id AS bell_id"]
    columns += [f"{table}.{column}" for column in _COLUMNS[table].split()]
    joined, order = (
        f"JOIN {table} ON {table}.bell_id = batch.id",
        "survey.as_of DESC, survey.date DESC, survey.id DESC",
    )
    if table == "bell_seen":
        columns += ["survey.as_of", "survey.kind", "survey.tower_id"]
    elif table == "assessment":
        joined = "JOIN assessment ON assessment.bell = batch.id"
    else:
        # The way over bell_seen has an index.
        joined = (
            "JOIN bell_seen ON bell_seen.bell_id = batch.id"
            f" JOIN {table} ON {table}.survey_id = bell_seen.survey_id AND {table}.bell_id = batch.id"
        )
    if table in TOLERATED:
        columns.append(_TOLERANCES)
    counted_by = TABLES[table].counted_by
    if counted_by:
        order += f", {table}.{counted_by}"
    return (
        f"SELECT {', '.join(columns)} FROM (SELECT value AS id FROM json_each(?)) AS batch {joined}"
        f" JOIN survey ON survey.id = {table}.survey_id ORDER BY {order}"
    )


_QUERIES = {table: _query(table) for table in _COLUMNS}


def read_histories(
    conn: sqlite3.Connection, bell_ids: Sequence[str], tables: Iterable[str] = _COLUMNS
) -> list[BellHistory]:
    """Read what all surveys tell of some bells; bells that no survey mentions are left out.

    Of ``tables``, ``bell_seen`` must be one; those left out are empty.
    """
    batch = to_json(list(bell_ids))
    cursor = conn.cursor()
    cursor.row_factory = Row
    by_table: dict[str, dict[str, list[Row]]] = {}
    for table in tables:
        rows: defaultdict[str, list[Row]] = defaultdict(list)
        for row in cursor.execute(_QUERIES[table], (batch,)):
            rows[row["bell_id"]].append(row)
        by_table[table] = rows
    return [
        BellHistory(id_, *(by_table.get(table, {}).get(id_, []) for table in _QUERIES))
        for id_ in bell_ids
        if id_ in by_table["bell_seen"]
    ]


def newest(rows: Iterable[Row], *fields: str) -> Row | None:
    """Give the newest row that has one of these fields."""
    for row in rows:
        for field in fields:
            if row[field] is not None:
                return row
    return None


def newest_value(rows: Iterable[Row], field: str) -> Any:
    """Give the newest value of a field; None where no survey has one."""
    row = newest(rows, field)
    return None if row is None else row[field]


def told(rows: Iterable[Row], field: str) -> Told | None:
    """Give the newest value of a field with its survey; None where no survey has one."""
    row = newest(rows, field)
    return None if row is None else Told(row[field], row["survey_id"])


def home_of(history: BellHistory) -> Row:
    """Give the entry that says where a bell belongs: the newest that does not have it moved away."""
    return next((row for row in history.bell_seen if row["status"] != "moved"), history.bell_seen[0])


def newest_strike(sounds: Iterable[Row]) -> tuple[Told | None, str | None]:
    """Give the newest strike note [Hz], and whether it was ``measured`` or follows from the ``note`` written.

    A note counts from the reference it names; without one, from a' = 435 Hz where its deviation is in
    sixteenths of a semitone, as in German reports, else from 440 Hz.
    """
    row = newest(sounds, "strike_hz", "note")
    if row is None:
        return None, None
    if row["strike_hz"] is not None:
        return Told(row["strike_hz"], row["survey_id"]), "measured"
    return Told(note_hz(row), row["survey_id"]), "note"


def note_hz(sound: Row) -> float:
    """Give the frequency [Hz] that a note as written means, with its deviation and its reference."""
    sixteenths = sound["note_sixteenths"]
    cents = sound["note_cents"] if sixteenths is None else sixteenths * CENTS_PER_SIXTEENTH
    reference_hz = sound["reference_hz"] or (ISO_A_HZ if sixteenths is None else GERMAN_A_HZ)
    return frequency_of(sound["note"], cents or 0.0, reference_hz)
