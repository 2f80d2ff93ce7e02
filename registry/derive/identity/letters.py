"""The letters of an inscription, so that two readings of one text can be held against each other.

Editions mark what they add and what is lost; bells write V for U and leave out spaces; readers spell as they
please. What is compared are plain small letters and digits without any of that.
"""

import re
import unicodedata

UNREAD = "?"
"""Stands for one letter that nobody could read; several lost letters part a text into pieces."""

_LOST = re.compile(r"\[\s*(?:-{2,}|\.{2,}|…|[-–—])\s*\]|\.{3,}|…|-{3,}|\n\s*\n")
_UNREAD_LETTER = re.compile(r"\[\s*\.\s*\]|_|\?")
_SAME = str.maketrans({"v": "u", "j": "i", "w": "uu", "y": "i", "ß": "ss", "æ": "ae", "œ": "oe", "þ": "th",
                       "ı": "i", "ſ": "s", "ς": "σ"})  # fmt: skip


def plain_letters(text: str) -> str:
    """Give the letters and digits of a text, small and without marks; `UNREAD` stands for a letter unread."""
    marked = _UNREAD_LETTER.sub("\0", text)
    taken = unicodedata.normalize("NFKD", marked).casefold().translate(_SAME)
    letters = (UNREAD if letter == "\0" else letter for letter in taken if letter == "\0" or letter.isalnum())
    return "".join(letters)


def pieces(text: str) -> tuple[str, ...]:
    """Give the pieces of a text between gaps, each as plain letters, ends that nobody could read left off."""
    found = (plain_letters(piece).strip(UNREAD) for piece in _LOST.split(text))
    return tuple(piece for piece in found if piece)
