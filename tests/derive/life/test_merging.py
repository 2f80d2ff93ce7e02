"""What several surveys tell of one event is one event, and dates that exclude each other are marked."""

from typing import Any

from hypothesis import given
from hypothesis import strategies as st

from registry.derive.life.merging import LifeEvent, merged


def row(kind: str, date: str | None = None, survey: str = "s", **more: Any) -> dict[str, Any]:
    """Make a row of ``event``."""
    told = {"kind": kind, "date": date, "survey_id": survey, "tower": None, "other_bell": None}
    return {**told, "turned_by_deg": None, **more}


def told(events: list[LifeEvent]) -> list[tuple[str, str | None, int, bool]]:
    """Give kind, date, number of others and mark of each."""
    return [(each.row["kind"], each.row["date"], len(each.others), each.contradicted) for each in events]


def test_the_narrowest_date_stands_for_all() -> None:
    """A month and a day in it are one event, told by the day; the order of dates is kept."""
    events = [row("requisitioned", "1942-04"), row("requisitioned", "1942-04-11"), row("cast", "1722")]
    assert told(merged(events)) == [("cast", "1722", 0, False), ("requisitioned", "1942-04-11", 1, False)]


def test_events_that_can_happen_twice_stay_apart() -> None:
    """Two requisitions of two wars are two events, and neither contradicts the other."""
    events = [row("requisitioned", "1917"), row("requisitioned", "1942"), row("turned", turned_by_deg=90.0)]
    assert [each.contradicted for each in merged(events)] == [False] * 3


def test_what_happens_once_cannot_have_two_dates() -> None:
    """Two dates of casting that exclude each other are both shown, and both marked."""
    events = [row("cast", "1722"), row("cast", "1727"), row("cast")]
    assert told(merged(events)) == [("cast", "1722", 1, True), ("cast", "1727", 0, True)]


def test_different_towers_and_bells_are_different_events() -> None:
    """A move to one tower is not a move to another, of the same year or not."""
    moves = [row("moved", "1968", tower="a"), row("moved", "1968", tower="b"), row("moved", "1968")]
    assert [(each.row["tower"], len(each.others)) for each in merged(moves)] == [("a", 1), ("b", 0)]


def test_undated_events_come_last() -> None:
    """An event without a date stands behind the dated ones, an open beginning by its end."""
    events = [row("hung"), row("blessed", "1800/.."), row("tuned", "../1700")]
    assert [each.row["kind"] for each in merged(events)] == ["tuned", "blessed", "hung"]


KINDS = st.sampled_from(["cast", "hung", "requisitioned", "destroyed"])
DATES = st.sampled_from([None, "1900", "1900-05", "1900-05-03", "1899", "19XX", "../1900", "[1900,1902]"])


@given(st.lists(st.tuples(KINDS, DATES), max_size=8))
def test_no_row_is_lost(events: list[tuple[str, str | None]]) -> None:
    """Every row stands in exactly one event of its kind."""
    rows = [row(kind, date, f"s{number}") for number, (kind, date) in enumerate(events)]
    found = [
        (each["survey_id"], event.row["kind"])
        for event in merged(rows)
        for each in (event.row, *event.others)
    ]
    assert sorted(found) == sorted((each["survey_id"], each["kind"]) for each in rows)
