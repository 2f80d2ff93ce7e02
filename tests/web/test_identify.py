"""The pages of a bell without papers, and of records that may be one bell."""

import json
from pathlib import Path

import pytest

from registry.web.app import make_datasette

LOST = """form: soundbow survey 1
survey:
  id: hill-church-list-1917
  kind: document
  date: 2021-01-01
  surveyors: [Ada Invented]
  document: {kind: requisition-list, title: A list, date: 1917, holder: Nobody}
tower: {id: hill-church, name: Hill church, place: Hill}
bells:
  - id: hill-church-lost
    identity: {name: Lost one, status: lost, cast_date: 1720}
    dimensions: {mouth_diameter_mm: 860}
    inscriptions: [{number: 1, place: shoulder, transcription: "hans meier burgermeister zu hill 1720"}]
"""

FOUND = """form: soundbow survey 1
survey: {id: depot-2020, kind: visit, date: 2020-05-05, surveyors: [Ada Invented], not_inspected: []}
tower: {id: depot, name: Depot, place: Town}
bells:
  - id: depot-7
    identity: {name: Number seven, status: standing, cast_date: 1720}
    dimensions: {mouth_diameter_mm: 861}
    inscriptions:
      - {number: 1, place: shoulder, transcription: "HANS MEIER BVRGERMEISTER ZV HILL", legibility: full}
"""


@pytest.fixture(scope="module")
def ask(loading, asking, tmp_path_factory: pytest.TempPathFactory):
    """Ask the site of a registry with one bell in two records."""
    path = loading({"lost.yaml": LOST, "found.yaml": FOUND}, tmp_path_factory.mktemp("twins") / "twins.db")
    with asking(make_datasette(path)) as function:
        yield function


TOLD = "/identify?mouth_diameter_mm=86+cm&inscription=meier+burgerm_ister&cast=17XX"


def test_an_empty_form_asks_and_does_not_answer(ask) -> None:
    """Without a question there is the form, its fields and the cautions, and no answer."""
    text = ask("/identify").text
    assert 'name="mouth_diameter_mm"' in text
    assert "no proof" in text
    assert 'id="answer"' not in text


def test_the_answer_names_bells_with_their_factors(ask) -> None:
    """The right bells come first, each with its probability and why, and "none of them" among the lines."""
    text = ask(TOLD).text
    assert text.index("Lost one") < text.index("None of them")
    assert "Inscription speaks" in text
    assert "What to do next" in text
    assert 'value="meier burgerm_ister"' in text


def test_the_answer_as_data(ask) -> None:
    """The same as JSON: probabilities sum to one."""
    data = ask(TOLD.replace("/identify", "/identify.json")).json()
    total = sum(each["probability"] for each in data["candidates"]) + data["rest"] + data["none"]
    assert total == pytest.approx(1.0)
    assert {each["bell_id"] for each in data["candidates"]} == {"hill-church-lost", "depot-7"}


def test_faults_are_told_beside_what_could_be_read(ask) -> None:
    """Each field that cannot be read is named, the answer is made of the others, and the status says so."""
    answer = ask("/identify?mouth_diameter_mm=large&cast=17XX&loops=many")
    assert answer.status_code == 422
    assert "mouth_diameter_mm" in answer.text
    assert "loops" in answer.text
    assert "Compared by date" in answer.text
    assert len(ask("/identify.json?loops=many").json()["problems"]) == 1


@pytest.mark.parametrize("query", ["hum_hz=300", "material=unknown", "nonsense=1", "unregistered=0.5"])
def test_what_cannot_be_compared_is_not_answered(ask, query: str) -> None:
    """A question without a fact to compare gives the page without an answer, never a fault."""
    answer = ask(f"/identify?{query}")
    assert answer.status_code == 200
    assert "What to do next" not in answer.text
    assert ask(f"/identify.json?{query}").status_code == 422


def test_long_and_strange_input(ask) -> None:
    """Very long and odd texts are read or told, and the page stays."""
    for query in ("inscription=" + "ab%00" * 3000, "note=%F0%9F%94%94", "cast=" + "9" * 300, "mass_kg=1e999"):
        assert ask(f"/identify?{query}").status_code in (200, 422)


def test_two_records_of_one_bell(ask) -> None:
    """The pair is proposed with its reasons, and each of the two pages names the other."""
    text = ask("/twins").text
    assert "1 pair among 2 records" in text
    assert "Number seven" in text
    assert "Lost one" in text
    assert "Another record may be of this bell" in ask("/bell/depot-7").text
    assert "Lost one" in ask("/bell/depot-7").text


def test_a_registry_without_twins(get) -> None:
    """Where no two records resemble each other the page says so, and bells say nothing."""
    assert "No two records resemble each other enough" in get("/twins").text
    assert "Another record" not in get("/bell/hill-church-tom").text


def test_a_new_load_is_seen(loading, asking, tmp_path: Path) -> None:
    """What was laid out for one load is not used for the next one."""
    first = loading({"lost.yaml": LOST}, tmp_path / "a.db")
    with asking(make_datasette(first)) as ask:
        assert json.loads(ask("/identify.json?mouth_diameter_mm=860").text)["records"] == 1
        second = loading({"lost.yaml": LOST, "found.yaml": FOUND}, tmp_path / "b.db")
        second.replace(first)
        assert json.loads(ask("/identify.json?mouth_diameter_mm=860").text)["records"] == 2
