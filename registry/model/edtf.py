"""Dates with their doubt: Extended Date/Time Format expressions read into bounds.

Read are levels 0 and 1, and of level 2: exponential years, significant digits, parts of a year, sets
``[one of]`` and ``{all of}``, marks on single parts, and unspecified digits anywhere. The bounds are those of
the text: "approximate" has no width in the standard, and gets none here. Days are those of the Gregorian
calendar, carried back before its introduction.

Source: Library of Congress, Extended Date/Time Format (EDTF) Specification, 4 February 2019, a profile of
ISO 8601-2:2019.
"""

import re
from datetime import date
from functools import lru_cache
from typing import Literal, NamedTuple

from registry.model.edtf_parts import EdtfError, bad_date, span_of
from registry.model.edtf_remedies import remedy_for

__all__ = ["EdtfDate", "EdtfError", "parse_edtf", "read_day"]

LONGEST = 200
"""Characters an expression may have."""

Bound = Literal["known", "open", "unknown"]


class EdtfDate(NamedTuple):
    """A date expression with its outermost bounds.

    Parameters
    ----------
    text : str
        The expression as written.
    earliest, latest : str or None
        First and last day it can mean, ISO 8601; None where that end is open or unknown. Days of years
        outside 0000 to 9999 do not sort as text: compare the years.
    earliest_year, latest_year : int or None
        The years of these days; 0 is the year before 1.
    start_is, end_is : str
        ``known``, ``open`` (``..``) or ``unknown`` (nothing written).
    uncertain, approximate : bool
        Whether any part is marked ``?`` or ``%``, and ``~`` or ``%``.
    choice : str
        ``one-of`` for ``[...]``, ``all-of`` for ``{...}``, else empty.
    members : tuple of EdtfDate
        The members of a set, else empty.
    """

    text: str
    earliest: str | None
    latest: str | None
    earliest_year: int | None
    latest_year: int | None
    start_is: Bound = "known"
    end_is: Bound = "known"
    uncertain: bool = False
    approximate: bool = False
    choice: Literal["", "one-of", "all-of"] = ""
    members: tuple["EdtfDate", ...] = ()

    def possibly_within(self, from_year: int | None, to_year: int | None) -> bool:
        """Say whether the date can lie in these years, ends included; None is no limit.

        The gaps between the members of a set count as excluded.
        """
        if self.members:
            return any(member.possibly_within(from_year, to_year) for member in self.members)
        too_late = to_year is not None and self.earliest_year is not None and self.earliest_year > to_year
        too_early = from_year is not None and self.latest_year is not None and self.latest_year < from_year
        return not (too_late or too_early)

    def certainly_within(self, from_year: int | None, to_year: int | None) -> bool:
        """Say whether the date cannot lie outside these years; an open or unknown end is never certain."""
        after_start = from_year is None or (
            self.earliest_year is not None and self.earliest_year >= from_year
        )
        before_end = to_year is None or (self.latest_year is not None and self.latest_year <= to_year)
        return after_start and before_end


class _Bounds(NamedTuple):
    """First and last day of a range as counted days, and what its ends are."""

    first: int | None
    last: int | None
    start: Bound = "known"
    end: Bound = "known"


_DAY = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}").fullmatch


def read_day(text: str) -> date:
    """Read one calendar day, ``YYYY-MM-DD`` and nothing else.

    Raises
    ------
    EdtfError
        When the text is not of that form, or no calendar has the day.
    """
    expected = "one day as YYYY-MM-DD"
    if not _DAY(text):
        raise EdtfError("bad-date", expected, "write year, month and day with hyphens, e.g. 2024-05-09")
    try:
        return date.fromisoformat(text)
    except ValueError:
        raise EdtfError(
            "impossible-date", expected, "no calendar has this day: check month and day"
        ) from None


@lru_cache(maxsize=4096)
def parse_edtf(text: str) -> EdtfDate:
    """Read a date expression.

    Parameters
    ----------
    text : str
        An expression: ``1650``, ``165X``, ``1650-05~``, ``1650/1660``, ``../1650``, ``[1650,1660..1663]``.

    Raises
    ------
    EdtfError
        When it is none, when it names a day that no calendar has, or when it runs backwards.
    """
    if len(text) > LONGEST:
        raise bad_date(f"write a date expression of at most {LONGEST} characters")
    span = span_of(text)
    if span is not None:
        return _dated(text, span.first, span.last)
    if text[:1] in ("[", "{"):
        read = _set(text)
    elif "/" in text:
        read = _interval(text)
    else:
        read = None
    if read is None:
        raise bad_date(remedy_for(text))
    return read


def _dated(
    text: str, first: int | None, last: int | None, start: Bound = "known", end: Bound = "known"
) -> EdtfDate:
    both = "%" in text
    return EdtfDate(
        text,
        None if first is None else _iso(first),
        None if last is None else _iso(last),
        None if first is None else first // 10000,
        None if last is None else last // 10000,
        start,
        end,
        both or "?" in text,
        both or "~" in text,
    )


def _iso(day: int) -> str:
    """Write a counted day as ISO 8601."""
    year, rest = divmod(day, 10000)
    month, day = divmod(rest, 100)
    return f"{year:05d}-{month:02d}-{day:02d}" if year < 0 else f"{year:04d}-{month:02d}-{day:02d}"


def _range(start: str, end: str, ends: dict[str, Bound]) -> _Bounds | None:
    """Read the two ends of a range; ``ends`` says what stands for no date."""
    first = None if start in ends else span_of(start)
    last = None if end in ends else span_of(end)
    if (first is None and start not in ends) or (last is None and end not in ends):
        return None
    if first and last and first.first > last.last:
        raise bad_date(f"{start} is later than {end}: change them round")
    if first is None and last is None:
        raise bad_date("a range without any date says nothing: leave the field out")
    return _Bounds(
        first.first if first else None,
        last.last if last else None,
        ends.get(start, "known"),
        ends.get(end, "known"),
    )


def _interval(text: str) -> EdtfDate | None:
    """Read ``start/end``, each a date, ``..`` (open) or nothing (unknown)."""
    start, _, end = text.partition("/")
    bounds = _range(start, end, {"": "unknown", "..": "open"})
    return bounds and _dated(text, *bounds)


def _set(text: str) -> EdtfDate | None:
    """Read ``[a,b..c]`` (one of) or ``{a,b..c}`` (all of)."""
    if text[-1:] != {"[": "]", "{": "}"}[text[0]]:
        return None
    parts = [part.strip(" ") for part in text[1:-1].split(",")]
    bounds = []
    for place, part in enumerate(parts):
        start, dots, end = part.partition("..")
        read = _range(start, end if dots else start, {"": "open"} if dots else {})
        if read is None:
            return None
        if (read.start == "open" and place > 0) or (read.end == "open" and place < len(parts) - 1):
            raise bad_date("'..' stands at the outer ends of a set only")
        bounds.append(read)
    whole = _dated(
        text,
        None if bounds[0].first is None else min(read.first for read in bounds if read.first is not None),
        None if bounds[-1].last is None else max(read.last for read in bounds if read.last is not None),
        bounds[0].start,
        bounds[-1].end,
    )
    members = tuple(_dated(part, *read) for part, read in zip(parts, bounds, strict=True))
    return whole._replace(choice="one-of" if text[0] == "[" else "all-of", members=members)
