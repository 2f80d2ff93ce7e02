"""One date of the Extended Date/Time Format: the first and last day that it can mean.

Days are counted here as whole numbers ``year * 10000 + month * 100 + day``, which sort rightly for every
year, negative or of five digits.

Source: Library of Congress, Extended Date/Time Format (EDTF) Specification, 4 February 2019, a profile of
ISO 8601-2:2019.
"""

import re
from calendar import isleap
from collections.abc import Iterator
from functools import cache
from itertools import product
from typing import NamedTuple

LONGEST_YEAR = 12
"""Digits a year may have, so that every year fits the whole numbers of a database."""


class EdtfError(ValueError):
    """A text that is no date expression, or names a day that no calendar has.

    Attributes
    ----------
    code : str
        ``bad-date`` or ``impossible-date``.
    expected, remedy : str
        What belongs in the field, and what to do.
    """

    def __init__(self, code: str, expected: str, remedy: str) -> None:
        super().__init__(f"expected {expected}: {remedy}")
        self.code = code
        self.expected = expected
        self.remedy = remedy


class Span(NamedTuple):
    """First and last day that a date can mean, each ``year * 10000 + month * 100 + day``."""

    first: int
    last: int


GROUPS = {
    21: (3, 3), 22: (6, 3), 23: (9, 3), 24: (12, 3),  # seasons, hemisphere not said
    25: (3, 3), 26: (6, 3), 27: (9, 3), 28: (12, 3),  # seasons, northern hemisphere
    29: (9, 3), 30: (12, 3), 31: (3, 3), 32: (6, 3),  # seasons, southern hemisphere
    33: (1, 3), 34: (4, 3), 35: (7, 3), 36: (10, 3),  # quarters
    37: (1, 4), 38: (5, 4), 39: (9, 4),  # thirds
    40: (1, 6), 41: (7, 6),  # halves
}  # fmt: skip
"""First month and number of months of each part of a year that stands in the place of a month.

The specification gives no months for the seasons: those here are the meteorological ones of the northern
hemisphere where none is said, and a season that begins in December ends in the following year. Convention.
"""

EXPECTED = "a date such as 1650, 1650-05, 1650-05-12, 165X, 1650~, 1650/1660 or ../1650"

_DATE = re.compile(
    r"([?~%]?)(-?)([0-9X]{4})([?~%]?)"
    r"(?:-([?~%]?)([0-9X]{2})([?~%]?)(?:-([?~%]?)([0-9X]{2})([?~%]?))?)?"
).fullmatch
_LONG_YEAR = re.compile(
    r"(?:Y(-?[0-9]{5,})|Y(-?[0-9]+)E([0-9]{1,2})|(-?[0-9]{4}))(?:S([0-9]{1,2}))?[?~%]?"
).fullmatch
_TIME = re.compile(
    r"([0-9]{4}-[0-9]{2}-[0-9]{2})T(?:[01][0-9]|2[0-3]):[0-5][0-9]:[0-5][0-9]"
    r"(?:Z|[+-](?:0[0-9]|1[0-4])(?::[0-5][0-9])?)?"
).fullmatch
_LAST_DAYS = (0, 31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)


def bad_date(remedy: str) -> EdtfError:
    """Make the error for a text that is no date expression."""
    return EdtfError("bad-date", EXPECTED, remedy)


def days_in(year: int, month: int) -> int:
    """Count the days of a month in the Gregorian calendar, carried back before its introduction."""
    return 29 if month == 2 and isleap(year) else _LAST_DAYS[month]


def span_of(text: str) -> Span | None:
    """Give the first and last day of one date, None where the text is not of that form.

    Raises
    ------
    EdtfError
        When the text has the form of a date, and no calendar has it.
    """
    match = _DATE(text)
    if match is None:
        timed = _TIME(text)
        return span_of(timed[1]) if timed else _long_year(text)
    sign, year, month, day = match.group(2, 3, 6, 9)
    if (match[1] and match[4]) or (match[5] and match[7]) or (match[8] and match[10]):
        return None  # one part marked on both sides
    if sign and year == "0000":
        raise EdtfError("impossible-date", EXPECTED, "the year nought has no sign: write 0000")
    if "X" in text:
        return _unspecified(sign, year, month, day)
    number = int(sign + year)
    if month is None:
        return Span(number * 10000 + 101, number * 10000 + 1231)
    return _in_year(number, month, day)


