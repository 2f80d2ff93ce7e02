"""The page of a bell shows what the words on it can mean, beside the date entered."""

import re
from pathlib import Path

import pytest
from specimens import bell, visit

from registry.web.app import make_datasette


def part_of(html: str, name: str) -> str:
    """Give one section of a page, its tags left out."""
    section = re.search(rf'aria-labelledby="{name}">(.*?)</section>', html, re.DOTALL)
    return re.sub(r"\s+", " ", re.sub("<[^>]+>", " ", section[1]))


@pytest.fixture
def page_of(asking, loading, tmp_path: Path):
    """Give a function that loads one bell with these sections and gives its page."""

    def page(**sections: str) -> str:
        text = "".join(f"{name}: {section}\n" for name, section in sections.items())
        form = visit("oster-2020", bell("oster-great", f"{text}dimensions: {{mouth_diameter_mm: 1180}}\n"))
        with asking(make_datasette(loading({"form.yaml": form}, tmp_path / "dates.db"))) as get:
            return get("/bell/oster-great").text

    return page


def test_the_bell_shows_its_readings(get) -> None:
    """As cast, possible readings and the date entered stand in one table, with the method and its source."""
    text = part_of(get("/bell/hill-church-tom").text, "dates")
    for words in (
        "ANNO 1643",
        "figures: 1643",
        "Entered: 1643",
        "possible",
        "nothing is decided",
        "version 1",
    ):
        assert words in text


def test_a_chronogram_is_marked_and_added_up(page_of) -> None:
    """The letters that count are marked in the transcription, and every sum is told with its rule."""
    html = page_of(
        identity="{cast_date: 1642}",
        inscriptions="[{number: 1, place: waist,"
        " transcription: paVLo Wertæo sVb præsVLe fVsa MarIæ et DeVota fVI <b>}]",
    )
    assert 'pa<b class="numeral">V</b><b class="numeral">L</b>o' in html
    assert "&lt;b&gt;" in html
    text = part_of(html, "dates")
    for words in ("1632", "capitals only, W 0", "1642", "capitals only, W 10", "no proof by itself"):
        assert words in text


def test_a_contradiction_is_told(page_of) -> None:
    """Where no reading is a year of the date entered, the page says so and excludes them."""
    text = part_of(page_of(identity="{cast_text: m cccc lxxxx iii, cast_date: 1439}"), "dates")
    assert "No reading is a year of the date entered" in text
    assert "excluded" in text


def test_a_bell_without_a_date_has_no_such_part(get) -> None:
    """Where the words hold no date there is no section about them."""
    assert 'id="dates"' not in get("/bell/field-chapel-steel").text
