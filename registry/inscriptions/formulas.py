"""Recurrent formulas, recognised in any spelling: also in part, damaged, as initials or backwards.

The formulas are data, ``schema/rules/formulas.yaml``. A text carries a formula where enough of its words
stand in their order: half of its letters and two words at least, or three words of it that follow each other.
"""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from functools import cache, lru_cache
from itertools import pairwise, permutations
from typing import Any, NamedTuple

import yaml

from registry.inscriptions.alike import alike, fits
from registry.inscriptions.folding import GAP, STOPS, Key, beginnings, keys_of, run_together
from registry.inscriptions.leiden import end_of_letter
from registry.inscriptions.normalising import Normalised, Word, normalise
from registry.resources import shipped_text

ENOUGH = 0.5
"""Share of the letters of a formula that must stand for it to be recognised."""

ENOUGH_BESIDE_GAP = 0.4
"""The same where an uncounted number of letters is lost between them."""

RUN = 3
"""Words in a row that are enough, if they are not the shortest ones."""

RUN_LETTERS = 10
LEAST_LETTERS = 7
"""Letters that must stand in a run of words, and at all; below, chance would do."""

LONGEST_INITIALS = 8
"""Letters, with stops between them, of a word that can be initials."""

LEAST_SUSPENDED, MOST_SUSPENDED = 3, 7
"""Letters of a word that breaks off without a mark, as REX IVD for rex Iudaeorum."""

STRAY = 3
"""Words of something else that may stand between two words of a formula."""


class Formula(NamedTuple):
    """A formula: its id, text, language (BCP 47), meaning, and where it is published."""

    id: str
    text: str
    language: str
    meaning: str
    source: str


class Recognised(NamedTuple):
    """A formula found in a text.

    ``start`` and ``end`` bound it; ``letters`` of it stand, a ``share`` of those of its wording. ``how``
    is ``words`` or ``initials``; ``backwards`` says that it was read from the end.
    """

    formula: Formula
    start: int
    end: int
    letters: int
    share: float
    how: str
    backwards: bool


class _Wording(NamedTuple):
    """One way to say a formula: the keys of its words, which may be missing, and whether order is free."""

    formula: Formula
    words: tuple[frozenset[str], ...]
    lengths: tuple[int, ...]
    optional: tuple[bool, ...]
    free: bool

    @property
    def needed(self) -> int:
        """Letters of the words that may not be missing."""
        return sum(
            length for length, optional in zip(self.lengths, self.optional, strict=True) if not optional
        )


@cache
def formulas() -> Mapping[str, Formula]:
    """Read the formulas by their ids, in the order of the file."""
    return {
        id_: Formula(id_, entry["text"], entry["language"], entry["meaning"], entry["source"])
        for id_, entry in _data().items()
    }


@cache
def _data() -> dict[str, Any]:
    # Every scalar stays text: a formula is never a number or a truth.
    return dict(yaml.load(shipped_text("schema", "rules", "formulas.yaml"), Loader=yaml.CBaseLoader))  # noqa: S506


@cache
def _wordings() -> tuple[_Wording, ...]:
    made = []
    for id_, entry in _data().items():
        for wording in entry["wordings"]:
            marked = wording.split()
            words = normalise(wording.replace("?", "")).words
            made.append(
                _Wording(
                    formulas()[id_],
                    tuple(frozenset(word.keys) for word in words),
                    tuple(len(word.keys[0]) for word in words),
                    tuple(word.endswith("?") for word in marked),
                    entry.get("in_any_order") == "yes",
                )
            )
    return tuple(made)


@cache
def _initials() -> dict[tuple[str, ...], Formula]:
    """Give the formulas by their initials, one key a letter."""
    return {
        tuple(keys_of((letter,))[-1].text for letter in letters): formulas()[id_]
        for id_, entry in _data().items()
        for letters in entry.get("initials", ())
    }


@cache
def _by_key() -> dict[str, tuple[int, ...]]:
    """Give the wordings in which each key stands."""
    found: defaultdict[str, set[int]] = defaultdict(set)
    for number, wording in enumerate(_wordings()):
        for keys in wording.words:
            for key in keys:
                found[key].add(number)
    return {key: tuple(sorted(numbers)) for key, numbers in found.items()}


