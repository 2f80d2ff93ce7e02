"""Where surveys disagree on what does not change: the newest value, and the newest that contradicts it."""

import math
import sqlite3
import unicodedata
from collections.abc import Iterator
from functools import cache
from typing import Any

import yaml

from registry.model.edtf import parse_edtf
from registry.model.fields import Edtf, Kind, Note, Quantity, Term
from registry.model.pitch import cents_between
from registry.resources import shipped_text
from registry.store.facts import CONSTANT, FACT_TABLES
from registry.store.history import BellHistory, note_hz
from registry.store.tables import value_fields


@cache
def _tolerances() -> dict[str, tuple[float, float]]:
    rules: dict[str, dict[str, Any]] = yaml.safe_load(shipped_text("schema", "rules", "agreement.yaml"))
    return {unit: (float(rule["share"]), float(rule["least"])) for unit, rule in rules.items()}


@cache
def _kinds(table: str) -> dict[str, Kind]:
    """Give the kinds of the fields of a table on which surveys should agree, in the order of the form."""
    section = next(each.section for each in FACT_TABLES if each.name == table)
    return {
        field.name: field.kind
        for field in value_fields(section)
        if field.kind is not None and field.name in CONSTANT[table]
    }


def contradicts(kind: Kind, value: Any, other: Any) -> bool:
    """Say whether two values of one field cannot both be right.

    Sizes contradict beyond the tolerance of ``schema/rules/agreement.yaml``, dates where no year fits both,
    terms and words where they differ; ``unknown`` contradicts nothing. Notes, which need their reference,
    are held by ``note_contradicts``.
    """
    if value == other:
        return False
    match kind:
        case Quantity(unit):
            share, least = _tolerances()[unit]
            return bool(abs(value - other) > max(share * abs(value), least))
        case Term():
            return "unknown" not in (value, other)
        case Edtf():
            date, other_date = parse_edtf(value), parse_edtf(other)
            return not any(
                other_date.possibly_within(member.earliest_year, member.latest_year)
                for member in date.members or (date,)
            )
    return _letters(value) != _letters(other)


def note_contradicts(sound: sqlite3.Row, other: sqlite3.Row) -> bool:
    """Say whether two notes as written cannot be one tone.

    One tone may have two names: 478 Hz is A sharp at a' = 440 Hz and h' at a' = 435 Hz. A note without its
    deviation in cents or sixteenths stands for a semitone, half of it to either side.
    """
    share, _ = _tolerances()["hz"]
    allowed_cents = 1200.0 * math.log2(1.0 + share)
    allowed_cents += 50.0 * sum(
        row["note_cents"] is None and row["note_sixteenths"] is None for row in (sound, other)
    )
    return abs(cents_between(note_hz(sound), note_hz(other))) > allowed_cents


def _letters(text: str) -> str:
    """Give the letters and digits of a text alone, without capitals."""
    return "".join(letter for letter in unicodedata.normalize("NFKC", text).casefold() if letter.isalnum())


def disagreements(history: BellHistory) -> Iterator[tuple[Any, ...]]:
    """Give the rows of the table ``disagreement`` for one bell."""
    if len(history.bell_seen) < 2:
        return
    for table in CONSTANT:
        rows: list[sqlite3.Row] = getattr(history, table)
        for field, kind in _kinds(table).items():
            told = [row for row in rows if row[field] is not None]
            for row in told[1:]:
                if _same_founder(field, told[0], row):
                    continue
                apart = (
                    note_contradicts(told[0], row)
                    if isinstance(kind, Note)
                    else contradicts(kind, told[0][field], row[field])
                )
                if apart:
                    yield (
                        history.bell_id,
                        table,
                        field,
                        told[0][field],
                        told[0]["survey_id"],
                        row[field],
                        row["survey_id"],
                    )
                    break


def _same_founder(field: str, row: sqlite3.Row, other: sqlite3.Row) -> bool:
    """Say whether two ways to write a founder carry one id."""
    return field == "founder" and row["founder_id"] is not None and row["founder_id"] == other["founder_id"]
