"""The letters of an inscription, so that two readings of one text can be held against each other.

They are those by which the search finds it: abbreviations read out, spellings that stand for each other made
one, signs of an edition left out. Spaces fall away, for bells part words as they please.
"""

import re

from registry.inscriptions.folding import GAP
from registry.inscriptions.normalising import normalise

UNREAD = "?"
"""Stands for one letter that nobody could read; lost letters without number part a text into pieces."""

_LOST = re.compile(r"\[\s*(?:\.{2,}|…|-+|[–—])\s*\]|\.{2,}|…|-{2,}|\n\s*\n")
_UNREAD_LETTER = re.compile(r"\[\s*\.\s*\]|_|\?")
_STAND_IN = "\u0553"
"""A letter of another script, which keeps the place of a letter unread."""


def plain_letters(text: str) -> str:
    """Give the letters of a text; `UNREAD` stands for a letter unread, ``*`` for a gap."""
    text = _LOST.sub("[---]", text)
    letters = normalise(_UNREAD_LETTER.sub(_STAND_IN, text)).joined.text
    return letters.replace(_STAND_IN.casefold(), UNREAD)


def pieces(letters: str) -> tuple[str, ...]:
    """Give the pieces of a text between its gaps, ends that nobody could read left off."""
    found = (piece.strip(UNREAD) for piece in letters.split(GAP))
    return tuple(piece for piece in found if piece)
