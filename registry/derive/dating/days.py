"""The day beside a year: by the Roman calendar (XV Kal. Augusti) or by the number of the month (12 April).

Roman days count backwards from the Kalends, Nones and Ides, both ends included; in a leap year the sixth day
before the Kalends of March comes twice. Feasts of saints are left to the scholar: their days differ by
diocese and time.

Source: J. B. Greenough and others, Allen and Greenough's New Latin Grammar (1903), section 631.
"""

import re
from typing import NamedTuple

from registry.derive.dating.numerals import alternatives
from registry.derive.dating.signs import Token, tokens_of
from registry.derive.dating.sums import grouped, sums_of

MONTHS = {
    1: "ian|jan", 2: "feb|febr", 3: "mar|mär|mrt", 4: "apr|avr", 5: "mai|maj|may|mei|mey", 6: "iun|jun|juin",
    7: "iul|jul|juil|quint", 8: "aug|aoû|aou|sext", 9: "sep", 10: "oct|okt", 11: "nov", 12: "dec|dez|déc",
}  # fmt: skip
"""How the names of the months begin, in Latin, German, Dutch, French and English."""

_MONTH = {
    number: re.compile(rf"(?:{starts})[a-zéäû]{{0,8}}\.?", re.IGNORECASE).fullmatch
    for number, starts in MONTHS.items()
}
_MARKED = {
    "Kalends": re.compile(r"kl|kal?|kal[ae]nd[a-z]*|cal(?:end[a-z]*)?", re.IGNORECASE).fullmatch,
    "Nones": re.compile(r"non(?:as|is|arum|e)?|nonae", re.IGNORECASE).fullmatch,
    "Ides": re.compile(r"id(?:us|ibus|uum)?", re.IGNORECASE).fullmatch,
}
_EVE = re.compile(r"prid(?:ie)?|vigilia", re.IGNORECASE).fullmatch
_BETWEEN = re.compile(r"mensis|of|de|den|des|the|th|st|nd|rd|die|dies|day|men", re.IGNORECASE).fullmatch

NAMES = ("", "January", "February", "March", "April", "May", "June", "July", "August", "September", "October",
         "November", "December")  # fmt: skip

LATE_MONTHS = frozenset({3, 5, 7, 10})
"""Months whose Nones and Ides are two days later."""


class DayRead(NamedTuple):
    """A day of the year, and how it was got."""

    month: int
    day: int
    how: str


def day_of_text(text: str, year: int | None = None) -> DayRead | None:
    """Find the day that a text names; None where it names none, or more than one.

    Parameters
    ----------
    text : str
        The date as cast, or an inscription.
    year : int, optional
        The year, for the leap day of the Roman count; a common year unless given.
    """
    tokens = [each for each in tokens_of(text) if each.plain]
    found = []
    for at, token in enumerate(tokens):
        month = next((number for number, begins in _MONTH.items() if begins(token.plain)), None)
        if month is not None and at and len(token.plain) >= 3:
            read = _day_before(tokens, at, month, year)
            if read is not None:
                found.append(read)
    return found[0] if len({(each.month, each.day) for each in found}) == 1 else None


def _day_before(tokens: list[Token], at: int, month: int, year: int | None) -> DayRead | None:
    """Read the day that stands before the name of a month."""
    before = at - 1
    while before > 0 and _BETWEEN(tokens[before].plain):
        before -= 1
    marked = next((name for name, is_called in _MARKED.items() if is_called(tokens[before].plain)), None)
    if marked is None:
        number = _number(tokens[before].plain)
        if number is None or number > 31:
            return None
        return DayRead(month, number, f"{tokens[before].plain} {tokens[at].plain}: {number} {NAMES[month]}")
    counted, first = 1, before
    if before and _EVE(tokens[before - 1].plain):
        counted, first = 2, before - 1
    elif before and (number := _number(tokens[before - 1].plain)) is not None and 2 <= number <= 19:
        counted, first = number, before - 1
    found = _roman_day(marked, month, counted, year)
    said = " ".join(each.plain for each in tokens[first : at + 1])
    how = f"{said}: {found[1]} {NAMES[found[0]]}, counted back from the {marked} of {NAMES[month]}"
    return DayRead(*found, how)


def _roman_day(marked: str, month: int, counted: int, year: int | None) -> tuple[int, int]:
    """Count back from a day of a month, both ends included."""
    late = 2 if month in LATE_MONTHS else 0
    day = {"Kalends": 1, "Nones": 5 + late, "Ides": 13 + late}[marked] - (counted - 1)
    if day >= 1:
        return month, day
    before = month - 1 or 12
    longest = (31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)[before - 1]
    leap = before == 2 and year is not None and year % 4 == 0
    return before, longest + day + (1 if leap and counted <= 5 else 0)


def _number(word: str) -> int | None:
    """Read a small number in figures, numerals or words; None where the word is none or another too."""
    values = {
        found[0].value
        for way in alternatives(word, apart=True)
        if (found := sums_of(grouped(way.signs))) and found[0].cost < 1.0
    }
    return values.pop() if len(values) == 1 else None
