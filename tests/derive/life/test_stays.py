"""Where a bell was follows from its surveys, with every end as open as they leave it."""

from datetime import date, timedelta
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from registry.derive.life.stays import casting, stays_of
from registry.model.life import Happening, Sighting, Stay, days_of
from registry.model.validity import Validity


def seen(day: str, tower: str = "gate", status: str = "hanging", *events: Happening, **more: str) -> Sighting:
    """Make a survey named by its day."""
    return Sighting(f"s-{day}", day, more.get("told_on", day), tower, status, more.get("cast", ""), events)


def told(stays: list[Stay]) -> list[tuple[str, str, str | None, str, str | None, str | None]]:
    """Give state, tower and the four days of each stay."""
    return [stay[:6] for stay in stays]


def test_a_bell_seen_once_is_presumed_there_since_its_casting() -> None:
    """One visit makes one stay, from the years of the casting on and without an end."""
    assert told(stays_of([seen("2004-05-01", cast="1643")])) == [
        ("there", "gate", "1643-01-01", "1643-12-31", None, None)
    ]


def test_an_undated_bell_began_nobody_knows_when() -> None:
    """Without a date of casting the first day is open, and the visit is the last day it can be."""
    assert told(stays_of([seen("2004-05-01")])) == [("there", "gate", None, "2004-05-01", None, None)]
    assert stays_of([]) == []


def test_two_towers_without_an_event_leave_the_time_between_open() -> None:
    """A bell seen in one tower, later in another, moved between the two surveys."""
    stays = stays_of([seen("1890-12-31", "gate", cast="164X"), seen("2004-05-01", "abbey")])
    assert told(stays) == [
        ("there", "gate", "1640-01-01", "1649-12-31", "1890-12-31", "2004-05-01"),
        ("there", "abbey", "1890-12-31", "2004-05-01", None, None),
    ]


def test_taken_and_returned() -> None:
    """A requisition and a return part two stays in one tower."""
    events = (Happening("requisitioned", "1942-04"), Happening("returned", "1945-11-03"))
    stays = stays_of([seen("2004-05-01", "gate", "hanging", *events, cast="1722")])
    assert told(stays) == [
        ("there", "gate", "1722-01-01", "1722-12-31", "1942-04-01", "1942-04-30"),
        ("requisitioned", "", "1942-04-01", "1942-04-30", "1945-11-03", "1945-11-03"),
        ("there", "gate", "1945-11-03", "1945-11-03", None, None),
    ]


def test_moved_away_and_moved_here_tell_the_same() -> None:
    """The tower of a move is the goal where the bell left, and the origin where it arrived."""
    moved = "1968"
    left = seen("2012-01-01", "abbey", "moved", Happening("moved", moved, tower="museum"), cast="1700")
    came = seen("2012-01-01", "museum", "on-display", Happening("moved", moved, tower="abbey"), cast="1700")
    expected = [
        ("there", "abbey", "1700-01-01", "1700-12-31", "1968-01-01", "1968-12-31"),
        ("there", "museum", "1968-01-01", "1968-12-31", None, None),
    ]
    assert told(stays_of([left])) == told(stays_of([came])) == expected
    assert told(stays_of([left, came._replace(survey_id="other")])) == expected


def test_moved_nobody_says_where() -> None:
    """A bell that is moved elsewhere, with no word of the place, is away, from its last sighting on."""
    stays = stays_of([seen("1990-01-01", cast="1700"), seen("2012-01-01", "gate", "moved")])
    assert told(stays)[1:] == [("moved", "", "1990-01-01", "2012-01-01", None, None)]


@pytest.mark.parametrize(
    ("event", "state"),
    [
        ("destroyed", "destroyed"),
        ("recast-into", "recast"),
        ("stolen", "stolen"),
        ("lost", "lost"),
        ("hidden", "hidden"),
    ],
)
def test_events_that_take_a_bell(event: str, state: str) -> None:
    """After such an event the bell is no longer there, and a status that says the same adds nothing."""
    survey = seen(
        "2004-05-01", "gate", "lost" if state == "hidden" else state, Happening(event, "1900"), cast="1700"
    )
    stays = stays_of([survey])
    assert told(stays)[:2] == [
        ("there", "gate", "1700-01-01", "1700-12-31", "1900-01-01", "1900-12-31"),
        (
            state,
            "",
            "1900-01-01",
            "1900-12-31",
            *(("1900-12-31", "2004-05-01") if state == "hidden" else (None, None)),
        ),
    ]


def test_an_undated_event_lies_between_what_is_certain_and_its_survey() -> None:
    """A theft without a date came after the last visit that saw the bell, before the one that tells of it."""
    stays = stays_of(
        [seen("1990-06-01", cast="1700"), seen("2004-05-01", "gate", "stolen", Happening("stolen"))]
    )
    assert told(stays)[1] == ("stolen", "", "1990-06-01", "2004-05-01", None, None)


def test_an_undated_bell_that_was_lost_in_some_year() -> None:
    """Of a bell without a date that was lost within a century, the end is as open as the event leaves it."""
    stays = stays_of(
        [seen("1890-12-31", "gate", "lost", Happening("lost", "1890/2003"), told_on="2003-11-18")]
    )
    assert told(stays) == [
        ("there", "gate", None, "2003-11-18", "1890-01-01", "2003-11-18"),
        ("lost", "", "1890-01-01", "2003-11-18", None, None),
    ]


