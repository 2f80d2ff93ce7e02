"""``soundbow date``: every year that a date as it stands on a bell can mean."""

import json
import re
from datetime import date

import click

from registry.cli.date_sheet import Calendar, as_data, as_lines
from registry.cli.options import format_option
from registry.derive.dating import DateRead, read_date
from registry.derive.dating.calendars import (
    CalendarError,
    switches,
)
from registry.derive.dating.days import day_of_text
from registry.derive.dating.edtf_reading import edtf_readings
from registry.derive.dating.readings import LONGEST
from registry.derive.dating.settings import circa_years
from registry.model.edtf import EdtfError, parse_edtf
from registry.model.edtf_circa import widened
from registry.model.vocabulary import vocabulary
from registry.problems import InputError, whole_file_problem

_DAY = re.compile(r"\s*([0-9]{4})-([0-9]{2})-([0-9]{2})\s*").fullmatch
_NEGATIVE = re.compile(r"-[0-9X]{4}.*", re.DOTALL).match
_MONTH_AND_DAY = re.compile(r"([0-9]{1,2})-([0-9]{1,2})").fullmatch

BEGINNINGS = [code for code in vocabulary("year_begins").terms if code != "unknown"]


def read_month_and_day(
    _context: click.Context, _option: click.Parameter, text: str | None
) -> tuple[int, int] | None:
    """Read a day of any year, ``07-18``."""
    if text is None:
        return None
    match = _MONTH_AND_DAY(text)
    if match is None or not (1 <= int(match[1]) <= 12 and 1 <= int(match[2]) <= 31):
        raise click.BadParameter(f"{text!r}: write month and day with a hyphen, e.g. 07-18.")
    return int(match[1]), int(match[2])


class DateCommand(click.Command):
    """The command; a word such as -1985 is a year before Christ to it, and no option."""

    def parse_args(self, ctx: click.Context, args: list[str]) -> list[str]:
        """Put years with a sign behind the options."""
        years = [word for word in args if _NEGATIVE(word)]
        if years and "--" not in args:
            args = [*(word for word in args if word not in years), "--", *years]
        return super().parse_args(ctx, args)


@click.command(
    cls=DateCommand,
    epilog="\b\nExamples:\n"
    '  soundbow date "m cccc lxxxx iii"\n'
    '  soundbow date "henrICVs Ieffreys keneLMo DeVoVIt" --format json\n'
    '  soundbow date "anno domini MCCCCXLIIII" --year-begins easter --day 03-25\n'
    "  soundbow date 1258-07-18 --calendar julian\n"
    '  soundbow date "[1480,1483]" --edtf',
)
@click.argument("text")
@click.option("--edtf", "only_edtf", is_flag=True, help="Read TEXT as an EDTF expression and nothing else.")
@click.option(
    "--circa-years",
    type=click.IntRange(0, 200),
    help="Years on either side by which an approximate EDTF date (1650~) is widened; none by default.",
)
@click.option("--year-begins", type=click.Choice(BEGINNINGS), help="Day on which the year as cast began.")
@click.option(
    "--day",
    callback=read_month_and_day,
    metavar="MM-DD",
    help="Month and day as cast; unless given, those that TEXT names (XV Kal. Augusti).",
)
@click.option("--calendar", type=click.Choice(["julian", "gregorian"]), help="Calendar of the day as cast.")
@click.option(
    "--land",
    type=click.Choice(list(switches())),
    help="Land whose calendar of that day is taken, by the day it changed.",
)
@format_option("table", "json")
def command(
    text: str,
    only_edtf: bool,
    circa_years: int | None,
    year_begins: str | None,
    day: tuple[int, int] | None,
    calendar: str | None,
    land: str | None,
    answer_as: str,
) -> None:
    """Read TEXT, a date as it stands on a bell: every year it can mean, likeliest first, and how it was got.

    Figures, Roman numerals with all medieval habits, Latin and other number words, Greek, Slavonic and Hebrew
    letters, chronograms, EDTF; alone or in the midst of an inscription. Nothing is decided for you.
    """
    if not text.strip():
        raise click.UsageError("TEXT is empty: give the date as it stands on the bell.")
    if len(text) > LONGEST:
        raise click.UsageError(f"TEXT has {len(text)} characters; at most {LONGEST} are read.")
    if calendar and land:
        raise click.UsageError("--land says which calendar it was: leave out --calendar.")
    if day is not None and not (year_begins or calendar or land):
        raise click.UsageError("--day asks nothing alone: give --calendar, --land or --year-begins with it.")
    read = _read(text, only_edtf=only_edtf, circa=_circa(circa_years))
    named = None if only_edtf else day_of_text(text, read.readings[0].year if read.readings else None)
    if named is not None and day is None:
        day = (named.month, named.day)
    try:
        told = _calendar(text, read, year_begins, day, calendar, land)
    except CalendarError as error:
        raise InputError(
            [
                whole_file_problem(
                    "TEXT", "impossible-date", text.strip(), "a day of this calendar", str(error)
                )
            ]
        ) from error
    if answer_as == "json":
        click.echo(json.dumps(as_data(read, told, named, _circa(circa_years)), ensure_ascii=False, indent=2))
    else:
        click.echo("\n".join(as_lines(read, told, named, _circa(circa_years))))


def _circa(asked: int | None) -> int:
    return circa_years() if asked is None else asked


def _read(text: str, *, only_edtf: bool, circa: int) -> DateRead:
    """Read the text in all ways, or as an expression alone.

    Raises
    ------
    InputError
        Where it was said to be an expression and is none.
    """
    if not only_edtf:
        return read_date(text, date.today().year, circa)
    try:
        expression = widened(parse_edtf(text.strip()), circa)
    except EdtfError as error:
        raise InputError(
            [whole_file_problem("TEXT", error.code, text, error.expected, error.remedy)]
        ) from error
    return DateRead(text, tuple(edtf_readings(expression, circa)), None, expression)


def _calendar(
    text: str,
    read: DateRead,
    year_begins: str | None,
    day: tuple[int, int] | None,
    calendar: str | None,
    land: str | None,
) -> Calendar | None:
    """Work out what calendar and year beginning make of the readings; None where nothing was asked.

    Raises
    ------
    CalendarError
        Where the calendar has no such day.
    """
    whole = _DAY(text)
    if whole is not None:
        day = day or (int(whole[2]), int(whole[3]))
    if (calendar or land) and day is None:
        raise click.UsageError("A calendar says something of a day only: give --day, or TEXT as 1258-07-18.")
    if not (year_begins or calendar or land):
        return None
    found = Calendar(year_begins, day, calendar, land, {})
    years = [int(whole[1])] if whole is not None else [each.year for each in read.readings]
    for number, year in enumerate(dict.fromkeys(years)):
        try:
            found.meant[year] = found.meaning(year)
        except CalendarError:
            if number == 0:
                raise
    return found
