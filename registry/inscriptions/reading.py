"""The text as it is read, and the letters as they stand on the metal, both from one transcription."""

from collections.abc import Sequence
from functools import lru_cache
from typing import NamedTuple

from registry.inscriptions.leiden import NOT_ON_THE_BELL, Kind, Piece, Status, parse

LOST = "[…]"
"""How lost letters are written in a reading text."""


class Text(NamedTuple):
    """A text made from a transcription, and for each of its characters the place it comes from."""

    text: str
    origins: tuple[int, ...]


@lru_cache(maxsize=4096)
def reading_text(transcription: str, *, backwards: bool = False) -> Text:
    """Give the text for reading: abbreviations and lost letters filled in, superfluous ones left out.

    Lines run on, words that a line end parts are joined, and what is lost and not restored stands as
    ``[…]``. Capitals and punctuation stay as they are; it is derived, and never replaces the transcription.
    With ``backwards`` the line is read from its end, as one that runs retrograde or stands mirrored.
    """
    pieces = parse(transcription).pieces
    return _written(pieces[::-1] if backwards else pieces, in_reading=True)


@lru_cache(maxsize=4096)
def letters_on_bell(transcription: str) -> Text:
    """Give the letters that stand on the bell, case and marks kept, one space between words.

    What the edition expands, restores or supplies is not on the metal and is left out; so are points
    between words. The exact search compares these.
    """
    return _written(parse(transcription).pieces, in_reading=False)


def _written(pieces: Sequence[Piece], *, in_reading: bool) -> Text:
    """Write the pieces that count, single spaces between what they part."""
    text, space = "", False
    origins: list[int] = []
    for piece in pieces:
        sign = _sign(piece, in_reading=in_reading)
        if sign is None:
            space = True
            continue
        if not sign:
            continue
        if space and text:
            text += " "
            origins.append(origins[-1])
        space = False
        text += sign
        origins += [piece.start] * len(sign)
    return Text(text, tuple(origins))


def _sign(piece: Piece, *, in_reading: bool) -> str | None:
    """Give what is written for a piece; None for a space, nothing for what does not count."""
    match piece.kind:
        case Kind.LETTER:
            left_out = piece.status is Status.SUPERFLUOUS if in_reading else piece.status in NOT_ON_THE_BELL
            return "" if left_out else piece.text
        case Kind.GAP:
            return LOST
        case Kind.SEAM:
            return ""
        case Kind.POINT if in_reading:
            doubt = piece.text in "?!" and piece.status is not Status.CLEAR
            return "" if doubt or len(piece.text) > 1 else piece.text
    return None
