"""One word in any spelling to the keys under which it is compared.

A key is a spelling that stands for all spellings of the same word. Abbreviations can be read in more ways
than one, so a word has one key or several; two words are the same where they share one. ``*`` in a key
stands for lost letters.
"""

import re
import unicodedata
from collections import defaultdict
from functools import cache, lru_cache
from itertools import product
from typing import NamedTuple

from registry.inscriptions.spelling import Rule, spelling

GAP = "*"
"""Lost letters, in a word and in its keys."""

BARS = "\u0303\u0304\u0305\u0483\u033e\u035e\u035f"
"""Marks above a letter that tell of an abbreviation: tilde, macron, overline, titlo and their like."""

STOPS = "'."
"""Apostrophe and full stop behind a word that breaks off."""

MOST_READINGS = 8
"""Readings of a word that are followed; of more, the first ones count."""

LONGEST_NUMERAL = 20
LONGEST_WORD = 100
"""Letters of a word that are compared; of a longer one the first ones count."""

_SUPERSCRIPTS = range(0x0363, 0x0370)
_NUMERAL = re.compile(r"m*(?:cm|cd|d?c*)(?:xc|xl|l?x*)(?:ix|iu|u?i*)o?")
_LATIN = re.compile(r"[a-z0-9]+")


class Key(NamedTuple):
    """A key, and for each of its characters the place among the letters of the word it comes from."""

    text: str
    origins: tuple[int, ...]


class _Letter(NamedTuple):
    """A letter of a word: its readings, the likeliest first, and whether a bar stands on it."""

    readings: tuple[str, ...]
    barred: bool


@lru_cache(maxsize=1 << 17)
def keys_of(word: tuple[str, ...]) -> tuple[Key, ...]:
    """Give the keys of a word of an inscription, the likeliest first.

    Parameters
    ----------
    word : tuple of str
        Its letters, each with its marks; ``GAP`` for lost ones, one of ``STOPS`` at its end.
    """
    found = _readings(word)
    if not found:
        return ()
    first = _settled(found[0])
    keys = {key.text: key for key in reversed(found)}
    return (first, *(key for key in reversed(keys.values()) if key.text != first.text))


@lru_cache(maxsize=1 << 17)
def name_keys(word: tuple[str, ...]) -> tuple[str, ...]:
    """Give the keys of a word of a name: freed from case and accents, with both ways to write an umlaut."""
    letters = [_letter(each, names=True) for each in word if each[0] not in STOPS + GAP]
    return tuple(dict.fromkeys("".join(each) for each in _products(letters) if any(each)))


@lru_cache(maxsize=1 << 12)
def beginnings(word: tuple[str, ...]) -> tuple[str, ...]:
    """Give what the keys of all words can begin with that begin like this unfinished one."""
    plain = {
        "".join(reading) for reading in _products([_letter(each) for each in word if each[0] not in STOPS])
    }
    found = set()
    for text in plain:
        found.add(text)
        for ending, others in _UNFINISHED.items():
            if text.endswith(ending):
                found |= {text[: -len(ending)] + other for other in others}
    return tuple(sorted({_folded(_start(text), unfinished=True).text for text in found} - {""}))


_UNFINISHED = {"t": "c", "ti": ("ci",), "a": "e", "o": "e", "p": ("f", ""), "n": "m", "b": "p", "c": "x"}
"""What the last letters of an unfinished word can turn into as the word goes on."""


def _start(text: str) -> Key:
    return Key(text, tuple(range(len(text))))


def _settled(key: Key) -> Key:
    """Fold until nothing changes, so that a key is its own key."""
    for _ in range(6):
        again = _readings(tuple(key.text))
        if not again or again[0].text == key.text:
            break
        key = Key(again[0].text, tuple(key.origins[place] for place in again[0].origins))
    return key


