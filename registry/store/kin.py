"""The known bells of a registry: those whose size, note or mass tells something of other bells.

The table ``known_bell`` follows from the surveys like the current view. A change in it touches other bells: a
mass from a scale those of the whole registry, a note those of its founder.
"""

import json
import sqlite3
from collections.abc import Iterator, Sequence
from typing import Any

from registry.derive.readings import hertz_tolerance_cents, note_tolerance_cents
from registry.model.edtf import parse_edtf
from registry.model.known_bell import KnownBell, Tolerances
from registry.store.history import (
    BellHistory,
    home_of,
    newest,
    newest_strike,
    newest_value,
    read_histories,
)

FROM_A_SCALE = frozenset({"weighed", "founder-record"})
"""Ways to obtain a mass that can speak for other bells."""

WIDEST_DATING = 40
"""Years that a date may leave open and still count as a year of casting."""

TABLES = ("bell_seen", "dimensions", "sound", "partial")
"""What must be read of a bell to know its kin."""

BATCH = 2000


def kin_of(history: BellHistory) -> KnownBell | None:
    """Give a bell as it can speak for others, or ask them; None without a mouth diameter."""
    size = newest(history.dimensions, "mouth_diameter_mm")
    if size is None:
        return None
    founder = newest(history.bell_seen, "founder_id", "founder")
    strike, _ = newest_strike(history.sound)
    strike_hz = strike.value if strike else None
    if strike_hz is None:
        nominal_hz = next((row["frequency_hz"] for row in history.partial if row["name"] == "nominal"), None)
        strike_hz = None if nominal_hz is None else nominal_hz / 2.0
    mass = newest(history.dimensions, "mass_kg")
    alone = mass is not None and mass["mass_basis"] in FROM_A_SCALE and not _includes(mass)
    return KnownBell(
        history.bell_id,
        (founder["founder_id"] or founder["founder"]) if founder else "",
        home_of(history)["tower_id"],
        _cast_year(history),
        size["mouth_diameter_mm"],
        strike_hz,
        mass["mass_kg"] if mass is not None and alone else None,
        mass["mass_tolerance_kg"] if mass is not None and alone else None,
        Tolerances(_of_size(size), _of_strike(history), _of_soundbow(history)),
    )


def _includes(mass: sqlite3.Row) -> list[str]:
    """List what was weighed along with the bell."""
    parts: list[str] = json.loads(mass["mass_includes"] or "[]")
    return parts


def _cast_year(history: BellHistory) -> int | None:
    """Give the middle of the years a bell can have been cast in; None where they are far apart."""
    text = newest_value(history.bell_seen, "cast_date")
    date = parse_edtf(text) if text is not None else None
    if date is None or date.earliest_year is None or date.latest_year is None:
        return None
    if date.latest_year - date.earliest_year > WIDEST_DATING:
        return None
    return (date.earliest_year + date.latest_year) // 2


def _of_size(size: sqlite3.Row) -> float:
    """Give how far the mouth diameter can be trusted [mm]: by its readings, or by its instrument."""
    readings: list[float] = json.loads(size["mouth_diameter_readings_mm"] or "[]")
    half_range = (max(readings) - min(readings)) / 2.0 if readings else 0.0
    return float(max(half_range, size["outside_tolerance_mm"] or 0.0))


def _of_strike(history: BellHistory) -> float:
    """Give how far the strike note can be trusted [cents]: measured, or written as a note."""
    row = newest(history.sound, "strike_hz", "note")
    if row is None:
        return 0.0
    if row["strike_hz"] is not None:
        return hertz_tolerance_cents(row["strike_hz"], row["tolerance_hz"])
    deviates = row["note_cents"] is not None or row["note_sixteenths"] is not None
    return note_tolerance_cents(with_deviation=deviates, with_reference=row["reference_hz"] is not None)


