"""Histories read back from the tables: what was loaded is what is read."""

import sqlite3
from contextlib import closing
from datetime import date, timedelta
from typing import Any

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from sample_forms import checked

from registry.derive.condition.seen import BellSeen, History, histories_of
from registry.model.bell import Identity
from registry.model.fields import (
    Coordinate,
    Country,
    Day,
    Edtf,
    Field,
    Identifier,
    Language,
    Note,
    Quantity,
    RelativePath,
    Script,
    Term,
    Whole,
    section_fields,
)
from registry.model.survey import ReadSurvey, Survey
from registry.model.vocabulary import vocabulary
from registry.store import seen as module
from registry.store import write
from registry.store.database import create_schema
from registry.store.rows import rows_of
from registry.store.seen import each_history, read_seen
from registry.store.tables import SECTION_TABLES

FIXED: dict[type[Any], st.SearchStrategy[Any]] = {
    Day: st.dates(date(1900, 1, 1), date(2100, 1, 1)).map(date.isoformat),
    Edtf: st.sampled_from(["1643", "164X", "1643?", "[1480,1483]", "2001-02-03", "../1700"]),
    Identifier: st.sampled_from(["bell-1", "bell-2", "elsewhere"]),
    Note: st.sampled_from(["C#4", "cis'"]),
    Language: st.sampled_from(["la", "de-Latf"]),
    Script: st.sampled_from(["Latn", "Hebr"]),
    Country: st.sampled_from(["AT", "GB"]),
    RelativePath: st.sampled_from(["a.jpg", "photos/b ü.jpg"]),
}
NUMBERED = {table.section for table in SECTION_TABLES if table.counted_by == "number"}
TEXT = st.text(st.characters(exclude_categories=["Cs"], exclude_characters="\0"), min_size=1, max_size=12)


def value(field: Field) -> st.SearchStrategy[Any]:
    """Give values that a form may have in a field."""
    match field.kind:
        case Quantity(_, low, high):
            return st.floats(low, high)
        case Coordinate():
            return st.floats(-90, 90)
        case Whole(low, high):
            return st.integers(low, high)
        case Term(name):
            return st.sampled_from(list(vocabulary(name).terms))
        case None:
            assert field.section is not None
            return section(field.section)
    return FIXED.get(type(field.kind), TEXT)


def section(kind: type[Any]) -> st.SearchStrategy[Any]:
    """Give sections with anything in them that a form may tell, much of it left out."""
    fields = {}
    for field in section_fields(kind):
        values = value(field)
        if field.is_list:
            unique = (lambda item: item.number) if field.section in NUMBERED else None
            values = st.lists(values, min_size=int(field.required), max_size=3, unique_by=unique).map(tuple)
        fields[field.name] = values if field.required or field.is_list else st.none() | values
    return st.builds(kind, **fields)


@st.composite
def surveys(draw: st.DrawFn) -> list[Survey]:
    """Give a few surveys of one tower, each with two bells."""
    made = []
    for number in range(draw(st.integers(1, 3))):
        survey = draw(section(Survey))
        visit = survey.survey._replace(id=f"survey-{number}", document=None)
        day = date(2000, 1, 1) + timedelta(days=draw(st.integers(0, 2)))
        bells = [draw(section(type(bell))) for bell in survey.bells[:1]] + list(survey.bells)
        entries = tuple(bell._replace(id=f"bell-{at}") for at, bell in enumerate(bells[:2], start=1))
        made.append(survey._replace(survey=visit._replace(date=day.isoformat()), bells=entries))
    return made


def ordered(history: History) -> History:
    """Put numbered entries in the order of the tables, and take an empty identity as none."""

    def entry(seen: BellSeen) -> BellSeen:
        told = seen.entry
        return seen._replace(
            entry=told._replace(
                identity=None if told.identity == Identity() else told.identity,
                strike_points=tuple(sorted(told.strike_points, key=lambda each: each.number)),
                cracks=tuple(sorted(told.cracks, key=lambda each: each.number)),
                inscriptions=tuple(sorted(told.inscriptions, key=lambda each: each.number)),
            )
        )

    return tuple(map(entry, history))


def stored(conn: sqlite3.Connection, told: list[Survey]) -> None:
    """Write surveys into an empty registry."""
    create_schema(conn)
    write.begin_changes(conn)
    for survey in told:
        path = f"{survey.survey.id}.yaml"
        write.put_source(conn, write.SourceFile(path, "form", "0" * 64, b""), "2026-01-01")
        write.put_surveys(conn, [rows_of(ReadSurvey(survey, {}), path)])


@settings(deadline=None, max_examples=20, suppress_health_check=list(HealthCheck))
@given(surveys())
def test_what_was_loaded_is_what_is_read(told: list[Survey]) -> None:
    """Every value of every section comes back, for one bell alone and for the whole registry."""
    expected = {bell_id: ordered(history) for bell_id, history in histories_of(told).items()}
    with closing(sqlite3.connect(":memory:")) as conn:
        stored(conn, told)
        assert dict(each_history(conn)) == expected
        for bell_id, history in expected.items():
            assert read_seen(conn, [bell_id, "nobody"]) == {bell_id: history}


def test_the_sample_comes_back_batch_by_batch(monkeypatch) -> None:
    """The whole sample is read as its forms tell it, however few bells are held at a time."""
    told = [form.read.survey for form in checked().values()]
    expected = {bell_id: ordered(history) for bell_id, history in histories_of(told).items()}
    monkeypatch.setattr(module, "BATCH", 7)
    with closing(sqlite3.connect(":memory:")) as conn:
        stored(conn, told)
        read = dict(each_history(conn))
    assert read == expected
    assert list(read) == sorted(expected)


def test_it_does_not_matter_how_rows_come(monkeypatch) -> None:
    """A connection that gives rows by name gives the same histories."""
    told = [form.read.survey for form in checked().values()][:3]
    with closing(sqlite3.connect(":memory:")) as conn:
        stored(conn, told)
        plain = dict(each_history(conn))
        conn.row_factory = sqlite3.Row
        assert dict(each_history(conn)) == plain
