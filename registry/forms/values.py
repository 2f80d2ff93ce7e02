"""One value of a form read by the kind of its field, never by its look."""

import re
import unicodedata
from collections.abc import Callable
from typing import Any

from registry.forms.shown import shown
from registry.forms.suggest import suggest_identifier, suggest_term
from registry.geography import CoordinateError, read_coordinate
from registry.model.codes import (
    canonical_language,
    is_country,
    is_language,
    is_script,
    suggest_country,
    suggest_language,
    suggest_script,
)
from registry.model.edtf import EdtfError, parse_edtf, read_day
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
from registry.model.pitch import NoteError, read_note
from registry.model.vocabulary import vocabulary
from registry.units import FIELD_UNITS, QuantityError, read_quantity

Reader = Callable[[str], Any]
"""Turns the text of a value, without white space round it, into the value, or raises one of `FAULTS`."""


class ValueFault(ValueError):
    """A text that is no value of its field.

    Attributes
    ----------
    code : str
        A code of the catalogue of problems.
    expected, remedy : str
        What belongs in the field, and what to do.
    """

    def __init__(self, code: str, expected: str, remedy: str, read: str | None = None) -> None:
        super().__init__(f"expected {expected}: {remedy}")
        self.code = code
        self.expected = expected
        self.remedy = remedy
        self.read = read


FAULTS = (ValueFault, QuantityError, EdtfError, NoteError, CoordinateError)
"""The errors a reader raises; each has ``code``, ``expected`` and ``remedy``."""

NULL_WORDS = frozenset("~ null nil none nan n/a na n.a. unknown ? ?? - -- --- – —".split())
"""Words that people write where nothing is known, in small letters."""

LONGEST_IDENTIFIER = 80
LONGEST_PATH = 300

_IDENTIFIER = re.compile(r"[a-z0-9]+(?:-[a-z0-9]+)*").fullmatch
_WHOLE = re.compile(r"[+-]?(?:0|[1-9][0-9]{0,8})").fullmatch
_HIDDEN = re.compile("[\x00-\x08\x0b-\x1f\x7f-\x9f\u2028\u2029\ufeff\ufffe\uffff]").search


def reader_of(kind: Kind) -> Reader:
    """Make the function that reads a value of this kind.

    Not cached: kinds are tuples, and two without parameters are equal though they are of different types.
    """
    match kind:
        case Text():
            return _text_reader(kind)
        case Quantity():
            return _quantity_reader(kind)
        case Whole():
            return _whole_reader(kind)
        case Term():
            return _term_reader(kind)
        case Coordinate():
            return lambda text: read_coordinate(text, "latitude" if kind.axis == "latitude" else "longitude")
        case Identifier():
            return _identifier
        case Day():
            return _day
        case Edtf():
            return _edtf
        case Note():
            return _note
        case Language():
            return _language
        case Script():
            return _script
        case Country():
            return _country
        case RelativePath():
            return _relative_path


def _text_reader(kind: Text) -> Reader:
    """Read free text: composed letters (NFC), nothing hidden, not too long."""
    longest = kind.longest

    def read(text: str) -> str:
        if not text.isascii():
            text = unicodedata.normalize("NFC", text)
        if hidden := _HIDDEN(text):
            raise ValueFault(
                "control-character",
                "characters that can be seen",
                "delete it, and write what was meant",
                shown(hidden[0]),
            )
        if len(text) > longest:
            raise ValueFault(
                "text-too-long",
                f"at most {longest} characters",
                f"shorten it by {len(text) - longest} characters, or keep the whole as an attachment",
                f"{len(text)} characters",
            )
        return text

    return read


def _quantity_reader(kind: Quantity) -> Reader:
    """Read a number in the unit of the field, and refuse what no bell can have."""
    unit, low, high = kind.unit, kind.low, kind.high

    def read(text: str) -> float:
        value = read_quantity(text, unit)
        if low <= value <= high:
            return value
        raise ValueFault(
            "out-of-range",
            range_of(low, high, unit),
            _slip(text, value, kind),
            quantity_read(text, value, unit),
        )

    return read


def range_of(low: float, high: float, unit: str) -> str:
    """Write a range with its unit: ``50 to 6700 mm``."""
    return f"{low:.10g} to {high:.10g} {FIELD_UNITS[unit].symbol}".rstrip()


def quantity_read(text: str, value: float, unit: str) -> str:
    """Write a quantity as read: with the field's unit where none was written, else with the value it gives."""
    symbol = FIELD_UNITS[unit].symbol
    if text.strip()[-1:].isdigit():
        return f"{shown(text.strip())} {symbol}".rstrip()
    return f"{shown(text.strip())} ({value:.6g} {symbol})"


_OTHER_UNITS = {"mm": ("cm", "m", "in", "ft"), "kg": ("t", "cwt", "lb", "g")}


