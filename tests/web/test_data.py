"""Every table with its dictionary, and the whole of it as CSV and JSON."""

import csv
import io
import sqlite3
from pathlib import Path

import pytest

from registry.store.dictionary import KEPT_BACK, read_tables


@pytest.fixture
def tables(small_registry: Path):
    """Give the tables of the small registry."""
    conn = sqlite3.connect(small_registry)
    yield read_tables(conn)
    conn.close()


def test_every_table_and_column_is_explained(tables) -> None:
    """No table and no column is shown without a word on what it holds."""
    assert len(tables) > 30
    assert [table.name for table in tables if not table.help] == []
    assert [
        f"{table.name}.{column.name}" for table in tables for column in table.columns if not column.help
    ] == []


def test_search_machinery_is_not_shown(tables, get) -> None:
    """Tables that only serve to search have no page and no file."""
    names = {table.name for table in tables}
    assert not {name for name in names if name.startswith(("bell_text", "tower_location", "sqlite"))}
    for name in (
        "bell_text",
        "bell_text_data",
        "tower_location_node",
        "sqlite_schema",
        "sqlite_master",
        "nothing",
    ):
        assert get(f"/data/{name}").status_code == get(f"/data/{name}.csv").status_code == 404


def test_every_table_is_whole_as_csv_and_json(tables, get, small_registry: Path) -> None:
    """Both files hold each row of the table, and every column that is not kept back."""
    conn = sqlite3.connect(small_registry)
    for table in tables:
        count = conn.execute(f"SELECT count(*) FROM {table.name}").fetchone()[0]  # noqa: S608 - our names
        rows = list(csv.reader(io.StringIO(get(f"/data/{table.name}.csv").text)))
        data = get(f"/data/{table.name}.json").json()
        assert rows[0] == [column.name for column in table.columns]
        assert len(rows) - 1 == len(data) == count, table.name
        assert not set(rows[0]) & KEPT_BACK.get(table.name, frozenset())
        if data:
            assert list(data[0]) == rows[0]
    conn.close()


def test_rows_can_be_narrowed_by_any_column(get) -> None:
    """Only rows whose column holds the value are given; text from the address meets numbers as numbers."""
    assert {row["bell_id"] for row in get("/data/derived.json?bell_id=hill-church-tom").json()} == {
        "hill-church-tom"
    }
    cracks = get("/data/crack.json?bell_id=hill-church-tom&number=1").json()
    assert [row["survey_id"] for row in cracks] == ["hill-church-2004", "hill-church-2024"]
    assert get("/data/crack.json?bell_id=nothing").json() == []
    hazards = get("/data/hazard.json?where=%3Cu%3Eframe%3C/u%3E").json()
    assert [row["kind"] for row in hazards] == ["raised-bell"]


def test_an_argument_that_is_no_column_is_ignored(get) -> None:
    """It neither filters nor reaches the database."""
    everything = get("/data/bell.json").json()
    assert get("/data/bell.json?sql=select+1&_where=1&id)=x").json() == everything


def test_long_tables_are_paged(get) -> None:
    """A page holds a hundred rows and leads to the next."""
    html = get("/data/current_fact").text
    assert html.count("<tr>") < 140
    assert get("/data/current_fact?page=999999999").status_code == 200


def test_csv_is_offered_as_a_file(get) -> None:
    """A browser saves it under the name of the table."""
    answer = get("/data/crack.csv")
    assert answer.headers["content-type"].startswith("text/csv")
    assert 'filename="crack.csv"' in answer.headers["content-disposition"]


def test_units_stand_beside_their_columns(get) -> None:
    """The dictionary names the unit of a quantity and none for a text."""
    html = get("/data/dimensions").text
    assert "<code>mouth_diameter_mm</code></th><td>real</td><td>mm</td>" in html
    assert "<code>remarks</code></th><td>text</td><td></td>" in html


def test_facts_are_read_bell_by_bell(get) -> None:
    """Pages and files of the newest facts hold every row once, in one order, bell after bell."""
    whole = get("/data/current_fact.json").json()
    keys = [(row["bell_id"], row["section"], row["field"]) for row in whole]
    assert keys == sorted(set(keys))
    bells = list(dict.fromkeys(row["bell_id"] for row in whole))
    first = get("/data/current_fact").text
    assert "All rows of three bells a page" in first
    for bell in bells[:3]:
        assert f'href="/bell/{bell}"' in first
        alone = get(f"/data/current_fact.json?bell_id={bell}").json()
        assert alone == [row for row in whole if row["bell_id"] == bell]
    assert get("/data/current_fact?page=999").status_code == 200


def test_the_files_warn_of_formulas(get) -> None:
    """Texts are not changed in the files, so the page of the tables says what a spreadsheet makes of some."""
    assert "import the columns as text" in get("/data").text
