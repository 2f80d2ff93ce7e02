"""Whether two keys can be one word: letters easily taken for each other, slips of a founder, lost letters."""

from collections.abc import Iterable
from functools import cache, lru_cache

from registry.inscriptions.folding import GAP
from registry.inscriptions.spelling import spelling

LEAST_FOR_DOUBT = 5
"""Letters of a word in which one letter may be taken for a like one; in company one letter fewer."""

LEAST_FOR_SLIP = 7
"""Letters of a word in which any one letter may be wrong, missing or too many; in company fewer."""

LEAST_FOR_SLIP_IN_COMPANY = 5

MOST_FOR_SLIP = 30
"""Letters of the longest word that is looked for with slips."""

LETTERS = "abcdefgilmnoprstux"
"""Letters that are left in keys of Latin script."""


@lru_cache(maxsize=1 << 16)
def alike(key: str, other: str, *, freely: bool = False) -> bool:
    """Say whether two keys can be the same word.

    Parameters
    ----------
    key, other : str
        Keys; one of them may have lost letters.
    freely : bool
        Whether other words beside it bear it out, so that a slip is allowed in shorter words.
    """
    if key == other:
        return True
    if GAP in key or GAP in other:
        return fits(key, other) or fits(other, key)
    longer, shorter = (key, other) if len(key) >= len(other) else (other, key)
    if len(longer) < LEAST_FOR_DOUBT - freely or len(longer) - len(shorter) > 1:
        return False
    at = next((place for place, letter in enumerate(shorter) if longer[place] != letter), len(shorter))
    if len(longer) > len(shorter):
        return len(longer) >= _least(freely=freely) and longer[at + 1 :] == shorter[at:]
    if longer[at + 1 :] != shorter[at + 1 :]:
        return False
    return len(longer) >= _least(freely=freely) or frozenset((longer[at], shorter[at])) in _doubtful()


def fits(damaged: str, whole: str) -> bool:
    """Say whether a whole word can be one that has lost letters, and enough of it stands to tell."""
    if GAP not in damaged or GAP in whole:
        return False
    standing = len(damaged) - damaged.count(GAP)
    return 2 * standing >= len(whole) and standing >= 2 and matches(damaged, whole)


def matches(pattern: str, whole: str) -> bool:
    """Hold a whole word against letters and gaps, however many letters each gap may have lost."""
    first, *rest = pattern.split(GAP)
    if not rest:
        return pattern == whole
    at = len(first)
    if not whole.startswith(first):
        return False
    for part in rest[:-1]:
        found = whole.find(part, at)
        if found < 0:
            return False
        at = found + len(part)
    return whole.endswith(rest[-1]) and len(whole) - len(rest[-1]) >= at


def slips(key: str, *, freely: bool = False) -> set[str]:
    """Give the keys that a key is alike to, with no regard to what words there are; none for damaged ones."""
    if GAP in key or not LEAST_FOR_DOUBT - 1 <= len(key) <= MOST_FOR_SLIP:
        return set()
    made = set(_doubts(key)) if len(key) >= LEAST_FOR_DOUBT - freely else set()
    least = _least(freely=freely)
    for place in range(len(key) + 1):
        before, after = key[:place], key[place:]
        if len(key) + 1 >= least:
            made |= {before + letter + after for letter in LETTERS}
        if after and len(key) >= least:
            made.add(before + after[1:])
            made |= {before + letter + after[1:] for letter in LETTERS}
    return made - {key}


def _least(*, freely: bool) -> int:
    return LEAST_FOR_SLIP_IN_COMPANY if freely else LEAST_FOR_SLIP


def _doubts(key: str) -> Iterable[str]:
    for place, letter in enumerate(key):
        for pair in _doubtful():
            if letter in pair:
                (other,) = pair - {letter}
                yield key[:place] + other + key[place + 1 :]


@cache
def _doubtful() -> frozenset[frozenset[str]]:
    return frozenset(frozenset(pair) for pair in spelling().doubtful)
