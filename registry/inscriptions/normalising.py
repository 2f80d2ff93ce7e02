"""Normalised text: one function for what stands on bells and for what is asked.

Every word keeps its place in the text it comes from, so that what is found can be shown there. Words are
those of the reading: expanded, restored and omitted letters count, superfluous ones do not.
"""

from collections.abc import Iterable, Sequence
from functools import lru_cache
from itertools import pairwise
from typing import NamedTuple

from registry.inscriptions.folding import GAP, LONGEST_WORD, STOPS, Key, keys_of, name_keys, run_together
from registry.inscriptions.leiden import Kind, Piece, Status, parse

LONGEST = 20_000
"""Characters of a text that are looked at; no inscription and no question has as many."""

LEAST_HALF = 3
"""Letters before and behind a capital within a word that may make two words of it."""

_APOSTROPHES = "'’ʼʹ‘´"
_INSIDE_WORDS = "״׳"
"""Hebrew marks of abbreviation, which stand inside words."""

GAP_WORDS = "[---]"
"""How lost letters are written in a normalised text."""


class Word(NamedTuple):
    """One word.

    ``keys`` are the spellings it is compared by, the likeliest first; ``*`` in one stands for lost letters,
    of which there were ``least`` to ``most`` (None: nobody knows). ``standing`` counts letters that can be
    read. ``text[start:end]`` is the word in the text it comes from, and ``origins`` gives for each character
    of the first key where it stands there. ``parts`` are the two words it may be, where a line ends in it or
    a capital stands in it.
    """

    keys: tuple[str, ...]
    start: int
    end: int
    standing: int
    origins: tuple[int, ...]
    letters: tuple[str, ...] = ()
    least: int = 0
    most: int | None = 0
    parts: tuple["Word", ...] = ()

    @property
    def is_gap(self) -> bool:
        """Whether nothing of it stands."""
        return self.standing == 0

    @property
    def is_capitals(self) -> bool:
        """Whether all its letters are capitals."""
        return all(letter.isupper() for letter in self.letters if letter not in STOPS)

    @property
    def is_damaged(self) -> bool:
        """Whether letters of it are lost."""
        return self.most != 0


class Normalised(NamedTuple):
    """A text made comparable: the text it comes from, and its words in their order, gaps among them."""

    source: str
    words: tuple[Word, ...]

    @property
    def text(self) -> str:
        """The first keys of all words, in one line; lost letters as ``[---]``."""
        return " ".join(word.keys[0].replace(GAP, GAP_WORDS) for word in self.words)

    @property
    def origins(self) -> tuple[int, ...]:
        """For each character of ``text`` its place in ``source``; a space has that of the word before."""
        places: list[int] = []
        for number, word in enumerate(self.words):
            if number:
                places.append(places[-1])
            for character, origin in zip(word.keys[0], word.origins, strict=True):
                places += [origin] * (len(GAP_WORDS) if character == GAP else 1)
        return tuple(places)

    @property
    def joined(self) -> Key:
        """The first keys without spaces: for words that stand together, or are parted otherwise."""
        return run_together(tuple(Key(word.keys[0], word.origins) for word in self.words))


@lru_cache(maxsize=4096)
def normalise(text: str, *, backwards: bool = False) -> Normalised:
    """Normalise an inscription, or a question.

    Parameters
    ----------
    text : str
        With or without Leiden signs; any text at all.
    backwards : bool
        Read it from its end, as a line that runs backwards or stands mirrored.
    """
    pieces: Sequence[Piece] = parse(text[:LONGEST]).pieces
    return Normalised(text, tuple(_words(pieces[::-1] if backwards else pieces, backwards=backwards)))


@lru_cache(maxsize=4096)
def normalise_names(text: str) -> Normalised:
    """Normalise a name, a place or a translation: case, accents and letter forms alone."""
    words = []
    for letters in _groups(parse(text[:LONGEST]).pieces):
        keys = name_keys(tuple(piece.text for piece in letters[:LONGEST_WORD] if piece.kind is Kind.LETTER))
        if keys:
            places = tuple(letters[0].start for _ in keys[0])
            words.append(Word(keys, letters[0].start, letters[-1].end, len(keys[0]), places))
    return Normalised(text, tuple(words))


