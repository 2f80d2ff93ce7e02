"""The search: every filter, every doubt counted, and no question that breaks it."""

import sqlite3
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from serving import CHECKOUT
from specimens import bell, visit, write

from registry.geography import distance_m
from registry.intake import load
from registry.questions.query import BellQuery, years_of
from registry.store.database import open_registry
from registry.store.facets import facets
from registry.store.search import SORTS, FoundBells, Search, find_bells
from registry.store.statistics import read_dated


@pytest.fixture(scope="module")
def conn(tmp_path_factory: pytest.TempPathFactory) -> Iterator[sqlite3.Connection]:
    """Give a registry of six bells in three towers."""
    folder = tmp_path_factory.mktemp("search")
    write(
        folder,
        "a.yaml",
        visit(
            "a-2020",
            bell(
                "a-1",
                "identity: {name: Maria, position: 1, status: hanging, material: bronze, cast_date: '1499',"
                " founder: Hans Nowhere, founder_id: nowhere}\n"
                "dimensions: {mouth_diameter_mm: 1000}\nsound: {note: 'F#4'}\n"
                "inscriptions: [{number: 1, place: waist, transcription: 'ave maria'}]\n"
                "cracks: [{number: 1, state: none}]\n",
            ),
            bell(
                "a-2",
                "identity: {name: Petrus, position: 2, status: hanging, material: bronze,"
                " cast_date: '152X'}\n"
                "dimensions: {mouth_diameter_mm: 1300, mass_kg: 1400, mass_basis: weighed}\n"
                "cracks: [{number: 1, state: suspected}]\n",
            ),
            bell("a-3", "identity: {position: 3, cast_date: '[1480,1520]'}\n"),
            tower="a",
            in_tower="latitude_deg: 45.5\nlongitude_deg: 5.5\ncountry: FR\n",
            extra="assessments: [{component: bell, bell: a-1, condition: 0},"
            " {component: crown, bell: a-2, condition: 3}]\n",
        ),
    )
    write(
        folder,
        "b.yaml",
        visit(
            "b-2020",
            bell("b-1", "identity: {name: maria magdalena, cast_date: '1600/..'}\n"),
            bell("b-2", "identity: {status: unknown, material: unknown}\n"),
            tower="b",
            in_tower="latitude_deg: 45.6\nlongitude_deg: 5.6\ncountry: FR\n",
        ),
    )
    write(folder, "c.yaml", visit("c-2020", bell("c-1", "identity: {status: hanging}\n"), tower="c"))
    report = load([folder], folder / "bells.db", jobs=1)
    assert not report.has_errors, report.problems
    with closing(open_registry(folder / "bells.db")) as connection:
        yield connection


def ids(found: FoundBells) -> list[str]:
    """Give the ids found."""
    return [row["id"] for row in found.rows]


