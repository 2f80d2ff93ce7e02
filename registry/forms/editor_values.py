"""What one value of a form may look like to an editor, as JSON Schema."""

import re
from typing import Any

from registry.model.fields import (
    Coordinate,
    Country,
    Day,
    Edtf,
    Identifier,
    Kind,
    Language,
    Note,
    Quantity,
    RelativePath,
    Script,
    Term,
    Text,
    Whole,
)
from registry.model.vocabulary import vocabulary
from registry.units import FIELD_UNITS
from registry.units.tables import EXAMPLES, WRITTEN

Schema = dict[str, Any]

_SPACE = "[ \u00a0\u2009\u202f]*"
_FRACTION = "(?:[0-9]+[/\u2044][0-9]+|[\u00bc-\u00be\u2150-\u215e])"
_DECIMAL = "(?:[0-9][0-9 \u00a0\u2007\u2009\u202f]*(?:\\.[0-9]+)?|\\.[0-9]+)(?:[eE][-+\u2212]?[0-9]{1,2})?"
_NUMBER = f"(?:{_DECIMAL}{_SPACE}{_FRACTION}?|{_FRACTION})"
_SIGNS = {
    "'": "['\u2018\u2019\u02b9\u2032]",
    '"': "(?:[\"\u201c\u201d\u02ba\u2033]|'')",
    "°": "[°\u00ba]",
    "µ": "[µ\u03bc\u039c]",
}
"""Signs of units that are typed in several ways."""

_OCTAVE_SIGNS = "\"'°º,0-9\u00b4`\u00b9\u00b2\u00b3\u2018-\u201d\u2032-\u2034\u2057\u2070-\u2076\u2080-\u2089"

_PATTERNS: dict[type, tuple[str, str]] = {
    Day: ("[0-9]{4}-(?:0[1-9]|1[0-2])-(?:0[1-9]|[12][0-9]|3[01])", "Write one day as 2024-05-09."),
    Edtf: (
        r"[-0-9XYESeys?~%./,\[\]{} ]*[0-9][-0-9XYES?~%./,\[\]{} ]*",
        "Write an EDTF date such as 1643, 164X, 1643?, 1640/1645.",
    ),
    Identifier: ("[a-z0-9]+(?:-[a-z0-9]+)*", "Write small letters, digits and single hyphens."),
    Note: (
        f",{{0,2}}[A-Ha-h](?:is|es|s|[#b\u266d-\u266f])?[{_OCTAVE_SIGNS}]{{0,6}}",
        "Write a note such as C#4 or cis'.",
    ),
    Language: ("[A-Za-z]{1,8}(?:-[A-Za-z0-9]{1,8})*", "Write a language tag such as la, de, gmh."),
    Script: ("[A-Za-z]{4}", "Write a script code such as Latn, Latf, Hebr."),
    Country: ("[A-Za-z]{2}", "Write a country code of two letters."),
    RelativePath: (
        r"(?![/~])(?!(?:.*/)?\.\.(?:/|$))[^\\]+",
        "Write a path below the folder of this form, with / between folders.",
    ),
}
"""By kind of field, the pattern of its text and what an editor says where a text does not fit."""


def value_schema(kind: Kind) -> Schema:
    """Describe what a field of this kind can hold, empty values left aside."""
    match kind:
        case Text(longest):
            return {"type": ["string", "number", "boolean"], "maxLength": longest}
        case Quantity(unit, low, high):
            return _number(low, high, FIELD_UNITS[unit].kind)
        case Whole(low, high):
            return {"type": "integer", "minimum": low, "maximum": high}
        case Term(name):
            terms = vocabulary(name).terms.values()
            return {
                "type": "string",
                "enum": [term.code for term in terms],
                "enumDescriptions": [term.definition for term in terms],
            }
        case Coordinate(axis):
            limit = 90 if axis == "latitude" else 180
            return _number(-limit, limit, axis)
    # To an editor, the year 1643 and the id 1643 are whole numbers.
    types = ["string", "integer"] if isinstance(kind, Edtf | Identifier) else "string"
    return {"type": types, **_pattern(*_PATTERNS[type(kind)])}


def _number(low: float, high: float, kind: str) -> Schema:
    written = {"$ref": f"#/$defs/{definition_of(kind)}"}
    return {"type": ["number", "string"], "minimum": low, "maximum": high, "allOf": [written]}


def _pattern(pattern: str, message: str) -> Schema:
    return {"pattern": f"^(?:{pattern})$", "patternErrorMessage": message}


def definition_of(kind: str) -> str:
    """Name the definition of a written quantity or coordinate."""
    return f"written_{kind}"


def written_definitions(kinds: set[str]) -> Schema:
    """Describe texts that give a quantity with its unit, for each kind of quantity, and coordinates."""
    degrees = {axis: _degrees(letters) for axis, letters in (("latitude", "NS"), ("longitude", "EW"))}
    quantities = {kind: _quantity(kind) for kind in sorted(kinds)}
    return {definition_of(kind): schema for kind, schema in (quantities | degrees).items()}


def _degrees(letters: str) -> Schema:
    signs = "[0-9 .°\u00ba\u02da'\"\u2018-\u201d\u02b9\u02ba\u2032\u2033\u00a0\u2009\u202f]*"
    pattern = f"[{letters}]? ?[-+\u2212]?[0-9]{{1,3}}{signs}[{letters}]?"
    message = f"Write decimal degrees, or degrees, minutes and seconds with {letters[0]} or {letters[1]}."
    return _pattern(pattern, message)


def _quantity(kind: str) -> Schema:
    """Describe a number with its unit, or one in several units as in ``3' 10 1/2"``."""
    forms = sorted(WRITTEN[kind], key=len, reverse=True)
    unit = f"(?:{'|'.join(map(_any_case, forms))})\\.?{_SPACE}"
    behind = f"(?:{unit}(?:{_NUMBER}{_SPACE}{unit})*)?" if forms else ""
    pattern = f"[-+\u2212]?{_SPACE}{_NUMBER}{_SPACE}{behind}"
    if kind == "mass":
        pattern += f"|[0-9]+(?:[-\u2010-\u2013\u2212][0-9]+){{2,3}}(?:\\.[0-9]+|{_SPACE}{_FRACTION})?"
    units = EXAMPLES.get(kind) or ", ".join(WRITTEN[kind])
    message = (
        f"Write a number with a decimal point, alone or with its unit: {units}." if units else "A number."
    )
    return _pattern(pattern, message)


def _any_case(unit: str) -> str:
    """Write a pattern that finds a unit in capital and in small letters."""
    return "".join(_SIGNS.get(sign) or _letter(sign) for sign in unit)


def _letter(sign: str) -> str:
    if sign.isascii() and sign.isalpha():
        return f"[{sign.lower()}{sign.upper()}]"
    return re.sub(r"[\\^$.*+?()\[\]{}|]", r"\\\g<0>", sign)