def _of_soundbow(history: BellHistory) -> float:
    """Give how far the thickness of the sound-bow can be trusted [mm]; 0 where nothing is told."""
    row = newest(history.dimensions, "soundbow_thickness_mm")
    return 0.0 if row is None else float(row["tolerance_mm"] or 0.0)


Entry = tuple[Any, ...]
"""A row of ``known_bell``."""


def _entry(history: BellHistory) -> Entry | None:
    """Make the row of a bell; None where it tells nothing of others."""
    kin, material = kin_of(history), newest_value(history.bell_seen, "material")
    if kin is None or material in (None, "unknown") or (kin.strike_hz is None and kin.mass_kg is None):
        return None
    trusted = kin.tolerances
    return (
        kin.bell_id,
        material,
        kin.founder,
        kin.tower,
        kin.cast_year,
        kin.mouth_diameter_mm,
        kin.strike_hz,
        kin.mass_kg,
        kin.mass_tolerance_kg,
        trusted.mouth_diameter_mm,
        trusted.strike_cents,
    )


MASS, FOUNDER, TOWER = 7, 2, 3
"""Places in a row of ``known_bell``."""


def refresh_kin(conn: sqlite3.Connection) -> None:
    """Write the known bells among the touched ones anew, and touch the bells for which they speak."""
    touched = [row[0] for row in conn.execute("SELECT id FROM touched_bell ORDER BY id")]
    before = {
        row[0]: tuple(row)
        for row in conn.execute("SELECT * FROM known_bell WHERE bell_id IN (SELECT id FROM touched_bell)")
    }
    after: dict[str, Entry] = {}
    for start in range(0, len(touched), BATCH):
        for history in read_histories(conn, touched[start : start + BATCH], TABLES):
            entry = _entry(history)
            if entry is not None:
                after[history.bell_id] = entry
    changed = [
        entry
        for bell_id in touched
        if before.get(bell_id) != after.get(bell_id)
        for entry in (before.get(bell_id), after.get(bell_id))
        if entry is not None
    ]
    if not changed:
        return
    conn.execute("DELETE FROM known_bell WHERE bell_id IN (SELECT id FROM touched_bell)")
    places = ", ".join("?" * len(next(iter(after.values()), changed[0])))
    conn.executemany(f"INSERT INTO known_bell VALUES ({places})", after.values())
    _touch_for(conn, changed)


def _touch_for(conn: sqlite3.Connection, changed: Sequence[Entry]) -> None:
    """Touch the bells for which changed ones speak: all for a mass, the founder's for a note."""
    if any(entry[MASS] is not None for entry in changed):
        conn.execute("INSERT OR IGNORE INTO touched_bell SELECT id FROM bell")
        return
    names = {entry[FOUNDER].casefold() for entry in changed} - {""}
    towers = {entry[TOWER] for entry in changed if not entry[FOUNDER]}
    seen = conn.execute(
        "SELECT bell_id, coalesce(founder_id, founder, ''), tower_id FROM bell_seen"
        " JOIN survey ON survey.id = bell_seen.survey_id"
    ).fetchall()
    conn.executemany(
        "INSERT OR IGNORE INTO touched_bell VALUES (?)",
        ((bell_id,) for bell_id, founder, tower in seen if founder.casefold() in names or tower in towers),
    )


def read_kin(conn: sqlite3.Connection) -> Iterator[tuple[str, KnownBell]]:
    """Give the known bells of a registry, each with its material, in the order of their ids."""
    rows = conn.execute(
        "SELECT material, bell_id, founder, tower_id, cast_year, mouth_diameter_mm, strike_hz, mass_kg,"
        " mass_tolerance_kg, mouth_diameter_tolerance_mm, strike_tolerance_cents"
        " FROM known_bell ORDER BY bell_id"
    )
    for material, *known, of_size, of_strike in rows:
        yield material, KnownBell._make([*known, Tolerances(of_size, of_strike)])