@lru_cache(maxsize=4096)
def recognise(text: str) -> tuple[Recognised, ...]:
    """Find the formulas in an inscription, or in a question; each once, where most of it stands."""
    best: dict[str, Recognised] = {}
    for backwards in (False, True):
        if best:
            # What makes sense onwards does not run backwards.
            break
        for found in _found_in(normalise(text, backwards=backwards), backwards=backwards):
            before = best.get(found.formula.id)
            if before is None or (found.letters, found.share) > (before.letters, before.share):
                best[found.formula.id] = found
    kept = [each for each in best.values() if not any(_covers(other, each) for other in best.values())]
    return tuple(sorted(kept, key=lambda each: (each.start, each.formula.id)))


def _covers(other: Recognised, each: Recognised) -> bool:
    """Say whether one formula is a mere part of another that stands there more fully."""
    return other.start <= each.start and each.end <= other.end and other.letters > each.letters


def _found_in(text: Normalised, *, backwards: bool) -> Iterable[Recognised]:
    words = [each for word in text.words if not word.is_gap for each in _as_one_or_two(word)]
    if not words:
        return
    if not backwards:
        yield from _as_initials(words)
    damaged = any(word.is_damaged for word in text.words)
    for wording in _likely(words, damaged=damaged):
        placed = _placed(wording, words)
        if not placed:
            continue
        stands = sum(each.letters for each in placed.values())
        at = [words[each.number] for each in placed.values()]
        enough = ENOUGH_BESIDE_GAP if _meets_gap(text, at) else ENOUGH
        if _is_enough(wording, placed, enough * wording.needed):
            share = min(stands / max(wording.needed, 1), 1.0)
            start, end = min(word.start for word in at), max(word.end for word in at)
            yield Recognised(wording.formula, start, end, stands, share, "words", backwards)
    yield from _run_together(text, backwards=backwards)


def _as_one_or_two(word: Word) -> tuple[Word, ...]:
    """Take a word for the two that it may be where those are known and it is not."""
    known = _by_key()
    whole = any(key in known for key in word.keys)
    halves = any(key in known for part in word.parts for key in part.keys)
    return word.parts if halves and not whole else (word,)


def _as_initials(words: Sequence[Word]) -> Iterable[Recognised]:
    """Find initials: single letters that follow each other, or one word of capitals."""
    signs = ["".join(_signs_of(word)) if len(word.letters) <= LONGEST_INITIALS else "" for word in words]
    for letters, formula in _initials().items():
        count = len(letters)
        whole = "".join(letters)
        runs = [
            (start, start + length)
            for length in (count, count - 1)
            for start in range(len(words) - length + 1)
            if "".join(signs[start : start + length]) == whole
            # A diphthong counts as one: V D M I AE.
            and all(len(sign) <= 1 + (length < count) for sign in signs[start : start + length])
        ]
        runs += [
            (start, start + 1)
            for start, sign in enumerate(signs)
            if sign == whole and words[start].is_capitals
        ]
        for start, end in runs[:1]:
            yield Recognised(
                formula, words[start].start, words[end - 1].end, count, 1.0, "initials", backwards=False
            )


def _signs_of(word: Word) -> Iterable[str]:
    """Give the letters of a word one by one, u for v and i for j."""
    return (
        keys_of((letter,))[-1].text if letter not in STOPS else ""
        for letter in word.letters
        if keys_of((letter,))
    )


def _likely(words: Sequence[Word], *, damaged: bool) -> Iterable[_Wording]:
    """Give the wordings of which some words stand as they are."""
    hits: defaultdict[int, set[str]] = defaultdict(set)
    for word in words:
        for key in word.keys:
            for number in _by_key().get(key, ()):
                hits[number].add(key)
    wordings = _wordings()
    for number, keys in hits.items():
        letters = sum(map(len, keys))
        # What stands as it is must be a fair part; slips and damage hide the rest.
        if letters >= min(wordings[number].needed * (0.2 if damaged else 0.25), LEAST_LETTERS):
            yield wordings[number]


class _Placed(NamedTuple):
    """Where a word of a wording stands: the number of the word of the text, and how many letters of it."""

    number: int
    letters: int


def _placed(wording: _Wording, words: Sequence[Word]) -> dict[int, _Placed]:
    """Find where the words of a wording stand: by its own order, or by any where that is free."""
    if not wording.free:
        return _in_order(wording, words)
    placed: dict[int, _Placed] = {}
    for place, keys in enumerate(wording.words):
        taken = {each.number for each in placed.values()}
        for number, word in enumerate(words):
            letters = _standing(keys, word)
            if letters and number not in taken:
                placed[place] = _Placed(number, letters)
                break
    return placed


