"""One word of a text as a number, in every way it can be one: letters, figures, words, and their mixtures."""

import re
from functools import lru_cache
from typing import NamedTuple

from registry.derive.dating.latin import latin_signs
from registry.derive.dating.sums import Sign, grouped, sums_of
from registry.derive.dating.vernacular import vernacular_signs

LETTERS = {
    "i": 1, "v": 5, "x": 10, "l": 50, "c": 100, "d": 500, "m": 1000,
    "j": 1, "u": 5, "φ": 1000, "∞": 1000, "ꟿ": 1000, "ↀ": 1000, "ↁ": 5000, "ↂ": 10000, "ↅ": 6, "ↆ": 50,
}  # fmt: skip
"""Roman numerals; j is i, u is v; signs for a thousand that look like phi or a lying eight.

Sources: A. Cappelli, Lexicon abbreviaturarum (1912), p. LIV; The Unicode Standard, Number Forms, U+2160 to
U+2188.
"""

RARE = {"q": 500, "y": 2}
"""Letters that stand for numbers now and then: q for 500 among medieval numerals, y for a joined ij."""

APOSTROPHUS = (("cciↄↄ", 10000), ("iↄↄ", 5000), ("ciↄ", 1000), ("iↄ", 500), ("cↄ", 1000))
"""A thousand and five hundred by strokes and turned letters.

Source: The Unicode Standard, U+2180 to U+2183.
"""

ENDING = re.compile(r"(?:esimo|simo|tio|cio|mo|m°|to|do|no|vo|ten|th|o|°)$")
"""What may hang behind numerals to make an ordinal of them."""

FITTING = {
    "to": (4, 5, 6),
    "do": (2,),
    "tio": (3,),
    "cio": (3,),
    "no": (9,),
    "vo": (8,),
    "th": tuple(range(10)),
}
"""The last figure of numbers behind which an ending can stand; the others go with any."""

LOOKALIKES = str.maketrans(dict(zip("IilJj|OoZzȝʒVSsbΛʌqg", "11111100223355567799", strict=True)))
"""Letters by which medieval figures are cast or printed.

Source: G. F. Hill, The Development of Arabic Numerals in Europe (1915), from memory.
"""

RAISED = {"xx": 20, "c": 100, "m": 1000}
"""Raised letters that multiply the number before them."""


ORDINAL_LETTERS = "aeimodstun"
"""Raised letters that make an ordinal: ``xx^mo``, ``lx^us``."""


class Alternative(NamedTuple):
    """One way in which a word is a number: its signs, what speaks against it, its kind, and what to say."""

    signs: tuple[Sign, ...]
    cost: float
    notation: str
    doubts: tuple[str, ...] = ()


@lru_cache(maxsize=8192)
def alternatives(word: str, *, apart: bool) -> tuple[Alternative, ...]:
    """List the ways in which a word is a number; none where it is not.

    Parameters
    ----------
    word : str
        A word as :func:`registry.derive.dating.signs.tokens_of` gives it.
    apart : bool
        Whether a space or a point parts it from what stands before.
    """
    if len(word) > 80:
        return ()
    found: list[Alternative] = []
    if any(char.isdecimal() for char in word):
        found += _figures(word, apart=apart)
        return tuple(found)
    plain = word.replace("¯", "")
    for form in dict.fromkeys((plain, word.replace("¯", "n"), word.replace("¯", "m"))):
        read = latin_signs(form)
        if read is not None:
            signs, cost, doubt = read
            found.append(Alternative(signs, cost, "words", (doubt,) if doubt else ()))
            break
    if not found:
        found += [Alternative(signs, 0.0, "words") for _, signs in vernacular_signs(word)]
    if not found or all(char in LETTERS for char in word.casefold()):
        found = [*roman(word, apart=apart), *found]
    if not found:
        found += _numeral_with_word(plain)
    return tuple(found)


def _numeral_with_word(word: str) -> list[Alternative]:
    """Read numerals with a Latin word behind them in one: ``lxxxsecundo``."""
    for at in range(1, min(len(word) - 3, 12)):
        if word[at - 1].casefold() not in LETTERS:
            break
        read = latin_signs(word[at:])
        if read is not None and read[1] == 0.0:
            front = [each for each in roman(word[:at], apart=False) if not each.doubts]
            return [Alternative((*front[0].signs, *read[0]), 0.2, "mixed")] if front else []
    return []