def _in_year(year: int, month: str, day: str | None) -> Span:
    """Give the span of a day, a month or a part of a year."""
    part = int(month)
    if 1 <= part <= 12:
        start = year * 10000 + part * 100
        longest = days_in(year, part)
        if day is None:
            return Span(start + 1, start + longest)
        if 1 <= int(day) <= longest:
            return Span(start + int(day), start + int(day))
        raise _no_such_day(year, part)
    if part in GROUPS and day is None:
        return _group(year, part)
    remedy = f"there is no month {month}: months are 01 to 12, seasons 21 to 24"
    if day is None and year > 0 and part > year % 100:
        remedy += f"; a range of years is written {year:04d}/{year // 100:02d}{month}"
    raise EdtfError("impossible-date", EXPECTED, remedy)


def _group(year: int, part: int) -> Span:
    """Give the span of a season, quarter, third or half of a year."""
    month, months = GROUPS[part]
    years_on, final = divmod(month + months - 2, 12)
    last_month = (year + years_on) * 10000 + (final + 1) * 100
    return Span(year * 10000 + month * 100 + 1, last_month + days_in(year + years_on, final + 1))


def _no_such_day(year: int, month: int) -> EdtfError:
    remedy = f"this month has {days_in(year, month)} days"
    if month == 2 and year % 4 == 0 and not isleap(year):
        remedy += "; a 29 February of the Julian calendar goes into the words of the source, the month here"
    return EdtfError("impossible-date", EXPECTED, remedy)


@cache
def _fillings(pattern: str | None, most: int) -> tuple[int, ...]:
    """List the numbers from 1 to ``most`` that a pattern of two digits can mean, in order; None is any."""
    numbers = product(*("0123456789" if digit == "X" else digit for digit in pattern or "XX"))
    return tuple(number for digits in numbers if 1 <= (number := int("".join(digits))) <= most)


def _unspecified(sign: str, year: str, month: str | None, day: str | None) -> Span | None:
    """Give the first and last day that fit a date with unspecified digits."""
    months, days = _fillings(month, 12), _fillings(day, 31)
    if month and "X" not in month and int(month) in GROUPS and day is None:
        low, high = int(year.replace("X", "0")), int(year.replace("X", "9"))
        low, high = (-high, -low) if sign else (low, high)
        return Span(_group(low, int(month)).first, _group(high, int(month)).last)
    rising, falling = ("0123456789", "9876543210")[:: -1 if sign else 1]
    first = _first_day(_years(sign, year, rising), months, days)
    last = _first_day(_years(sign, year, falling), months[::-1], days[::-1])
    if first is None or last is None:
        raise EdtfError("impossible-date", EXPECTED, "no calendar has a day that fits the digits given")
    return Span(first, last)


def _years(sign: str, pattern: str, digits: str) -> Iterator[int]:
    """Go through the years that fit a pattern, each unspecified digit in the order given."""
    for chosen in product(*(digits if place == "X" else place for place in pattern)):
        yield int(sign + "".join(chosen))


def _first_day(years: Iterator[int], months: tuple[int, ...], days: tuple[int, ...]) -> int | None:
    """Find the first day that exists, going through years, months and days in the order given."""
    for year in years:
        for month in months:
            longest = days_in(year, month)
            for day in days:
                if day <= longest:
                    return year * 10000 + month * 100 + day
    return None


def _long_year(text: str) -> Span | None:
    """Give the span of a year with prefix Y, an exponent E or a number of significant digits S."""
    match = _LONG_YEAR(text)
    if match is None:
        return None
    long, base, exponent, short, significant = match.groups()
    digits = long or short or base + "0" * int(exponent)
    number = int(digits)
    size = len(str(abs(number)))
    if size > LONGEST_YEAR:
        raise bad_date(f"a year has at most {LONGEST_YEAR} digits here")
    if significant is None:
        return Span(number * 10000 + 101, number * 10000 + 1231)
    if not 1 <= int(significant) <= size:
        raise bad_date(f"the year has {size} digits, so S1 to S{size} can follow")
    step = 10 ** (size - int(significant))
    low = abs(number) // step * step
    low, high = (low, low + step - 1) if number >= 0 else (-low - step + 1, -low)
    return Span(low * 10000 + 101, high * 10000 + 1231)
