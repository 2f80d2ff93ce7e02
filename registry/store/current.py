"""The current view: of each fact the newest, what is computed from it, and where surveys disagree."""

import sqlite3
from collections.abc import Callable, Iterable, Iterator, Sequence
from typing import Any

from registry.derive.condition.seen import History
from registry.derive.dating.settings import circa_years
from registry.model.bell_facts import BellFacts, Computed
from registry.model.derived import Derived
from registry.model.edtf import parse_edtf
from registry.model.edtf_circa import widened
from registry.model.judged import JudgedBell
from registry.model.pitch import note_of, read_note
from registry.store.agreement import disagreements
from registry.store.bell_facts import facts_of_bell
from registry.store.history import (
    BellHistory,
    home_of,
    newest,
    newest_strike,
    newest_value,
    read_histories,
)
from registry.store.rows import Row, to_json
from registry.store.searchable import rows_of_words
from registry.store.seen import read_seen

BATCH = 500
"""Bells that are held in memory at a time."""

CRACK_STATES = ("none", "suspected", "confirmed")
"""From harmless to grave."""

Compute = Callable[[BellFacts], list[Computed]]
"""Computes the values of a bell."""

Judge = Callable[[History], JudgedBell]
"""Judges a bell by what all surveys tell of it."""


def refresh_bells(conn: sqlite3.Connection, compute: Compute, judge: Judge) -> int:
    """Write the current view and the computed values of every touched bell anew, and count these bells.

    The towers must be refreshed before: see :func:`registry.store.current_towers.refresh_towers`.
    """
    for table, key in _REPLACED.items():
        conn.execute(f"DELETE FROM {table} WHERE {key} IN (SELECT id FROM touched_bell)")
    touched = [row[0] for row in conn.execute("SELECT id FROM touched_bell ORDER BY id")]
    towers = {
        row[0]: row[1:]
        for row in conn.execute(
            "SELECT id, name, place, region, country, latitude_deg, longitude_deg, protection"
            " FROM tower_current"
        )
    }
    for start in range(0, len(touched), BATCH):
        batch = touched[start : start + BATCH]
        seen = read_seen(conn, batch)
        told = [
            (history, compute(facts_of_bell(history)), judge(seen[history.bell_id]))
            for history in read_histories(conn, batch)
        ]
        _write(conn, towers, told)
    return len(touched)


_REPLACED = {
    "derived": "bell_id",
    "to_do": "bell_id",
    "inspection_due": "bell_id",
    "disagreement": "bell_id",
    "cast_span": "bell_id",
    "bell_text": "bell_id",
    "damaged_word": "bell_id",
    "inscription_normalised": "bell_id",
    "inscription_formula": "bell_id",
    "bell_current": "id",
}


def _write(
    conn: sqlite3.Connection,
    towers: dict[str, Row],
    bells: list[tuple[BellHistory, list[Computed], JudgedBell]],
) -> None:
    rows: dict[str, list[Row]] = {table: [] for table in _REPLACED}
    for history, computed, judged in bells:
        bell_id = history.bell_id
        rows["derived"].extend(_derived_rows(bell_id, computed))
        rows["to_do"].extend((bell_id, place, *each) for place, each in enumerate(judged.to_do, start=1))
        rows["inspection_due"].extend(
            (bell_id, each.kind, each.due.isoformat() if each.due else None, each.why, each.source)
            for each in judged.due
        )
        rows["cast_span"].extend(_cast_spans(history))
        contradictions = list(disagreements(history))
        rows["disagreement"].extend(contradictions)
        current = bell_row(history, towers, computed, judged, len(contradictions))
        rows["bell_current"].append(tuple(current.values()))
        for table, words in rows_of_words(history, current).items():
            rows[table].extend(words)
    for table, of_table in rows.items():
        if of_table:
            places = ", ".join("?" * len(of_table[0]))
            conn.executemany(f"INSERT INTO {table} VALUES ({places})", of_table)


def _derived_rows(bell_id: str, computed: list[Computed]) -> Iterator[Row]:
    for ordinal, (subject, survey_id, rank, derived) in enumerate(computed, start=1):
        yield (
            bell_id,
            ordinal,
            survey_id,
            subject,
            derived.quantity,
            rank,
            derived.value,
            derived.unit,
            derived.low,
            derived.high,
            derived.level,
            derived.method,
            derived.version,
            to_json(derived.inputs),
            derived.source,
            derived.note,
        )


def _cast_spans(history: BellHistory) -> Iterator[Row]:
    """Give the years of casting: one span, or one for each member of a set."""
    text = newest_value(history.bell_seen, "cast_date")
    if text is not None:
        date = widened(parse_edtf(text), circa_years())
        for ordinal, member in enumerate(date.members or (date,), start=1):
            yield history.bell_id, ordinal, member.earliest_year, member.latest_year


