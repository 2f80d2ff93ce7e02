"""What is said of a bell that turned up, in words: facts, factors, probabilities, what to measure next."""

from collections.abc import Callable, Mapping
from typing import Any, NamedTuple

from registry.derive.identity.facts import Facts, Years
from registry.derive.identity.rules import rules
from registry.derive.identity.sizes import PARTS
from registry.derive.identity.strength import bits, strength
from registry.model.pitch import note_of
from registry.model.vocabulary import label_of
from registry.units import format_quantity

FACTS = {
    "mouth_diameter_mm": "mouth diameter",
    "strike_hz": "strike note",
    "mass_kg": "mass",
    "partials_hz": "partials",
    "inscription": "inscription",
    "cast_years": "date",
    "material": "material",
    "crown": "kind of crown",
    "loops": "loops of the crown",
    "founder": "founder",
}
"""The facts in words."""

TO_DO = {
    "mouth_diameter_mm": "measure the mouth diameter in four directions",
    "strike_hz": "find the strike note, by a recording at rest if it may be struck at all",
    "mass_kg": "weigh it, the bell alone",
    "partials_hz": "record one stroke and read the partials, if it may be struck at all",
    "inscription": "read the inscription, or a few words of it",
    "cast_years": "date it, by its letters or a year on it",
    "material": "find out the material; a magnet tells iron from bronze",
    "crown": "look at the kind of crown",
    "loops": "count the loops of the crown, stumps included",
    "founder": "look for the name or the mark of a founder",
}
"""What to do to learn each."""

CAUTIONS = (
    "A match is a lead, and no proof of what the bell is or whose it is.",
    "Where a bell may be stolen, looted or requisitioned, tell the police and the heritage authority first.",
    "Neither buy nor sell it meanwhile, and hand it to nobody on the strength of this page.",
    "Do not polish, clean, sand or paint it: paint, soil and patina are evidence.",
    "Do not strike it before someone competent has looked for cracks, and do not lift it alone.",
)
"""What to know before acting on an answer."""


def percent(probability: float) -> str:
    """Write a probability: ``97 %``, ``0.4 %``, never quite 0 or 100 %."""
    value = 100.0 * probability
    if value > 99.95:
        return "over 99.9\u00a0%"
    if value < 0.05:
        return "under 0.1\u00a0%"
    return f"{value:.0f}\u00a0%" if 1.0 <= value < 99.0 else f"{value:.1f}\u00a0%"


def signed_bits(log_ratio: float) -> str:
    """Write a factor in bits with its sign: ``+3.2``, ``−0.7``."""
    value = round(bits(log_ratio), 1)
    return "0" if value == 0 else f"{'+' if value > 0 else '−'}{abs(value):.1f}"


def verdict_words(none: float, best: float) -> str:
    """Say in a sentence what an answer comes to."""
    if none >= best:
        return (
            "Most likely none of the registry's bells"
            if none >= 0.5
            else "Cannot be told: none of the bells stands out, and it may well be none of them"
        )
    if best >= 0.95:
        return "One bell fits far better than all others"
    if best >= 0.5:
        return "One bell is likelier than all others together"
    return "Several bells come into question"


FOLLOWS = "nothing of it; judged by its other sizes"
"""Stands for what is on record where a size, a note or a mass is judged by the others."""

LONGEST_WORDS = 90
"""Characters of an inscription that are shown beside a factor."""


class Stated(NamedTuple):
    """What a record states: its facts, and its inscription as transcribed."""

    facts: Facts
    transcription: str = ""


def factor_lines(factors: Mapping[str, float], *stated: Stated) -> list[dict[str, Any]]:
    """Give the factors in words, the weightiest first; those that say nothing last.

    Parameters
    ----------
    factors : mapping
        Logarithm of the likelihood ratio by fact.
    stated : Stated
        The records that were compared: one for a find, two for a pair.
    """
    ordered = sorted(factors.items(), key=lambda each: -abs(each[1]))
    return [
        {
            "fact": name,
            "words": FACTS[name],
            "bits": bits(said),
            "signed": signed_bits(said),
            "says": strength(said),
            "on_record": " | ".join(filter(None, (on_record(name, each) for each in stated)))
            or (FOLLOWS if name in PARTS and stated and round(bits(said), 1) else ""),
        }
        for name, said in ordered
    ]


def on_record(name: str, stated: Stated) -> str:
    """Write what a record states of a fact; empty where it states nothing."""
    return _ON_RECORD[name](stated)


def _quantity(value: float | None, unit: str) -> str:
    return "" if value is None else format_quantity(value, unit)


def _span(span: Years) -> str:
    if span.first == span.last:
        return str(span.first)
    first, last = ("" if year is None else str(year) for year in span)
    return f"{first}–{last}"


def _note(stated: Stated) -> str:
    hz = stated.facts.strike_hz
    return f"{_quantity(hz, 'hz')} ({note_of(hz).display})" if hz else ""


def _partials(stated: Stated) -> str:
    told = stated.facts.partials_hz.items()
    return ", ".join(f"{label_of('partial', name)} {_quantity(hz, 'hz')}" for name, hz in told)


def _words(stated: Stated) -> str:
    words = " ".join(stated.transcription.split())
    shown = words if len(words) <= LONGEST_WORDS else f"{words[:LONGEST_WORDS].rstrip()}…"
    return f"“{shown}”" if shown else "none there" if stated.facts.wordless else ""


_ON_RECORD: dict[str, Callable[[Stated], str]] = {
    "mouth_diameter_mm": lambda stated: _quantity(stated.facts.mouth_diameter_mm, "mm"),
    "strike_hz": _note,
    "mass_kg": lambda stated: _quantity(stated.facts.mass_kg, "kg"),
    "partials_hz": _partials,
    "inscription": _words,
    "cast_years": lambda stated: " or ".join(map(_span, stated.facts.cast_years)),
    "material": lambda stated: label_of("material", stated.facts.material) if stated.facts.material else "",
    "crown": lambda stated: label_of("crown_kind", stated.facts.crown) if stated.facts.crown else "",
    "loops": lambda stated: "" if stated.facts.loops is None else str(stated.facts.loops),
    "founder": lambda stated: stated.facts.founder[-1] if stated.facts.founder else "",
}


def slip_words() -> list[str]:
    """List the slips that are allowed for."""
    slips = [*rules()["mouth_diameter"]["slips"], *rules()["strike"]["slips"], *rules()["mass"]["slips"]]
    return [str(slip["what"]) for slip in slips]
