"""Which year, and which day of today's calendar, a date in another calendar or style of the year means.

A year written on a bell may begin in September, at Christmas, in March or at Easter: its months on the far
side of 1 January lie in another year of ours. A day may be one of the Julian calendar. Both are worked out
here and shown beside the words, never put in their place.

Sources: C. R. Cheney and M. Jones, A Handbook of Dates for Students of British History (2000), pp. 8 to 13;
day numbers and the Julian Easter after J. Meeus, Astronomical Algorithms (1991), chapters 7 and 8.
"""

from functools import cache
from typing import Any, NamedTuple

import yaml

from registry.resources import shipped_text


class CalendarError(ValueError):
    """A day that the calendar does not have, or that the year as it was counted does not contain."""


class Day(NamedTuple):
    """A day of a calendar."""

    year: int
    month: int
    day: int

    def __str__(self) -> str:
        """Write it as ISO 8601."""
        return f"{self.year:04d}-{self.month:02d}-{self.day:02d}"


class Meant(NamedTuple):
    """Years of today (from 1 January) that a year as cast can lie in, and why."""

    first: int
    last: int
    why: str


class Switch(NamedTuple):
    """When a land went over to the Gregorian calendar."""

    label: str
    julian_until: Day
    gregorian_from: Day


def day_number(day: Day, calendar: str) -> int:
    """Count days through both calendars: the Julian day number of its noon.

    Raises
    ------
    CalendarError
        Where the calendar has no such day.
    """
    longest = _days_in(day.year, day.month, calendar) if 1 <= day.month <= 12 else 0
    if not 1 <= day.day <= longest:
        raise CalendarError(f"the {calendar} calendar has no day {day}")
    shift = (14 - day.month) // 12
    year, month = day.year + 4800 - shift, day.month + 12 * shift - 3
    days = day.day + (153 * month + 2) // 5 + 365 * year + year // 4
    return days - 32083 if calendar == "julian" else days - year // 100 + year // 400 - 32045


def day_of(number: int, calendar: str) -> Day:
    """Give the day of a calendar that has a day number; the inverse of :func:`day_number`."""
    if calendar == "julian":
        rest, century = number + 32082, 0
    else:
        rest = number + 32044
        century = (4 * rest + 3) // 146097
        rest -= 146097 * century // 4
    year = (4 * rest + 3) // 1461
    rest -= 1461 * year // 4
    month = (5 * rest + 2) // 153
    return Day(
        100 * century + year - 4800 + month // 10,
        month + 3 - 12 * (month // 10),
        rest - (153 * month + 2) // 5 + 1,
    )


def _days_in(year: int, month: int, calendar: str) -> int:
    leap = year % 4 == 0 and (calendar == "julian" or year % 100 != 0 or year % 400 == 0)
    return 29 if month == 2 and leap else (31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)[month - 1]


def in_gregorian(day: Day) -> Day:
    """Give the Gregorian day of a Julian one."""
    return day_of(day_number(day, "julian"), "gregorian")


def julian_easter(year: int) -> Day:
    """Give Easter Sunday of the Julian calendar."""
    moon = (19 * (year % 19) + 15) % 30
    weekday = (2 * (year % 4) + 4 * (year % 7) - moon + 34) % 7
    month, day = divmod(moon + weekday + 114, 31)
    return Day(year, month, day + 1)


STYLES = {
    # first day of the year, and in which year of ours it lies: 0 the same, -1 the one before
    "january": ((1, 1), 0),
    "march": ((3, 1), 0),
    "annunciation": ((3, 25), 0),
    "annunciation-before": ((3, 25), -1),
    "september": ((9, 1), -1),
    "christmas": ((12, 25), -1),
}
"""Styles of the year that begin on a fixed day; ``easter`` begins on a movable one."""


def years_meant(year: int, begins: str, month_and_day: tuple[int, int] | None = None) -> Meant:
    """Say in which years of today a year lies that began on another day.

    Parameters
    ----------
    year : int
        The year as cast.
    begins : str
        Word of the vocabulary ``year_begins``.
    month_and_day : tuple of int, optional
        The day, where the text has one.

    Raises
    ------
    CalendarError
        Where the year, from Easter to Easter, has no such day.
    """
    if begins in ("january", "unknown"):
        return Meant(year, year, "the year begins on 1 January" if begins == "january" else "")
    if begins == "easter":
        return _from_easter(year, month_and_day)
    (month, day), shift = STYLES[begins]
    first, last = (
        Day(year + shift, month, day),
        day_of(day_number(Day(year + shift + 1, month, day), "julian") - 1, "julian"),
    )
    why = f"the year {year} ran from {first} to {last}"
    if month_and_day is None:
        return Meant(first.year, last.year, why)
    meant = first.year if month_and_day >= (month, day) else last.year
    return Meant(meant, meant, why)


def _from_easter(year: int, month_and_day: tuple[int, int] | None) -> Meant:
    first, end = julian_easter(year), julian_easter(year + 1)
    last = day_of(day_number(end, "julian") - 1, "julian")
    why = f"the year {year} ran from Easter, {first}, to {last}"
    if month_and_day is None:
        return Meant(year, year + 1, why)
    years = [each for each in (year, year + 1) if first <= Day(each, *month_and_day) <= last]
    if not years:
        raise CalendarError(f"{why}: it has no day {month_and_day[0]:02d}-{month_and_day[1]:02d}")
    return Meant(years[0], years[-1], why + (", and has this day twice" if len(years) > 1 else ""))


@cache
def switches() -> dict[str, Switch]:
    """Give the days on which lands changed the calendar, by code."""
    return {code: Switch(each["label"], *(_day(each[key]) for key in ("julian_until", "gregorian_from")))
            for code, each in _rules()["switches"].items()}  # fmt: skip


@cache
def switches_source() -> str:
    """Say where the days of the switches come from."""
    return " ".join(str(_rules()["source"]).split())


@cache
def _rules() -> dict[str, Any]:
    loaded: dict[str, Any] = yaml.load(
        shipped_text("schema", "rules", "calendar_switches.yaml"),
        Loader=yaml.CBaseLoader,  # noqa: S506 - texts only
    )
    return loaded


def _day(text: str) -> Day:
    return Day(*(int(part) for part in text.split("-")))


def calendar_in_force(day: Day, land: str) -> str:
    """Say which calendar a land used on a day as it was written there.

    Raises
    ------
    CalendarError
        Where the land left this day out.
    """
    switch = switches()[land]
    if day <= switch.julian_until:
        return "julian"
    if day < switch.gregorian_from:
        raise CalendarError(
            f"{switch.label} had no {day}: {switch.gregorian_from} came after {switch.julian_until}"
        )
    return "gregorian"
