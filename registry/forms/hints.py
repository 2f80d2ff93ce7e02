"""What a form says beside a field: its help, its usual range, its words, how to write it."""

from registry.model.fields import Coordinate, Field, Kind, Quantity, Term, Whole
from registry.model.vocabulary import vocabulary
from registry.units import FIELD_UNITS

LONGEST_LIST = 130
"""Characters that the words of a vocabulary may take beside a field; longer lists stand once on a form."""


def range_of(kind: Kind | None) -> str:
    """Write the usual range of a field for people, with its unit; empty where it has none.

    >>> range_of(Quantity("mm", 50, 6700, (150, 3600)))
    '150 to 3600 mm'
    """
    match kind:
        case Quantity(unit, low, high, usual):
            low, high = usual or (low, high)
            return f"{low:g} to {high:g} {FIELD_UNITS[unit].symbol}".rstrip()
        case Whole(low, high):
            return f"{low} to {high}"
    return ""


def words_of(name: str, between: str = " | ") -> str:
    """List the words of a vocabulary."""
    return between.join(vocabulary(name).terms)


def is_long_list(kind: Kind | None) -> bool:
    """Say whether the words of a field are too many to stand beside it."""
    return isinstance(kind, Term) and len(words_of(kind.vocabulary)) > LONGEST_LIST


def hint_of(field: Field) -> tuple[str, str]:
    """Write the help of a field and what it can hold; ``*`` marks what must be filled in."""
    help_text = f"* {field.help}" if field.required else field.help
    match field.kind:
        case Term(name) if is_long_list(field.kind):
            return help_text, f"See the list at the end: {vocabulary(name).title}."
        case Term(name):
            return help_text, words_of(name)
        case Coordinate("latitude"):
            return help_text, "51.2345 or 51° 14' 04\" N"
        case Coordinate():
            return help_text, "-2.3456 or 2° 20' 44\" W"
        case Whole() if field.help.startswith("0 "):
            return help_text, ""  # a grade whose steps the help spells out
        case kind:
            return help_text, range_of(kind)
