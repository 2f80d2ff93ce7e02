"""Faults of YAML told in plain language, with what to do about them."""

import re
from typing import NamedTuple

import yaml

from registry.forms.finding import Finding
from registry.forms.nodes import Scalar
from registry.forms.shown import shown
from registry.forms.source import Place, line_of, place_of
from registry.problems import Problem

DEEPEST = 32
"""Levels a form may be nested; the deepest field stands on the seventh."""

TOO_DEEP = Finding(
    "too-deep", "brackets in brackets", f"at most {DEEPEST} levels", "lay it out as the blank form is"
)

_INDENT = "keys of one section start in the same column, two spaces further in than the section's own key"


_TAB = ("spaces", "indent with spaces: delete the tab and type two spaces for each level")
_OPEN = ("a quotation mark that ends the text", "close the quotation mark that opens here")
_BACKSLASH = (
    "text without a backslash, or in single quotes",
    "put single quotes ('...') round text with a backslash",
)
_WRONG_COLUMN = ("a key in the column of its section", f"check the indentation of this line: {_INDENT}")
_ONE_PAIR = (
    "put the whole text into one pair of quotes; a quotation mark inside is doubled ('') in single quotes"
)


class _Fault(NamedTuple):
    """What the parser says, and what a person should be told.

    ``at_start`` is True where the fault lies where the construct began, not where the parser gave up.
    """

    said: str
    expected: str
    remedy: str
    at_start: bool = False


_FAULTS = (
    _Fault("found unexpected end of stream", *_OPEN, at_start=True),
    _Fault("found unexpected document indicator", *_OPEN, at_start=True),
    _Fault(
        "expected ',' or ']'",
        "a ] that ends the list",
        "close the bracket that opens here, or put quotes round text that begins with [",
        at_start=True,
    ),
    _Fault(
        "expected ',' or '}'",
        "a } that ends the section",
        "close the brace that opens here, or put quotes round text that begins with {",
        at_start=True,
    ),
    _Fault(
        "block sequence entries are not allowed",
        "the list on the lines below its key",
        "start the first - on a new line, or put quotes round text that begins with -",
    ),
    _Fault("expected '-' indicator", "another item of the list, beginning with -", f"indent: {_INDENT}"),
    _Fault("expected <document start>", "one section that holds the whole form", f"indent: {_INDENT}"),
    _Fault(
        "could not find expected ':'", "key: value", "write a colon and a space behind the key", at_start=True
    ),
    _Fault("numeric character", "text in quotes", "put quotes round text that begins with * or &"),
    _Fault(
        "expected node content",
        "a value",
        "put quotes round text that begins with a bracket or comma, or delete the stray one",
    ),
    _Fault("mapping keys are not allowed", "text in quotes", "put quotes round text that begins with ?"),
    _Fault("hexdecimal", *_BACKSLASH),
    _Fault("unknown escape character", *_BACKSLASH),
    _Fault("scanning a tag", "text in quotes", "put quotes round text that begins with !"),
    _Fault("undefined tag handle", "text in quotes", "put quotes round text that begins with !"),
    _Fault("directive", "no line that begins with %", "delete the line, or put quotes round its text"),
    _Fault(
        "scanning a block scalar",
        "the text on the lines below | or >",
        "start the text on the next line, or put quotes round text that begins with one of them",
    ),
    _Fault("tab character", *_TAB),
)
"""The first that fits counts."""


def syntax_problem(error: yaml.YAMLError, text: str, file: str, last: Scalar | None) -> Problem:
    """Tell a fault of YAML: where it is, what stands there, and what to do.

    Parameters
    ----------
    error : yaml.YAMLError
        What the parser says.
    text : str
        The form.
    file : str
        Its name for the problem.
    last : Scalar or None
        The value that was read last before the fault.
    """
    context, said = getattr(error, "context", None) or "", getattr(error, "problem", None) or str(error)
    mark = getattr(error, "problem_mark", None) or getattr(error, "context_mark", None)
    if mark is None:
        place, remedy = _of_parser(error, text), f"the parser says: {said}"
        return _told(file, place, line_of(text, place.line), "well-formed YAML", remedy)
    place = Place(mark.line + 1, mark.column + 1)
    if "nesting depth" in said:
        return TOO_DEEP.at(file, place)
    here = line_of(text, place.line)
    opened = _left_open(last, place, text)
    if "\t" in here[: len(here) - len(here.lstrip())] or here[place.column - 1 : place.column] == "\t":
        expected, remedy = _TAB
    elif "cannot start any token" in said:
        expected = "text in quotes"
        remedy = f"put quotes round text that begins with {here[place.column - 1 : place.column]}"
    elif opened is not None:
        place, (expected, remedy) = opened, _OPEN
        here = line_of(text, place.line)
    elif "mapping values are not allowed" in said:
        expected, remedy = _stray_colon(here[: place.column - 1], text, place.line)
    elif "expected key" in said:
        expected, remedy = _no_key(here, place.column)
    else:
        fault = next((fault for fault in _FAULTS if fault.said in f"{context} {said}"), None)
        if fault is None:
            expected, remedy = "well-formed YAML", f"the parser says: {said}"
        else:
            expected, remedy = fault.expected, fault.remedy
            context_mark = getattr(error, "context_mark", None)
            if fault.at_start and context_mark:
                place = Place(context_mark.line + 1, context_mark.column + 1)
                here = line_of(text, place.line)
    return _told(file, place, here, expected, remedy)


def _told(file: str, place: Place, read: str, expected: str, remedy: str) -> Problem:
    return Finding("yaml-syntax", read.strip(), expected, remedy).at(file, place)


def _of_parser(error: yaml.YAMLError, text: str) -> Place:
    """Find the place of an error that knows only its position, if it knows that."""
    position = getattr(error, "position", None)
    return Place(0, 0) if position is None else place_of(text, position)


def _left_open(last: Scalar | None, place: Place, text: str) -> Place | None:
    """Find the quotation mark that was left open, where the value read last runs on over lines from one."""
    if last is None or last.plain or last.line == place.line:
        return None
    quote, rest = (
        line_of(text, last.line)[last.column - 1 : last.column],
        line_of(text, last.line)[last.column :],
    )
    is_open = quote in ("'", '"') and quote not in rest
    return Place(last.line, last.column) if is_open else None


def _stray_colon(before: str, text: str, line: int) -> tuple[str, str]:
    """Advise on a colon where no key can stand: inside a value, or after a line that went wrong."""
    if ": " in before:
        return (
            "a colon inside text only between quotes",
            'put the text behind the first colon in quotes: "..."',
        )
    previous = next((row for number in range(line - 1, 0, -1) if (row := line_of(text, number)).strip()), "")
    if ":" not in previous:
        remedy = f"write a colon and a space behind the key in the line before: {shown(previous.strip())}"
        return "key: value", remedy
    return _WRONG_COLUMN[0], f"check this line and the one before: {_INDENT}"


def _no_key(here: str, column: int) -> tuple[str, str]:
    """Advise where a section goes wrong: after a closed quotation mark, or by its indentation."""
    before, after = here[: column - 1].rstrip(), here[column - 1 :].strip()
    if after and before.endswith(("'", '"')):
        return "nothing behind the closing quotation mark", _ONE_PAIR
    if after and before.endswith(("]", "}")):
        return "nothing behind the closing bracket", "put quotes round text that begins with a bracket"
    if re.search(r":\s+\*", before):
        return "text in quotes", "put quotes round text that begins with *"
    return _WRONG_COLUMN
