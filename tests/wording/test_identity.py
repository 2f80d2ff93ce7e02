"""What is said of a bell that turned up."""

import math

import pytest

from registry.derive.identity.comparison import FACTS as COMPARED
from registry.derive.identity.facts import Facts, Years
from registry.wording.identity import (
    FACTS,
    TO_DO,
    Stated,
    factor_lines,
    on_record,
    percent,
    signed_bits,
    verdict_words,
)


@pytest.mark.parametrize(
    ("share", "words"),
    [
        (0.0, "under 0.1"),
        (0.004, "0.4"),
        (0.42, "42"),
        (0.994, "99.4"),
        (0.99996, "over 99.9"),
        (1.0, "over 99.9"),
    ],
)
def test_nothing_is_certain(share: float, words: str) -> None:
    """A probability is never written as 0 or 100 %."""
    assert percent(share) == f"{words}\u00a0%"


def test_every_fact_has_words() -> None:
    """Each fact that is compared is named, and one is told how to learn it and what is on record."""
    assert set(FACTS) == set(TO_DO) == set(COMPARED)
    for name in COMPARED:
        assert on_record(name, Stated(Facts())) == ""


def test_what_is_on_record() -> None:
    """Quantities carry their unit, spans both ends; long texts are cut, two records stand side by side."""
    facts = Facts(
        mouth_diameter_mm=1180.0, strike_hz=440.0, cast_years=(Years(1500, 1500), Years(1510, None)), loops=0,
        material="cast-steel", founder=("meier-hans", "Hans Meier"), partials_hz={"hum": 220.0},
    )  # fmt: skip
    stated = Stated(facts, "ave " * 60)
    assert on_record("mouth_diameter_mm", stated) == "1\u202f180\u00a0mm"
    assert on_record("strike_hz", stated).endswith("(A4)")
    assert on_record("cast_years", stated) == "1500 or 1510–"
    assert on_record("loops", stated) == "0"
    assert on_record("material", stated) == "cast steel"
    assert on_record("founder", stated) == "Hans Meier"
    assert on_record("partials_hz", stated) == "hum 220\u00a0Hz"
    assert len(on_record("inscription", stated)) < 100
    assert on_record("inscription", Stated(Facts(wordless=True))) == "none there"
    (line,) = factor_lines({"loops": math.log(8.0)}, stated, Stated(Facts(loops=6)))
    assert line["on_record"] == "0 | 6"
    assert (line["signed"], line["says"]) == ("+3.0", "speaks clearly for it")


def test_the_weightiest_factor_comes_first() -> None:
    """For or against, the largest stands first."""
    lines = factor_lines({"mass_kg": 0.1, "founder": -3.0, "loops": 1.0})
    assert [line["fact"] for line in lines] == ["founder", "loops", "mass_kg"]
    assert signed_bits(-3.0) == "−4.3"
    assert signed_bits(0.01) == "0"


@pytest.mark.parametrize(
    ("none", "best", "words"),
    [
        (0.7, 0.2, "none of"),
        (0.4, 0.3, "Cannot be told"),
        (0.01, 0.97, "far better"),
        (0.2, 0.6, "likelier"),
        (0.1, 0.3, "Several"),
    ],
)
def test_the_verdict(none: float, best: float, words: str) -> None:
    """The sentence follows from what is likeliest."""
    assert words in verdict_words(none, best)
