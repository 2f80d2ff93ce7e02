"""Dates as cast in words: readings beside the date entered, and the numeral letters of a transcription."""

import pytest

from registry.derive.dating.of_bell import readings_of_bell
from registry.model.bell_facts import DatedText
from registry.wording.dates import circa_note, dates_shown, numeral_letters


def shown(cast_date, *texts, begins=None):
    """Word the readings of some texts, the first the date on the bell, the others inscriptions."""
    told = [
        DatedText("cast-text" if number == 0 else f"inscription:{number}", "oster-2020", text, 2020, begins)
        for number, text in enumerate(texts)
    ]
    rows = [
        {"subject": each.subject, "survey_id": each.survey_id, "rank": each.rank, **each.derived._asdict()}
        for each in readings_of_bell(told)
    ]
    facts = {("bell_seen", "cast_year_begins"): begins} if begins else {}
    return dates_shown(
        rows, {"cast_text": texts[0], "cast_date": cast_date, "dating_basis": "inscribed"}, facts
    )


def test_readings_stand_beside_the_date_entered():
    """Every kept reading tells its year, how it was got, and whether the date entered can mean it."""
    (text,) = shown("1512", "m v^c xii").texts
    first = text.readings[0]
    assert (first.years, first.fits, first.likeliest) == ("1512", True, True)
    assert "5 × 100" in first.how


def test_places_that_say_the_same_are_told_once():
    """An inscription that holds the date as cast is named beside it and not told again."""
    (text,) = shown("1643", "ANNO 1643", "SOLI DEO GLORIA ANNO 1643").texts
    assert text.where == "date on the bell, inscription 1"


@pytest.mark.parametrize(
    ("cast_date", "contradicts"), [("1493", False), ("149X", False), ("1439", True), (None, False)]
)
def test_contradictions(cast_date, contradicts):
    """Only where no reading is a year of the date entered the two contradict each other."""
    assert shown(cast_date, "m cccc lxxxx iii").contradicts is contradicts


def test_year_beginnings_are_applied_and_named():
    """A year that began in March is told as the two years of today, and why."""
    found = shown("1451", "MCCCCL", begins="annunciation")
    assert found.texts[0].readings[0].years == "1450 to 1451"
    assert found.begins == "25 March following"
    assert not found.contradicts


def test_sums_of_a_chronogram_stand_side_by_side():
    """Every sum of marked letters is told with its rules."""
    (text,) = shown("1642", "paVLo Wertæo sVb præsVLe fVsa MarIæ et DeVota fVI").texts
    assert (1642, "capitals only, W 10; all letters, W 10") in text.sums
    assert {total for total, _ in text.sums} >= {1632, 1642}


def test_nothing_to_read_is_nothing_to_show():
    """A bell whose words hold no date has no such section, whatever its letters add up to."""
    assert shown("1500", "SVRGE O IEHOVA ATQVE DISPERGE INIMICOS TVOS") is None


def test_numeral_letters_are_marked():
    """The letters that count stand apart, and the pieces make up the text."""
    text = "henrICVs Ieffreys\nkeneLMo DeVoVIt"
    pieces = numeral_letters(text)
    assert "".join(piece for piece, _ in pieces) == text
    assert "".join(piece for piece, counted in pieces if counted) == "ICVILMDVVI"


@pytest.mark.parametrize("text", ["O REX GLORIE", "Lobet den HErrn 1776", "m cccc lx"])
def test_plain_texts_stay_whole(text):
    """Where nothing marks letters as numerals, none is marked."""
    assert numeral_letters(text) == [(text, False)]


def test_no_text_no_pieces():
    """An inscription without a transcription has no pieces."""
    assert numeral_letters(None) == []


def test_a_setting_for_circa_is_told(monkeypatch):
    """Where a registry widens approximate dates, its searches say so; as shipped there is nothing to say."""
    assert circa_note() == ""
    monkeypatch.setattr("registry.wording.dates.circa_years", lambda: 10)
    assert "widened by 10 years" in circa_note()
    assert "widened by 10 years" in shown("1450~", "MCCCCL").circa
    assert shown("1450", "MCCCCL").circa == ""
