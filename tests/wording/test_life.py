"""A life is told in numbers, bars and words that agree."""

from datetime import date
from typing import Any

import pytest

from registry.wording.life import between, life_shown

TODAY = date(2026, 1, 1)


@pytest.mark.parametrize(
    ("first", "last", "words"),
    [
        ("1643-01-01", "1643-12-31", "1643"),
        ("1942-04-01", "1942-04-30", "April 1942"),
        ("1948-09-02", "1948-09-02", "2 September 1948"),
        ("1640-01-01", "1649-12-31", "1640–1649"),
        ("1890-12-31", "2004-05-01", "between 31 December 1890 and 1 May 2004"),
        (None, "1740-12-31", "1740 at the latest"),
        (None, "1740-05-01", "1 May 1740 at the latest"),
        ("1900-01-01", None, "1 January 1900 or later"),
        (None, None, "a day nobody tells"),
    ],
)
def test_days_between_which_something_was(first: str | None, last: str | None, words: str) -> None:
    """Two days are a year, a month or a day where they span one, else both are told."""
    assert between(first, last) == words


def stay(state: str, tower: str | None, *days: str | None, presumed: int = 0) -> dict[str, Any]:
    """Make a row of ``bell_stay``."""
    names = ("from_earliest", "from_latest", "until_earliest", "until_latest")
    named = {"tower_name": "The Gate" if tower else None, "place": "Nowhere" if tower else None}
    return {
        "state": state,
        "tower_id": tower,
        "presumed": presumed,
        **named,
        **dict(zip(names, days, strict=True)),
    }


def event(kind: str, day: str | None) -> dict[str, Any]:
    """Make a row of ``event``."""
    empty = dict.fromkeys(
        ("tower", "other_bell", "turned_by_deg", "place", "actor", "source", "certainty", "remarks")
    )
    return {**empty, "kind": kind, "date": day, "survey_id": "s", "as_written": {}}


def test_a_life_in_words_and_numbers() -> None:
    """Stays have names and days, events their numbers; one without a date has none and is listed."""
    stays = [
        stay("there", "gate", "1643-01-01", "1643-12-31", "1942-04-01", "1942-04-30"),
        stay("requisitioned", None, "1942-04-01", "1942-04-30", None, None),
    ]
    shown = life_shown([event("requisitioned", "1942-04"), event("turned", None)], stays, "1643", TODAY)
    assert [(told.number, told.event.row["kind"]) for told in shown.events] == [
        (1, "cast"),
        (2, "requisitioned"),
        (None, "turned"),
    ]
    assert shown.words == (
        "The Gate, Nowhere: since 1643, until April 1942. requisitioned: since April 1942."
    )
    assert [len(drawing.bars) for drawing in (shown.wide, shown.narrow)] == [2, 2]
    assert [sign.number for sign in shown.wide.signs] == [1, 2]


def test_nothing_is_known() -> None:
    """A bell without a date and without events has no drawing and no list."""
    shown = life_shown([], [], None, TODAY)
    assert (shown.events, shown.stays, shown.wide, shown.words) == ([], [], None, "")


def test_a_casting_told_as_an_event_is_not_told_twice() -> None:
    """Where an event tells the casting, the date of casting adds no second one."""
    shown = life_shown([event("cast", "1788-08-19")], [], "1788", TODAY)
    assert [told.event.row["date"] for told in shown.events] == ["1788-08-19"]


def test_a_casting_that_excludes_the_date_of_casting_is_marked() -> None:
    """An event of casting in another year than the date given stands beside it, and both are marked."""
    shown = life_shown([event("cast", "1510"), event("turned", "1900")], [], "1500", TODAY)
    assert [(told.event.row["date"], told.event.contradicted) for told in shown.events] == [
        ("1500", True),
        ("1510", True),
        ("1900", False),
    ]
