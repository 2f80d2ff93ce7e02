"""Years in the letters of alphabets whose letters are numbers: Greek, Church Slavonic, Hebrew.

Letters count units, tens and hundreds, and add up. Years may be of the Creation: Byzantine and Russian
years begin on 1 September 5509 years before the first of Christ, Jewish years in the autumn and 3761 years
before; each such year falls into two of ours. Sources: The Unicode Standard, Greek and Coptic (U+0374,
U+0375) and Cyrillic (U+0482, U+0483); Unicode Technical Note 41, Church Slavonic Typography in Unicode; N.
Dershowitz and E. M. Reingold, Calendrical Calculations, on the eras, from memory.
"""

import re
import unicodedata
from collections.abc import Iterator
from itertools import pairwise

from registry.derive.dating.reading import Reading, year_cost

GREEK = {letter: value for value, letters in {
    1: "α", 2: "β", 3: "γ", 4: "δ", 5: "ε", 6: "ϛϝς", 7: "ζ", 8: "η", 9: "θ", 10: "ι", 20: "κ", 30: "λ",
    40: "μ",
    50: "ν", 60: "ξ", 70: "ο", 80: "π", 90: "ϟϙ", 100: "ρ", 200: "σ", 300: "τ", 400: "υ", 500: "φ", 600: "χ",
    700: "ψ", 800: "ω", 900: "ϡͳ",
}.items() for letter in letters}  # fmt: skip

SLAVONIC = {letter: value for value, letters in {
    1: "а", 2: "в", 3: "г", 4: "д", 5: "еє", 6: "ѕꙃ", 7: "зꙁ", 8: "и", 9: "ѳ", 10: "іiї", 20: "к", 30: "л",
    40: "м",
    50: "н", 60: "ѯ", 70: "оꙩ", 80: "п", 90: "чҁ", 100: "р", 200: "с", 300: "т", 400: "уѵꙋ", 500: "ф",
    600: "х",
    700: "ѱ", 800: "ѡѿ", 900: "цѧ",
}.items() for letter in letters}  # fmt: skip

HEBREW = {letter: value for value, letters in {
    1: "א", 2: "ב", 3: "ג", 4: "ד", 5: "ה", 6: "ו", 7: "ז", 8: "ח", 9: "ט", 10: "י", 20: "כך", 30: "ל",
    40: "מם",
    50: "נן", 60: "ס", 70: "ע", 80: "פף", 90: "צץ", 100: "ק", 200: "ר", 300: "ש", 400: "ת",
}.items() for letter in letters}  # fmt: skip

CREATION = {"slavonic": (5509, 5508), "greek": (5509, 5508), "hebrew": (3761, 3760)}
"""What to take from a year of the Creation: until the end of December, and from January on."""

_GREEK = re.compile(r"(?<![\w͵,])([͵,]?)([α-ωϛϝςϟϙϡͳ]{2,7})([ʹʹ´΄'’]?)(?!\w)")
_SLAVONIC = re.compile(r"(҂?)([\u0430-\u045f\u0460-\u0481\ua640-\ua66dі\u0483\u0487҂]{2,14})")
_HEBREW = re.compile(r"(?<![א-ת])((?:ה[׳'’]\s?)?)([א-ת]{1,5})([״\"”]([א-ת])|[׳'’])")


def alphabet_readings(text: str, this_year: int) -> Iterator[Reading]:
    """Find years in Greek, Slavonic or Hebrew letters."""
    if text.isascii():
        return
    # A final sigma stands for the stigma, 6; folding would make it 200.
    plain = unicodedata.normalize("NFD", text).replace("\u03c2", "ϛ").casefold()
    plain = "".join(char for char in plain if not unicodedata.combining(char) or char in "\u0483\u0487")
    plain = plain.replace("στ", "ϛ") if re.search("στ[ʹ'’´]", plain) else plain
    for match in _GREEK.finditer(plain):
        yield from _greek(match, this_year)
    if "\u0483" in plain or "҂" in plain:
        for match in _SLAVONIC.finditer(plain):
            yield from _slavonic(match, this_year)
    for match in _HEBREW.finditer(plain):
        yield from _hebrew(match, this_year)


def _greek(match: re.Match[str], this_year: int) -> Iterator[Reading]:
    values = [GREEK.get(letter, 0) for letter in match[2]]
    marked = bool(match[1] or match[3])
    thousands = 0
    if values[0] < 10 and (match[1] or (len(values) > 1 and values[1] >= 10)):
        thousands, values = values[0] * 1000, values[1:]
    falling = all(first > second for first, second in pairwise(values))
    if not falling or not thousands or (not marked and len(values) < 3):
        return
    number = thousands + sum(values)
    doubts = () if marked else ("no mark says that these letters are a number",)
    yield from _of_era(number, "greek", match[0], this_year, 0.0 if marked else 2.0, doubts)


def _slavonic(match: re.Match[str], this_year: int) -> Iterator[Reading]:
    if not match[1] and "\u0483" not in match[2] and "҂" not in match[2]:
        return
    number, thousand = 0, bool(match[1])
    for letter in match[2]:
        if letter == "҂":
            thousand = True
        elif letter not in "\u0483\u0487":
            value = SLAVONIC.get(letter)
            if value is None:
                return
            number += value * 1000 if thousand else value
            thousand = False
    yield from _of_era(number, "slavonic", match[0], this_year, 0.0, ())


def _hebrew(match: re.Match[str], this_year: int) -> Iterator[Reading]:
    letters = match[2] + (match[4] or "")
    number = sum(HEBREW[letter] for letter in letters)
    if not 100 <= number < 1000:
        return
    full = 5000 + number
    doubts = () if match[1] else ("the thousands are left out, as is usual",)
    yield from _of_era(full, "hebrew", match[0], this_year, 0.0 if match[1] else 0.3, doubts)


def _of_era(  # noqa: PLR0913, PLR0917 - what was read, as it is told
    number: int, notation: str, text: str, this_year: int, cost: float, doubts: tuple[str, ...]
) -> Iterator[Reading]:
    """Give the year of Christ, or the two years into which a year of the Creation falls."""
    name = notation.capitalize()
    if notation != "hebrew" and number <= this_year:
        more, remark = year_cost(number, this_year)
        said = (*doubts, remark) if remark else doubts
        yield Reading(
            number, number, f"{name} letters as numbers: {number}", notation, cost + more, text, said
        )
    autumn, spring = (number - each for each in CREATION[notation])
    if 300 < autumn <= this_year:
        more, remark = year_cost(autumn, this_year)
        how = f"{name} letters as numbers: {number} of the Creation, which is {autumn} to {spring}"
        said = (*doubts, remark) if remark else doubts
        yield Reading(autumn, spring, how, notation, cost + more + 0.1, text, said)
