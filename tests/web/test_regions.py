"""The pages of regions: what lies in them today, and what stood there at a date."""

import json
import re
from datetime import date
from pathlib import Path

import pytest
from specimens import bell, document, visit, write

from registry.intake import load
from registry.web.app import make_datasette

BOX = [[1.0, 51.0], [4.0, 51.0], [4.0, 54.0], [1.0, 54.0], [1.0, 51.0]]


def feature(id_: str, rings: object, **properties: str) -> dict[str, object]:
    """Make a region."""
    return {
        "type": "Feature",
        "id": id_,
        "properties": {"name": f"The {id_} & more", **properties},
        "geometry": {"type": "Polygon", "coordinates": rings},
    }


@pytest.fixture(scope="module")
def district(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Load two towers in nested regions, one region over the antimeridian, and one that is only named."""
    folder = tmp_path_factory.mktemp("district")
    shire = [[0.0, 50.0], [10.0, 50.0], [10.0, 60.0], [0.0, 60.0], [0.0, 50.0]]
    far = [[170.0, -10.0], [-170.0, -10.0], [-170.0, 10.0], [170.0, 10.0], [170.0, -10.0]]
    features = [
        feature("shire", [shire], kind="county"),
        feature("vale", [BOX], kind="hundred", valid="1815/.."),
        feature("vale-before", [BOX], kind="hundred", valid="../1815", version_of="vale"),
        feature("far", [far]),
    ]
    text = json.dumps({"type": "FeatureCollection", "features": features})
    write(folder, "all.geojson", text)
    placed = "latitude_deg: 52\nlongitude_deg: 2\n"
    write(
        folder,
        "gate.yaml",
        visit(
            "gate-2020",
            bell("gate-old", "identity: {status: hanging, cast_date: '1700'}\n"),
            bell(
                "gate-taken",
                "identity: {status: requisitioned, cast_date: '1750/1760'}\n"
                "events:\n  - {kind: requisitioned, date: '1917', source: list}\n",
            ),
            bell("gate-undated", "identity: {status: hanging}\n"),
            tower="gate",
            in_tower=placed,
        ),
    )
    named = "region: nowhere\n"
    write(folder, "isle.yaml", visit("isle-2020", tower="isle", in_tower=named))
    sea = "latitude_deg: 1\nlongitude_deg: -175\n"
    write(folder, "sea.yaml", visit("sea-2020", tower="sea", in_tower=sea))
    lost = document("vale-1890", tower="drowned").replace("  place: ", "  region: vale\n  place: ", 1)
    write(folder, "drowned.yaml", lost)
    database = folder / "bells.db"
    report = load([folder], database, jobs=1, today=date(2026, 1, 1))
    assert not report.has_errors, report.problems
    return database


@pytest.fixture(scope="module")
def ask(district: Path, asking):
    """Ask the site of that registry for an address, and give the text without tags."""
    with asking(make_datasette(district)) as get:

        def plain(address: str, status: int = 200) -> str:
            answer = get(address)
            assert answer.status_code == status, address
            return " ".join(re.sub(r"<[^>]+>", " ", answer.text).split())

        yield plain


def test_regions_stand_below_the_one_they_lie_in(ask) -> None:
    """The list has every border with its kind, its time and its towers, nested; names are escaped."""
    text = ask("/regions")
    assert "4 borders on record" in text
    assert "within, step 1: The vale &amp; more hundred since 1815" in text
    assert "nowhere , 1 tower" in text


def test_bells_of_a_region_at_a_date(ask) -> None:
    """At a date the list counts bells that were there, and tells those that nobody can judge."""
    assert "vale-before &amp; more hundred until 1815 1 0 and 1" in ask("/regions?at=1690")
    text = ask("/region/vale-before?at=1755")
    assert "1 bell , and 2 more that cannot be judged" in text
    assert "gate-taken Invented Gate Nowhere 1750–1760 cannot be judged requisitioned" in text
    assert "gate-old Invented Gate Nowhere 1700 yes still there" in text
    assert "3 bells , and 1 more" in ask("/region/vale?at=1916")
    assert "gate-taken" not in ask("/region/vale?at=1918").partition("Border")[0]


def test_a_border_that_was_not_in_force(ask) -> None:
    """A date outside the time of a border is told, with the border that was in force then."""
    text = ask("/region/vale?at=1700")
    assert "This border was not in force at 1700. Look at The vale-before" in text
    assert "not at that date" in ask("/regions?at=1700")


def test_a_date_that_cannot_be_read(ask) -> None:
    """A word that is no date is told with what to do, and the page shows today."""
    text = ask("/regions?at=soon%3C")
    assert "“soon&lt;” is no date that can be read" in text
    assert "Bells then" not in text


def test_the_page_of_a_region(ask) -> None:
    """A region shows where it lies, its versions, its towers with their reason, and where it was read."""
    text = ask("/region/vale")
    assert "Lies in The shire &amp; more" in text
    assert "Borders of other times The vale-before &amp; more until 1815" in text
    assert "it stands within the border" in text
    assert "its newest survey names the region" in text
    assert "all.geojson" in text
    assert "18th century 1" in text
    assert "undated, or with an open end" in text
    outer = ask("/region/shire")
    assert "Holds The vale &amp; more since 1815" in outer
    assert "the region it names lies in this one" in outer


def test_a_region_without_a_border(ask) -> None:
    """A region that only forms name has a page that says so; any other id has none."""
    assert "Forms name this region; no border of it is loaded." in ask("/region/nowhere")
    ask("/region/elsewhere", 404)


def test_a_region_over_the_antimeridian_is_drawn_in_one_piece(ask, asking, district: Path) -> None:
    """Its map is as wide as the region, not as the world, and its tower is on it."""
    with asking(make_datasette(district)) as get:
        html = get("/region/far").text
    assert 'href="/tower/sea"' in html
    assert "170°W" in html
    assert "180°" in html


def test_towers_lead_to_their_regions(ask) -> None:
    """The page of a tower names every region it lies in."""
    assert "Regions The shire &amp; more , The vale &amp; more since 1815" in ask("/tower/gate")
