"""What is judged, in words that claim no more than is known."""

from datetime import date

import pytest

from registry.derive.condition.growth import BEYOND, LATER, Growth, LimitYear
from registry.derive.condition.judgement import judgement
from registry.derive.condition.rulebook import rulebook
from registry.derive.condition.slope import Measured, Rate
from registry.wording.judged import (
    INSPECTIONS,
    OPTIONS,
    RATES,
    RINGING,
    interval_words,
    limit_words,
    rate_words,
    step_words,
    urgency_words,
)


def growth(limit: LimitYear | None) -> Growth:
    """Give a growth with nothing but its limit."""
    reading = Measured(date(2020, 1, 1), 1.0, 0.1)
    return Growth(
        "strike point 1",
        1,
        "pit_depth_mm",
        (reading,),
        ("a",),
        None,
        None,
        None,
        "grows",
        limit,
        (),
        "source",
    )


def test_an_unknown_grade_is_never_good() -> None:
    """Without a grade it is said what is at least the case, or that nothing is known."""
    assert step_words("condition", 0, 0) == "0 – no symptoms seen"
    assert step_words("condition", None, 0) == "not known"
    assert step_words("condition", None, 2) == "not known; at least 2 – marked symptoms"
    assert urgency_words(3) == "at once"


def test_a_rate_stands_with_its_interval() -> None:
    """No more digits than the interval bears; hard bounds are called certain."""
    assert rate_words(None) == interval_words(None) == ""
    rate = Rate(0.0412345, 0.010, 0.069, 0.9, "theil-sen")
    assert rate_words(rate) == "0.041"
    assert interval_words(rate) == "0.01 to 0.069, 90%"
    assert interval_words(rate._replace(level=1.0)).endswith("certain bounds")


@pytest.mark.parametrize(
    ("limit", "words"),
    [
        (None, "no limit of wear"),
        (LimitYear(5.0, LATER, 2040.2, 2059.9, 2080.0, "s"), "2040 to 2080, likely 2059"),
        (LimitYear(5.0, LATER, 2040.2, None, None, "s"), "2040 or much later"),
        (LimitYear(5.0, BEYOND, None, None, None, "s"), "Beyond the horizon"),
    ],
)
def test_a_limit_is_reached_in_a_range_of_years(limit: LimitYear | None, words: str) -> None:
    """One year alone is never named."""
    assert limit_words(growth(limit)) == words


def test_every_word_of_the_rules_is_worded() -> None:
    """A new kind of advice, option or inspection cannot be shown by its code."""
    assert set(RINGING) == set(rulebook().ringing)
    assert set(OPTIONS) == set(judgement()["options"])
    assert set(INSPECTIONS) >= {"expert", "soon", "technical", "by-eye"}
    assert set(RATES) == {"two-readings", "theil-sen"}
