"""The dates a bell bears beside the date that was entered: as cast, possible readings, entered."""

from collections.abc import Mapping, Sequence
from typing import Any, NamedTuple

from registry.derive.dating.chronogram import chronogram
from registry.derive.dating.of_bell import QUANTITY
from registry.derive.dating.settings import circa_words, circa_years
from registry.model.edtf import EdtfDate, parse_edtf
from registry.store.pages import Row
from registry.wording.words import term


class ReadingShown(NamedTuple):
    """One reading: its year or years, how it was got, and whether the date entered can mean it."""

    years: str
    how: str
    doubts: list[str]
    fits: bool | None
    likeliest: bool


class TextShown(NamedTuple):
    """One expression on the bell with its readings, the likeliest first."""

    where: str
    expression: str
    survey_id: str
    readings: list[ReadingShown]
    sums: list[tuple[int, str]]
    """Every sum of its numeral letters with the rules, where letters are marked as numerals."""


class DatesShown(NamedTuple):
    """All that the bell says of its date.

    ``contradicts`` tells that no reading is a year of the date entered, ``plain`` that there are only plain
    figures; ``circa`` is empty where nothing was
    widened.
    """

    texts: list[TextShown]
    entered: str | None
    basis: str
    begins: str
    contradicts: bool
    plain: bool
    circa: str
    version: int
    source: str


def dates_shown(
    derived: Sequence[Row], bell: Mapping[str, Any], facts: Mapping[Any, Any]
) -> DatesShown | None:
    """Word the readings of the dates on a bell; None where there is none.

    Parameters
    ----------
    derived : sequence of Row
        What is computed of the bell.
    bell : mapping
        Its row of ``bell_current``.
    facts : mapping
        Values by table and field.
    """
    rows = [row for row in derived if row["quantity"] == QUANTITY]
    if not rows:
        return None
    entered = parse_edtf(bell["cast_date"]) if bell["cast_date"] else None
    shown = _texts(rows, entered, bell["cast_text"] or "")
    fitting = [reading.fits for text in shown for reading in text.readings]
    begins = facts.get(("bell_seen", "cast_year_begins"))
    wide = circa_years() if entered is not None and entered.approximate else 0
    return DatesShown(
        shown,
        bell["cast_date"],
        term("dating_basis", bell["dating_basis"]) if bell["dating_basis"] else "",
        term("year_begins", begins) if begins else "",
        entered is not None and not any(fitting),
        all(row["inputs"]["notation"] == "figures" for row in rows),
        circa_words(wide) if wide else "",
        rows[0]["version"],
        rows[0]["source"],
    )


def _texts(rows: Sequence[Row], entered: EdtfDate | None, cast_text: str) -> list[TextShown]:
    """Put the readings of one expression together, and expressions that read alike."""
    by_place: dict[tuple[str, str], list[ReadingShown]] = {}
    surveys: dict[tuple[str, str], str] = {}
    for row in sorted(rows, key=lambda row: (row["subject"], row["rank"])):
        whole = cast_text if row["subject"] == "cast-text" else ""
        key = (_where(row["subject"]), (whole or row["inputs"]["text"]).strip())
        by_place.setdefault(key, []).append(_reading(row, entered))
        surveys[key] = row["survey_id"]
    found: list[TextShown] = []
    for (where, expression), readings in by_place.items():
        text = TextShown(where, expression, surveys[where, expression], readings, _sums(expression))
        same = next((each for each in found if each.readings == readings), None)
        if same is None:
            found.append(text)
        else:
            found[found.index(same)] = same._replace(where=f"{same.where}, {where}")
    return found


def _sums(expression: str) -> list[tuple[int, str]]:
    """List the sums of a chronogram by every rule."""
    found = chronogram(expression)
    if found is None or not found.marked:
        return []
    return [(each.sum, "; ".join(each.rules)) for each in found.sums]


def _reading(row: Row, entered: EdtfDate | None) -> ReadingShown:
    first, last = int(row["low"]), int(row["high"])
    how, *doubts = row["note"].split("; ")
    return ReadingShown(
        str(first) if first == last else f"{first} to {last}",
        how,
        doubts,
        None if entered is None else entered.possibly_within(first, last),
        row["rank"] == 1,
    )


def _where(subject: str) -> str:
    kind, _, number = subject.partition(":")
    return "date on the bell" if kind == "cast-text" else f"inscription {number.replace(':', ', read ')}"


def numeral_letters(text: str | None) -> list[tuple[str, bool]]:
    """Part a transcription into pieces, the letters of a chronogram apart and marked.

    Where nothing marks letters as numerals, the text is one piece.
    """
    if not text:
        return []
    found = chronogram(text)
    if found is None or not found.marked:
        return [(text, False)]
    pieces, last = [], 0
    for place in found.places:
        if place > last:
            pieces.append((text[last:place], False))
        pieces.append((text[place], True))
        last = place + 1
    return [*pieces, (text[last:], False)] if last < len(text) else pieces


def circa_note() -> str:
    """Say that this registry widens approximate dates; empty where it does not, as shipped."""
    years = circa_years()
    return f"Dates marked approximate: {circa_words(years).partition(': ')[2]}." if years else ""


GLOBALS = {"circa_note": circa_note}
"""Functions of the templates."""

FILTERS = {"numeral_letters": numeral_letters}
"""Filters of the templates."""
