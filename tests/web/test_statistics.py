"""Statistics, time line and map of a question: the same question everywhere, each plot with its data."""

import csv
import io
import json

import pytest

from registry.web.page_timeline import MOST_ROWS
from registry.wording.statistics import TABLES

QUESTION = "?material=bronze&status=hanging"


@pytest.mark.parametrize("name", TABLES)
def test_each_plot_has_its_data(get, name: str) -> None:
    """CSV and JSON hold the same rows under the columns that are explained, and the page links to both."""
    data = get(f"/statistics/{name}.json{QUESTION}").json()
    rows = list(csv.DictReader(io.StringIO(get(f"/statistics/{name}.csv{QUESTION}").text)))
    assert len(rows) == len(data["rows"])
    for row, other in zip(rows, data["rows"], strict=True):
        assert list(row) == list(other) == list(data["columns"])
        assert list(row.values()) == ["" if value is None else str(value) for value in other.values()]
    assert data["link"] == f"/statistics{QUESTION}"
    assert len(data["registry"]) == 12
    html = get(f"/statistics{QUESTION}").text
    for ending in ("csv", "json"):
        assert f"/statistics/{name}.{ending}?material=bronze&amp;status=hanging" in html
    json.dumps(data, allow_nan=False)


def test_unknown_statistics_are_not_there(get) -> None:
    """No other name leads anywhere, and a question without sense gets no file."""
    assert get("/statistics/wealth.csv").status_code == 404
    answer = get("/statistics/castings.csv?material=cheese")
    assert answer.status_code == 400
    assert "material" in answer.text


def test_every_view_keeps_the_question(get) -> None:
    """List, map, time line and statistics of a question lead to each other, each with its citation."""
    for path in ("/bells", "/map", "/timeline", "/statistics"):
        html = get(f"{path}{QUESTION}").text
        for other in ("/bells", "/map", "/timeline", "/statistics"):
            assert f'href="{other}?material=bronze&amp;status=hanging"' in html
        assert f"{path}?material=bronze&amp;status=hanging&amp;registry=" in html


def test_a_citation_says_whether_the_registry_changed(get) -> None:
    """Followed again, a cited link says that the answer is the same, or may differ."""
    mark = get("/bells.json").json()["registry"]
    assert "The registry is the one that was cited" in get(f"/bells?registry={mark}").text
    changed = get("/bells?registry=0123456789ab").text
    assert "has changed since this question was cited" in changed
    assert "0123456789ab" in changed


def test_time_line_has_a_row_for_each_bell_or_counts_decades(get, monkeypatch) -> None:
    """Few bells have a row each, undated ones are listed beneath; many are counted by decade."""
    html = get("/timeline").text
    assert "spans-wide" in html
    assert "Not on the line" in html
    monkeypatch.setattr("registry.web.page_timeline.MOST_ROWS", 1)
    html = get("/timeline").text
    assert "decades-wide" in html
    assert "spans-wide" not in html
    assert MOST_ROWS > 1


def test_pages_of_nothing_are_pages(get) -> None:
    """Where no bell is found every view says so."""
    for path in ("/timeline", "/statistics", "/map"):
        assert get(f"{path}?text=nonesuch").status_code == 200
    for name in TABLES:
        assert get(f"/statistics/{name}.csv?text=nonesuch").status_code == 200


def test_the_map_draws_what_was_asked(get) -> None:
    """The circle of a radius and the border of an area stand on the map."""
    html = get("/map?near=50.5,10.5,30&area=10,50 11,50 11,51 10,51").text
    assert html.count('class="asked"') == 4


HOSTILE = [
    '"><script>',
    "0,0 1,0 1,1;;;|||",
    "9" * 5000,
    "NaN,NaN,1",
    "{" * 3000,
    "\x00",
    "..",
    "'; DROP TABLE bell;--",
]


@pytest.mark.parametrize("path", ["/bells", "/map", "/timeline", "/statistics"])
@pytest.mark.parametrize("value", HOSTILE)
def test_no_address_breaks_a_view(get, path: str, value: str) -> None:
    """Whatever stands in an address, there is a page, and it names what made no sense."""
    for name in ("area", "near", "nearest", "at", "note_from", "no_survey_since", "recording", "nonsense"):
        answer = get(path, params={name: value})
        assert answer.status_code == 200
        assert "<script>" not in answer.text.replace("&lt;script&gt;", "")
