"""``soundbow date``. The readings themselves are tested against publications in tests/derive/dating."""

import pytest

from registry.cli.group import DONE, PROBLEMS, USAGE


def test_json_has_readings_and_ends(soundbow):
    """Every reading has its year and how it was got, the likeliest first, with the ends over all of them."""
    run = soundbow("date", "m v^c xii", "--format", "json")
    assert run.code == DONE
    readings = run.data["readings"]
    assert readings[0]["year"] == 1512
    assert "5 × 100" in readings[0]["how"]
    assert [each["weight"] for each in readings] == sorted(
        (each["weight"] for each in readings), reverse=True
    )
    years = [each["year"] for each in readings]
    assert (run.data["earliest"], run.data["latest"]) == (min(years), max(years))


def test_table_says_the_same(soundbow):
    """The table names year, way and doubt, and that nothing is decided."""
    run = soundbow("date", "d cccc lxx iiii")
    assert run.code == DONE
    for word in ("1474", "d for m", "974", "Nothing is decided"):
        assert word in run.out


def test_sums_of_letters_stand_side_by_side(soundbow):
    """A chronogram is told with every rule and its sum, and that a sum is no proof."""
    words = ("date", "paVLo Wertæo sVb præsVLe fVsa MarIæ et DeVota fVI")
    run = soundbow(*words, "--format", "json")
    sums = {each["sum"]: each["rules"] for each in run.data["chronogram"]["sums"]}
    assert sums[1632][0] == "capitals only, W 0"
    assert sums[1642][0] == "capitals only, W 10"
    assert run.data["chronogram"]["marked"]
    assert "no proof" in soundbow(*words).out


def test_a_text_without_a_year(soundbow):
    """Where nothing can be read, that is the answer, with what to try."""
    run = soundbow("date", "hello", "--format", "json")
    assert run.code == DONE
    assert (run.data["readings"], run.data["earliest"], run.data["latest"]) == ([], None, None)
    assert "No year can be read" in soundbow("date", "hello").out


@pytest.mark.parametrize(
    ("expression", "earliest", "latest", "days"),
    [
        ("1985/..", 1985, None, ("1985-01-01", None)),
        ("[1480,1483]", 1480, 1483, ("1480-01-01", "1483-12-31")),
        ("164X", 1640, 1649, ("1640-01-01", "1649-12-31")),
        ("-1985", -1985, -1985, ("-1985-01-01", "-1985-12-31")),
    ],
)
def test_expressions(soundbow, expression, earliest, latest, days):
    """An EDTF expression is read as one and says so, with its bounds; open ends stay open."""
    run = soundbow("date", expression, "--edtf", "--format", "json")
    assert run.code == DONE
    assert all("EDTF" in each["how"] for each in run.data["readings"])
    assert (run.data["earliest"], run.data["latest"]) == (earliest, latest)
    assert (run.data["edtf"]["earliest"], run.data["edtf"]["latest"]) == days


def test_circa_widens_only_when_asked(soundbow):
    """An approximate date keeps its bounds, and a setting that widens them is told."""
    plain = soundbow("date", "1450~", "--edtf", "--format", "json").data
    wide = soundbow("date", "1450~", "--edtf", "--circa-years", "5", "--format", "json").data
    assert (plain["earliest"], plain["latest"]) == (1450, 1450)
    assert (wide["earliest"], wide["latest"]) == (1445, 1455)
    assert "a setting and no part of the date" in soundbow("date", "1450~", "--circa-years", "5").out


def test_years_that_begin_on_another_day(soundbow):
    """Said when the year began, the answer tells the years of today it can lie in, and the words stay."""
    words = ("date", "anno domini MCCCCL", "--year-begins", "annunciation", "--format", "json")
    first = soundbow(*words).data["readings"][0]
    assert first["year"] == 1450
    assert (first["today"]["earliest"], first["today"]["latest"]) == (1450, 1451)
    january = soundbow(*words, "--day", "01-20").data["readings"][0]
    assert (january["today"]["earliest"], january["today"]["latest"]) == (1451, 1451)


def test_days_of_the_julian_calendar(soundbow):
    """A Julian day is told in both calendars, also one that only the Julian calendar has."""
    run = soundbow("date", "1258-07-18", "--calendar", "julian", "--format", "json")
    days = run.data["readings"][0]["today"]["days"]
    assert days == [{"julian": "1258-07-18", "gregorian": "1258-07-25"}]
    leap = soundbow("date", "1500-02-29", "--calendar", "julian")
    assert (leap.code, "1500-03-10" in leap.out) == (DONE, True)


def test_the_day_that_the_text_names(soundbow):
    """A day of the Roman calendar is read with the year and taken where a calendar is asked for.

    Freiburg, Hosanna bell: 18 July 1258 (Marmon 1878, p. 47).
    """
    run = soundbow("date", "MCCLVIII XV Kal. Augusti", "--calendar", "julian", "--format", "json")
    assert (run.data["day"]["month"], run.data["day"]["day"]) == (7, 18)
    assert run.data["readings"][0]["today"]["days"] == [{"julian": "1258-07-18", "gregorian": "1258-07-25"}]
    assert "18 July" in soundbow("date", "MCCLVIII XV Kal. Augusti").out


def test_the_calendar_of_a_land(soundbow):
    """The calendar of a land is taken by the day it changed, and the source is cited."""
    run = soundbow("date", "1752-09-14", "--land", "britain")
    assert run.code == DONE
    assert "1752-09-02 (Julian), then 1752-09-14 (Gregorian)" in run.out
    assert "Source:" in run.out


@pytest.mark.parametrize(
    ("words", "code", "said"),
    [
        (("", ), USAGE, "TEXT is empty"),
        (("x" * 4001,), USAGE, "at most 4000"),
        ((), USAGE, "TEXT"),
        (("MCD", "--day", "13-01"), USAGE, "month and day"),
        (("MCD", "--calendar", "julian"), USAGE, "give --day"),
        (("MCD", "--day", "02-30"), USAGE, "--day asks nothing alone"),
        (("MCD", "--calendar", "julian", "--land", "britain", "--day", "1-2"), USAGE, "leave out"),
        (("MCD", "--year-begins", "monday"), USAGE, "monday"),
        (("14??", "--edtf"), PROBLEMS, "bad-date"),
        (("1500-02-30", "--edtf"), PROBLEMS, "impossible-date"),
        (("1500-02-30", "--calendar", "julian"), PROBLEMS, "impossible-date"),
        (("1752-09-05", "--land", "britain"), PROBLEMS, "had no 1752-09-05"),
        (("1416", "--year-begins", "easter", "--day", "04-15"), PROBLEMS, "no day 04-15"),
    ],
)  # fmt: skip
def test_bad_input(soundbow, words, code, said):
    """What cannot be read or cannot be is named, with the exit code for it."""
    run = soundbow("date", *words)
    assert run.code == code
    assert said in run.err
