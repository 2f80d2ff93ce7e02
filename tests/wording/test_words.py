"""Words for fields, numbers and dates."""

import pytest

from registry.model.vocabulary import vocabulary
from registry.store.tables import SECTION_TABLES, value_fields
from registry.units import format_estimate
from registry.wording.words import (
    SECTION_TITLES,
    date_words,
    finding_title,
    grade,
    label,
    plural,
    value_text,
    worded,
)
from registry.wording.writing import html_language, is_right_to_left


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("1643", "1643"),
        ("164X", "1640s"),
        ("16XX", "1600–1699"),
        ("1643?", "1643 (uncertain)"),
        ("1643~", "about 1643"),
        ("1643%", "about 1643 (uncertain)"),
        ("1480/1483", "1480–1483"),
        ("../1650", "1650 or before"),
        ("1650/..", "1650 or after"),
        ("/1650", "until 1650, start unknown"),
        ("1650/", "from 1650, end unknown"),
        ("[1480,1483]", "1480 or 1483"),
        ("{1480,1483,1490}", "1480, 1483 and 1490"),
        ("1643-05", "May 1643"),
        ("1643-05-09", "9 May 1643"),
        ("1643-05~/1644?", "about May 1643 to 1644 (uncertain)"),
        ("Y17000", "Y17000"),
        ("1643-21", "1643-21"),
        ("no date", "no date"),
        (None, ""),
    ],
)
def test_dates_in_words(text: str | None, words: str) -> None:
    """Expressions that a few words can say are said so; all others stand as written."""
    assert date_words(text) == words


@pytest.mark.parametrize(
    ("value", "low", "high", "words"),
    [
        (1046.3, 890.0, 1230.0, "1\u202f050\u00a0kg"),
        (12345.6, 11000.0, 14000.0, "12\u202f300\u00a0kg"),
        (1046.3, None, None, "1\u202f050\u00a0kg"),
        (None, 1.0, 2.0, ""),
    ],
)
def test_estimates_show_no_more_than_their_interval_bears(
    value: float | None, low: float | None, high: float | None, words: str
) -> None:
    """A computed value is rounded to about a hundredth of its interval."""
    assert format_estimate(value, "kg", low, high) == words


def test_years_and_ratios_are_written_plainly() -> None:
    """A computed year has no thousands separator, and a ratio no unit."""
    assert format_estimate(1788.0, "year", 1788.0, 1788.0) == "1788"
    assert format_estimate(1.0, "ratio", 0.85, 1.17) == "1"


def test_not_assessed_is_never_good() -> None:
    """A missing grade is told as missing; 0 is a grade."""
    assert grade("condition", None) == "not assessed"
    assert grade("condition", 0) == "0 – no symptoms"


@pytest.mark.parametrize("table", [table.name for table in SECTION_TABLES])
def test_every_field_has_a_label_without_underscores(table: str) -> None:
    """Whatever the form holds can be named to people."""
    section = next(entry.section for entry in SECTION_TABLES if entry.name == table)
    for field in value_fields(section):
        assert label(field.name)
        assert "_" not in label(field.name)


def test_every_section_of_one_row_has_a_heading() -> None:
    """A new section of the form cannot be left off the bell page by accident."""
    single = {table.name for table in SECTION_TABLES if table.of_bell and not table.counted_by}
    assert single == set(SECTION_TITLES)


def test_values_are_worded_by_their_field() -> None:
    """Quantities get their unit, terms their label, lists commas, grades their words."""
    assert value_text("dimensions", "mouth_diameter_mm", 1180.0) == "1\u202f180\u00a0mm"
    assert (
        value_text("dimensions", "mouth_diameter_readings_mm", "[640.0, 641.5]")
        == "640\u00a0mm, 641.5\u00a0mm"
    )
    assert value_text("bell_seen", "material", "bronze") == vocabulary("material").terms["bronze"].label
    assert value_text("bell_seen", "cast_date", "164X") == "1640s"
    assert value_text("assessment", "condition", 2) == "2 – marked"
    assert value_text("tower_seen", "latitude_deg", 45.5) == "45.5°"


def test_findings_are_worded() -> None:
    """A hazard takes the label of its kind, a field its words, and a number keeps its unit beside it."""
    assert finding_title("hazard-raised-bell") == "Hazard: raised bell"
    assert finding_title("crack-through") == "Cracks through the wall"
    assert worded("Surveys disagree on mouth_diameter_mm: 1032.0, earlier 1050.0.") == (
        "Surveys disagree on mouth diameter: 1032, earlier 1050."
    )
    assert worded("about 11 % of it") == "about 11\u00a0% of it"


def test_plural() -> None:
    """One is one, all else is many."""
    assert [plural(count, "bell") for count in (0, 1, 2)] == ["0 bells", "1 bell", "2 bells"]


@pytest.mark.parametrize(
    ("tag", "script", "wanted"),
    [
        ("de", "Latf", "de-Latf"),
        ("de-Latf", "Latn", "de-Latf"),
        ("de-AT", "Latf", "de-Latf-AT"),
        ("la", None, "la"),
        (None, "Hebr", "und-Hebr"),
        (None, None, ""),
    ],
)
def test_language_of_an_inscription(tag: str | None, script: str | None, wanted: str) -> None:
    """The tag for the browser carries the script, in its place."""
    assert html_language(tag, script) == wanted


@pytest.mark.parametrize(
    ("script", "tag", "right_to_left"),
    [
        ("Hebr", "la", True),
        (None, "he", True),
        (None, "he-Latn", False),
        ("Latn", "he", False),
        (None, None, False),
    ],
)
def test_direction_of_an_inscription(script: str | None, tag: str | None, right_to_left: bool) -> None:
    """The script decides, and the language only where no script is told."""
    assert is_right_to_left(script, tag) is right_to_left
