"""The answer of ``soundbow date``, for people and for programs."""

from textwrap import fill
from typing import Any, NamedTuple

from registry.derive.dating import DateRead, Reading
from registry.derive.dating.calendars import (
    CalendarError,
    Day,
    Meant,
    calendar_in_force,
    day_number,
    day_of,
    in_gregorian,
    switches,
    switches_source,
    years_meant,
)
from registry.derive.dating.days import DayRead
from registry.derive.dating.settings import circa_words
from registry.model.vocabulary import label_of

CAUTION = (
    "Nothing is decided here: hold the readings against lettering, founder and records."
    " A sum is never a proof."
)

STYLE_SOURCE = (
    "C. R. Cheney and M. Jones, A Handbook of Dates for Students of British History (2000), pp. 8 to 13"
)

SUMS_SHOWN = 12


class MeantYear(NamedTuple):
    """What a year as cast means today: its years, and where a day was given that day in both calendars."""

    years: Meant
    days: tuple[tuple[str, str], ...]
    """Pairs of the Julian and the Gregorian day."""
    calendar: str


class Calendar(NamedTuple):
    """What was said of calendar and year, and what it makes of each year read."""

    year_begins: str | None
    day: tuple[int, int] | None
    calendar: str | None
    land: str | None
    meant: dict[int, MeantYear]

    def meaning(self, year: int) -> MeantYear:
        """Work out what a year as cast means.

        Raises
        ------
        CalendarError
            Where there was no such day.
        """
        years = years_meant(year, self.year_begins or "january", self.day)
        if self.day is None or not (self.calendar or self.land):
            return MeantYear(years, (), "")
        days, used = [], ""
        for each in range(years.first, years.last + 1):
            day = Day(each, *self.day)
            used = calendar_in_force(day, self.land) if self.land else self.calendar or ""
            if used == "julian":
                days.append((str(day), str(in_gregorian(day))))
            else:
                days.append((str(day_of(day_number(day, "gregorian"), "julian")), str(day)))
        return MeantYear(years, tuple(days), used)


__all__ = ["Calendar", "CalendarError", "as_data", "as_lines"]


def as_data(
    read: DateRead, calendar: Calendar | None, named: DayRead | None, circa_years: int
) -> dict[str, Any]:
    """Give the readings as data."""
    data: dict[str, Any] = {
        "text": read.text,
        "readings": [_reading(each, calendar) for each in read.readings],
        "earliest": read.earliest,
        "latest": read.latest,
    }
    if named is not None:
        data["day"] = {"month": named.month, "day": named.day, "how": named.how}
    if read.letters is not None:
        data["chronogram"] = {
            "letters": read.letters.letters,
            "marked": read.letters.marked,
            "sums": [{"sum": each.sum, "rules": list(each.rules)} for each in read.letters.sums],
        }
    if read.edtf is not None:
        date = read.edtf
        data["edtf"] = {
            "expression": date.text,
            "earliest": date.earliest,
            "latest": date.latest,
            "start_is": date.start_is,
            "end_is": date.end_is,
            "uncertain": date.uncertain,
            "approximate": date.approximate,
            "choice": date.choice or None,
            "circa_years": circa_years,
        }
    if calendar is not None:
        data["calendar"] = {
            "year_begins": calendar.year_begins,
            "calendar": calendar.calendar,
            "land": calendar.land,
            "source": _sources(calendar),
        }
    data["caution"] = CAUTION
    return data


def _reading(reading: Reading, calendar: Calendar | None) -> dict[str, Any]:
    data: dict[str, Any] = {
        "year": reading.year,
        "last_year": reading.last_year,
        "how": reading.how,
        "notation": reading.notation,
        "standing": reading.standing,
        "weight": round(reading.weight, 3),
        "expression": reading.text,
        "doubts": list(reading.doubts),
    }
    meant = calendar.meant.get(reading.year) if calendar is not None else None
    if meant is not None:
        data["today"] = {"earliest": meant.years.first, "latest": meant.years.last, "why": meant.years.why}
        if meant.days:
            data["today"]["days"] = [{"julian": julian, "gregorian": new} for julian, new in meant.days]
    return data


