"""The bytes of a form made text: encoding, hidden characters, files of another kind."""

import re
from itertools import islice
from typing import NamedTuple

from registry.forms.finding import Finding
from registry.problems import Problem, whole_file_problem

LARGEST_BYTES = 1_000_000
"""Bytes a form may have; the largest ring with every field filled stays far below."""

MOST_PLACES = 20
"""Places of one kind of bad character that are named one by one."""

HIDDEN = (
    "\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f"  # control characters, but tab and line ends
    "\xad\u200b\u2060\ufeff"  # soft hyphen, signs without width, byte order mark
    "\u2028\u2029"  # line ends that editors do not count
    "\u202a-\u202e\u2066-\u2069"  # marks that turn the direction of reading
    "\ufffe\uffff"
)
"""Characters that leave no mark on the page and have no place in a form, as ranges of a pattern.

Joiners and the plain marks of direction stay: some scripts need them.
"""

_BAD = re.compile(f"[{HIDDEN}]")
_LOST = "\ufffd"
_SUSPECT = re.compile(f"{_BAD.pattern}|{_LOST}")
_LINE_END = re.compile("\r\n|\r|\n")

_HASH = re.compile(r"#(?<=[ \t]#)[^\s#]")

_FILE_KINDS = (
    (b"PK\x03\x04", "a spreadsheet, word-processor or zip file"),
    (b"%PDF", "a PDF"),
    (b"\xff\xd8\xff", "a photo (JPEG)"),
    (b"\x89PNG", "a picture (PNG)"),
    (b"RIFF", "a sound or video file"),
    (b"SQLite format 3\x00", "a database"),
    (b"\x1f\x8b", "a compressed file"),
    (b"\xd0\xcf\x11\xe0", "an old office file"),
    (b"{\\rtf", "a word-processor file (RTF)"),
)
"""First bytes of the kinds of file that are taken for a form now and then."""

_NAMES = {
    "\x00": "a NUL",
    "\x0b": "a vertical tab",
    "\x0c": "a form feed",
    "\x85": "a next-line sign (U+0085), often an ellipsis that a conversion broke",
    "\u2028": "a line separator (U+2028)",
    "\u2029": "a paragraph separator (U+2029)",
    "\ufeff": "a byte order mark inside the text",
}


class Place(NamedTuple):
    """A place in a text, counted from 1."""

    line: int
    column: int


class Source(NamedTuple):
    """The text of a form, every hidden character in it replaced so that lines and columns stay true.

    ``text`` is None where the bytes are no form at all.
    """

    text: str | None
    problems: list[Problem]


def read_source(data: bytes, file: str) -> Source:
    """Decode a form and report everything in it that no one can see or read."""
    refused = _refused(data, file)
    if refused:
        return Source(None, [refused])
    body = data.removeprefix(b"\xef\xbb\xbf")
    problems = []
    try:
        text = body.decode("utf-8")
    except UnicodeDecodeError as error:
        text = body.decode("utf-8", errors="replace")
        problems = [_not_utf8(body, text, error, file)]
    suspects = len(_SUSPECT.findall(text))
    if suspects > MOST_PLACES + len(text) // 20:
        return Source(None, [_no_form(file, "a binary file")])
    if suspects and not problems:
        problems = _hidden_characters(text, file)
    return Source(_BAD.sub(_LOST, text) if suspects else text, problems)


def line_of(text: str, number: int) -> str:
    """Give line ``number`` of a text, counted from 1 as an editor does; empty beyond the end."""
    lines = _LINE_END.split(text)
    return lines[number - 1] if 0 < number <= len(lines) else ""


def hash_lines(text: str) -> dict[int, str]:
    """Find lines with a # behind some text and something right behind it, by number: ``Bell #3``.

    YAML takes what follows for a comment and drops it; a comment has a space behind its sign.
    """
    if not _HASH.search(text):
        return {}
    return {number: line for number, line in enumerate(_LINE_END.split(text), 1) if _HASH.search(line)}


def place_of(text: str, index: int) -> Place:
    """Find the place of a character."""
    line, start = 1, 0
    for end in _LINE_END.finditer(text, 0, index):
        if end.end() <= index:
            line, start = line + 1, end.end()
    return Place(line, index - start + 1)


def _refused(data: bytes, file: str) -> Problem | None:
    """Say why the bytes can be no form, if they cannot."""
    if not data:
        return whole_file_problem(
            file, "file-empty", "0 bytes", "a survey form", "fill in a blank form, or remove the file"
        )
    if len(data) > LARGEST_BYTES:
        return too_large(file, len(data))
    for start, kind in _FILE_KINDS:
        if data.startswith(start):
            return _no_form(file, kind)
    if data[:2] in (b"\xff\xfe", b"\xfe\xff") or _looks_like_utf16(data):
        return whole_file_problem(
            file, "text-encoding", "UTF-16 text", "UTF-8 text", "save the file again with encoding UTF-8"
        )
    return None


def _looks_like_utf16(data: bytes) -> bool:
    """Say whether every second byte is 0, as in Latin text in UTF-16."""
    sample = data[:400]
    half = len(sample) // 2
    return half > 3 and max(sample[0::2].count(0), sample[1::2].count(0)) > 0.7 * half


def too_large(file: str, size: int) -> Problem:
    """Make the problem of a file that is larger than any form."""
    return whole_file_problem(
        file,
        "file-too-large",
        f"{size} bytes",
        f"at most {LARGEST_BYTES} bytes",
        "check that this is a survey form; photos and recordings are named in attachments, not put inside",
    )


def _no_form(file: str, kind: str) -> Problem:
    return whole_file_problem(
        file,
        "file-not-a-form",
        kind,
        "a survey form: plain text, YAML",
        "give the form itself; other files are named in its attachments",
    )


def _not_utf8(body: bytes, text: str, error: UnicodeDecodeError, file: str) -> Problem:
    """Report bytes that are not UTF-8: the first, what it may have been, and how many places there are."""
    before = body[: error.start].decode("utf-8")
    places = text.count(_LOST) - body.count(_LOST.encode())
    bad = body[error.start : error.start + 1]
    meant = bad.decode("cp1252", errors="ignore")
    read = f"byte {bad.hex().upper()}" + (f" ({meant} in Windows-1252)" if meant else "")
    if places > 1:
        read += f", and {places - 1} more"
    remedy = "save the file again with encoding UTF-8, then check every letter that is not plain ASCII"
    finding = Finding("text-encoding", read, "UTF-8 text", remedy)
    return finding.at(file, place_of(before, len(before)))


def _hidden_characters(text: str, file: str) -> list[Problem]:
    """Report every hidden or lost character at its place, the first ones of many."""
    return [_hidden(match[0]).at(file, place_of(text, match.start())) for match in _first_suspects(text)]


def _first_suspects(text: str) -> list[re.Match[str]]:
    return list(islice(_SUSPECT.finditer(text), MOST_PLACES))


def _hidden(character: str) -> Finding:
    """Tell of one hidden or lost character."""
    expected = "characters that can be seen"
    if character == _LOST:
        read = "U+FFFD, the sign for a letter that was lost"
        return Finding("lost-character", read, expected, "put in the letter that stood here")
    read = _NAMES.get(character, f"U+{ord(character):04X}")
    return Finding("control-character", read, expected, "delete it, and write what was meant")
