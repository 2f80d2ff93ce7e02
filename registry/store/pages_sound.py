"""What the pages read to set bells side by side: masses with sizes, and the notes of a ring."""

import json
import sqlite3
from typing import NamedTuple

from registry.store.pages import GONE, Row, dict_rows

INDEPENDENT = ("weighed", "founder-record", "inscribed")
"""Ways to obtain a mass that do not rest on the sizes."""


class MassOnRecord(NamedTuple):
    """A bell with its size and a mass that was not computed from it."""

    bell_id: str
    name: str | None
    mouth_diameter_mm: float
    mass_kg: float
    mass_basis: str


class NoteOfRing(NamedTuple):
    """A bell of a ring with its strike note [Hz].

    ``strike_basis`` is ``recording``, ``measured``, ``note`` or ``nominal``. ``exactly`` tells whether a note
    came with its deviation. ``tolerance_hz`` is the largest error that the survey states, None if it does
    not.
    """

    bell_id: str
    name: str | None
    strike_hz: float
    strike_basis: str
    exactly: bool
    tolerance_hz: float | None


def read_masses_about(
    conn: sqlite3.Connection, material: str, mouth_diameter_mm: float, most: int, besides: str = ""
) -> list[MassOnRecord]:
    """List the bells of a material whose mass is on record, the ``most`` nearest in size on either side.

    ``besides`` is a bell that is left out.
    """
    found = []
    for side, order in (("<", "DESC"), (">=", "ASC")):
        sql = f"""
            SELECT id, name, mouth_diameter_mm, mass_kg, mass_basis FROM bell_current
            WHERE material = ? AND mouth_diameter_mm {side} ? AND mass_kg IS NOT NULL AND id <> ?
                AND mass_basis IN ({", ".join("?" * len(INDEPENDENT))})
            ORDER BY mouth_diameter_mm {order}, id LIMIT ?
        """
        found += conn.execute(sql, (material, mouth_diameter_mm, besides, *INDEPENDENT, most)).fetchall()
    return [MassOnRecord(*row) for row in sorted(found, key=lambda row: (row[2], row[0]))]


def read_ring(conn: sqlite3.Connection, tower_id: str) -> list[NoteOfRing]:
    """List the bells that a tower has now and whose note is known by hearing, lowest note first.

    A note that is only to be expected of the size is none. What the newest recording tells is the surest;
    without one, what the survey gives; without that half the nominal that was read.
    """
    sql = f"""
        WITH heard AS (
            SELECT recording.bell_id, told.value,
                row_number() OVER (
                    PARTITION BY recording.bell_id
                    ORDER BY survey.as_of DESC, survey.date DESC, survey.id DESC, recording.ordinal
                ) AS age
            FROM recording JOIN survey ON survey.id = recording.survey_id
            JOIN recording_value AS told ON told.survey_id = recording.survey_id
                AND told.ordinal = recording.ordinal
                AND told.quantity = 'strike_hz' AND told.value IS NOT NULL
        )
        SELECT bell.id, bell.name,
            coalesce(heard.value, bell.strike_hz, derived.value) AS strike_hz,
            CASE WHEN heard.value IS NOT NULL THEN 'recording'
                WHEN bell.strike_hz IS NULL THEN 'nominal' ELSE bell.strike_basis END,
            EXISTS (
                SELECT 1 FROM current_fact WHERE bell_id = bell.id AND section = 'sound'
                    AND field IN ('note_cents', 'note_sixteenths')
            ),
            (
                SELECT max(instrument.tolerance_hz) FROM current_fact
                JOIN instrument ON instrument.survey_id = current_fact.survey_id
                WHERE current_fact.bell_id = bell.id AND section = 'sound' AND field = 'strike_hz'
            )
        FROM bell_current AS bell
        LEFT JOIN heard ON heard.bell_id = bell.id AND heard.age = 1
        LEFT JOIN derived ON derived.bell_id = bell.id AND derived.subject = 'bell'
            AND derived.quantity = 'strike_hz' AND derived.rank = 1 AND derived.method = 'half-nominal'
        WHERE bell.tower_id = ? AND coalesce(bell.status, '') NOT IN ({", ".join("?" * len(GONE))})
            AND coalesce(heard.value, bell.strike_hz, derived.value) IS NOT NULL
        ORDER BY 3, bell.id
    """
    rows = conn.execute(sql, (tower_id, *GONE)).fetchall()
    return [NoteOfRing(*row)._replace(exactly=bool(row[4])) for row in rows]


def read_recordings(conn: sqlite3.Connection, bell_id: str) -> list[tuple[Row, dict[str, Row]]]:
    """List the analysed recordings of a bell, the newest first, each with its values by quantity."""
    sql = """
        SELECT recording.*, survey.as_of, survey.date AS survey_date
        FROM recording JOIN survey ON survey.id = recording.survey_id
        WHERE recording.bell_id = ?
        ORDER BY survey.as_of DESC, survey.date DESC, survey.id DESC, recording.ordinal
    """
    found = []
    for row in dict_rows(conn, sql, (bell_id,)):
        values = dict_rows(
            conn,
            "SELECT * FROM recording_value WHERE survey_id = ? AND ordinal = ? ORDER BY number DESC",
            (row["survey_id"], row["ordinal"]),
        )
        signs = json.loads(row["signs"])
        found.append(({**row, "signs": signs}, {each["quantity"]: each for each in values}))
    return found