def _readings(word: tuple[str, ...]) -> list[Key]:
    """Give the keys of all readings: of what the abbreviation means, then of what stands there."""
    body = word[:-1] if word and word[-1] in STOPS and len(word) > 1 else word
    letters = _in_one_alphabet([_letter(each) for each in body])
    plain = [_spelled(reading) for reading in _products(letters)]
    plain = [key for key in plain if key.text]
    if not plain:
        return []
    bare = "".join(letter.readings[-1] for letter in letters)
    meant = _meant(bare, plain[0].text, letters, word[len(body) :])
    expanded = [_spread(each, len(body)) for each in dict.fromkeys(meant)][:MOST_READINGS]
    # A full stop may as well end a sentence.
    whole = word[len(body) :] == (".",) and len(bare) > 1 and not any(letter.barred for letter in letters)
    found = [_folded(key) for key in ((*plain, *expanded) if whole else (*expanded, *plain))]
    return [key for key in found if key.text]


@lru_cache(maxsize=1 << 12)
def _letter(sign: str, *, names: bool = False) -> _Letter:
    """Read one letter with its marks."""
    if sign == GAP:
        return _Letter((GAP,), barred=False)
    signs = _signs(names)
    if sign.isascii():
        text = sign.casefold()
        return _Letter(signs.get(text, (text if text.isalnum() else "",)), barred=False)
    text = unicodedata.normalize("NFKD", unicodedata.normalize("NFKD", sign).casefold())
    bases = [
        each for each in text if unicodedata.category(each)[0] != "M" and (each.isalnum() or each in signs)
    ]
    marks = [each for each in text if unicodedata.category(each)[0] == "M"]
    readings = ["".join(each) for each in product(*(signs.get(base, (base,)) for base in bases))] or [""]
    composed = unicodedata.normalize("NFC", text)
    if composed in signs:
        readings = list(signs[composed])
    elif marks:
        above = "".join(_letter_above(mark) for mark in marks if ord(mark) in _SUPERSCRIPTS)
        if above:
            readings += [reading + above for reading in readings]
    barred = any(mark in BARS for mark in marks)
    if barred and not names and readings[0] in tuple("aeiou"):
        vowel = readings[0]
        readings = [vowel + "m", vowel + "n", vowel]
    return _Letter(tuple(dict.fromkeys(readings)), barred)


def _in_one_alphabet(letters: list[_Letter]) -> list[_Letter]:
    """Read letters of other alphabets as what they were set for, in words that have Latin letters too."""
    alike = spelling().lookalikes
    foreign = [letter.readings[0] in alike for letter in letters]
    if not any(foreign) or not any(_LATIN.fullmatch(letter.readings[0]) for letter in letters):
        return letters
    return [
        _Letter((alike[letter.readings[0]],), letter.barred) if strange else letter
        for letter, strange in zip(letters, foreign, strict=True)
    ]


def _letter_above(mark: str) -> str:
    return unicodedata.name(mark, "").removeprefix("COMBINING LATIN SMALL LETTER ").casefold()


@cache
def _signs(names: bool) -> dict[str, tuple[str, ...]]:
    return dict(spelling().name_signs if names else spelling().signs)


def _products(letters: list[_Letter]) -> list[tuple[str, ...]]:
    """Combine the readings of the letters; where there are too many, the first ones alone."""
    combinations = 1
    choices = []
    for letter in letters:
        combinations *= max(len(letter.readings), 1)
        choices.append(letter.readings if combinations <= MOST_READINGS else letter.readings[:1])
    return list(product(*choices))


def _spelled(reading: tuple[str, ...]) -> Key:
    origins = [place for place, text in enumerate(reading) for _ in text]
    return Key("".join(reading), tuple(origins))


