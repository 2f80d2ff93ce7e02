"""Region files: their times, how they nest, and in which regions towers are then found."""

import json
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from specimens import logical_dump, rows, visit, write

from registry.intake import LoadReport, check, load

TODAY = date(2026, 1, 1)

IN_REGIONS = "SELECT tower_id, region_id, basis FROM tower_region ORDER BY 1, 2"
WITHIN = "SELECT region_id, outer_id, basis FROM region_within ORDER BY region_id, ordinal"


def feature(id_: str, box: tuple[float, float, float, float], **properties: Any) -> dict[str, Any]:
    """Make a region of one box: west, south, east, north."""
    west, south, east, north = box
    ring = [[west, south], [east, south], [east, north], [west, north], [west, south]]
    return {
        "type": "Feature",
        "id": id_,
        "properties": {"name": id_.title(), **properties},
        "geometry": {"type": "Polygon", "coordinates": [ring]},
    }


def write_regions(folder: Path, name: str, *features: dict[str, Any]) -> Path:
    """Write a region file."""
    return write(folder, name, json.dumps({"type": "FeatureCollection", "features": features}))


def run(*paths: Path, into: Path) -> LoadReport:
    """Load in this process, on a fixed day."""
    return load(list(paths), into, jobs=1, today=TODAY)


def at(text: str, latitude: float, longitude: float, region: str = "") -> str:
    """Give the tower of a form a place."""
    told = f"latitude_deg: {latitude}\n  longitude_deg: {longitude}"
    return text.replace("  place: ", f"  {told}\n  place: ", 1).replace(
        "  place: ", f"  region: {region}\n  place: " if region else "  place: ", 1
    )


SHIRE = feature("shire", (0, 50, 10, 60), kind="county")
VALE = feature("vale", (1, 51, 4, 54), kind="hundred")


@pytest.fixture
def database(tmp_path: Path) -> Path:
    """Give the name of a registry that is not there yet."""
    return tmp_path / "bells.db"


@pytest.fixture
def forms(tmp_path: Path) -> Path:
    """Give a folder of forms of three towers: in the vale, in the shire, and nobody knows where."""
    folder = tmp_path / "forms"
    write(folder, "a.yaml", at(visit("a-2020", tower="a"), 52.0, 2.0))
    write(folder, "b.yaml", at(visit("b-2020", tower="b"), 55.0, 8.0, "shire"))
    lost = visit("c-2020", tower="c").replace("  place: ", "  region: vale\n  place: ", 1)
    write(folder, "c.yaml", lost)
    return folder


def test_towers_are_found_in_regions(tmp_path: Path, forms: Path, database: Path) -> None:
    """A tower lies in every region round it; one without coordinates in that which is stated, and beyond."""
    run(write_regions(tmp_path, "all.geojson", SHIRE, VALE), forms, into=database)
    assert rows(database, WITHIN) == [("vale", "shire", "inside")]
    assert rows(database, IN_REGIONS) == [
        ("a", "shire", "inside"),
        ("a", "vale", "inside"),
        ("b", "shire", "stated"),
        ("c", "shire", "inside"),
        ("c", "vale", "stated"),
    ]


def test_the_order_of_loading_does_not_matter(tmp_path: Path, forms: Path) -> None:
    """Borders first, forms first, or one by one: the registry says the same."""
    regions = write_regions(tmp_path, "all.geojson", SHIRE, VALE)
    first, second = tmp_path / "first.db", tmp_path / "second.db"
    run(regions, forms, into=first)
    for path in (*sorted(forms.iterdir()), regions):
        run(path, into=second)
    assert logical_dump(first) == logical_dump(second)


def test_a_border_that_changes_moves_towers(tmp_path: Path, forms: Path, database: Path) -> None:
    """Another text of a region file is judged anew for all towers; what a form states stays."""
    path = write_regions(tmp_path, "all.geojson", SHIRE, VALE)
    run(path, forms, into=database)
    write_regions(tmp_path, "all.geojson", feature("shire", (7, 50, 10, 60)))
    run(path, into=database)
    assert rows(database, WITHIN) == []
    assert rows(database, IN_REGIONS) == [("b", "shire", "stated"), ("c", "vale", "stated")]