def roman(word: str, *, apart: bool) -> list[Alternative]:
    """Read a word as Roman numerals with their marks and endings."""
    plain = word.casefold().replace("ɔ", "ↄ")
    found = []
    ending = ENDING.search(plain)
    if ending and ending.start():
        base = _letters(plain[: ending.start()], apart=apart)
        if base is not None and (ending[0] not in FITTING or _last_figure(base.signs) in FITTING[ending[0]]):
            found.append(base)
    if not found:
        whole = _letters(plain, apart=apart)
        if whole is not None:
            found.append(whole)
    if found and "¯" in plain:
        doubt = "a stroke over a numeral taken for thousands"
        found.append(Alternative(_thousands(plain, apart=apart), found[0].cost + 2.0, "roman", (doubt,)))
    return found


def _last_figure(signs: tuple[Sign, ...]) -> int:
    found = sums_of(grouped(signs))
    return found[0].value % 10 if found else -1


def _letters(text: str, *, apart: bool) -> Alternative | None:
    """Read letter for letter; None where one of them is no numeral."""
    signs: list[Sign] = []
    cost, doubts, at = 0.0, [], 0
    while at < len(text):
        char = text[at]
        strokes = next((each for each in APOSTROPHUS if text.startswith(each[0], at)), None)
        if strokes is not None:
            signs.append(Sign("letter", strokes[1], strokes[0], 1, apart and not signs))
            at += len(strokes[0])
        elif char in LETTERS:
            signs.append(Sign("letter", LETTERS[char], char, 1, apart and not signs))
            at += 1
        elif char == "^":
            raised = next((each for each in RAISED if text.startswith(each, at + 1)), "")
            if raised:
                signs.append(Sign("raised", RAISED[raised], raised))
            at += 1 + len(raised)
            while not raised and at < len(text) and text[at] in ORDINAL_LETTERS:
                at += 1
        elif char in "°¯" or (char == "o" and signs):
            at += 1
        elif char in RARE and signs and (char == "y") == (at == len(text) - 1) and signs[0].value >= 10:
            signs.append(Sign("letter", RARE[char], char))
            cost += 1.5
            doubts.append(f"{char} taken for {RARE[char]}")
            at += 1
        else:
            return None
    if not signs:
        return None
    return Alternative(tuple(signs), cost, "roman", tuple(doubts))


def _thousands(text: str, *, apart: bool) -> tuple[Sign, ...]:
    """Read each letter under a stroke as so many thousands."""
    signs = []
    for at, char in enumerate(text):
        if char in LETTERS:
            barred = text[at + 1 : at + 2] == "¯"
            value = LETTERS[char] * (1000 if barred and LETTERS[char] < 10 else 1)
            signs.append(Sign("letter", value, f"{char}̄" if barred else char, 1, apart and not at))
    return tuple(signs)


def _figures(word: str, *, apart: bool) -> list[Alternative]:
    """Read a word with figures in it: alone, among letters that stand for figures, or beside numerals."""
    plain = "".join(str(int(char)) if char.isdecimal() else char for char in word).rstrip("°")
    if plain.isascii() and plain.isdigit():
        return (
            [Alternative((Sign("figure", int(plain), plain, 1, apart),), 0.0, "figures")]
            if len(plain) < 7
            else []
        )
    found = []
    alike = plain.translate(LOOKALIKES)
    pair = len(plain) == 2 and plain[0].isdecimal() and plain[1] in "ZzOo"
    if alike.isascii() and alike.isdigit() and (len(alike) == 4 or pair):
        doubt = f"{plain} read as figures, letters standing for some of them"
        found.append(Alternative((Sign("figure", int(alike), plain, 1, apart),), 0.3, "mixed", (doubt,)))
    pieces = re.findall(r"[0-9]+|[^0-9]+", plain)
    if len(pieces) <= 5:
        signs: list[Sign] = []
        for piece in pieces:
            if piece.isascii() and piece.isdigit():
                signs.append(Sign("figure", int(piece), piece, 1, apart and not signs))
                continue
            letters = roman(piece, apart=False)
            if not letters:
                break
            signs += letters[0].signs
        else:
            found.append(Alternative(tuple(signs), 0.6, "mixed"))
    if not found:
        years = re.findall(r"(?<![0-9])[0-9]{4}(?![0-9])", plain)
        found += [
            Alternative((Sign("figure", int(year), year, 1, apart),), 0.3, "figures") for year in years[:1]
        ]
    return found
