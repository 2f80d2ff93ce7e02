"""Latin number words as bells spell them: in every case, joined, shortened, misspelt.

Source of the words: J. B. Greenough and others, Allen and Greenough's New Latin Grammar (1903), sections
132 to 135, with the forms "twenty less one" and "twenty less two" of every ten. Medieval spelling (e for
ae, c for t before i, y for i, v for u, single for double letters) is levelled on both sides before words
are compared; that these letters change places on bells is common practice, no source.
"""

import re
from collections.abc import Iterator
from difflib import get_close_matches
from functools import cache, lru_cache

from registry.derive.dating.latin_words import (
    ADVERBS,
    CARDINALS,
    DISTRIBUTIVES,
    ENDINGS,
    HUNDREDS,
    ORDINALS,
    THOUSANDS,
)
from registry.derive.dating.sums import Sign

_SPELLINGS = (
    (re.compile("æ|œ|ę|ae|oe"), "e"),
    (re.compile("v|w"), "u"),
    (re.compile("[jy]"), "i"),
    (re.compile("ph"), "f"),
    (re.compile("h"), ""),
    (re.compile("k|q(?!u)"), "c"),
    (re.compile("t(?=i[aeou])"), "c"),
    (re.compile("ns(?=im)"), "s"),
    (re.compile(r"(.)\1+"), r"\1"),
)

_MISSPELT_ENDS = ("simo", "sima", "simum", "simi", "ximo", "cimo", "sim")


def levelled(word: str) -> str:
    """Bring a Latin word to the one spelling in which words are compared."""
    word = word.casefold()
    for pattern, letters in _SPELLINGS:
        word = pattern.sub(letters, word)
    return word


@cache
def _forms() -> dict[str, tuple[int, bool, str]]:
    """Give every form by its levelled spelling: its value, whether it multiplies, and how it is spelt."""
    forms: dict[str, tuple[int, bool, str]] = {}
    for value, stem in (*_with_less(ORDINALS), *_listed(HUNDREDS), *_listed(DISTRIBUTIVES)):
        for ending in ENDINGS:
            forms.setdefault(levelled(stem + ending), (value, False, stem + ending))
    for value, word in _with_less(CARDINALS):
        forms.setdefault(levelled(word), (value, False, word))
    for word in THOUSANDS:
        forms[levelled(word)] = (1000, True, word)
    return forms


def _listed(table: dict[int, str]) -> Iterator[tuple[int, str]]:
    for value, words in table.items():
        for word in words.split():
            yield value, word


def _with_less(table: dict[int, str]) -> Iterator[tuple[int, str]]:
    """Give the words of a table, and those of one and two less than every ten ("undetricesimo")."""
    for value, word in _listed(table):
        yield value, word
        if 20 <= value <= 100:
            yield value - 1, "unde" + word
            yield value - 2, "duode" + word


@cache
def _adverbs() -> dict[str, int]:
    return {levelled(word): value for value, word in _listed(ADVERBS)}


@cache
def _stems() -> dict[str, int]:
    return {levelled(stem): value for value, stem in _listed(ORDINALS)}


@lru_cache(maxsize=4096)
def latin_signs(word: str) -> tuple[tuple[Sign, ...], float, str] | None:
    """Read a word, or several written as one, as Latin numbers.

    Returns
    -------
    tuple of signs, cost and doubt, or None
        The cost is that of a shortened or misspelt form, which the doubt names.
    """
    if not 3 <= len(word) <= 60:
        return None
    plain = levelled(word.rstrip("°").replace("^", ""))
    if plain in _adverbs():
        return (Sign("often", _adverbs()[plain], word),), 0.0, ""
    parts = _parted(plain)
    if parts is not None:
        parts = [(word, *parts[0][1:])] if len(parts) == 1 else parts
        return tuple(Sign("times" if times else "word", value, text) for text, value, times in parts), 0.0, ""
    short = _shortened(word, plain)
    if short is not None:
        return (Sign("word", short, word),), 0.3, f"{word} read as a shortened ordinal"
    near = get_close_matches(plain, _long_forms(), 1, 0.78) if _is_like_an_ordinal(plain) else []
    if not near:
        return None
    value, _, spelt = _forms()[near[0]]
    return (Sign("word", value, word),), 1.5, f"{word} read as {spelt}"


def _is_like_an_ordinal(plain: str) -> bool:
    return len(plain) >= 9 and plain.endswith(_MISSPELT_ENDS)


@cache
def _long_forms() -> list[str]:
    return [form for form in _forms() if len(form) >= 8]


def _parted(word: str) -> list[tuple[str, int, bool]] | None:
    """Part a word into number words, the longest first; None where something is left over."""
    forms = _forms()
    if word in forms:
        value, times, spelt = forms[word]
        return [(spelt, value, times)]
    for length in range(min(len(word) - 3, 24), 3, -1):
        front = word[:length]
        if front in forms:
            rest = _parted(word[length:])
            if rest is not None:
                value, times, spelt = forms[front]
                return [(spelt, value, times), *rest]
    return None


def _shortened(word: str, plain: str) -> int | None:
    """Read a beginning of at least four letters with a raised or final o: ``quingent°``, ``millmo``."""
    raised = word.endswith("°")
    if not raised and not plain.endswith("mo"):
        return None
    base = plain if raised else plain[:-2]
    if len(base) < (3 if raised else 4):
        return None
    if base in _stems():
        return _stems()[base]
    values = {value for stem, value in _stems().items() if value >= 10 and stem.startswith(base)}
    return values.pop() if len(values) == 1 else None
