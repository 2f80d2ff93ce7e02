"""The tables: written from the model, and refusing by themselves what no form may say."""

import sqlite3
from typing import Any

import pytest
from conftest import Golden
from serving import CHECKOUT

from registry.model.fields import (
    Coordinate,
    Country,
    Day,
    Field,
    Identifier,
    Quantity,
    RelativePath,
    Script,
    Term,
    Text,
    Whole,
    section_fields,
)
from registry.model.survey import BellEntry, Survey
from registry.model.vocabulary import vocabulary
from registry.store.database import create_schema
from registry.store.ddl import written_files
from registry.store.tables import SECTION_TABLES, SectionTable, column_names, value_fields


@pytest.mark.parametrize("name", written_files())
def test_files_are_those_the_model_gives(name: str, golden: Golden) -> None:
    """Each file that is written from the model is committed as the model gives it."""
    golden(CHECKOUT / "schema" / name, written_files()[name])


def sections_of(section: type[Any]) -> set[type[Any]]:
    """Collect a section and all below it."""
    found = {section}
    for field in section_fields(section):
        if field.section is not None:
            found |= sections_of(field.section)
    return found


def test_every_section_has_a_table() -> None:
    """Nothing that a form can say lacks a table."""
    assert sections_of(Survey) - {Survey, BellEntry} == {table.section for table in SECTION_TABLES}


@pytest.fixture(scope="module")
def conn() -> sqlite3.Connection:
    """Give an empty registry in memory, for rows that come and go; references are not checked here."""
    connection = sqlite3.connect(":memory:")
    create_schema(connection)
    return connection


def test_tables_are_strict(conn: sqlite3.Connection) -> None:
    """Every table of our own refuses values of another type."""
    loose = conn.execute(
        "SELECT name FROM pragma_table_list WHERE schema = 'main' AND type = 'table' AND NOT strict"
        " AND name NOT LIKE 'sqlite_%'"
    ).fetchall()
    assert loose == []


def a_value(field: Field) -> Any:
    """Give a value that the field takes."""
    good, _ = good_and_bad(field)
    return good[0]


def good_and_bad(field: Field) -> tuple[list[Any], list[Any]]:  # noqa: PLR0911
    """Give values at the ends of what a field takes, and values just beyond."""
    if field.is_list:
        return ['["a"]', "[]"], ["a", '{"a": 1}', "1"]
    match field.kind:
        case Quantity(_, low, high):
            step = 1e-6 * max(abs(low), abs(high))
            return [low, high], [low - step, high + step, float("inf"), "text"]
        case Whole(low, high):
            return [low, high], [low - 1, high + 1, 0.5]
        case Coordinate(axis):
            limit = 90 if axis == "latitude" else 180
            return [-limit, limit], [-limit - 1e-6, limit + 1e-6]
        case Term(name):
            return list(vocabulary(name).terms), [
                "",
                "no-such-term",
                next(iter(vocabulary(name).terms)).upper(),
            ]
        case Identifier():
            return ["a", "a-1-b", "0"], ["", "-a", "a-", "a--b", "A", "a b", "a_b", "ä", "a\n"]
        case Day():
            return ["2024-02-29", "0999-12-31"], ["2023-02-29", "2024-2-9", "2024", "", "2024-02-29T10:00"]
        case Country():
            return ["FR"], ["fr", "FRA", "F", ""]
        case Script():
            return ["Latn"], ["latn", "Lat", "LATN"]
        case RelativePath():
            return ["a.jpg", "photos/a..b.jpg"], ["/etc/passwd", "../a.jpg", "a/../../b", ".."]
        case Text(longest):
            return ["x", "ж" * longest], ["", "x" * (longest + 1)]
    return ["x"], ["", "x" * 201]


FIELDS = [
    pytest.param(table, field, id=f"{table.name}.{field.name}")
    for table in SECTION_TABLES
    for field in value_fields(table.section)
]


def insert(conn: sqlite3.Connection, table: SectionTable, **changed: Any) -> None:
    """Insert a row in which every field holds something it takes, but for the values given."""
    row: dict[str, Any] = {field.name: a_value(field) for field in value_fields(table.section)}
    row |= {"survey_id": "s", "bell_id": "b", "tower_id": "t", "id": "s", "source_path": "p"}
    row |= {"as_of": "2020-01-01", "ordinal": 1, "as_written": "{}"}
    row |= changed
    names = column_names(table)
    conn.execute(f"DELETE FROM {table.name}")  # noqa: S608
    places = ", ".join("?" * len(names))
    conn.execute(f"INSERT INTO {table.name} VALUES ({places})", [row[name] for name in names])  # noqa: S608


@pytest.mark.parametrize(("table", "field"), FIELDS)
def test_checks_are_those_of_the_form(conn: sqlite3.Connection, table: SectionTable, field: Field) -> None:
    """A column takes what its field takes, its ends included, and nothing beyond."""
    good, bad = good_and_bad(field)
    for value in good:
        insert(conn, table, **{field.name: value})
    for value in bad:
        with pytest.raises(sqlite3.IntegrityError):
            insert(conn, table, **{field.name: value})
    if field.required:
        with pytest.raises(sqlite3.IntegrityError):
            insert(conn, table, **{field.name: None})
    else:
        insert(conn, table, **{field.name: None})


@pytest.mark.parametrize("table", SECTION_TABLES, ids=lambda table: table.name)
def test_what_was_written_is_json(conn: sqlite3.Connection, table: SectionTable) -> None:
    """The column for what stands in the form takes JSON alone."""
    with pytest.raises(sqlite3.IntegrityError):
        insert(conn, table, as_written="{")


def test_observations_need_their_bell(conn: sqlite3.Connection) -> None:
    """A size without the entry of its bell in that survey is found as a broken reference."""
    table = next(table for table in SECTION_TABLES if table.name == "dimensions")
    conn.execute("DELETE FROM bell_seen")
    insert(conn, table)
    assert ("dimensions", None, "bell_seen", 0) in conn.execute("PRAGMA foreign_key_check").fetchall()
