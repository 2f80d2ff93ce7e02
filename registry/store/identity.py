"""The records of a registry as they are compared with a bell that turned up, or with each other.

Nothing is stored for it: what is compared is read from the surveys when it is asked for, and kept by whoever
asks as long as the registry is the same.
"""

import json
import sqlite3
from collections import defaultdict
from collections.abc import Iterable, Mapping
from typing import Any

from registry.derive.identity.facts import (
    Facts,
    Record,
    diameter_sd,
    mass_sd,
    spans_of,
    strike_sd_cents,
    widened,
)
from registry.derive.identity.letters import plain_letters
from registry.derive.identity.lives import Life, Sighting, Tie
from registry.derive.identity.rules import rules
from registry.model.edtf import parse_edtf
from registry.store.pages import dict_rows
from registry.store.rows import to_json

Row = dict[str, Any]

_NEWEST = "survey.kind = 'visit' DESC, survey.as_of DESC, survey.date DESC, survey.id DESC"
"""What was measured on the bell before what a document says, then the newest."""

_READABLE = frozenset({"full", "mostly", None})
"""Legibilities at which a reading has nearly all of an inscription."""


def read_records(conn: sqlite3.Connection) -> list[Record]:
    """Read all bells of a registry as records to compare with, by id."""
    told = {name: _by_bell(conn, sql) for name, sql in _TOLD.items()}
    return [
        Record(
            bell["id"],
            _facts(bell, {name: rows.get(bell["id"], []) for name, rows in told.items()}),
            bell["status"],
            int(bell["last_visit_date"][:4]) if bell["last_visit_date"] else None,
        )
        for bell in dict_rows(conn, _BELLS)
    ]


_BELLS = """
    SELECT bell_current.id, bell_current.status, bell_current.material, founder_certainty, cast_date,
        bell_current.strike_hz, strike_basis, last_visit_date, strike_tolerance_cents
    FROM bell_current LEFT JOIN known_bell ON known_bell.bell_id = bell_current.id ORDER BY bell_current.id
"""

_TOLD = {
    "sizes": f"""
        SELECT dimensions.bell_id, mouth_diameter_mm, mouth_diameter_readings_mm,
            mass_kg, mass_basis, mass_includes, mass_tolerance_kg, survey.kind = 'document' AS document
        FROM dimensions JOIN survey ON survey.id = dimensions.survey_id ORDER BY {_NEWEST}
    """,
    "partials": f"""
        SELECT partial.bell_id, partial.survey_id, partial.name, frequency_hz
        FROM partial JOIN survey ON survey.id = partial.survey_id ORDER BY {_NEWEST}, partial.ordinal
    """,
    "inscriptions": f"""
        SELECT inscription.bell_id, joined, iif(joined IS NULL, expansion, NULL) AS expansion, legibility,
            survey.kind = 'document' AS document
        FROM inscription JOIN survey ON survey.id = inscription.survey_id
        LEFT JOIN inscription_normalised AS letters ON letters.bell_id = inscription.bell_id
            AND letters.survey_id = inscription.survey_id AND letters.number = inscription.number
        WHERE joined IS NOT NULL OR expansion IS NOT NULL OR legibility = 'none'
        ORDER BY {_NEWEST}, inscription.number, backwards
    """,
    "crowns": f"""
        SELECT crown.bell_id, crown.kind, loops
        FROM crown JOIN survey ON survey.id = crown.survey_id ORDER BY {_NEWEST}
    """,
    "founders": f"""
        SELECT bell_seen.bell_id, founder, founder_id
        FROM bell_seen JOIN survey ON survey.id = bell_seen.survey_id
        WHERE founder IS NOT NULL OR founder_id IS NOT NULL ORDER BY {_NEWEST}
    """,
}
"""What else is read of each bell, best source first."""


def _by_bell(conn: sqlite3.Connection, sql: str) -> dict[str, list[Row]]:
    rows: defaultdict[str, list[Row]] = defaultdict(list)
    for row in dict_rows(conn, sql):
        rows[row["bell_id"]].append(row)
    return rows


def _facts(bell: Row, told: Mapping[str, list[Row]]) -> Facts:
    """Put the facts of one bell together, each from the survey that knows it best."""
    facts = Facts(
        material=_told(bell["material"]),
        **_sizes(told["sizes"]),
        **_strike(bell),
        **_founder(bell, told["founders"]),
    )
    if bell["cast_date"]:
        facts = facts._replace(cast_years=widened(spans_of(parse_edtf(bell["cast_date"])), bell["cast_date"]))
    partials, inscriptions, crowns = told["partials"], told["inscriptions"], told["crowns"]
    if partials:
        newest = partials[0]["survey_id"]
        tones = {row["name"]: row["frequency_hz"] for row in reversed(partials) if row["survey_id"] == newest}
        facts = facts._replace(partials_hz=tones)
    if inscriptions:
        read = _readings(inscriptions)
        facts = facts._replace(inscription=read, inscription_gaps=_gaps(inscriptions), wordless=not read)
    crown = next((row["kind"] for row in crowns if row["kind"] is not None), None)
    loops = next((row["loops"] for row in crowns if row["loops"] is not None), None)
    return facts._replace(crown=_told(crown), loops=loops)


