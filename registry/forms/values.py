"""One value of a form read by the kind of its field, never by its look."""

import re
import unicodedata
from collections.abc import Callable
from functools import partial
from typing import Any

from registry.forms.finding import FormValueError
from registry.forms.measures import quantity_reader, whole_reader
from registry.forms.shown import shown
from registry.forms.source import HIDDEN
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
from registry.model.edtf_remedies import remedy_for
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
from registry.units import QuantityError

Reader = Callable[[str], Any]
"""Turns the text of a value, without white space round it, into the value, or raises one of `FAULTS`."""

FAULTS = (FormValueError, QuantityError, EdtfError, NoteError, CoordinateError)
"""The errors a reader raises; each has ``code``, ``expected`` and ``remedy``."""

NULL_WORDS = frozenset(
    ("~", "null", "nil", "none", "nan", "n/a", "na", "n.a.", "unknown", "?", "??", "-", "--", "---", "–", "—")
)
"""Words that people write where nothing is known, in small letters."""

NOT_TEXT = frozenset(("~", "null", "Null", "NULL", "-", "--", "---", "–", "—", "n/a", "N/A"))
"""Those of them that even in free text mean nothing, unless they are quoted."""

LONGEST_IDENTIFIER = 80
LONGEST_PATH = 300

_DAY = re.compile("[0-9]{4}-[0-9]{2}-[0-9]{2}").fullmatch
_IDENTIFIER = re.compile(r"[a-z0-9]+(?:-[a-z0-9]+)*").fullmatch
_HIDDEN = re.compile(f"[{HIDDEN}]").search


def reader_of(kind: Kind) -> Reader:
    """Make the function that reads a value of this kind.

    Not cached: kinds are tuples, and two without parameters are equal though they are of different types.
    """
    return _MAKERS[type(kind)](kind)


def _text_reader(kind: Text) -> Reader:
    """Read free text: composed letters (NFC), nothing hidden, not too long."""
    longest = kind.longest

    def read(text: str) -> str:
        if not text.isascii():
            text = unicodedata.normalize("NFC", text)
        if not text.isprintable() and (hidden := _HIDDEN(text)):
            raise FormValueError(
                "control-character",
                "characters that can be seen",
                "delete it, and write what was meant",
                shown(hidden[0]),
            )
        if len(text) > longest:
            raise FormValueError(
                "text-too-long",
                f"at most {longest} characters",
                f"shorten it by {len(text) - longest} characters, or keep the whole as an attachment",
                f"{len(text)} characters",
            )
        return text

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
        raise FormValueError("unknown-term", "one of: " + ", ".join(codes), remedy)

    return read


def _identifier(text: str) -> str:
    if len(text) <= LONGEST_IDENTIFIER and _IDENTIFIER(text) and text not in NULL_WORDS:
        return text
    near = suggest_identifier(text)[:LONGEST_IDENTIFIER].rstrip("-")
    raise FormValueError(
        "bad-identifier",
        f"lower-case letters a-z, digits and single hyphens, at most {LONGEST_IDENTIFIER}",
        f"write {near}" if near and near not in NULL_WORDS else "write an id such as ostrel-great-bell",
    )


def _day(text: str) -> str:
    try:
        return read_day(text).isoformat()
    except EdtfError as error:
        near = remedy_for(text)
        if error.code == "bad-date" and _DAY(near.removeprefix("write ")):
            raise FormValueError(error.code, error.expected, near) from None
        raise


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


def _unregistered(code: str, expected: str, near: str | None) -> FormValueError:
    return FormValueError(code, expected, f"write {near}" if near else "look the code up in the standard")


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
    raise FormValueError("bad-path", expected, remedy)


_MAKERS: dict[type[Kind], Callable[[Any], Reader]] = {
    Text: _text_reader,
    Quantity: quantity_reader,
    Whole: whole_reader,
    Term: _term_reader,
    Coordinate: lambda kind: partial(read_coordinate, axis=kind.axis),
    Identifier: lambda _: _identifier,
    Day: lambda _: _day,
    Edtf: lambda _: _edtf,
    Note: lambda _: _note,
    Language: lambda _: _language,
    Script: lambda _: _script,
    Country: lambda _: _country,
    RelativePath: lambda _: _relative_path,
}