def _spread(text: str, letters: int) -> Key:
    """Spread a word that is meant over the letters of its abbreviation."""
    return Key(text, tuple(place * letters // len(text) for place in range(len(text))))


@lru_cache(maxsize=4096)
def run_together(keys: tuple[Key, ...]) -> Key:
    """Put words together as one, so that it does not matter how they were parted."""
    text = "".join(key.text for key in keys)
    return _folded(Key(text, tuple(origin for key in keys for origin in key.origins)), whole=False)


def _folded(key: Key, *, unfinished: bool = False, whole: bool = True) -> Key:
    """Apply the sequences to each stretch of Latin letters; the ends of a word are no ends beside a gap."""
    if GAP not in key.text and not _LATIN.fullmatch(key.text):
        return key
    parts: list[Key] = []
    place = 0
    stretches = key.text.split(GAP)
    for number, stretch in enumerate(stretches):
        origins = key.origins[place : place + len(stretch)]
        part = Key(stretch, origins)
        if _LATIN.fullmatch(stretch):
            last = number == len(stretches) - 1 and not unfinished
            part = _sequenced(part, begins=whole and number == 0, ends=whole and last)
        parts.append(part)
        place += len(stretch)
        if number < len(stretches) - 1:
            parts.append(Key(GAP, key.origins[place : place + 1]))
            place += 1
    text = "".join(part.text for part in parts)
    joined = tuple(origin for part in parts for origin in part.origins)
    gaps = re.compile(re.escape(GAP) + "+")
    return _replaced(Key(text, joined), Rule("gaps", gaps, GAP, "", ("", "")))


def _sequenced(key: Key, *, begins: bool, ends: bool) -> Key:
    if len(key.text) <= LONGEST_NUMERAL and _NUMERAL.fullmatch(key.text):
        return key
    for _ in range(4):
        before = key.text
        for rule in spelling().sequences:
            pattern = rule.find.pattern
            if (not begins and pattern.startswith("^")) or (not ends and pattern.endswith("$")):
                continue
            key = _replaced(key, rule)
        if key.text == before:
            break
    return key


def _replaced(key: Key, rule: Rule) -> Key:
    """Replace what a rule finds; what is put takes the places of what was there."""
    if rule.find.search(key.text) is None:
        return key
    text, done = "", 0
    origins: list[int] = []
    for found in rule.find.finditer(key.text):
        put = found.expand(rule.put)
        text += key.text[done : found.start()] + put
        origins += key.origins[done : found.start()]
        last = max(found.end() - found.start() - 1, 0)
        origins += [key.origins[found.start() + min(step, last)] for step in range(len(put))]
        done = found.end()
    return Key(text + key.text[done:], (*origins, *key.origins[done:]))


def _meant(bare: str, plain: str, letters: list[_Letter], stop: tuple[str, ...]) -> list[str]:
    """Find the words that an abbreviation can mean, in common spelling read sign by sign."""
    known = _expansions().get(bare) or _expansions().get(plain)
    if known or GAP in bare:
        return list(known or ())
    if stop and len(bare) == 1:
        return [_plainly(word) for word in spelling().stopped.get(bare, ())]
    barred = any(letter.barred for letter in letters)
    # A full stop behind a long word, or one that is whole, ends a sentence.
    suspended = bool(stop) and (stop != (".",) or len(bare) < 5) and bare not in _lexicon().get(bare[:1], ())
    suspended |= letters[-1].barred and bare[-1] not in "aeiou"
    return _lengthened(bare, suspended=suspended) if barred or suspended else []


@cache
def _expansions() -> dict[str, tuple[str, ...]]:
    """Give what abbreviations without a mark mean, by the letters as they are read sign by sign."""
    made: defaultdict[str, list[str]] = defaultdict(list)
    for form, words in spelling().abbreviations.items():
        bare = "".join(_letter(each).readings[-1] for each in form)
        made[bare] += [_plainly(word) for word in words]
    return {form: tuple(words) for form, words in made.items()}


@cache
def _lexicon() -> dict[str, tuple[str, ...]]:
    """Give the words that a mark can shorten, sign by sign, by their first letters; short words first."""
    made: defaultdict[str, set[str]] = defaultdict(set)
    for word in spelling().lexicon:
        text = _plainly(word)
        made[text[0]].add(text)
    return {first: tuple(sorted(words, key=lambda word: (len(word), word))) for first, words in made.items()}


def _plainly(word: str) -> str:
    return "".join(_letter(each).readings[0] for each in word)


def _lengthened(bare: str, *, suspended: bool) -> list[str]:
    """Find the words an abbreviation with a mark can mean."""
    if len(bare) < 2:
        return []
    found = []
    for word in _lexicon().get(bare[0], ()):
        if len(word) <= len(bare) or len(word) > 3 * len(bare) + 1:
            continue
        if (suspended or word[-1] == bare[-1]) and _holds(word, bare):
            found.append(word)
    # A contraction that also ends alike is likelier than a word that breaks off.
    found.sort(key=lambda word: word[-1] != bare[-1])
    return found[:MOST_READINGS]


def _holds(word: str, letters: str) -> bool:
    rest = iter(word)
    return all(letter in rest for letter in letters)
