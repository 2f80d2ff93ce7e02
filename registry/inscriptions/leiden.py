"""Transcriptions with Leiden signs, taken apart letter by letter; every piece knows where it stands.

The signs are those of the Leiden conventions as the EpiDoc guidelines list them (Krummrey and Panciera;
EpiDoc cheat sheet) and as *Die Deutschen Inschriften* print them: ``(abc)`` expanded, ``[abc]`` lost and
restored, ``[...]`` so many letters lost, ``[---]`` lost without number, ``+++`` traces, an underdot for a
doubtful letter, ``⟦abc⟧`` erased, ```abc´`` added, ``{abc}`` superfluous, ``<abc>`` left out by the founder,
a tie for a ligature, ``|`` or ``/`` the end of a line, ``||`` or ``//`` the end of a field, ``=`` a hyphen as
cast.
"""

import re
import unicodedata
from collections.abc import Iterator
from enum import StrEnum
from functools import lru_cache
from typing import NamedTuple


class Status(StrEnum):
    """What an edition says of a letter; the first that holds of ``superfluous`` to ``unclear`` counts."""

    CLEAR = "clear"
    UNCLEAR = "unclear"
    ADDED = "added"
    ERASED = "erased"
    RESTORED = "restored"
    OMITTED = "omitted"
    EXPANDED = "expanded"
    SUPERFLUOUS = "superfluous"


NOT_ON_THE_BELL = frozenset({Status.RESTORED, Status.OMITTED, Status.EXPANDED})
"""Letters that the edition gives and the metal does not."""


class Kind(StrEnum):
    """What a piece of a transcription is. ``seam`` is a line end inside a word."""

    LETTER = "letter"
    GAP = "gap"
    SEAM = "seam"
    SPACE = "space"
    LINE = "line"
    FIELD = "field"
    POINT = "point"


class Piece(NamedTuple):
    """One piece of a transcription, at ``text[start:end]`` of it.

    ``text`` is the letter with its marks but for underdot and tie, else the sign as it stands. ``letters``
    counts what a gap has lost, None where nobody knows. ``ligature`` says that it is tied to the next letter.
    """

    kind: Kind
    text: str
    start: int
    end: int
    status: Status = Status.CLEAR
    letters: int | None = None
    ligature: bool = False


class SignProblem(NamedTuple):
    """A sign that has no partner: where it stands, counted from 0, the sign, and what is wrong."""

    at: int
    sign: str
    what: str


class Transcription(NamedTuple):
    """A transcription taken apart. The pieces stand in its order and leave nothing out but brackets."""

    text: str
    pieces: tuple[Piece, ...]
    problems: tuple[SignProblem, ...]


_OPENERS = {
    "(": (")", Status.EXPANDED),
    "[": ("]", Status.RESTORED),
    "{": ("}", Status.SUPERFLUOUS),
    "<": (">", Status.OMITTED),
    "⟨": ("⟩", Status.OMITTED),
    "〈": ("〉", Status.OMITTED),
    "⟦": ("⟧", Status.ERASED),
    "[[": ("]]", Status.ERASED),
    "`": ("´", Status.ADDED),
}
_CLOSERS = {closer: opener for opener, (closer, _) in _OPENERS.items()}
_RANK = {status: rank for rank, status in enumerate(Status)}
_UNDERDOT, _TIES = "\u0323", "\u0361\u035c"
_DASHES = "-\u2010\u2011\u2012\u2013\u2014\u2015\u2212"
_DOTS = ".·․‧•"
_PLAIN = re.compile("(?:[0-9A-Za-z](?![\u0300-\U0010ffff]))+")
"""Letters and digits without marks: most are, and need no closer look."""
_DOT_RUN = re.compile(rf"[{re.escape(_DOTS)}](?: ?[{re.escape(_DOTS)}])*")
_DASH_RUN = re.compile(rf"[{re.escape(_DASHES)}](?: ?[{re.escape(_DASHES)}])*")
_CROSS_RUN = re.compile(r"\+{3,}")
_COUNTED = re.compile(rf"\[[ {re.escape(_DOTS + _DASHES)}±~]*(?:ca?\.?|circa)?[ ±~]*(\d{{1,3}})[^\w\]]*\]")
_NOTE = re.compile(r"[\[(] ?(?:sic ?!?|!+|\?+) ?[\])]", re.IGNORECASE)
"""What the editor says to the reader, and no one cast."""
_LINE = re.compile(r"[=⸗¬\u00ad]?[ \t]*(\r?\n|\|\||//|‖|\||/)")
_MODIFIERS = re.compile("[\u02b9-\u02df\u02ec-\u02ff]")
"""Apostrophes, half colons and their like, which Unicode counts among letters."""
_SIGNS = "&⁊"
"""Signs that are words of their own though they are no letters."""
_HYPHENS = "=⸗¬\u00ad"


