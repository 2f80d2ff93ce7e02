"""Rows: what a form says, column by column, with the place where it says it."""

import json
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st
from sample_forms import checked
from specimens import bell, document, visit

from registry.forms.check import check_bytes
from registry.model.survey import Written
from registry.store.rows import SurveyRows, rows_of, to_json, written_json
from registry.store.tables import SECTION_TABLES, column_names

TODAY = date(2026, 1, 1)


def rows_from(text: str) -> SurveyRows:
    """Turn a form without errors into rows."""
    form = check_bytes(text.encode(), "form.yaml", today=TODAY)
    assert form.read is not None, form.problems
    return rows_of(form.read, "forms/form.yaml")


def row_of(rows: SurveyRows, name: str, place: int = 0) -> dict[str, object]:
    """Give one row by column name."""
    table = next(table for table in SECTION_TABLES if table.name == name)
    return dict(zip(column_names(table), rows.rows[name][place], strict=True))


def test_every_row_has_every_column() -> None:
    """All rows of the sample have as many values as their tables have columns."""
    for form in checked().values():
        rows = rows_of(form.read, "x").rows
        for table in SECTION_TABLES:
            assert {len(row) for row in rows[table.name]} <= {len(column_names(table))}


def test_values_stand_in_their_columns() -> None:
    """A size stands in the unit of its column, and as written with line, column and words."""
    rows = rows_from(
        visit(
            "s", bell("b", "dimensions:\n  mouth_diameter_mm: 46 1/2 in\n  mass_includes: [clapper, wheel]\n")
        )
    )
    row = row_of(rows, "dimensions")
    assert row["mouth_diameter_mm"] == 1181.1
    assert row["mass_includes"] == '["clapper","wheel"]'
    assert row["height_mm"] is None
    written = json.loads(str(row["as_written"]))
    assert written["mouth_diameter_mm"] == [15, 26, "46 1/2 in"]
    assert written["mass_includes[1]"][2] == "wheel"


def test_keys_are_natural() -> None:
    """Numbered entries keep their number, others are counted as they stand in the form."""
    rows = rows_from(
        visit(
            "s",
            bell("b", "cracks: [{number: 7, state: none}]\nevents: [{kind: cast}, {kind: hung}]\n"),
            bell("a"),
        )
    )
    assert (row_of(rows, "crack")["survey_id"], row_of(rows, "crack")["number"]) == ("s", 7)
    assert [row_of(rows, "event", place)["ordinal"] for place in (0, 1)] == [1, 2]
    assert [(row_of(rows, "bell_seen", place)["bell_id"], place + 1) for place in (0, 1)] == [
        ("b", 1),
        ("a", 2),
    ]
    assert rows.bell_ids == ("b", "a")


@pytest.mark.parametrize(
    ("written", "as_of"),
    [
        ("1890", "1890-12-31"),
        ("189X", "1899-12-31"),
        ("1890-02~", "1890-02-28"),
        ("1914/1918", "1918-12-31"),
        ("1914/..", "1914-01-01"),
        ("../1914", "1914-12-31"),
        ("2000/2030", "2021-02-03"),
        ("2030", "2021-02-03"),
    ],
)
def test_documents_tell_of_their_own_time(written: str, as_of: str) -> None:
    """A document counts by the last day it can be from, never by a day after it was read."""
    rows = rows_from(document("s", bell("b", "identity: {status: lost}\n"), written=written))
    assert row_of(rows, "survey")["as_of"] == as_of


def test_a_visit_tells_of_its_day() -> None:
    """A visit counts by its own day."""
    assert row_of(rows_from(visit("s", day="2019-03-04")), "survey")["as_of"] == "2019-03-04"


@given(
    st.dictionaries(
        st.from_regex(r"[a-z_]{1,8}(\[[0-9]\])?", fullmatch=True),
        st.builds(Written, st.integers(1, 99), st.integers(1, 99), st.text()),
    )
)
def test_the_fast_json_is_the_same(written: dict[str, Written]) -> None:
    """The quick way to write places as JSON gives what the library gives, for any text."""
    assert written_json(written) == to_json(written)