def _sources(calendar: Calendar) -> list[str]:
    sources = [STYLE_SOURCE] if calendar.year_begins else []
    return [*sources, switches_source()] if calendar.land else sources


def as_lines(read: DateRead, calendar: Calendar | None, named: DayRead | None, circa_years: int) -> list[str]:
    """Write the readings for people."""
    lines = [read.text.strip(), ""]
    written = [each for each in read.readings if each.standing == "written"]
    sums = [each for each in read.readings if each.standing != "written"]
    if not read.readings:
        lines.append("No year can be read in this text: give it letter for letter, or the whole inscription.")
    for title, readings in (("Read", written), ("Sums of letters", sums[:SUMS_SHOWN])):
        if readings:
            lines += [f"{title:12}{'weight':>8}  how"]
            lines += [line for each in readings for line in _lines(each, calendar)]
            lines.append("")
    if len(sums) > SUMS_SHOWN:
        lines += [f"{len(sums) - SUMS_SHOWN} more sums; --format json has them all.", ""]
    if read.letters is not None and (read.letters.marked or not written):
        lines += [*_sum_lines(read), ""]
    if read.readings:
        ends = [str(end) if end is not None else "open" for end in (read.earliest, read.latest)]
        lines.append(f"Over all readings: {ends[0]} to {ends[1]}.")
    if named is not None:
        lines.append(fill(f"Day: {named.how}.", 100))
    if circa_years and read.edtf is not None and read.edtf.approximate:
        lines.append(f"{circa_words(circa_years).capitalize()}.")
    if calendar is not None:
        lines += _calendar_lines(calendar)
    return [*lines, fill(CAUTION, 100)]


def _lines(reading: Reading, calendar: Calendar | None) -> list[str]:
    span = (
        str(reading.year) if reading.last_year == reading.year else f"{reading.year} to {reading.last_year}"
    )
    indent = " " * 22
    weight = f"{reading.weight:.2f}" if reading.weight >= 0.01 else "<0.01"
    head = f"{span:12}{weight:>8}  "
    lines = [fill(reading.how, 100, initial_indent=head, subsequent_indent=indent)]
    lines += [
        fill(f"{doubt}.", 100, initial_indent=indent, subsequent_indent=indent) for doubt in reading.doubts
    ]
    meant = calendar.meant.get(reading.year) if calendar is not None else None
    if meant is not None:
        years = meant.years
        today = str(years.first) if years.first == years.last else f"{years.first} or {years.last}"
        if calendar is not None and calendar.year_begins:
            lines.append(
                fill(f"Today: {today}; {years.why}.", 100, initial_indent=indent, subsequent_indent=indent)
            )
        lines += [f"{'':22}Julian {julian}, Gregorian {new}." for julian, new in meant.days]
    return lines


def _sum_lines(read: DateRead) -> list[str]:
    letters = read.letters
    if letters is None:
        return []
    marked = "marked by capitals" if letters.marked else "marked by nothing"
    lines = [f"Numeral letters, {marked}: {letters.letters}"]
    lines += [
        fill(f"{each.sum:6}  {' | '.join(each.rules)}", 100, subsequent_indent=" " * 8)
        for each in letters.sums[:SUMS_SHOWN]
    ]
    if len(letters.sums) > SUMS_SHOWN:
        lines.append(f"{'':8}and {len(letters.sums) - SUMS_SHOWN} more sums by other rules")
    return lines


def _calendar_lines(calendar: Calendar) -> list[str]:
    lines = []
    if calendar.year_begins:
        lines.append(f"Year beginning on {label_of('year_begins', calendar.year_begins)}.")
    if calendar.land:
        switch = switches()[calendar.land]
        lines.append(
            f"{switch.label}: {switch.julian_until} (Julian), then {switch.gregorian_from} (Gregorian)."
        )
    return [*lines, *(fill(f"Source: {source}.", 100) for source in _sources(calendar))]