def _sizes(rows: list[Row]) -> dict[str, Any]:
    facts: dict[str, Any] = {}
    size = next((row for row in rows if row["mouth_diameter_mm"] is not None), None)
    if size is not None:
        mm = facts["mouth_diameter_mm"] = size["mouth_diameter_mm"]
        readings: list[float] = json.loads(size["mouth_diameter_readings_mm"] or "[]")
        half_mm = (max(readings) - min(readings)) / 2.0 if readings else 0.0
        facts["diameter_sd"] = diameter_sd(mm, half_mm, document=bool(size["document"]))
    mass = next((row for row in rows if row["mass_kg"] is not None), None)
    if mass is not None:
        kg = facts["mass_kg"] = mass["mass_kg"]
        more = json.loads(mass["mass_includes"] or "[]") not in ([], ["bell"])
        tolerance_kg = mass["mass_tolerance_kg"] or 0.0
        facts["mass_sd"] = mass_sd(kg, mass["mass_basis"], tolerance_kg, with_fittings=more)
    return facts


def _strike(bell: Row) -> dict[str, Any]:
    if bell["strike_hz"] is None:
        return {}
    tolerance_cents = bell["strike_tolerance_cents"]
    if tolerance_cents is None:
        written = bell["strike_basis"] == "note"
        tolerance_cents = float(rules()["strike"]["note_tolerance_cents"]) if written else 0.0
    return {"strike_hz": bell["strike_hz"], "strike_sd_cents": strike_sd_cents(tolerance_cents)}


def _told(word: str | None) -> str | None:
    return None if word in (None, "unknown", "other") else word


def _founder(bell: Row, founders: list[Row]) -> dict[str, Any]:
    names = dict.fromkeys(row[name] for row in founders for name in ("founder_id", "founder") if row[name])
    return {"founder": tuple(names), "founder_certainty": bell["founder_certainty"] or "unknown"}


def _readings(inscriptions: Iterable[Row]) -> tuple[str, ...]:
    texts = (row["joined"] or (row["expansion"] and plain_letters(row["expansion"])) for row in inscriptions)
    return tuple(dict.fromkeys(text for text in texts if text))


def _gaps(inscriptions: list[Row]) -> float:
    """Give the chance that a passage is not among the readings: small once a visit could read nearly all."""
    rule = rules()["inscription"]
    read = any(not row["document"] and row["legibility"] in _READABLE for row in inscriptions)
    return float(rule["gaps" if read else "gaps_document"])


def read_lives(conn: sqlite3.Connection, bell_ids: Iterable[str]) -> dict[str, Life]:
    """Read where and when some bells were seen, and which others their events name."""
    batch = to_json(sorted(set(bell_ids)))
    seen: defaultdict[str, list[Sighting]] = defaultdict(list)
    for bell_id, *row, status, survey_id in conn.execute(
        """
        SELECT bell_id, tower_id, as_of, survey.kind = 'visit', status, survey.id
        FROM bell_seen JOIN survey ON survey.id = bell_seen.survey_id
        WHERE bell_id IN (SELECT value FROM json_each(?)) ORDER BY bell_id, as_of, survey.id
        """,
        (batch,),
    ):
        seen[bell_id].append(Sighting(row[0], row[1], bool(row[2]), status, survey_id))
    ties: defaultdict[str, list[Tie]] = defaultdict(list)
    for bell_id, *tie in conn.execute(
        """
        SELECT DISTINCT bell_id, kind, other_bell, survey_id FROM event
        WHERE other_bell IS NOT NULL AND bell_id IN (SELECT value FROM json_each(?)) ORDER BY 1, 2, 3, 4
        """,
        (batch,),
    ):
        ties[bell_id].append(Tie(*tie))
    return {bell_id: Life(tuple(rows), tuple(ties[bell_id])) for bell_id, rows in seen.items()}


def read_named(conn: sqlite3.Connection, bell_ids: Iterable[str]) -> dict[str, Row]:
    """Read the rows of ``bell_current`` of some bells, by id."""
    batch = to_json(sorted(set(bell_ids)))
    sql = "SELECT * FROM bell_current WHERE id IN (SELECT value FROM json_each(?))"
    return {row["id"]: row for row in dict_rows(conn, sql, (batch,))}


def read_transcriptions(conn: sqlite3.Connection, bell_ids: Iterable[str]) -> dict[str, str]:
    """Read the inscriptions of some bells as transcribed, each as the survey has it that knows it best."""
    batch = to_json(sorted(set(bell_ids)))
    sql = f"""
        SELECT inscription.bell_id, inscription.number, coalesce(transcription, expansion) AS words
        FROM inscription JOIN survey ON survey.id = inscription.survey_id
        WHERE inscription.bell_id IN (SELECT value FROM json_each(?))
            AND coalesce(transcription, expansion) IS NOT NULL
        ORDER BY {_NEWEST}, inscription.number
    """
    lines: dict[str, dict[int, str]] = {}
    for row in dict_rows(conn, sql, (batch,)):
        lines.setdefault(row["bell_id"], {}).setdefault(row["number"], row["words"].strip())
    return {bell_id: " / ".join(text for _, text in sorted(own.items())) for bell_id, own in lines.items()}
