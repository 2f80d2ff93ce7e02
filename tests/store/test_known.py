"""What the registry knows: the same footprints as the forms give, and the words of the surveyors."""

from contextlib import closing
from pathlib import Path
from typing import Any

import pytest
from sample_forms import REGIONS, checked
from specimens import bell, visit

from registry.forms.footprints import footprint
from registry.geography import read_regions
from registry.model.footprint import Footprint
from registry.store.database import open_registry
from registry.store.known import footprints, known_regions, known_tower


def test_footprints_are_those_of_the_forms(sample_registry: Path) -> None:
    """A survey in the registry gives the rules across surveys exactly what its form gives them."""
    with closing(open_registry(sample_registry)) as conn:
        paths = dict(conn.execute("SELECT id, source_path FROM survey"))
        wanted = [
            footprint(form.read, paths[form.read.survey.survey.id])
            for form in checked().values()
            if form.read is not None
        ]
        found = footprints(conn, wanted)
    assert len(found) == len(paths) > 30
    assert sorted(found) == sorted(wanted)


def test_footprints_reach_towers_and_bells(loaded: Any) -> None:
    """Surveys of the same tower and of the same bell elsewhere are found, others are not."""
    moved = bell("wanderer", "identity: {status: hanging}\nevents: [{kind: moved}]\n")
    database = loaded(
        visit("a-1", bell("wanderer"), tower="a", day="2001-01-01"),
        visit("b-1", moved, tower="b", day="2005-01-01"),
        visit("c-1", tower="c", day="2006-01-01"),
    )
    with closing(open_registry(database)) as conn:
        assert footprints(conn, []) == []
        (only_c,) = (each for each in all_footprints(conn) if each.survey_id == "c-1")
        assert [each.survey_id for each in footprints(conn, [only_c])] == ["c-1"]
        (only_a,) = (each for each in all_footprints(conn) if each.survey_id == "a-1")
        assert [each.survey_id for each in footprints(conn, [only_a])] == ["a-1", "b-1"]


def all_footprints(conn: Any) -> list[Any]:
    """Give the footprints of all surveys."""
    ids = [row[0] for row in conn.execute("SELECT id FROM survey")]
    nothing = Footprint("x", 1, 1, "", "visit", "2020-01-01", (), "", None, None, ())
    return footprints(conn, [nothing._replace(survey_id=id_) for id_ in ids])


def test_a_known_tower_speaks_as_the_surveyors_wrote(loaded: Any) -> None:
    """The newest wording of each field is given with its survey, numbered entries by their number."""
    database = loaded(
        visit(
            "v-2010",
            bell(
                "b",
                "dimensions: {mouth_diameter_mm: 46 1/2 in, height_mm: 90 cm}\n"
                "cracks: [{number: 2, state: suspected, length_mm: 30 mm}]\n",
            ),
            bell("a", "identity: {position: 1, name: First}\n"),
            day="2010-01-01",
            in_tower="owner: Parish\n",
            extra="frame: {material: oak}\nhazards: [{kind: fall, where: stairs}, {kind: noise}]\n",
        ),
        visit(
            "v-2020",
            bell("b", "dimensions: {mouth_diameter_mm: 1182 mm}\ncracks: [{number: 2, state: confirmed}]\n"),
        ),
    )
    with closing(open_registry(database)) as conn:
        tower = known_tower(conn, "oster-gate")
        assert known_tower(conn, "no-such-tower") is None
    assert tower is not None
    assert (tower.name, tower.place) == ("Invented Gate", "Nowhere")
    assert tower.sections["tower"]["owner"] == ("Parish", "v-2010", "2010-01-01")
    assert tower.sections["frame"]["material"].text == "oak"
    assert [hazard["kind"].text for hazard in tower.hazards] == ["fall", "noise"]
    assert [each.id for each in tower.bells] == ["a", "b"]
    sizes = tower.bells[1].sections["dimensions"]
    assert sizes["mouth_diameter_mm"] == ("1182 mm", "v-2020", "2020-05-04")
    assert sizes["height_mm"] == ("90 cm", "v-2010", "2010-01-01")
    crack = tower.bells[1].numbered["cracks"][2]
    assert (crack["state"].text, crack["length_mm"].text) == ("confirmed", "30 mm")
    assert "number" not in crack


def test_lists_are_joined_as_written(loaded: Any) -> None:
    """The items of a list stand one after the other as they were written."""
    database = loaded(
        visit(
            "v",
            bell("b", "dimensions: {mouth_diameter_mm: 1180, mouth_diameter_readings_mm: [118 cm, 1181]}\n"),
        )
    )
    with closing(open_registry(database)) as conn:
        tower = known_tower(conn, "oster-gate")
    assert tower is not None
    assert tower.bells[0].sections["dimensions"]["mouth_diameter_readings_mm"].text == "118 cm, 1181"


def test_known_regions_are_those_of_the_file(sample_registry: Path) -> None:
    """Borders come out of the registry as they went in."""
    with closing(open_registry(sample_registry)) as conn:
        known = known_regions(conn)
    wanted = sorted(read_regions(REGIONS), key=lambda region: region.id)
    assert [(each.region.id, each.region.name) for each in known] == [(each.id, each.name) for each in wanted]
    assert [each.region.geometry.wkt for each in known] == [each.geometry.wkt for each in wanted]


@pytest.mark.parametrize("tower_id", ["", "'; DROP TABLE tower; --"])
def test_strange_ids_find_nothing(sample_registry: Path, tower_id: str) -> None:
    """An id is a value, whatever stands in it."""
    with closing(open_registry(sample_registry)) as conn:
        assert known_tower(conn, tower_id) is None