def _in_order(wording: _Wording, words: Sequence[Word]) -> dict[int, _Placed]:
    """Place as many letters as can be in order, with little of anything else between two words of it."""
    best: tuple[int, dict[int, _Placed]] = 0, {}
    table: dict[tuple[int, int], tuple[int, dict[int, _Placed]]] = {}
    for number, word in enumerate(words):
        for place, keys in enumerate(wording.words):
            letters = _standing(keys, word)
            if not letters:
                continue
            before = [
                table[earlier, other]
                for earlier in range(max(0, number - 1 - STRAY), number)
                for other in range(place)
                if (earlier, other) in table
            ]
            score, placed = max(before, key=lambda each: each[0], default=(0, {}))
            table[number, place] = score + letters, {**placed, place: _Placed(number, letters)}
            best = max(best, table[number, place], key=lambda each: each[0])
    return best[1]


def _standing(keys: frozenset[str], word: Word) -> int:
    """Count the letters that stand of a word of a formula: all, what damage left, what is not cut off."""
    return _letters_standing(keys, word.keys, word.letters, word.standing, word.is_damaged)


@lru_cache(maxsize=1 << 15)
def _letters_standing(
    keys: frozenset[str], of_word: tuple[str, ...], signs: tuple[str, ...], standing: int, is_damaged: bool
) -> int:
    """Do so for a word wherever it stands: bells have few words, and every formula asks after each."""
    most = 0
    for key in of_word:
        for other in keys:
            if key == other:
                return len(other)
            if GAP in key:
                most = max(most, standing if fits(key, other) else 0)
            elif abs(len(key) - len(other)) <= 1 and alike(key, other, freely=True):
                most = max(most, len(other))
    if most or is_damaged or not LEAST_SUSPENDED <= len(signs) <= MOST_SUSPENDED:
        return most
    starts = [each for each in beginnings(signs) if len(each) >= LEAST_SUSPENDED]
    return max((len(each) for each in starts for other in keys if other.startswith(each)), default=0)


def _meets_gap(text: Normalised, at: Sequence[Word]) -> bool:
    """Say whether among the words found, or next to them, there is a gap that nobody has counted."""
    start, end = min(word.start for word in at), max(word.end for word in at)
    among = [number for number, word in enumerate(text.words) if word.end > start and word.start < end]
    return any(word.most is None for word in text.words[max(among[0] - 1, 0) : among[-1] + 2])


def _is_enough(wording: _Wording, placed: Mapping[int, _Placed], enough: float) -> bool:
    places = sorted(placed)
    if wording.free:
        return len(places) >= len(wording.words) - 1 and len(places) >= 2
    stands = sum(each.letters for each in placed.values())
    if stands < min(LEAST_LETTERS, wording.needed) or len(places) < 2:
        return False
    if stands >= max(enough, LEAST_LETTERS) and len(places) * 2 >= wording.optional.count(False):
        return True
    run, letters = 1, placed[places[0]].letters
    for before, place in pairwise(places):
        follows = all(wording.optional[between] for between in range(before + 1, place))
        run, letters = (run + 1, letters + placed[place].letters) if follows else (1, placed[place].letters)
        if run >= RUN and letters >= RUN_LETTERS:
            return True
    return False


def _run_together(text: Normalised, *, backwards: bool) -> Iterable[Recognised]:
    """Find whole formulas whose words are parted otherwise, or not at all."""
    joined = text.joined
    for wording in _wordings():
        at = next(
            ((joined.text.find(whole), len(whole)) for whole in _joined(wording) if whole in joined.text),
            None,
        )
        if at is not None:
            places = joined.origins[at[0] : at[0] + at[1]]
            end = end_of_letter(text.source, max(places) + 1)
            yield Recognised(wording.formula, min(places), end, at[1], 1.0, "words", backwards)


@cache
def _joined(wording: _Wording) -> tuple[str, ...]:
    """Give a wording as letters without spaces: with the words that may be missing or not, in any order."""
    firsts = [min(keys, key=lambda key: (len(key) == 1, key)) for keys in wording.words]
    needed = [key for key, optional in zip(firsts, wording.optional, strict=True) if not optional]
    orders = permutations(firsts) if wording.free else (firsts, needed)
    whole = ("".join(words) for words in orders)
    joined = (run_together((Key(each, tuple(range(len(each)))),)).text for each in whole)
    return tuple(dict.fromkeys(each for each in joined if len(each) >= RUN_LETTERS))