def bell_row(
    history: BellHistory,
    towers: dict[str, Row],
    computed: list[Computed],
    judged: JudgedBell,
    contradictions: int,
) -> dict[str, Any]:
    """Make the row of ``bell_current``, its columns in the order of the table.

    ``towers`` gives name, place, region, country, latitude, longitude and protection by id.
    """
    seen, sizes = history.bell_seen, history.dimensions
    home = home_of(history)
    name, place, region, country, latitude_deg, longitude_deg, protection = towers[home["tower_id"]]
    founder = newest(seen, "founder", "founder_id")
    dated = newest(seen, "cast_date")
    date = widened(parse_edtf(dated["cast_date"]), circa_years()) if dated is not None else None
    mass = newest(sizes, "mass_kg")
    strike, strike_basis = newest_strike(history.sound)
    note = newest_value(history.sound, "note")
    estimates = {
        each.derived.quantity: each.derived
        for each in reversed(computed)
        if each.subject == "bell" and each.rank == 1
    }
    cracks = _cracks(history)
    loss, loss_survey_id = _soundbow_loss(history, computed)
    return {
        "id": history.bell_id,
        "name": newest_value(seen, "name"),
        "title": newest_value(seen, "title"),
        "tower_id": home["tower_id"],
        "tower_name": name,
        "place": place,
        "region": region,
        "country": country,
        "latitude_deg": latitude_deg,
        "longitude_deg": longitude_deg,
        "position": newest_value(seen, "position"),
        "status": newest_value(seen, "status"),
        "material": newest_value(seen, "material"),
        "founder": founder["founder"] if founder else None,
        "founder_id": founder["founder_id"] if founder else None,
        "founder_certainty": founder["founder_certainty"] if founder else None,
        "cast_text": newest_value(seen, "cast_text"),
        "cast_date": date.text if date else None,
        "cast_earliest_year": date.earliest_year if date else None,
        "cast_latest_year": date.latest_year if date else None,
        "dating_basis": dated["dating_basis"] if dated else None,
        "protected": newest_value(seen, "protected"),
        "protection": protection,
        "wartime_class": newest_value(seen, "wartime_class"),
        "mouth_diameter_mm": newest_value(sizes, "mouth_diameter_mm"),
        "height_mm": newest_value(sizes, "height_mm"),
        "soundbow_thickness_mm": newest_value(sizes, "soundbow_thickness_mm"),
        "profile_class": newest_value(sizes, "profile_class"),
        "mass_kg": mass["mass_kg"] if mass else None,
        "mass_basis": mass["mass_basis"] if mass else None,
        "mass_survey_id": mass["survey_id"] if mass else None,
        **_estimate("mass", "kg", estimates),
        "mass_agrees": _agrees(estimates),
        "strike_hz": strike.value if strike else None,
        "strike_basis": strike_basis,
        **_estimate("strike", "hz", estimates),
        "note": note,
        "note_name": _note_name(note, strike.value if strike else None),
        **cracks,
        "soundbow_loss_percent": loss,
        "soundbow_survey_id": loss_survey_id,
        "condition": worst_grade(history.assessment, "condition", ("bell", "crown", "clapper")),
        "urgency": worst_grade(history.assessment, "urgency"),
        "grade": judged.grade,
        "grade_at_least": judged.grade_at_least,
        "urgency_at_least": judged.urgency_at_least,
        "ringing": judged.ringing,
        "surveys": len(seen),
        "disagreements": contradictions,
        "last_survey_id": seen[0]["survey_id"],
        "last_survey_date": seen[0]["as_of"],
        "last_visit_date": next((row["as_of"] for row in seen if row["kind"] == "visit"), None),
    }


def _estimate(name: str, unit: str, estimates: dict[str, Derived]) -> dict[str, Any]:
    derived = estimates.get(f"{name}_{unit}")
    if derived is None or derived.value is None:
        value = low = high = method = None
    else:
        value, low, high, method = derived.value, derived.low, derived.high, derived.method
    return {
        f"{name}_estimate_{unit}": value,
        f"{name}_estimate_low_{unit}": low,
        f"{name}_estimate_high_{unit}": high,
        f"{name}_estimate_method": method,
    }


def _agrees(estimates: dict[str, Derived]) -> str | None:
    """Say whether the mass that was stated lies in the interval of the estimate."""
    ratio = estimates.get("weighed_to_estimated_ratio")
    if ratio is None or ratio.low is None or ratio.high is None:
        return None
    return "yes" if ratio.low <= 1.0 <= ratio.high else "no"


def _note_name(note: str | None, strike_hz: float | None) -> str | None:
    if note is not None:
        return read_note(note).scientific
    return None if strike_hz is None else note_of(strike_hz).scientific


def _cracks(history: BellHistory) -> dict[str, Any]:
    """Give the worst that the newest survey which tells of cracks has."""
    if not history.crack:
        return {"crack_state": None, "crack_through": None, "crack_survey_id": None}
    survey_id = history.crack[0]["survey_id"]
    cracks = [row for row in history.crack if row["survey_id"] == survey_id]
    return {
        "crack_state": max((row["state"] for row in cracks), key=CRACK_STATES.index),
        "crack_through": int(any(row["side"] == "through" and row["state"] != "none" for row in cracks)),
        "crack_survey_id": survey_id,
    }


def _soundbow_loss(history: BellHistory, computed: list[Computed]) -> tuple[float | None, str | None]:
    """Give the worst loss of the newest survey that tells; points that are no longer struck do not count."""
    old = {(row["survey_id"], row["number"]) for row in history.strike_point if row["use"] == "old"}
    losses = [
        (each.survey_id, each.derived.value)
        for each in computed
        if each.derived.quantity == "soundbow_loss_percent"
        and each.derived.value is not None
        and (each.survey_id, int(each.subject.partition(":")[2])) not in old
    ]
    if not losses:
        return None, None
    # The strike points stand newest survey first.
    survey_id = losses[0][0]
    return max(value for survey, value in losses if survey == survey_id), survey_id


def worst_grade(rows: Iterable[sqlite3.Row], grade: str, components: Sequence[str] = ()) -> int | None:
    """Give the worst of the newest grades of each component (all where none are named); None without any."""
    newest_grades: dict[str, int] = {}
    for row in rows:
        if row[grade] is not None and (not components or row["component"] in components):
            newest_grades.setdefault(row["component"], row[grade])
    return max(newest_grades.values(), default=None)
