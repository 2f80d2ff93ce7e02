"""How fields, terms, numbers and dates are worded for people."""

import json
import re
from collections.abc import Callable
from functools import cache
from typing import Any

from registry.model.edtf import EdtfDate, EdtfError, parse_edtf
from registry.model.fields import Coordinate, Edtf, Field, Quantity, Term, Text, section_fields
from registry.model.vocabulary import label_of
from registry.store.tables import SECTION_TABLES
from registry.units import format_estimate, format_quantity, unit_of

GRADES = {
    "condition": ("no symptoms", "slight", "marked", "grave"),
    "urgency": ("can wait", "within years", "soon", "at once"),
    "recommendation": ("nothing", "upkeep", "repair or closer look", "major work after diagnosis"),
}
"""The four steps of a judgement, as the form words them."""

SEVERITIES = {3: "at once", 2: "soon", 1: "when there is time"}
"""How soon a finding asks for attention."""

SECTION_TITLES = {
    "bell_seen": "Identity",
    "dimensions": "Sizes and mass",
    "sound": "Sound by hand",
    "crown": "Crown",
    "clapper": "Clapper",
    "fittings": "Fittings",
    "ringing": "Ringing",
}
"""Headings of the tables with at most one row per bell and survey, in the order of the page."""

FINDING_TITLES = {
    "crack-through": "Cracks through the wall",
    "crack-confirmed": "Cracks",
    "crack-no-longer-told": "Cracks no longer mentioned",
    "crack-welded": "Welded cracks",
    "worn-soundbow": "Worn sound-bows",
    "urgency-at-once": "Surveyors ask for action at once",
    "urgency-soon": "Surveyors ask for action soon",
    "crack-suspected": "Suspected cracks",
    "mass-disagreement": "Mass stated and mass computed disagree",
    "disagreement": "Surveys disagree",
    "protection-unknown": "Protection not known",
    "not-inspected": "Parts not inspected",
    "never-visited": "Never visited",
    "visit-overdue": "Not visited for long",
}
"""Headings of what needs attention; a hazard takes the label of its kind."""

LABELS = {
    "cast_text": "date on the bell",
    "cast_calendar": "calendar of that date",
    "cast_year_begins": "its year began on",
    "cast_date": "date of casting",
    "soundbow_thickness_mm": "sound-bow thickness",
    "soundbow_loss_percent": "loss of the sound-bow",
    "mouth_diameter_readings_mm": "single readings",
    "strike_hz": "strike note, frequency",
    "note_cents": "deviation",
    "note_sixteenths": "deviation in sixteenths",
    "reference_hz": "reference a′",
    "heard": "what was heard",
    "rings_for_s": "rings for",
    "note": "strike note",
    "protected": "protected itself",
    "protected_source": "source of that",
    "wartime_class_source": "source of the class",
    "founder_certainty": "certainty of the founder",
    "strokes_in_s": "counted in",
    "wartime_class": "wartime class",
    "id": "id",
    "mass_kg": "mass",
    "cast_year": "year of casting",
    "weighed_to_estimated_ratio": "stated mass to computed mass",
    "profile_step_semitones": "sharper than a medium bell of its size by",
    "misfit_sd": "contradiction of readings, in standard deviations",
}
"""Wording of fields whose name alone would read badly."""

MONTHS = (
    "", "January", "February", "March", "April", "May", "June", "July", "August", "September", "October",
    "November", "December",
)  # fmt: skip


@cache
def fields_of(table: str) -> dict[str, Field]:
    """Give the fields of an observation table by name."""
    section = next(entry.section for entry in SECTION_TABLES if entry.name == table)
    return {field.name: field for field in section_fields(section)}


def label(name: str) -> str:
    """Word the name of a field: without its unit, in lower case."""
    if name in LABELS:
        return LABELS[name]
    unit = unit_of(name)
    stem = name.removesuffix(f"_{unit}") if unit else name
    return stem.replace("_", " ").replace("soundbow", "sound-bow")


def heading(text: str) -> str:
    """Give a text a capital at its start."""
    return text[:1].upper() + text[1:]


def value_text(table: str, field: str, value: Any) -> str:
    """Word an observed value: with its unit, with the label of its term, lists joined by commas."""
    known = fields_of(table).get(field)
    if value is None:
        return ""
    if known is None:
        return str(value)
    if known.is_list:
        items = json.loads(value) if isinstance(value, str) else value
        return ", ".join(_one(known, item) for item in items)
    return _one(known, value)


def _one(field: Field, value: Any) -> str:
    match field.kind:
        case Quantity(unit):
            return quantity(value, unit)
        case Coordinate():
            return quantity(value, "deg")
        case Term(name):
            return label_of(name, value)
        case Edtf():
            return date_words(value)
    if field.name in GRADES and isinstance(value, int):
        return f"{value} – {GRADES[field.name][value]}"
    return str(value)


def is_block(table: str, field: str) -> bool:
    """Say whether a field usually takes several lines."""
    known = fields_of(table).get(field)
    return known is not None and isinstance(known.kind, Text) and known.kind.block


def term(vocabulary: str, code: str | None) -> str:
    """Give the label of a term; empty for None."""
    return label_of(vocabulary, code)


def quantity(value: float | None, unit: str) -> str:
    """Write a measured value with its unit, as many digits as are usual for the unit."""
    return "" if value is None else format_quantity(value, unit)


