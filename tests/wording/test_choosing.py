"""What of many rows is told."""

import pytest

from registry.wording.choosing import cautions_of_bell, newest_of, newest_readings, told_once


def test_newest_rows_are_those_of_the_first_survey() -> None:
    """Rows of an older survey are left out, whatever they are."""
    rows = [{"survey_id": "b", "n": 1}, {"survey_id": "b", "n": 2}, {"survey_id": "a", "n": 3}]
    assert [row["n"] for row in newest_of(rows)] == [1, 2]
    assert newest_of([]) == []


def test_a_newer_reading_without_words_does_not_hide_an_older_one() -> None:
    """Of each inscription the newest reading that has words is kept."""
    rows = [
        {"number": 2, "transcription": "new"},
        {"number": 1, "transcription": None},
        {"number": 1, "transcription": "old"},
        {"number": 2, "transcription": "older"},
        {"number": 3, "transcription": None},
    ]
    assert [row["transcription"] for row in newest_readings(rows)] == ["old", "new", None]


def test_an_event_that_several_surveys_tell_is_told_once() -> None:
    """Events stand in the order of their dates, undated ones last."""
    event = {"other_bell": None, "ordinal": 1}
    rows = [
        {**event, "kind": "hung", "date": "1788"},
        {**event, "kind": "other", "date": None},
        {**event, "kind": "cast", "date": "17XX"},
        {**event, "kind": "hung", "date": "1788"},
    ]
    told = told_once(rows)
    assert [(row["kind"], row["told_by"]) for row in told] == [("cast", 1), ("hung", 2), ("other", 1)]


@pytest.mark.parametrize(
    ("status", "state", "loss", "told", "codes"),
    [
        ("hanging", "confirmed", None, True, ["crack"]),
        ("hanging", "suspected", 12.0, True, ["crack-suspected", "wear"]),
        ("hanging", "none", 10.0, True, []),
        ("hanging", None, None, False, ["not-looked-for"]),
        ("destroyed", "confirmed", 50.0, True, []),
    ],
)
def test_cautions_follow_the_record(status, state, loss, told, codes) -> None:
    """A crack, wear beyond a tenth, and that nobody looked, each call for their caution."""
    chosen = cautions_of_bell(status, state, loss, cracks_told=told)
    assert [caution.code for caution, _ in chosen] == codes
