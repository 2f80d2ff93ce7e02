"""What a wrong key or term may have meant."""

import re
import unicodedata
from difflib import get_close_matches
from functools import cache
from typing import Any

from registry.forms.finding import Finding
from registry.model.fields import section_fields
from registry.model.survey import Survey
from registry.model.vocabulary import Vocabulary

_OTHER_WORDS = {
    "weight": "mass_kg",
    "weight_kg": "mass_kg",
    "diameter": "mouth_diameter_mm",
    "diameter_mm": "mouth_diameter_mm",
    "tone": "note",
    "pitch": "note",
    "strike_note": "note",
    "year": "cast_date",
    "cast": "cast_date",
    "maker": "founder",
    "foundry": "founder",
    "weather_temperature": "temperature_c",
    "lat": "latitude_deg",
    "lon": "longitude_deg",
    "lng": "longitude_deg",
    "surveyor": "surveyors",
    "notes": "remarks",
    "comment": "remarks",
    "comments": "remarks",
    "photos": "attachments",
    "location": "place",
    "town": "place",
    "village": "place",
    "yoke": "headstock",
    "tongue": "clapper",
}
"""Words people use for a field that has another name here."""

_NEAR = 0.66
"""How alike two words must be, of 1, for the one to be taken for a slip of the other."""

_TERM_WORDS = {"no": "none", "yes": "present"} | {
    "true": "yes",
    "false": "no",
    "y": "yes",
    "n": "no",
    "on": "yes",
    "off": "no",
    "ja": "yes",
    "nein": "no",
}


def suggest_key(name: str, keys: tuple[str, ...]) -> str | None:
    """Find the key of a section that a wrong one may have meant."""
    plain = _plain(name)
    if plain in keys:
        return plain
    other = _OTHER_WORDS.get(plain)
    if other in keys:
        return other
    near = get_close_matches(plain, keys, 1, 0.75)
    if near:
        return near[0]
    words = set(plain.split("_"))
    holding = [key for key in keys if len(plain) > 2 and words <= set(key.split("_"))]
    return holding[0] if len(holding) == 1 else None


def advice_on_key(name: str, section: str, keys: tuple[str, ...]) -> Finding:
    """Say what to do about a key that a section does not have."""
    near = suggest_key(name, keys)
    elsewhere = tuple(other for other in sections_with(name) if other != section)
    if elsewhere and _known_as(name) not in keys:
        named = [other or "the form itself, not indented" for other in elsewhere[:4]]
        remedy = f"{_known_as(name)} belongs in {_either(named)}"
    elif near:
        remedy = f"write {near}"
    elif "remarks" in keys:
        remedy = "put it into remarks, in words, or leave it out"
    else:
        remedy = "leave it out; remarks take what has no field"
    return Finding("unknown-key", name, f"a field of {section or 'the form'}", remedy)


def _either(names: list[str]) -> str:
    return " or ".join([", ".join(names[:-1]), names[-1]] if len(names) > 1 else names)


def _known_as(name: str) -> str:
    plain = _plain(name)
    return plain if plain in _sections_by_field() else _OTHER_WORDS.get(plain, plain)


def sections_with(name: str) -> tuple[str, ...]:
    """List the sections that have a field of this name, or of what it stands for."""
    return tuple(_sections_by_field().get(_known_as(name), ()))


@cache
def _sections_by_field() -> dict[str, list[str]]:
    """List, for each field of the form, the sections that have it; the form itself has no name."""
    index: dict[str, list[str]] = {}

    def walk(section: type[Any], name: str) -> None:
        for field in section_fields(section):
            where = index.setdefault(field.name, [])
            if name not in where:
                where.append(name)
            if field.section is not None:
                walk(field.section, field.name)

    walk(Survey, "")
    return index


def suggest_term(text: str, words: Vocabulary) -> str | None:
    """Find the term that a wrong word may have meant, by its code or by its label."""
    plain = _plain(text).replace("_", "-")
    meant = {code: code for code in words.terms}
    for code, term in words.terms.items():
        meant.setdefault(_plain(term.label).replace("_", "-"), code)
    for candidate in (plain, _TERM_WORDS.get(plain, "")):
        if candidate in meant:
            return meant[candidate]
    shuffled = {frozenset(word.split("-")): code for word, code in meant.items()}
    if frozenset(plain.split("-")) in shuffled:
        return shuffled[frozenset(plain.split("-"))]
    near = get_close_matches(plain, list(meant), 1, _NEAR)
    if near:
        return meant[near[0]]
    holding = {code for word, code in meant.items() if len(plain) > 2 and plain in word.split("-")}
    return holding.pop() if len(holding) == 1 else None


def suggest_identifier(text: str) -> str:
    """Turn a text into an identifier: ``St. Mary 1`` into ``st-mary-1``; empty if nothing is left."""
    letters = unicodedata.normalize("NFKD", text.casefold()).encode("ascii", "ignore").decode()
    return re.sub("[^a-z0-9]+", "-", letters).strip("-")


def _plain(text: str) -> str:
    """Write a key or term as keys are written."""
    return re.sub(r"[\s\-_.]+", "_", text.strip().casefold()).strip("_")[:80]
