"""The rule on bells without words."""

import pytest


@pytest.mark.parametrize(
    ("inscriptions", "expected"),
    [
        ("{number: 1, place: other, legibility: none}", 0),
        ("{number: 1, place: other, legibility: none, remarks: looked at from all sides}", 0),
        ("{number: 1, place: shoulder, legibility: full, transcription: ave}", 0),
        ("{number: 1, place: other, legibility: none, transcription: ave}", 1),
        ("{number: 1, place: other, legibility: none, letter_height_mm: 20}", 1),
        ("{number: 1, place: other, legibility: none}, {number: 2, place: lip, legibility: hardly}", 1),
        ("{number: 1, place: other, legibility: none}, {number: 2, place: lip, transcription: ave}", 1),
    ],
)
def test_no_words_and_some(check, codes, inscriptions: str, expected: int) -> None:
    """Words, and what only words have, contradict the statement that there are none; a remark does not."""
    assert (
        codes(check(f"bells:\n  - {{id: a, inscriptions: [{inscriptions}]}}\n"))
        == ["words-where-none"] * expected
    )