def test_a_form_that_changes_moves_its_tower_alone(tmp_path: Path, forms: Path, database: Path) -> None:
    """A corrected place is judged again, and a tower that no form has any more lies nowhere."""
    run(write_regions(tmp_path, "all.geojson", SHIRE, VALE), forms, into=database)
    write(forms, "a.yaml", at(visit("a-2020", tower="a"), 20.0, 2.0))
    write(forms, "b.yaml", visit("b-2020", tower="elsewhere"))
    run(forms, into=database)
    assert rows(database, IN_REGIONS) == [("c", "shire", "inside"), ("c", "vale", "stated")]


def test_stated_regions_count_without_borders(forms: Path, database: Path) -> None:
    """Where no border is loaded the region of the form still counts."""
    run(forms, into=database)
    assert rows(database, IN_REGIONS) == [("b", "shire", "stated"), ("c", "vale", "stated")]


def test_the_smallest_region_of_the_same_time_comes_first(tmp_path: Path, database: Path) -> None:
    """Regions nest by their borders where they were in force together; slivers do not count."""
    features = (
        SHIRE,
        feature("realm", (-20, 40, 20, 70)),
        feature("vale", (1, 51, 4, 54), valid="1815/1918"),
        feature("hundred", (0, 50, 5, 55), valid="1600/1700"),
        feature("riding", (0, 50, 5, 55.0), valid="1700/1850"),
        feature("sliver", (-0.02, 51, 3, 52)),
        feature("astride", (-1, 51, 3, 52)),
    )
    run(write_regions(tmp_path, "all.geojson", *features), into=database)
    found: dict[str, list[str]] = {}
    for region, outer, _ in rows(database, WITHIN):
        found.setdefault(region, []).append(outer)
    assert found["vale"] == ["riding", "shire", "realm"]
    assert found["hundred"] == ["shire", "realm"]
    assert found["sliver"] == ["astride", "hundred", "riding", "shire", "realm"]
    assert found["astride"] == ["realm"]
    assert found["shire"] == ["realm"]
    assert "realm" not in found


def test_a_stated_parent_comes_before_what_the_borders_show(tmp_path: Path, database: Path) -> None:
    """The parent a file states is the nearest, and what holds the parent holds the region too."""
    features = (
        SHIRE,
        VALE,
        feature("realm", (-20, 40, 60, 70)),
        feature("exclave", (40, 51, 41, 52), parent="vale"),
    )
    report = run(write_regions(tmp_path, "all.geojson", *features), into=database)
    assert [(each.code, each.path) for each in report.problems] == [
        ("outside-parent", "features[3].properties.parent")
    ]
    assert "0.0%" in report.problems[0].read
    assert [row[1:] for row in rows(database, WITHIN) if row[0] == "exclave"] == [
        ("vale", "stated"),
        ("realm", "inside"),
        ("shire", "inside"),
    ]


def test_versions_of_a_border_stand_side_by_side(tmp_path: Path, database: Path) -> None:
    """A border of each time has its row with its days; versions of one region never hold each other."""
    features = (
        feature("vale", (1, 51, 4, 54), valid="1815-06/.."),
        feature("vale-before", (0, 50, 5, 55), valid="../1815-06", version_of="vale"),
        feature("vale-first", (0, 50, 6, 56), valid="12XX/", version_of="vale"),
    )
    report = run(write_regions(tmp_path, "all.geojson", *features), into=database)
    assert report.problems == ()
    assert rows(
        database, "SELECT id, valid, valid_from, valid_until, version_of FROM region ORDER BY id"
    ) == [
        ("vale", "1815-06/..", "1815-06-01", None, None),
        ("vale-before", "../1815-06", None, "1815-06-30", "vale"),
        ("vale-first", "12XX/", "1200-01-01", None, "vale"),
    ]
    assert rows(database, WITHIN) == []