@lru_cache(maxsize=4096)
def parse(text: str) -> Transcription:
    """Take a transcription apart.

    Nothing is refused: a bracket without a partner is told in ``problems`` and else passed over, so that
    every text, also what a visitor types into a search, can be read.
    """
    parser = _Parser(text)
    pieces = tuple(parser.pieces())
    return Transcription(text, pieces, tuple(sorted(parser.problems)))


def end_of_letter(text: str, at: int) -> int:
    """Give the place behind the letter that begins before ``at``: its marks belong to it."""
    while at < len(text) and unicodedata.category(text[at])[0] == "M":
        at += 1
    return at


class _Parser:
    """The way through one text."""

    def __init__(self, text: str) -> None:
        self.text = text
        self.open: list[tuple[str, int]] = []
        self.status = Status.CLEAR
        self.problems: list[SignProblem] = []

    def pieces(self) -> Iterator[Piece]:
        at = 0
        while at < len(self.text):
            plain = _PLAIN.match(self.text, at)
            if plain is not None:
                for place, letter in enumerate(plain[0], start=at):
                    yield Piece(Kind.LETTER, letter, place, place + 1, self.status)
                at = plain.end()
                continue
            piece = self._note(at) or self._line(at) or self._gap(at)
            if piece is not None:
                yield piece
                at = piece.end
                continue
            step = self._bracket(at)
            if step:
                self.status = max(
                    (_OPENERS[sign][1] for sign, _ in self.open), key=_RANK.__getitem__, default=Status.CLEAR
                )
                at += step
                continue
            piece = self._letter(at)
            yield piece
            at = piece.end
        for sign, where in self.open:
            self.problems.append(SignProblem(where, sign, f"{sign} is not closed by {_OPENERS[sign][0]}"))

    def _note(self, at: int) -> Piece | None:
        """Read ``[!]`` or ``(sic)``."""
        found = _NOTE.match(self.text, at)
        return None if found is None else Piece(Kind.POINT, found[0], at, found.end())

    def _line(self, at: int) -> Piece | None:
        """Read the end of a line or field; one with letters close on both sides goes through a word."""
        found = _LINE.match(self.text, at)
        if found is None:
            return None
        sign, start, end = found[1], at, found.end()
        if sign in ("||", "//", "‖"):
            return Piece(Kind.FIELD, sign, start, end)
        hyphen = found[0][0] in _HYPHENS or (
            at > 0 and self.text[at - 1] in _DASHES and self._is_word(at - 2)
        )
        if hyphen:
            while end < len(self.text) and self.text[end] in " \t":
                end += 1
            return Piece(Kind.SEAM, sign, start, end)
        if sign.endswith("\n"):
            return Piece(Kind.LINE, sign, start, end)
        before, after = self.text[max(at - 1, 0) : at], self.text[end : end + 1]
        numbers = before.isdigit() and after.isdigit()
        close = found[0] == sign and before.strip() and after.strip() and not numbers
        return Piece(Kind.SEAM if close else Kind.LINE, sign, start, end)

    def _is_word(self, at: int) -> bool:
        return at >= 0 and (self.text[at].isalnum() or self.text[at] in ")]}>⟩⟧")

    def _gap(self, at: int) -> Piece | None:
        """Read what stands for lost letters; dots and dashes count only where they cannot be punctuation."""
        sign = self.text[at]
        if sign == "[":
            return self._counted_gap(at)
        if sign == "…":
            return Piece(Kind.GAP, sign, at, at + 1)
        crosses = _CROSS_RUN.match(self.text, at)
        if crosses:
            return Piece(Kind.GAP, crosses[0], at, crosses.end(), letters=len(crosses[0]))
        lost = any(opener == "[" for opener, _ in self.open)
        run = (_DOT_RUN if sign in _DOTS else _DASH_RUN).match(self.text, at)
        if run is None:
            return None
        count = sum(not each.isspace() for each in run[0])
        if count < (2 if lost else 3) and not (lost and self._holds_no_letters(at)):
            return None
        known = lost and sign in _DOTS
        return Piece(Kind.GAP, run[0], at, run.end(), Status.RESTORED, letters=count if known else None)

    def _counted_gap(self, at: int) -> Piece | None:
        """Read ``[c. 5]``: lost letters that are counted. A bare number is restored text."""
        found = _COUNTED.match(self.text, at)
        if found is None or found[0].strip("[]").isdigit():
            return None
        lost = int(found[1]) or None
        return Piece(Kind.GAP, found[0], at, found.end(), Status.RESTORED, letters=lost)

    def _holds_no_letters(self, at: int) -> bool:
        """Say whether the brackets around a place hold no letter."""
        start = self.text.rfind("[", 0, at)
        end = self.text.find("]", at)
        return not any(each.isalnum() for each in self.text[start : end if end >= 0 else len(self.text)])

    def _bracket(self, at: int) -> int:
        """Take up a bracket and give its length; 0 where none stands."""
        sign = self.text[at : at + 2] if self.text[at : at + 2] in ("[[", "]]") else self.text[at]
        inner = self.open[-1][0] if self.open else ""
        if sign == "[[" and "]]" not in self.text[at:]:
            sign = "["
        if sign == "]]" and "[[" not in (opener for opener, _ in self.open):
            sign = "]"
        if sign in _OPENERS:
            if sign == inner and sign != "[[":
                self.problems.append(SignProblem(at, sign, f"{sign} stands inside another {sign}"))
            self.open.append((sign, at))
            return len(sign)
        if sign not in _CLOSERS:
            return 0
        opener = _CLOSERS[sign]
        if sign == "´" and inner != opener:
            return 0
        if inner == opener:
            self.open.pop()
        elif opener in (each for each, _ in self.open):
            self.problems.append(SignProblem(at, sign, f"{sign} comes before {inner} is closed"))
            place = max(index for index, each in enumerate(self.open) if each[0] == opener)
            del self.open[place]
        else:
            self.problems.append(SignProblem(at, sign, f"{sign} closes nothing"))
        return len(sign)

    def _letter(self, at: int) -> Piece:
        """Read a letter with its marks, a space or a point."""
        end = end_of_letter(self.text, at + 1)
        sign = self.text[at:end]
        if not any(each.isalnum() or each in _SIGNS for each in sign) or _MODIFIERS.fullmatch(sign):
            kind = Kind.SPACE if sign.isspace() else Kind.POINT
            return Piece(kind, sign, at, end, self.status)
        marks = unicodedata.normalize("NFD", sign)
        kept = "".join(each for each in marks if each != _UNDERDOT and each not in _TIES)
        return Piece(
            Kind.LETTER,
            unicodedata.normalize("NFC", kept),
            at,
            end,
            Status.UNCLEAR if _UNDERDOT in marks and self.status is Status.CLEAR else self.status,
            ligature=any(tie in marks for tie in _TIES),
        )