def _words(pieces: Iterable[Piece], *, backwards: bool) -> Iterable[Word]:
    """Make the words of pieces."""
    for letters in _groups(pieces):
        word = _word(letters, backwards=backwards)
        if word is not None:
            yield word


def _groups(pieces: Iterable[Piece]) -> Iterable[list[Piece]]:
    """Put together what is one word: letters, gaps and seams, and a stop that ends it."""
    group: list[Piece] = []
    stop: Piece | None = None
    for piece in pieces:
        if piece.kind in (Kind.LETTER, Kind.GAP):
            if stop is not None and group:
                # Letters go on behind an apostrophe: l'an, God's.
                yield group
                group = []
            stop = None
            if piece.status is not Status.SUPERFLUOUS:
                group.append(piece)
        elif piece.kind is Kind.SEAM:
            group.append(piece)
        elif piece.kind is Kind.POINT and piece.text in _INSIDE_WORDS:
            continue
        elif piece.kind is Kind.POINT and stop is None and group and piece.text in (*_APOSTROPHES, "."):
            stop = piece
        else:
            if group:
                yield [*group, stop] if stop else group
            group, stop = [], None
    if group:
        yield [*group, stop] if stop else group


def _word(pieces: list[Piece], *, backwards: bool = False) -> Word | None:
    """Make a word of its pieces; None where nothing in it can be compared."""
    used = [piece for piece in pieces if piece.kind is not Kind.SEAM]
    used = used[:LONGEST_WORD]
    signs = tuple(_sign(piece) for piece in used)
    keys = keys_of(signs)
    if not keys:
        return None
    first: Key = keys[0]
    least, most = 0, 0
    unknown = False
    for piece in used if GAP in signs else ():
        if piece.kind is Kind.GAP:
            unknown |= piece.letters is None
            # Spellings differ by a letter or two, and lost ones are counted by the eye.
            least += 0 if piece.letters is None else (piece.letters + 1) // 2
            most += 0 if piece.letters is None else piece.letters + 2
    keyed = tuple(dict.fromkeys(key.text for key in keys))
    return Word(
        keyed,
        min(piece.start for piece in used),
        max(piece.end for piece in used),
        len(first.text.replace(GAP, "")),
        tuple(used[min(place, len(used) - 1)].start for place in first.origins),
        signs,
        least,
        None if unknown else most,
        () if backwards else _parts(pieces),
    )


def _parts(pieces: list[Piece]) -> tuple[Word, ...]:
    """Give the two words that one may be: a stroke also stands between words, a capital also begins one."""
    seams = [place for place, piece in enumerate(pieces) if piece.kind is Kind.SEAM]
    whole = "".join([piece.text for piece in pieces])
    if not seams and (whole.islower() or whole.isupper()):
        return ()
    capitals = [
        place
        for place, (before, after) in enumerate(pairwise(pieces), start=1)
        if before.text.islower() and after.text.isupper()
    ]
    if len(seams) == 1:
        halves = pieces[: seams[0]], pieces[seams[0] + 1 :]
    elif not seams and len(capitals) == 1 and LEAST_HALF <= capitals[0] <= len(pieces) - LEAST_HALF:
        halves = pieces[: capitals[0]], pieces[capitals[0] :]
    else:
        return ()
    words = [_word(half) for half in halves if sum(piece.kind is Kind.LETTER for piece in half) >= 2]
    return tuple(word for word in words if word is not None) if len(words) == 2 else ()


def _sign(piece: Piece) -> str:
    if piece.kind is Kind.GAP:
        return GAP
    if piece.kind is Kind.POINT:
        return STOPS[1] if piece.text == "." else STOPS[0]
    return piece.text