@pytest.mark.parametrize(
    ("valid", "code"),
    [
        ("1815-1918", "bad-date"),
        ("[1815,1918]", "bad-date"),
        ("1918/1815", "bad-date"),
        ("Y12345/..", "bad-date"),
        ("-0044/1200", "bad-date"),
        ("1815-13/1918", "impossible-date"),
    ],
)
def test_times_that_cannot_be_read(tmp_path: Path, database: Path, valid: str, code: str) -> None:
    """A time that is no interval is an error at its property, and nothing of the file is loaded."""
    path = write_regions(tmp_path, "all.geojson", SHIRE, feature("vale", (1, 51, 4, 54), valid=valid))
    report = run(path, into=database)
    assert [(each.code, each.path, each.read) for each in report.problems] == [
        (code, "features[1].properties.valid", valid)
    ]
    assert report.left_out == (str(path),)
    assert not database.exists()


def test_times_are_told_with_all_else(tmp_path: Path) -> None:
    """A time that cannot be read is named though other things are wrong in the file."""
    wrong = feature("Vale", (1, 51, 4, 54), valid="1918/1815")
    report = check([write_regions(tmp_path, "all.geojson", wrong)], jobs=1, today=TODAY)
    assert [(each.code, each.path) for each in report.problems] == [
        ("bad-region", "features[0].id"),
        ("bad-date", "features[0].properties.valid"),
    ]


def test_references_between_regions_are_judged(tmp_path: Path) -> None:
    """Parents that are not loaded or go in a circle, and versions of versions, are told, and load."""
    features = (
        feature("one", (0, 50, 10, 60), parent="two"),
        feature("two", (0, 50, 10, 60), parent="one"),
        feature("three", (0, 50, 10, 60), parent="nowhere"),
        feature("four", (0, 50, 10, 60), version_of="five"),
        feature("five", (0, 50, 10, 60), version_of="three"),
        feature("six", (0, 50, 10, 60), version_of="gone"),
        feature("seven", (170, 50, -170, 60)),
    )
    report = check([write_regions(tmp_path, "all.geojson", *features)], jobs=1, today=TODAY)
    assert {(each.code, each.path.partition(".")[0]) for each in report.problems} == {
        ("regions-in-circle", "features[0]"),
        ("regions-in-circle", "features[1]"),
        ("unknown-region", "features[2]"),
        ("version-of-a-version", "features[3]"),
        ("unknown-region", "features[5]"),
        ("antimeridian-uncut", "features[6]"),
    }
    assert not report.has_errors


def test_a_parent_may_stand_in_another_file(tmp_path: Path, database: Path) -> None:
    """Regions of a file loaded before count, and the registry made anew says the same."""
    run(write_regions(tmp_path, "shire.geojson", SHIRE), into=database)
    vale = feature("vale", (1, 51, 4, 54), parent="shire")
    report = run(write_regions(tmp_path, "vale.geojson", vale), into=database)
    assert report.problems == ()
    assert rows(database, WITHIN) == [("vale", "shire", "stated")]


def test_properties_of_the_wrong_kind_are_refused(tmp_path: Path) -> None:
    """Kind and time are text, parent and version ids of other regions; each fault is named."""
    wrong = feature("vale", (1, 51, 4, 54), kind=5, valid="", parent="The Shire", version_of="vale")
    report = check([write_regions(tmp_path, "all.geojson", wrong)], jobs=1, today=TODAY)
    assert [(each.code, each.path.rpartition(".")[2]) for each in report.problems] == [
        ("bad-region", "kind"),
        ("bad-region", "valid"),
        ("bad-region", "parent"),
        ("bad-region", "version_of"),
    ]


def test_surveys_name_regions_of_their_day(tmp_path: Path) -> None:
    """A visit that names a region no longer in force is told which one was in force then."""
    features = (
        feature("vale", (1, 51, 4, 54), valid="1815/.."),
        feature("vale-before", (0, 50, 5, 55), valid="../1814", version_of="vale"),
    )
    regions = write_regions(tmp_path, "all.geojson", *features)
    form = write(tmp_path, "a.yaml", at(visit("a-2020", tower="a"), 52.0, 2.0, "vale-before"))
    (problem,) = check([regions, form], jobs=1, today=TODAY).problems
    assert (problem.code, problem.path) == ("region-not-valid", "tower.region")
    assert problem.read == "vale-before, in force ../1814"
    assert problem.remedy == "name the region of that day, perhaps vale"
    form = write(tmp_path, "a.yaml", at(visit("a-2020", tower="a"), 52.0, 2.0, "vale"))
    assert check([regions, form], jobs=1, today=TODAY).problems == ()
