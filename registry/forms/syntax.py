"""Faults of YAML told in plain language, with what to do about them."""

import re
from typing import NamedTuple

import yaml

from registry.forms.shown import shown
from registry.forms.source import line_of
from registry.problems import Problem

_INDENT = "keys of one section start in the same column, two spaces further in than the section's own key"


class _Fault(NamedTuple):
    """What the parser says, and what a person should be told.

    ``at_start`` is True where the fault lies where the construct began, not where the parser gave up.
    """

    said: str
    expected: str
    remedy: str
    at_start: bool = False


_FAULTS = (
    _Fault(
        "found unexpected end of stream",
        "a quotation mark that ends the text",
        "close the quotation mark that opens here",
        at_start=True,
    ),
    _Fault(
        "found unexpected document indicator",
        "a quotation mark that ends the text",
        "close the quotation mark that opens here",
        at_start=True,
    ),
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
        "unknown escape character",
        "text without a backslash, or in single quotes",
        "use single quotes ('...') round text with a backslash, or write \\\\",
    ),
    _Fault(
        "block sequence entries are not allowed",
        "the list on the lines below its key",
        "start the first - on a new line, or put quotes round text that begins with -",
    ),
    _Fault(
        "expected '-' indicator", "another item of the list, beginning with -", f"indent the line; {_INDENT}"
    ),
    _Fault(
        "expected <document start>",
        "one section that holds the whole form",
        f"check the indentation: {_INDENT}",
    ),
    _Fault(
        "could not find expected ':'",
        "key: value",
        "write a colon and a space after the key, or join the lines",
    ),
    _Fault(
        "expected alphabetic or numeric character",
        "text in quotes",
        "put quotes round text that begins with * or &",
    ),
    _Fault("scanning a tag", "text in quotes", "put quotes round text that begins with !"),
    _Fault("undefined tag handle", "text in quotes", "put quotes round text that begins with !"),
    _Fault("directive", "the form, without lines that begin with %", "delete the line that begins with %"),
    _Fault(
        "scanning a block scalar", "the text on the lines below | or >", "start the text on the next line"
    ),
    _Fault(
        "tab character", "spaces", "indent with spaces: delete the tab and type two spaces for each level"
    ),
)


def syntax_problem(error: yaml.MarkedYAMLError, text: str, file: str) -> Problem:
    """Tell a fault of YAML: where it is, what stands there, and what to do.

    Parameters
    ----------
    error : yaml.MarkedYAMLError
        What the parser says.
    text : str
        The form.
    file : str
        Its name for the problem.
    """
    said = f"{error.context or ''} {error.problem or ''}"
    mark = error.problem_mark or error.context_mark
    if mark is None:
        return _problem(file, 0, 0, "", "well-formed YAML", f"the parser says: {said.strip()}")
    line, column = mark.line + 1, mark.column + 1
    here = line_of(text, line)
    if "cannot start any token" in said:
        expected, remedy = _bad_start(here[column - 1 : column])
    elif "mapping values are not allowed" in said:
        expected, remedy = _stray_colon(here[: column - 1], text, line)
    elif "expected key" in said:
        expected, remedy = _no_key(here, column, text, line)
    else:
        fault = next((fault for fault in _FAULTS if fault.said in said), None)
        if fault is None:
            expected, remedy = "well-formed YAML", f"the parser says: {said.strip()}"
        else:
            expected, remedy = fault.expected, fault.remedy
            if fault.at_start and error.context_mark:
                line, column = error.context_mark.line + 1, error.context_mark.column + 1
                here = line_of(text, line)
    return _problem(file, line, column, here, expected, remedy)


def _problem(file: str, line: int, column: int, read: str, expected: str, remedy: str) -> Problem:
    return Problem(file, line, column, "yaml-syntax", "", shown(read.strip()), expected, remedy)


def _bad_start(character: str) -> tuple[str, str]:
    """Advise on a character that can begin no value."""
    if character == "\t":
        return "spaces", "indent with spaces: delete the tab and type two spaces for each level"
    return "text in quotes", f"put quotes round text that begins with {character}"


def _stray_colon(before: str, text: str, line: int) -> tuple[str, str]:
    """Advise on a colon where no key can stand: inside a value, or after a line that went wrong."""
    if ": " in before or before.lstrip().startswith("- ") and ":" in before:
        return (
            "a colon inside text only between quotes",
            'put the text behind the first colon in quotes: "..."',
        )
    previous = next((row for number in range(line - 1, 0, -1) if (row := line_of(text, number)).strip()), "")
    if ":" not in previous:
        return (
            "key: value",
            f"write a colon and a space behind the key in the line before: {shown(previous.strip())}",
        )
    return (
        "a key in the column of its section",
        f"check the indentation of this line and of the one before: {_INDENT}",
    )


def _no_key(here: str, column: int, text: str, line: int) -> tuple[str, str]:
    """Advise where a section goes wrong: after a closed quotation mark, or by its indentation."""
    before, after = here[: column - 1], here[column - 1 :]
    if re.search(r"[\"']\s*$", before) and after.strip():
        return (
            "nothing behind the closing quotation mark",
            "put the whole text into one pair of quotes; a quotation mark inside is written twice ('') "
            'in single quotes, \\" in double quotes',
        )
    if re.search(r"[\]}]\s*$", before) and after.strip():
        return "nothing behind the closing bracket", "put quotes round text that begins with a bracket"
    if before.strip() and re.search(r":\s+\*", before):
        return "text in quotes", "put quotes round text that begins with *"
    if "\t" in before:
        return "spaces", "indent with spaces: delete the tab and type two spaces for each level"
    return "a key in the column of its section", f"check the indentation of this line: {_INDENT}"