def test_what_a_later_hand_added_to_a_document() -> None:
    """Events after the day of a document count until the day on which it was read."""
    added = Happening("destroyed", "1944-11")
    stays = stays_of([seen("1942-04-30", "gate", "destroyed", added, told_on="2003-12-02", cast="1486")])
    assert told(stays)[1] == ("destroyed", "", "1944-11-01", "1944-11-30", None, None)
    fate = seen("1942-04-30", "gate", "lost", Happening("requisitioned", "1942-04"), told_on="2003-12-02")
    assert told(stays_of([fate]))[-1] == ("lost", "", "1942-04-30", "2003-12-02", None, None)


def test_places_nobody_tells() -> None:
    """Before a late first hanging, a find or a showcase, nobody knows where a bell was."""
    hung = seen("2004-05-01", "gate", "hanging", Happening("hung", "1766"), cast="1400")
    assert told(stays_of([hung]))[0] == (
        "unknown",
        "",
        "1400-01-01",
        "1400-12-31",
        "1766-01-01",
        "1766-12-31",
    )
    new = seen("2004-05-01", "gate", "hanging", Happening("hung", "1402"), cast="1400")
    assert [stay.tower_id for stay in stays_of([new])] == ["gate"]
    shown = seen("2011-01-01", "museum", "on-display", cast="1400")
    assert [stay.state for stay in stays_of([shown])] == ["unknown", "there"]
    found = seen(
        "2011-01-01",
        "museum",
        "on-display",
        Happening("lost", "1944"),
        Happening("found", "2001"),
        cast="1486",
    )
    assert [stay.state for stay in stays_of([found])] == ["unknown", "lost", "there"]
    named = Happening("lost", "1944", tower="gate")
    assert stays_of([found._replace(happenings=(named, found.happenings[1]))])[0].tower_id == "gate"


def test_the_newest_survey_tells_the_casting() -> None:
    """A newer date of casting counts before an older one; an event of casting stands in for the field."""
    assert casting([seen("1990-01-01", cast="1640"), seen("2004-01-01", cast="1643")]) == days_of("1643")
    assert casting([seen("1990-01-01", "gate", "hanging", Happening("cast", "1643-05"))]) == days_of(
        "1643-05"
    )
    assert casting([seen("1990-01-01")]) == Validity()


def test_dates_beyond_the_calendar_count_as_unknown() -> None:
    """A date that cannot be read, or lies beyond the year 9999, bounds nothing."""
    assert days_of("Y12345") == days_of("nonsense") == days_of("") == Validity()


STAY = Stay("there", "gate", "1800-01-01", "1850-12-31", "1900-01-01", "1950-12-31", "s")


@pytest.mark.parametrize(
    ("at", "possible", "certain"),
    [
        ("1799", False, False),
        ("1800", True, False),
        ("1850", True, True),
        ("1849", True, False),
        ("1875", True, True),
        ("1900", True, True),
        ("1901", True, False),
        ("1950", True, False),
        ("1951", False, False),
        ("1799/1851", True, True),
    ],
)
def test_what_a_date_asks_of_a_stay(at: str, possible: bool, certain: bool) -> None:
    """A stay has a day in common with a time for certain only where its latest start and earliest end do."""
    assert STAY.possibly_in(days_of(at)) is possible
    assert STAY.certainly_in(days_of(at)) is certain


def test_a_stay_without_ends() -> None:
    """A start that nobody knows is possible at any time; a stay that lasts is certain ever after."""
    stay = Stay("there", "gate", None, "2004-05-01", None, None, "s")
    assert stay.possibly_in(days_of("0500"))
    assert not stay.certainly_in(days_of("1990"))
    assert stay.certainly_in(days_of("2010"))


DAYS = st.dates(date(1500, 1, 1), date(2020, 1, 1))
EVENTS = st.sampled_from(
    [
        "cast",
        "hung",
        "moved",
        "returned",
        "found",
        "sold",
        "requisitioned",
        "stolen",
        "lost",
        "hidden",
        "destroyed",
        "blessed",
    ]
)
STATUSES = st.sampled_from(
    ["", "hanging", "on-display", "moved", "lost", "stolen", "destroyed", "requisitioned"]
)
HAPPENINGS = st.builds(
    Happening,
    EVENTS,
    st.one_of(
        st.just(""),
        DAYS.map(str),
        st.integers(1500, 2030).map(str),
        st.sampled_from(["../1700", "18XX", "1900/"]),
    ),
    st.sampled_from(["", "gate", "abbey"]),
)


@given(
    st.lists(
        st.tuples(DAYS, st.sampled_from(["gate", "abbey"]), STATUSES, st.lists(HAPPENINGS, max_size=3)),
        max_size=4,
    )
)
def test_stays_follow_each_other(surveys: list[tuple[date, str, str, list[Happening]]]) -> None:
    """Whatever surveys tell, each stay ends where the next begins, and none before it began."""
    sightings = [
        Sighting(f"s{number}", str(day), str(day + timedelta(days=9)), tower, status, "", tuple(events))
        for number, (day, tower, status, events) in enumerate(sorted(surveys, key=lambda each: each[0]))
    ]
    stays = stays_of(sightings)
    assert bool(stays) or not surveys
    for stay in stays:
        assert stay.from_earliest is None or stay.from_earliest <= stay.from_latest
        assert (stay.state == "there") == bool(stay.tower_id)
    for before, after in pairwise(stays):
        assert (before.until_earliest, before.until_latest) == (after.from_earliest, after.from_latest)
        assert before.from_latest <= after.from_latest
        assert (before.state, before.tower_id) != (after.state, after.tower_id)
    if stays:
        assert stays[-1].until_latest is None
