"""Observed facts, each with its wording, its text as written, and the line of the form it stands on."""

from collections.abc import Mapping, Sequence
from typing import Any, NamedTuple

from registry.store.pages import Row
from registry.store.tables import SECTION_TABLES, value_fields
from registry.wording.words import SECTION_TITLES, heading, is_block, label, value_text


class Fact(NamedTuple):
    """One observed value.

    ``written`` is the text of the form where it says more than the value does, else empty. ``other`` and
    ``other_survey_id`` are set where another survey contradicts.
    """

    field: str
    name: str
    text: str
    written: str
    survey_id: str
    survey_date: str
    line: int | None
    block: bool
    other: str = ""
    other_survey_id: str = ""


class FactGroup(NamedTuple):
    """The facts of one section."""

    table: str
    title: str
    facts: list[Fact]


class HistoryRow(NamedTuple):
    """One quantity through the surveys: a cell per survey, empty where it says nothing."""

    name: str
    cells: list[Fact | None]


class History(NamedTuple):
    """One section through the surveys."""

    table: str
    title: str
    rows: list[HistoryRow]


def facts_of_row(table: str, row: Row, fields: Sequence[str] | None = None) -> list[Fact]:
    """List the values of one row of an observation table, in the order of the form."""
    names = fields if fields is not None else [field.name for field in value_fields(_section(table))]
    return [fact for name in names if (fact := fact_of(table, name, row)) is not None]


def fact_of(table: str, field: str, row: Row) -> Fact | None:
    """Give one value of a row; None where it holds none."""
    value = row[field]
    if value is None or value == "[]":
        return None
    text = value_text(table, field, value)
    line, written = _as_written(row["as_written"], field)
    return Fact(
        field,
        heading(label(field)),
        text,
        written if _says_more(written, value, text) else "",
        row.get("survey_id") or row.get("id", ""),
        row.get("survey_date", ""),
        line,
        is_block(table, field),
    )


def current_groups(facts: Sequence[Row], sections: Mapping[str, list[Row]]) -> list[FactGroup]:
    """Group the newest values by section; each is traced to its line through the rows of the surveys."""
    rows = {(table, row["survey_id"]): row for table, found in sections.items() for row in found}
    groups = {table: FactGroup(table, title, []) for table, title in SECTION_TITLES.items()}
    for told in facts:
        row = rows.get((told["section"], told["survey_id"]))
        fact = fact_of(told["section"], told["field"], row) if row else None
        if fact is None or told["section"] not in groups:
            continue
        if told["disagrees"]:
            other = value_text(told["section"], told["field"], told["other_value"])
            fact = fact._replace(other=other, other_survey_id=told["other_survey_id"])
        groups[told["section"]].facts.append(fact)
    return [group for group in groups.values() if group.facts]


def history(sections: Mapping[str, list[Row]], survey_ids: Sequence[str]) -> list[History]:
    """Set the surveys side by side, section by section; only what at least one survey tells."""
    made = []
    for table, title in SECTION_TITLES.items():
        by_survey = {row["survey_id"]: row for row in sections.get(table, ())}
        rows = []
        for field in value_fields(_section(table)):
            found = [by_survey.get(survey_id) for survey_id in survey_ids]
            cells = [fact_of(table, field.name, row) if row else None for row in found]
            if any(cells):
                rows.append(HistoryRow(heading(label(field.name)), cells))
        if rows:
            made.append(History(table, title, rows))
    return made


def _section(table: str) -> Any:
    return next(entry.section for entry in SECTION_TABLES if entry.name == table)


def _as_written(written: Mapping[str, Sequence[Any]], field: str) -> tuple[int | None, str]:
    """Find the line of a value and its text; a list is found by its items."""
    if field in written:
        line, _, text = written[field]
        return int(line), str(text)
    items = [place for name, place in written.items() if name.startswith(f"{field}[")]
    if not items:
        return None, ""
    return int(items[0][0]), ", ".join(str(item[2]) for item in items)


def _says_more(written: str, value: Any, text: str) -> bool:
    """Say whether the text of the form differs from the value as shown in more than its spaces."""
    plain = written.strip()
    if not plain or plain in (text, str(value)):
        return False
    spaceless = "".join(plain.split()).casefold()
    if spaceless == "".join(text.split()).casefold():
        return False
    try:
        return not (isinstance(value, int | float) and float(plain) == value)
    except ValueError:
        return True
