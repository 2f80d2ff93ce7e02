"""A transcription taken apart: words with the marks of their letters, editorial signs resolved.

Plain text carries raised letters in many ways: ``m°``, ``mº``, ``mᵒ``, ``m^o``, ``m<sup>o</sup>``, a small
o over the letter. All become two marks here: ``°`` for an ending that says "read me as an ordinal" and
``^`` before raised letters that may multiply (``v^c``). A stroke or wave over a letter becomes ``¯``.

Editorial signs are those of Leiden: ``(abc)`` expanded, ``[abc]`` lost and restored, ``[---]`` lost for
good, ``{abc}`` superfluous, ``<abc>`` supplied, underdots for what is uncertain, ``|`` the end of a line.
Source: S. Krummrey and S. Panciera, "Criteri di edizione e segni diacritici", Tituli 2 (1980) 205-215, from
memory.
"""

import re
import unicodedata
from functools import lru_cache
from typing import NamedTuple

RAISED = {
    "°": "°", "º": "°", "ª": "°", "˚": "°", "ᵒ": "°", "⁰": "°", "ᵃ": "°",
    "ᶜ": "^c", "ˣ": "^x", "ᵐ": "^m", "ᵗ": "^t", "ⁱ": "^i", "ᵛ": "^v", "ˢ": "^s", "ᵘ": "^u", "ᵈ": "^d",
    "ⁿ": "^n",
    "ᵉ": "^e", "ˡ": "^l", "ʳ": "^r",
}  # fmt: skip
"""Raised letters that have a character of their own."""

OVER = {
    "\u030a": "°", "\u0366": "°", "\u0363": "°", "\u0368": "^c", "\u036f": "^x", "\u036b": "^m",
    "\u0304": "¯", "\u0305": "¯", "\u033f": "¯", "\u0303": "¯", "\u035e": "¯", "\u0360": "¯",
}  # fmt: skip
"""Combining marks over a letter: ring and small o, a; small c, x, m; strokes and waves."""

UNCLEAR = "\u0323"
LOST = "…"

_SUP = re.compile(r"<sup>(\w+)</sup>", re.IGNORECASE)
_BRACED = re.compile(r"\^\{(\w+)\}")
_BROUGHT = (
    # The signs of a thousand and five hundred as they are printed: (I), C|Ɔ, CIO with a letter O, cIɔ.
    (re.compile(r"\(\(I\)\)", re.IGNORECASE), "CCIƆƆ"),
    (re.compile(r"\(I\)", re.IGNORECASE), "CIƆ"),
    (re.compile(r"(?<![\w(])([Ii])\)(?!\))"), r"\1Ɔ"),
    (re.compile(r"([Cc])[|Il1](?=[)ƆɔↃↄ])[)ƆɔↃↄ]"), "CIƆ"),
    (re.compile(r"(?<![A-Za-z])[Cc][ .·]+[Ii][ .·]*[)ƆɔↃↄ]"), "CIƆ"),
    (re.compile(r"([Ii])[ .·]+[ƆɔↃↄ]"), r"\1Ɔ"),
    (re.compile(r"(?<![A-Z])CI[O0](?=[^A-Za-z]|[CIDLXVM]|$)"), "CIƆ"),
    (re.compile(r"(?<=CIƆ)([ .·]*)I[O0](?=[^A-Za-z]|[CIDLXVM]|$)"), r"\1IƆ"),
)
_ALIKE = str.maketrans(
    {"Ↄ": "Ɔ", "ↄ": "Ɔ", "ɔ": "Ɔ", "ſ": "s", "⁊": "&", "ꝛ": "r", "ⱺ": "o", "ȷ": "j", "ı": "i"}
)
_TOKEN = re.compile(r"(?:[^\W_]|[°^¯Ɔↀↁↂↅↆↇↈ∞ʹ͵'’׳״\"](?=\S)|[°¯Ɔↀↁↂↅↆↇↈ∞ʹ׳״]|[\u0483\u0482\u2de0-\u2dff])+")


class Token(NamedTuple):
    """A word or numeral of the text.

    ``plain`` is it without editorial signs, its marks as in this module; ``gap`` is what stands before it;
    ``restored`` and ``unclear`` say what the editor said of some of its letters.
    """

    plain: str
    gap: str
    restored: bool = False
    unclear: bool = False


@lru_cache(maxsize=1024)
def tokens_of(text: str, *, expanded: bool = True) -> tuple[Token, ...]:
    """Take a text apart; an empty token at the end carries what stands behind the last word.

    Parameters
    ----------
    text : str
        A transcription, or a date alone.
    expanded : bool
        Whether letters in round brackets, by which the editor spells out, are read with the others.
    """
    cells, flags = _cells(text, expanded=expanded)
    whole = "".join(cells)
    places: list[int] = []
    for number, cell in enumerate(cells):
        places.extend([number] * len(cell))
    found, last = [], 0
    for match in _TOKEN.finditer(whole):
        marks = {flags[places[at]] for at in range(match.start(), match.end())}
        found.append(
            Token(
                match[0].strip("'’\""),
                whole[last : match.start()],
                any(mark & 1 for mark in marks),
                any(mark & 2 for mark in marks),
            )
        )
        last = match.end()
    found.append(Token("", whole[last:]))
    return tuple(found)


def _cells(text: str, *, expanded: bool) -> tuple[list[str], list[int]]:  # noqa: PLR0912 - one branch a sign
    """Resolve the signs of a text, one cell for each character; flags: 1 restored, 2 unclear."""
    if "<" in text:
        text = _SUP.sub(r"^\1", text)
    if "^{" in text:
        text = _BRACED.sub(r"^\1", text)
    for pattern, brought in _BROUGHT:
        text = pattern.sub(brought, text)
    if text.isascii() and not _SIGNS.search(text):
        return [text], [0]
    cells: list[str] = []
    flags: list[int] = []
    restored, hidden = 0, 0
    for char in unicodedata.normalize("NFD", text.translate(_ALIKE)):
        if char in "[]":
            restored = int(char == "[")
        elif char in "{}":
            hidden = int(char == "{")
        elif char in "()":
            hidden = int(char == "(" and not expanded)
        elif hidden or char in "<>⟨⟩⟦⟧":
            continue
        elif char == UNCLEAR:
            if flags:
                flags[-1] |= 2
        elif restored and char in ".-–—…":
            cells.append(LOST)
            flags.append(1)
        elif (mark := OVER.get(char) or RAISED.get(char)) is not None:
            if mark[0] == "^" and cells and "^" in cells[-1]:
                mark = mark[1:]  # ˣˣ is one raised group
                cells[-1] += mark
            else:
                cells.append(mark)
                flags.append(restored)
        elif unicodedata.combining(char):
            if cells and char not in "\u0361\u035c":
                cells[-1] = unicodedata.normalize("NFC", cells[-1] + char)
        else:
            cells.append(
                unicodedata.normalize("NFKC", char) if "\u2160" <= char <= "\u217f" or char == "ĳ" else char
            )
            flags.append(restored)
    return cells, flags


_SIGNS = re.compile(r"[\[\]{}()<>]")
