"""Chronograms: what the numeral letters of a text add up to, by every rule that was in use, side by side.

Letters only add, never take away (IV is 6). The rules differ in which letters count (the capitals alone, or
all) and in U (5 as V, or nothing), J (1 as I, or nothing), W (nothing, or 10 as two V) and Y (nothing, 1, 2
as ij, or 5). A sum is never a proof: a text without any year in it adds up to something too.

Sources: J. Hilton, Chronograms (1882), on the rule that every numeral letter counts; the articles
"Chronogram" of Wikipedia (German, Czech, Hungarian) and berghapedia.nl for U, J and W; the tables beside
the tests for all of them.
"""

import unicodedata
from collections import Counter
from collections.abc import Iterator
from functools import lru_cache
from itertools import product
from typing import NamedTuple

from registry.derive.dating.reading import Reading, Standing, year_cost

FIXED = {"I": 1, "V": 5, "X": 10, "L": 50, "C": 100, "D": 500, "M": 1000}
VARIED = {"U": (5, 0), "J": (1, 0), "W": (0, 10), "Y": (0, 2, 1, 5)}
"""Letters that some count and some do not, the usual value first."""

NUMERALS = frozenset(FIXED) | frozenset(VARIED)
LEAST_LETTERS = 3
HIDING = {"(": ")", "{": "}"}
"""Brackets round what was not cast."""


class LetterSum(NamedTuple):
    """A sum with the rules that give it, the most usual first; ``strays`` counts what is unusual in them."""

    sum: int
    rules: tuple[str, ...]
    capitals: bool
    strays: int


class Chronogram(NamedTuple):
    """The sums of a text.

    Parameters
    ----------
    marked : bool
        Whether capitals inside words mark the numerals.
    places : tuple of int
        Where in the text the marked letters stand, from 0; all numeral letters where nothing marks them.
    letters : str
        These letters.
    sums : tuple of LetterSum
        Every sum, the most usual rule first.
    """

    marked: bool
    places: tuple[int, ...]
    letters: str
    sums: tuple[LetterSum, ...]


@lru_cache(maxsize=1024)
def chronogram(text: str) -> Chronogram | None:
    """Add up the numeral letters of a text; None where there are hardly any."""
    found: list[tuple[int, str, bool]] = []
    others, inner_others = 0, 0
    closing, before = "", " "
    lower = False
    words: list[list[bool]] = [[False, False, False]]
    for place, char in enumerate(text):
        if closing:
            closing = "" if char == closing else closing
            continue
        if char in HIDING:
            closing = HIDING[char]
            continue
        base = char if char.isascii() else unicodedata.normalize("NFD", char)[0]
        if not base.isalpha():
            if base not in "[]<>⟨⟩⟦⟧" and not unicodedata.combining(char):
                before = " "
                words.append([False, False, False])
            continue
        capital, inside = base.isupper(), before.isalpha()
        lower = lower or not capital
        words[-1][0] |= not capital
        if base.upper() in NUMERALS:
            found.append((place, base.upper(), capital))
            words[-1][1] |= capital
            words[-1][2] |= capital and inside
        elif capital:
            others += 1
            inner_others += inside
        before = base
    capitals = [each for each in found if each[2]]
    if len(found) < LEAST_LETTERS:
        return None
    mixed = [inside for small, numeral, inside in words if small and numeral]
    enough = len(capitals) >= LEAST_LETTERS and len(mixed) >= min(2, sum(any(word) for word in words))
    marked = enough and ((any(mixed) and not inner_others) or not others)
    chosen = capitals if marked else found
    return Chronogram(
        marked,
        tuple(place for place, _, _ in chosen),
        "".join(letter for _, letter, _ in chosen),
        tuple(_sums(found, lower=lower)),
    )


def _sums(found: list[tuple[int, str, bool]], *, lower: bool) -> Iterator[LetterSum]:
    """List the sums by every rule, one entry a sum."""
    of_capitals = Counter(letter for _, letter, capital in found if capital)
    of_all = Counter(letter for _, letter, _ in found)
    choices = (
        [("capitals only", of_capitals), ("all letters", of_all)] if lower else [("all letters", of_all)]
    )
    if lower and of_all["U"] > of_capitals["U"]:
        choices.insert(1, ("capitals, and every u as V", of_capitals | Counter(U=of_all["U"])))
    by_sum: dict[int, LetterSum] = {}
    for number, (name, counts) in enumerate(choices):
        if not counts:
            continue
        varied = [letter for letter in VARIED if counts[letter]]
        fixed = sum(counts[letter] * value for letter, value in FIXED.items())
        for values in product(*(VARIED[letter] for letter in varied)):
            strays = sum(value != VARIED[letter][0] for letter, value in zip(varied, values, strict=True))
            total = fixed + sum(counts[letter] * value for letter, value in zip(varied, values, strict=True))
            said = [f"{letter} {value}" for letter, value in zip(varied, values, strict=True)]
            rule = ", ".join([name, *said])
            known = by_sum.get(total)
            if known is None:
                by_sum[total] = LetterSum(total, (rule,), name != "all letters", strays + number)
            else:
                by_sum[total] = known._replace(rules=(*known.rules, rule))
    yield from by_sum.values()


def chronogram_readings(text: str, this_year: int) -> Iterator[Reading]:
    """Give the sums that can be years of casting, with the warning that no sum proves anything."""
    found = chronogram(text)
    if found is None:
        return
    for each in found.sums:
        cost, remark = year_cost(each.sum, this_year)
        if remark or each.sum < 1000:
            continue
        if found.marked and each.capitals:
            standing: Standing = "marked"
            own, doubt = 0.3, "a sum of marked letters is no proof by itself"
        else:
            standing = "unmarked"
            own, doubt = (
                4.0,
                "nothing marks letters as numerals: any text adds up to something, so this dates nothing",
            )
        letters = found.letters if each.capitals or not found.marked else "its letters"
        how = f"chronogram: {letters} add up to {each.sum} ({each.rules[0]})"
        if len(each.rules) > 1:
            how += f", and by {len(each.rules) - 1} more rule{'s' * (len(each.rules) > 2)}"
        yield Reading(
            each.sum, each.sum, how, "chronogram", cost + own + 0.5 * each.strays, text, (doubt,), standing
        )