def _slip(text: str, value: float, kind: Quantity) -> str:
    """Say what a value out of range may have been: another unit, or a point that slipped."""
    low, high = kind.usual or (kind.low, kind.high)
    symbol = FIELD_UNITS[kind.unit].symbol
    bare = text.strip()
    if len(bare) < 12 and bare[-1:].isdigit():
        fitting = [
            f"{bare} {unit}"
            for unit in _OTHER_UNITS.get(kind.unit, ())
            if low <= read_quantity(f"{bare} {unit}", kind.unit) <= high
        ]
        if fitting:
            return f"check the unit; write the unit you read, e.g. {' or '.join(fitting)}"
        for factor in (0.1, 10.0, 0.01, 100.0, 0.001, 1000.0):
            if low <= value * factor <= high:
                return f"check the digits and the unit, e.g. {value * factor:.6g} {symbol}".rstrip()
    return "check the reading; write it with the unit you read"


def _whole_reader(kind: Whole) -> Reader:
    """Read a count or a grade."""
    low, high = kind.low, kind.high
    expected = f"a whole number from {low} to {high}"

    def read(text: str) -> int:
        if _WHOLE(text):
            value = int(text)
            if low <= value <= high:
                return value
            raise ValueFault("out-of-range", expected, "check the number")
        plain = text.lstrip("+-")
        if plain.isdecimal() and plain.isascii():
            if plain.startswith("0") and len(plain) < 10:
                raise ValueFault(
                    "ambiguous-number", expected, f"write {int(plain)}, without the leading zero"
                )
            raise ValueFault("out-of-range", expected, "check the number")
        if re.fullmatch(r"[0-9]{1,9}\.[0-9]{1,9}", plain):
            raise ValueFault(
                "not-whole", expected, "write a whole number; what lies between goes in the remarks"
            )
        raise ValueFault("not-a-number", expected, "write the number alone; words belong in the remarks")

    return read


def _term_reader(kind: Term) -> Reader:
    """Read a word of a vocabulary; capitals do not matter."""
    words = vocabulary(kind.vocabulary)
    codes = {code: code for code in words.terms}

    def read(text: str) -> str:
        code = codes.get(text) or codes.get(text.lower())
        if code is not None:
            return code
        near = suggest_term(text, words)
        remedy = f"write {near}" if near else "choose one of these; details belong in the remarks"
        raise ValueFault("unknown-term", "one of: " + ", ".join(codes), remedy)

    return read


def _identifier(text: str) -> str:
    if len(text) <= LONGEST_IDENTIFIER and _IDENTIFIER(text) and text not in NULL_WORDS:
        return text
    near = suggest_identifier(text)[:LONGEST_IDENTIFIER].rstrip("-")
    raise ValueFault(
        "bad-identifier",
        f"lower-case letters a-z, digits and single hyphens, at most {LONGEST_IDENTIFIER}",
        f"write {near}" if near and near not in NULL_WORDS else "write an id such as ostrel-great-bell",
    )


def _day(text: str) -> str:
    return read_day(text).isoformat()


def _edtf(text: str) -> str:
    parse_edtf(text)
    return text


def _note(text: str) -> str:
    read_note(text)
    return text


def _language(text: str) -> str:
    if is_language(text):
        return canonical_language(text)
    raise _unregistered(
        "bad-language", "a language tag, BCP 47, e.g. la, de, gmh, mul", suggest_language(text)
    )


def _script(text: str) -> str:
    if len(text) == 4 and is_script(text.capitalize()):
        return text.capitalize()
    raise _unregistered(
        "bad-language", "a script code, ISO 15924, e.g. Latn, Latf, Hebr", suggest_script(text)
    )


def _country(text: str) -> str:
    if len(text) == 2 and is_country(text.upper()):
        return text.upper()
    raise _unregistered("bad-country", "a country code, ISO 3166-1, e.g. AT, GB", suggest_country(text))


def _unregistered(code: str, expected: str, near: str | None) -> ValueFault:
    return ValueFault(code, expected, f"write {near}" if near else "look the code up in the standard")


def _relative_path(text: str) -> str:
    """Read the path of a file beside the form: inside its folder, the same on every system."""
    expected = "a path relative to the form, e.g. photos/bell-2.jpg"
    steps = text.split("/")
    if "\\" in text:
        remedy = "write / between folders, not \\"
    elif text.startswith(("/", "~")) or re.match(r"[A-Za-z][A-Za-z0-9+.-]*:", text):
        remedy = "put the file beside the form or in a folder below it, and write its path from there"
    elif ".." in steps:
        remedy = "put the file beside the form or in a folder below it; .. leads out of it"
    elif steps[-1] in ("", "."):
        remedy = "name the file, not its folder"
    elif _HIDDEN(text) or "\n" in text or "\t" in text:
        remedy = "rename the file: its name holds characters that no one can see"
    elif len(text) > LONGEST_PATH:
        remedy = f"shorten the path to at most {LONGEST_PATH} characters"
    else:
        return "/".join(step for step in steps if step not in ("", "."))
    raise ValueFault("bad-path", expected, remedy)