def plain_number(value: float) -> str:
    """Write a number without a unit."""
    return format_quantity(value, "number")


def grade(name: str, value: int | None) -> str:
    """Word a grade: ``2 – marked``; no grade is "not assessed", never good."""
    return "not assessed" if value is None else f"{value} – {GRADES[name][value]}"


def severity(value: int) -> str:
    """Word how soon a finding asks for attention."""
    return SEVERITIES[value]


def finding_title(kind: str) -> str:
    """Give the heading of a kind of finding."""
    if kind.startswith("hazard-"):
        return f"Hazard: {label_of('hazard_kind', kind.removeprefix('hazard-'))}"
    return FINDING_TITLES.get(kind, heading(kind.replace("-", " ")))


def worded(text: str) -> str:
    """Put the wording of fields in the place of their names, and write numbers as they are written here."""
    said = re.sub(r"\b[a-z]+(?:_[a-z]+)+\b", lambda found: label(found[0]), text)
    said = re.sub(r"(?<=[0-9])\.0(?=[,.]|$)(?!\.[0-9])", "", said)
    return re.sub(r"(?<=[0-9]) (?=%|kg\b|mm\b)", "\u00a0", said)


def date_words(text: str | None) -> str:
    """Word a date expression where a few words say the same; else give it as it stands."""
    if not text:
        return ""
    try:
        date = parse_edtf(text)
    except EdtfError:
        return text
    return _choice(date) if date.members else _marked(text)


def time_words(text: str | None) -> str:
    """Word an interval in which something held all the time: ``since 1803``, ``until 1803``."""
    first, slash, last = (text or "").partition("/")
    if slash and first == ".." and last:
        return f"until {date_words(last)}"
    if slash and last == ".." and first:
        return f"since {date_words(first)}"
    return date_words(text)


def _choice(date: EdtfDate) -> str:
    words = [date_words(member.text) for member in date.members]
    joint = " or " if date.choice == "one-of" else " and "
    return ", ".join(words[:-1]) + joint + words[-1] if len(words) > 1 else words[0]


def _marked(text: str) -> str:
    """Word one date or one range of two."""
    first, slash, last = text.partition("/")
    if slash:
        if first in ("", ".."):
            return f"{_simple(last)} or before" if first else f"until {_simple(last)}, start unknown"
        if last in ("", ".."):
            return f"{_simple(first)} or after" if last else f"from {_simple(first)}, end unknown"
        plain = first.isdigit() and last.isdigit()
        return f"{first}–{last}" if plain else f"{_simple(first)} to {_simple(last)}"
    return _simple(text)


def _simple(text: str) -> str:
    marks = {"?": ("", " (uncertain)"), "~": ("about ", ""), "%": ("about ", " (uncertain)")}
    before, after = marks.get(text[-1:], ("", ""))
    body = text[:-1] if after or before else text
    if re.fullmatch(r"[0-9]{3}X", body):
        return f"{before}{body[:3]}0s{after}"
    if re.fullmatch(r"[0-9]{2}XX", body):
        return f"{before}{body[:2]}00–{body[:2]}99{after}"
    if found := re.fullmatch(r"([0-9]{4})-(0[1-9]|1[0-2])(?:-([0-9]{2}))?", body):
        year, month, day = found[1], MONTHS[int(found[2])], found[3]
        return f"{before}{int(day)} {month} {year}{after}" if day else f"{before}{month} {year}{after}"
    return f"{before}{body}{after}" if re.fullmatch(r"[0-9]{4}", body) else text


def day(text: str | None) -> str:
    """Word a calendar day: ``25 November 2023``."""
    return date_words(text)


def coordinates(latitude: float | None, longitude: float | None) -> str:
    """Write coordinates in decimal degrees with their hemispheres."""
    if latitude is None or longitude is None:
        return ""
    north, east = "N" if latitude >= 0 else "S", "E" if longitude >= 0 else "W"
    return f"{abs(latitude):.5f}°\u202f{north}, {abs(longitude):.5f}°\u202f{east}"


def names(values: list[str] | str) -> str:
    """Join names; a JSON list is read first."""
    items = json.loads(values) if isinstance(values, str) else values
    return ", ".join(items)


def plural(count: int, one: str, many: str | None = None) -> str:
    """Write a count with its noun."""
    return f"{format_quantity(count, 'number')} {one if count == 1 else many or one + 's'}"


def ordinal_ending(number: int) -> str:
    """Give the letters that make a number an ordinal: ``1`` st, ``12`` th, ``22`` nd."""
    if 10 <= number % 100 <= 20:
        return "th"
    return {1: "st", 2: "nd", 3: "rd"}.get(number % 10, "th")


FILTERS: dict[str, Callable[..., Any]] = {
    "label": label,
    "heading": heading,
    "term_of": lambda code, vocabulary: term(vocabulary, code),
    "quantity": quantity,
    "grade": lambda value, name: grade(name, value),
    "severity": severity,
    "date_words": date_words,
    "time_words": time_words,
    "day": day,
    "names": names,
    "plural": plural,
    "worded": worded,
    "finding_title": finding_title,
    "plain_number": plain_number,
}
"""Filters of the templates."""

GLOBALS: dict[str, Any] = {"estimate": format_estimate, "coordinates": coordinates, "value_text": value_text}
"""Functions of the templates."""
