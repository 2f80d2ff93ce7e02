"""Years that begin on other days and days of other calendars, against published cases."""

import pytest
from dateutil.easter import EASTER_JULIAN, easter
from hypothesis import given
from hypothesis import strategies as st

from registry.derive.dating.calendars import (
    CalendarError,
    Day,
    calendar_in_force,
    day_number,
    day_of,
    in_gregorian,
    julian_easter,
    switches,
    years_meant,
)

# C. R. Cheney and M. Jones, A Handbook of Dates for Students of British History (2000), p. 8: a traveller
# leaves Venice on 1 March 1245, the first day of the Venetian year; in Florence it is 1244, in Pisa 1246, in
# Provence 1245, and in France before Easter (16 April) 1244.
TRAVELLER = [
    ("march", 1245, (3, 1)),
    ("annunciation", 1244, (3, 10)),
    ("annunciation-before", 1245, (3, 20)),
    ("annunciation-before", 1246, (3, 26)),
    ("christmas", 1245, (4, 1)),
    ("easter", 1244, (4, 1)),
]


@pytest.mark.parametrize(("begins", "year", "day"), TRAVELLER)
def test_the_traveller_of_the_handbook(begins, year, day):
    """The years that a traveller of 1245 met on his way are all that year of ours."""
    meant = years_meant(year, begins, day)
    assert (meant.first, meant.last) == (1245, 1245)


@pytest.mark.parametrize(
    ("begins", "first", "last"),
    [
        ("january", 1450, 1450),
        ("march", 1450, 1451),
        ("annunciation", 1450, 1451),
        ("annunciation-before", 1449, 1450),
        ("easter", 1450, 1451),
        ("september", 1449, 1450),
        ("christmas", 1449, 1450),
        ("unknown", 1450, 1450),
    ],
)
def test_a_year_alone_can_mean_two(begins, first, last):
    """Without a day, a year that began on another day lies in two years of ours."""
    meant = years_meant(1450, begins)
    assert (meant.first, meant.last) == (first, last)


def test_easter_years_have_days_twice_or_never():
    """From Easter to Easter some days come twice and some never (Cheney, p. 12)."""
    # Easter fell on 1 April 1415 and 19 April 1416: the year 1415 had 5 April twice.
    assert years_meant(1415, "easter", (4, 5))[:2] == (1415, 1416)
    # Easter fell on 19 April 1416 and 11 April 1417: the year 1416 had no 15 April.
    with pytest.raises(CalendarError, match="no day 04-15"):
        years_meant(1416, "easter", (4, 15))


@pytest.mark.parametrize("land", switches())
def test_no_day_is_lost_between_the_calendars(land):
    """The first Gregorian day of every land is the morrow of its last Julian one (published switch dates)."""
    switch = switches()[land]
    assert day_number(switch.julian_until, "julian") + 1 == day_number(switch.gregorian_from, "gregorian")
    assert calendar_in_force(switch.julian_until, land) == "julian"
    assert calendar_in_force(switch.gregorian_from, land) == "gregorian"
    left_out = switch.julian_until._replace(day=switch.julian_until.day + 1)
    if left_out.day <= 28 and left_out < switch.gregorian_from:
        with pytest.raises(CalendarError, match="had no"):
            calendar_in_force(left_out, land)


@given(st.integers(326, 2400))
def test_julian_easter(year):
    """Easter of the Julian calendar is that of an independent library (dateutil)."""
    other = easter(year, EASTER_JULIAN)
    assert julian_easter(year) == (year, other.month, other.day)


@given(st.integers(100000, 3000000), st.sampled_from(["julian", "gregorian"]))
def test_days_are_counted_and_named_alike(number, calendar):
    """The day that has a number has that number, in both calendars."""
    assert day_number(day_of(number, calendar), calendar) == number


def test_days_of_the_julian_calendar():
    """A Julian leap day that is no Gregorian one is a day; a thirtieth of February is none."""
    assert str(in_gregorian(Day(1500, 2, 29))) == "1500-03-10"
    with pytest.raises(CalendarError, match="no day 1500-02-30"):
        day_number(Day(1500, 2, 30), "julian")
    with pytest.raises(CalendarError, match="gregorian calendar has no day 1500-02-29"):
        day_number(Day(1500, 2, 29), "gregorian")