QUESTIONS: list[tuple[dict[str, Any], list[str], dict[str, int]]] = [
    ({}, ["a-1", "a-2", "a-3", "b-1", "b-2", "c-1"], {}),
    ({"text": "MARIA"}, ["a-1", "b-1"], {}),
    ({"text": "maria magd"}, ["b-1"], {}),
    ({"text": "nowhere ave"}, ["a-1"], {}),
    ({"text": "--- !"}, [], {}),
    ({"tower_id": "b"}, ["b-1", "b-2"], {}),
    ({"material": ("bronze",)}, ["a-1", "a-2"], {"material": 4}),
    ({"material": ("bronze", "unknown")}, ["a-1", "a-2", "b-2"], {"material": 3}),
    ({"material": ("bronze",), "status": ("hanging",)}, ["a-1", "a-2"], {"material": 1, "status": 0}),
    ({"founder_id": ("nowhere",)}, ["a-1"], {"founder_id": 5}),
    ({"country": ("FR",), "text": "nowhere"}, ["a-1", "a-2", "a-3", "b-1", "b-2"], {"country": 1}),
    ({"note": ("F#4",)}, ["a-1"], {"note": 5}),
    ({"crack_state": ("suspected", "confirmed")}, ["a-2"], {"crack_state": 4}),
    ({"condition": (0, 1)}, ["a-1"], {"condition": 4}),
    ({"condition": ("not-assessed",)}, ["a-3", "b-1", "b-2", "c-1"], {}),
    ({"condition": (3, "not-assessed")}, ["a-2", "a-3", "b-1", "b-2", "c-1"], {}),
    ({"century": 15}, ["a-1", "a-3"], {"year": 2}),
    ({"century": 15, "certain": True}, ["a-1"], {"year": 2}),
    ({"century": 16}, ["a-2", "a-3", "b-1"], {"year": 2}),
    ({"century": 16, "certain": True}, ["a-2"], {"year": 2}),
    ({"from_year": 1500, "to_year": 1510}, [], {"year": 2}),
    ({"from_year": 1515, "to_year": 1522}, ["a-2", "a-3"], {"year": 2}),
    ({"from_year": 1600}, ["b-1"], {"year": 2}),
    ({"from_year": 1600, "certain": True}, ["b-1"], {"year": 2}),
    ({"from_year": 1500, "to_year": 1599, "certain": True}, ["a-2"], {"year": 2}),
    ({"century": 15, "from_year": 1490}, ["a-1"], {"year": 2}),
    ({"to_year": 1480}, ["a-3"], {"year": 2}),
    ({"diameter_mm": (1000, 1299.9)}, ["a-1"], {"diameter_mm": 4}),
    ({"diameter_mm": (None, 1300)}, ["a-1", "a-2"], {"diameter_mm": 4}),
    ({"mass_kg": (1400, None)}, ["a-2"], {"mass_kg": 4}),
    ({"mass_kg": (400, 800)}, ["a-1"], {"mass_kg": 4}),
    ({"near": (45.5, 5.5, 5.0)}, ["a-1", "a-2", "a-3"], {"near": 1}),
    ({"near": (45.5, 5.5, 50.0), "sort": "-distance"}, ["b-1", "b-2", "a-1", "a-2", "a-3"], {"near": 1}),
    ({"near": (45.5, 5.5, 5.0), "material": ("bronze",)}, ["a-1", "a-2"], {"near": 0, "material": 1}),
]


@pytest.mark.parametrize(
    ("asked", "expected", "unjudged"), QUESTIONS, ids=[str(each[0]) for each in QUESTIONS]
)
def test_filters(
    conn: sqlite3.Connection, asked: dict[str, Any], expected: list[str], unjudged: dict[str, int]
) -> None:
    """A filter finds what holds, and counts what lacks the data to say."""
    found = find_bells(conn, BellQuery(**asked))
    assert ids(found) == expected
    assert found.total == len(expected)
    assert found.unjudged == unjudged


def test_a_page_of_the_bells_found(conn: sqlite3.Connection) -> None:
    """A limit and an offset cut a page out of the whole, which is counted still."""
    found = find_bells(conn, BellQuery(limit=2, offset=3))
    assert (ids(found), found.total) == (["b-1", "b-2"], 6)
    assert len(find_bells(conn, BellQuery(limit=None)).rows) == 6


@pytest.mark.parametrize(
    ("sort", "expected"),
    [
        ("name", ["a-1", "b-1", "a-2", "a-3", "b-2", "c-1"]),
        ("-name", ["a-2", "b-1", "a-1", "a-3", "b-2", "c-1"]),
        ("date", ["a-3", "a-1", "a-2", "b-1", "b-2", "c-1"]),
        ("-diameter", ["a-2", "a-1", "a-3", "b-1", "b-2", "c-1"]),
        ("mass", ["a-1", "a-2", "a-3", "b-1", "b-2", "c-1"]),
        ("-condition", ["a-2", "a-1", "a-3", "b-1", "b-2", "c-1"]),
    ],
)
def test_sorting(conn: sqlite3.Connection, sort: str, expected: list[str]) -> None:
    """Bells without the value come last, whichever way round."""
    assert ids(find_bells(conn, BellQuery(sort=sort))) == expected


@pytest.mark.parametrize("sort", ["", "size", "distance", "--name", "name; DROP TABLE bell"])
def test_unknown_sorts_are_refused(conn: sqlite3.Connection, sort: str) -> None:
    """A sort that is not known, or has no place to measure from, is an error."""
    with pytest.raises(ValueError, match="sorted"):
        find_bells(conn, BellQuery(sort=sort))


