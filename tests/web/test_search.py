"""The search: its address is the question, and everything found can be taken along."""

import csv
import io
import json
import re

import pytest

from registry.questions import Asked
from registry.web.asking import Ask
from registry.web.bell_questions import asked, toggled
from registry.wording.asked import chosen


def question(**args: str | list[str]) -> Asked:
    """Read a question from arguments of an address."""
    values = {name.rstrip("_"): value if isinstance(value, list) else [value] for name, value in args.items()}
    return asked(Ask("/bells", {}, values))


def test_a_question_survives_its_address() -> None:
    """Read, written back and read again, a question is the same."""
    first = question(
        text="maria", material=["bronze", "cast-steel"], condition=["0", "not-assessed"], century="15",
        certain="yes", diameter_from="500", mass_to="1200.5", sort="-mass",
    )  # fmt: skip
    again: dict[str, list[str]] = {}
    for name, value in first.pairs:
        again.setdefault(name, []).append(value)
    assert asked(Ask("/bells", {}, again)) == first
    assert not first.ignored


@pytest.mark.parametrize(
    ("name", "value"),
    [
        ("material", "chocolate"), ("crack", "huge"), ("condition", "4"), ("century", "x"), ("from", "1e9"),
        ("century", "0"), ("diameter_from", "-1"), ("mass_to", "NaN"), ("sort", "id; DROP TABLE bell"),
        ("status", "<script>"), ("area", "0,0 1,1"), ("near", "91,0,5"), ("nearest", "0,0,0"),
        ("flavour", "mint"),
        ("note_from", "b"), ("certain", "yes"), ("recording", "loud"), ("no_survey_since", "2020-02-30"),
    ],
)  # fmt: skip
def test_nonsense_is_left_out_and_named(get, name: str, value: str) -> None:
    """What no bell can be asked for is ignored in the open, and the page is still there."""
    read = question(**{name: value})
    assert [each.name for each in read.ignored] == [name]
    assert not read.pairs
    answer = get("/bells", params={name: value})
    assert answer.status_code == 200
    assert "Left out, for no bell can be asked for it" in answer.text


def test_a_filter_can_be_taken_away_alone() -> None:
    """Each filter comes with the question without it, the order kept."""
    read = question(material="bronze", from_="1600", to="1700", sort="-date")
    assert [pairs for _, pairs in chosen(read.pairs)] == [
        [("from", "1600"), ("to", "1700"), ("sort", "-date")],
        [("material", "bronze"), ("to", "1700"), ("sort", "-date")],
        [("material", "bronze"), ("from", "1600"), ("sort", "-date")],
    ]


def test_a_facet_adds_and_takes_away() -> None:
    """A value joins the question, and leaves it when it is chosen again; a century replaces a century."""
    assert toggled([("material", "bronze")], "material", "cast-iron")[-1] == ("material", "cast-iron")
    assert toggled([("material", "bronze")], "material", "bronze") == []
    assert toggled([("century", "15")], "century", "16") == [("century", "16")]


def test_search_finds_and_counts(get) -> None:
    """Bells are found by material, and those that could not be judged by their date are counted."""
    html = get("/bells?from=1640&to=1650").text
    assert "1 bell found." in html
    assert re.search(r"1 bell \(undated\)", html)
    assert "/bell/hill-church-tom" in html
    assert "2 bells found." in get("/bells?from=1500&to=1650").text
    assert "1 bell found." in get("/bells?from=1500&to=1650&certain=yes").text


@pytest.mark.parametrize("text", ['"', "a:b", "-x", "maria AND", "*", "NEAR(", "\0", "' OR 1=1 --", "(" * 50])
def test_any_text_can_be_asked(get, text: str) -> None:
    """Signs that mean something to the search engine or the database are only text here."""
    assert get("/bells", params={"text": text}).status_code == 200


def test_result_is_the_same_as_csv_json_and_geojson(get) -> None:
    """All three hold every bell found, with the values of the registry."""
    query = "?status=hanging&sort=name"
    rows = list(csv.DictReader(io.StringIO(get(f"/bells.csv{query}").text)))
    data = get(f"/bells.json{query}").json()
    features = get(f"/bells.geojson{query}").json()["features"]
    assert (
        [row["id"] for row in rows]
        == [row["id"] for row in data["bells"]]
        == [each["id"] for each in features]
    )
    assert len(rows) == data["total"] == 2
    tom = next(row for row in data["bells"] if row["id"] == "hill-church-tom")
    assert tom["mouth_diameter_mm"] == pytest.approx(46.5 * 25.4)
    assert tom["name"] == "Tom <script>alert('name')</script>"
    assert features[0]["geometry"]["coordinates"] == [10.5, 50.5]
    assert get("/bells.geojson?status=destroyed").json()["features"][0]["geometry"] is None
    assert get(f"/bells.geojson{query}").headers["content-type"].startswith("application/geo+json")


def test_result_of_nothing_is_still_a_table(get) -> None:
    """No bell found gives a page that says so, and empty files that can be read."""
    assert "No bell matches" in get("/bells?text=nonesuch").text
    assert get("/bells.json?text=nonesuch").json()["bells"] == []
    for place in ("", "&near=0,0,5"):
        nothing = get(f"/bells.csv?text=nonesuch{place}").text.splitlines()
        assert nothing == get(f"/bells.csv?{place.replace('0,0,5', '0,0,20004')}").text.splitlines()[:1]
    assert "beyond the last one" in get("/bells?page=99").text
    assert get("/bells?page=-3").status_code == get("/bells?page=x").status_code == 200


def test_map_shows_the_bells_found(get) -> None:
    """The map of a search has only towers with bells found, and says what it left out."""
    html = get("/map?material=bronze&status=hanging").text
    assert "Towers of the 2 bells that the search found" in html
    assert "/tower/field-chapel" not in html
    assert "Without coordinates, not on the map" in get("/map").text


@pytest.mark.parametrize(
    "bbox", ["1,2,3", "a,b,c,d", "3,2,1,0", "nan,nan,nan,nan", "-1e9,0,1e9,1", "10,50,11,51", ""]
)
def test_any_view_gives_a_map(get, bbox: str) -> None:
    """A view that makes no sense is the view of everything."""
    assert get("/map", params={"bbox": bbox}).status_code == 200


def test_json_is_strict(get) -> None:
    """No answer holds NaN or Infinity, which no other program reads."""

    def refuse(word: str) -> None:
        raise AssertionError(word)

    for address in ("/bells.json", "/bells.geojson", "/data/derived.json", "/data/bell_current.json"):
        json.loads(get(address).text, parse_constant=refuse)
