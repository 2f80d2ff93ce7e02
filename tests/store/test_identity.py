"""What is read of the surveys to compare bells."""

import sqlite3
from contextlib import closing
from pathlib import Path

import pytest

from registry.derive.identity.facts import Years
from registry.intake import load
from registry.store.identity import read_lives, read_named, read_records

VISIT = """form: soundbow survey 1
survey:
  id: minster-2020-05-05
  kind: visit
  date: 2020-05-05
  surveyors: [Ada Invented]
  not_inspected: []
  instruments: [{kind: recorder, tolerance_hz: 0.5}]
tower: {id: minster, name: Minster, place: Nowhere}
bells:
  - id: minster-1
    identity: {name: One, status: hanging, material: bronze, founder: Hans Meier, founder_id: meier-hans,
      founder_certainty: probable, cast_date: "[1500,1510~]"}
    dimensions: {mouth_diameter_mm: 861, mouth_diameter_readings_mm: [860, 862], mass_kg: 400,
      mass_basis: weighed, mass_includes: [clapper]}
    inscriptions:
      - {number: 1, place: shoulder, transcription: "ave maria", expansion: "Ave Maria", legibility: full}
    sound: {strike_hz: 470, partials: [{name: hum, frequency_hz: 235}, {name: nominal, frequency_hz: 940}]}
    crown: {kind: canons, loops: 6}
  - id: minster-2
    identity: {status: hanging, material: unknown}
    inscriptions: [{number: 1, place: other, legibility: none}]
    sound: {note: A4}
    events: [{kind: recast-from, other_bell: minster-0}]
  - id: minster-3
    identity: {status: hanging}
"""

LIST = """form: soundbow survey 1
survey:
  id: minster-list-1917
  kind: document
  date: 2021-01-01
  surveyors: [Ada Invented]
  document: {kind: requisition-list, title: A list, date: 1917, holder: Nobody}
tower: {id: minster, name: Minster, place: Nowhere}
bells:
  - id: minster-1
    identity: {name: One, status: hanging, material: bronze, founder: Meier}
    dimensions: {mouth_diameter_mm: 870, mass_kg: 450, mass_basis: estimated}
  - id: minster-0
    identity: {status: requisitioned}
    dimensions: {mouth_diameter_mm: 700}
    inscriptions: [{number: 1, place: shoulder, transcription: "soli deo"}]
"""


@pytest.fixture(scope="module")
def registry(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Load a visit and a document of one tower."""
    folder = tmp_path_factory.mktemp("identity")
    for name, text in (("visit", VISIT), ("list", LIST)):
        (folder / f"{name}.yaml").write_text(text, encoding="utf-8")
    report = load([folder], folder / "bells.db", jobs=1)
    assert not report.has_errors, report.problems
    return folder / "bells.db"


def test_the_facts_of_a_record(registry: Path) -> None:
    """Each fact comes from the survey that knows it best, with how far it can be trusted."""
    with closing(sqlite3.connect(registry)) as connection:
        by_id = {record.bell_id: record for record in read_records(connection)}
    one = by_id["minster-1"].facts
    assert (one.mouth_diameter_mm, one.mass_kg, one.strike_hz) == (861.0, 400.0, 470.0)
    assert one.mass_sd > 0.05
    assert one.inscription == ("auemaria",)
    assert one.inscription_gaps < 0.1
    assert one.cast_years == (Years(1495, 1505), Years(1505, 1515))
    assert set(one.founder) == {"meier-hans", "Hans Meier", "Meier"}
    assert (one.founder_certainty, one.material, one.crown, one.loops) == ("probable", "bronze", "canons", 6)
    assert one.partials_hz == {"hum": 235.0, "nominal": 940.0}
    assert (by_id["minster-1"].status, by_id["minster-1"].last_visit_year) == ("hanging", 2020)


def test_what_is_not_told_is_not_there(registry: Path) -> None:
    """No words looked for, an unknown material, a bare note, a bell without facts."""
    with closing(sqlite3.connect(registry)) as connection:
        by_id = {record.bell_id: record for record in read_records(connection)}
    two = by_id["minster-2"].facts
    assert two.wordless
    assert two.inscription == ()
    assert two.material is None
    assert two.strike_sd_cents > 25.0
    three = by_id["minster-3"].facts
    assert not three.wordless
    assert three._replace(founder_certainty="certain") == type(three)()
    zero = by_id["minster-0"]
    assert zero.last_visit_year is None
    assert zero.facts.inscription_gaps > 0.2
    assert zero.facts.diameter_sd > by_id["minster-1"].facts.diameter_sd


def test_lives(registry: Path) -> None:
    """Sightings stand in the order of their days, and events that name another bell tie the two."""
    with closing(sqlite3.connect(registry)) as connection:
        lives = read_lives(connection, ["minster-1", "minster-2", "nobody"])
        named = read_named(connection, ["minster-1", "nobody"])
    assert [(seen.day[:4], seen.visit, seen.tower_id) for seen in lives["minster-1"].sightings] == [
        ("1917", False, "minster"),
        ("2020", True, "minster"),
    ]
    assert [(tie.kind, tie.other) for tie in lives["minster-2"].ties] == [("recast-from", "minster-0")]
    assert set(lives) == {"minster-1", "minster-2"}
    assert named["minster-1"]["name"] == "One"
    assert set(named) == {"minster-1"}