@settings(deadline=None, max_examples=200, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.one_of(st.text(max_size=30), st.from_regex(r'[a-c"*:^()\-+{} ANDORNT]{0,20}', fullmatch=True)))
def test_no_text_breaks_the_search(conn: sqlite3.Connection, text: str) -> None:
    """Whatever a visitor types is looked for as words."""
    found = find_bells(conn, BellQuery(text=text))
    assert found.total <= 6


def test_distances_are_geodesic(conn: sqlite3.Connection) -> None:
    """The distance of each bell is that of its tower on the ellipsoid, in kilometres."""
    found = find_bells(conn, BellQuery(near=(45.0, 5.0, 200.0)))
    for row in found.rows:
        place = (row["latitude_deg"], row["longitude_deg"])
        assert row["distance_km"] == pytest.approx(distance_m((45.0, 5.0), place) / 1000.0)


@pytest.mark.parametrize(
    ("query", "years"),
    [
        (BellQuery(), (None, None)),
        (BellQuery(century=1), (1, 100)),
        (BellQuery(century=15), (1401, 1500)),
        (BellQuery(century=15, from_year=1450), (1450, 1500)),
        (BellQuery(century=15, from_year=1300, to_year=1600), (1401, 1500)),
        (BellQuery(from_year=1450), (1450, None)),
    ],
)
def test_centuries_begin_with_year_one(query: BellQuery, years: tuple[int | None, int | None]) -> None:
    """The fifteenth century is 1401 to 1500, narrowed by the years asked for."""
    assert years_of(query) == years


def test_facets_count_under_the_other_filters(conn: sqlite3.Connection) -> None:
    """A facet counts its values under all other filters, with a word for people, and none last."""
    counted = facets(Search(conn, BellQuery(material=("bronze",), century=15)))
    assert [tuple(value) for value in counted["material"]] == [
        ("bronze", "bell bronze", 1),
        (None, "not known", 1),
    ]
    assert [tuple(value) for value in counted["century"]] == [
        (15, "15th century", 1),
        (16, "16th century", 1),
    ]
    assert [tuple(value) for value in counted["founder_id"]] == [("nowhere", "Hans Nowhere", 1)]
    assert [tuple(value) for value in counted["condition"]] == [(0, "0", 1)]
    assert facets(Search(conn, BellQuery()))["condition"][-1] == ("not-assessed", "not assessed", 4)


def test_facets_are_the_filters(conn: sqlite3.Connection) -> None:
    """Asking for a value of a facet finds as many bells as it counts, but for those of two centuries."""
    for name, values in facets(Search(conn, BellQuery())).items():
        for value in values:
            if value.value is None or name == "century":
                continue
            asked: dict[str, Any] = {name: (value.value,)}
            assert find_bells(conn, BellQuery(**asked)).total == value.bells, (name, value)


def test_sorts_are_those_of_the_command(conn: sqlite3.Connection) -> None:
    """Every documented sort works."""
    for name in SORTS:
        assert find_bells(conn, BellQuery(sort=name, near=(45.5, 5.5, 1000.0))).total == 5


def test_the_sample_is_found_by_every_word_of_its_names(sample_registry: Path) -> None:
    """Every bell of the sample is found by its name, and by its place."""
    assert sample_registry.is_relative_to(CHECKOUT) is False
    with closing(open_registry(sample_registry)) as connection:
        for row in find_bells(connection, BellQuery(limit=None)).rows:
            for field in ("name", "place", "founder"):
                if row[field]:
                    found = find_bells(connection, BellQuery(text=row[field], limit=None))
                    assert row["id"] in ids(found), (row["id"], row[field])


def test_dates_and_fates_for_statistics(conn: sqlite3.Connection) -> None:
    """A date gives its span, a set one for each member, an open end None, and no date nothing at all."""
    spans, statuses = read_dated(Search(conn, BellQuery()))
    assert spans == {
        "a-1": ((1499, 1499),),
        "a-2": ((1520, 1529),),
        "a-3": ((1480, 1480), (1520, 1520)),
        "b-1": ((1600, None),),
        "b-2": (),
        "c-1": (),
    }
    assert (statuses["a-1"], statuses["a-3"], statuses["b-2"]) == ("hanging", None, "unknown")
    assert read_dated(Search(conn, BellQuery(tower_id="c"))).spans == {"c-1": ()}
