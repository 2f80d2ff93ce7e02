"""A checked survey as rows of the observation tables; no database is needed for it."""

import json
from collections.abc import Callable, Mapping
from json.encoder import encode_basestring
from operator import attrgetter
from typing import Any, NamedTuple

from registry.model.bell import Identity
from registry.model.survey import BellEntry, Path, ReadSurvey, Written, as_of
from registry.store.tables import SECTION_TABLES, SectionTable, value_fields

Row = tuple[Any, ...]
Rows = dict[str, list[Row]]
"""Rows by table, each in the order of the table's columns."""

to_json: Callable[[Any], str] = json.JSONEncoder(
    ensure_ascii=False, check_circular=False, separators=(",", ":")
).encode
"""JSON as it stands in the tables: compact, and with every script readable."""


def written_json(written: Mapping[str, Written]) -> str:
    """Write values as they stand in a form as JSON, the same text as ``to_json`` in half the time."""
    parts = [
        f'"{field}":[{line},{column},{encode_basestring(text)}]'
        for field, (line, column, text) in written.items()
    ]
    return f"{{{','.join(parts)}}}"


TABLES = {table.name: table for table in SECTION_TABLES}

OF_SURVEY: tuple[tuple[str, str, str], ...] = (
    ("document", "survey", "document"),
    ("instrument", "survey", "instruments"),
    ("not_inspected", "survey", "not_inspected"),
    ("frame", "", "frame"),
    ("hazard", "", "hazards"),
    ("assessment", "", "assessments"),
    ("attachment", "", "attachments"),
)
"""Table, section of the form that holds it (empty for the form itself), and key on the form."""

OF_BELL: tuple[tuple[str, str, str], ...] = (
    ("earlier_mass", "identity", "earlier_masses"),
    ("dimensions", "", "dimensions"),
    ("profile_point", "dimensions", "profile"),
    ("inscription", "", "inscriptions"),
    ("sound", "", "sound"),
    ("partial", "sound", "partials"),
    ("crown", "", "crown"),
    ("clapper", "", "clapper"),
    ("strike_point", "", "strike_points"),
    ("crack", "", "cracks"),
    ("fittings", "", "fittings"),
    ("ringing", "", "ringing"),
    ("event", "", "events"),
)
"""The same for what is told of one bell."""


class SurveyRows(NamedTuple):
    """One survey as rows, with the ids that they mention."""

    survey_id: str
    tower_id: str
    bell_ids: tuple[str, ...]
    founder_ids: tuple[str, ...]
    rows: Rows


def _values_of(table: SectionTable) -> Callable[[Any], Row]:
    """Make the function that turns a section into the values of its columns."""
    fields = value_fields(table.section)
    get = attrgetter(*(field.name for field in fields))
    lists = tuple(place for place, field in enumerate(fields) if field.is_list)
    if not lists:
        return get

    def with_lists(section: Any) -> Row:
        values = list(get(section))
        for place in lists:
            values[place] = to_json(values[place]) if values[place] else None
        return tuple(values)

    return with_lists


VALUES = {table.name: _values_of(table) for table in SECTION_TABLES}
"""By table: the function that turns a section into the values of its columns."""


def rows_of(read: ReadSurvey, source_path: str) -> SurveyRows:
    """Turn a survey into rows.

    Parameters
    ----------
    read : ReadSurvey
        A survey without errors.
    source_path : str
        The ``path`` of its form in the table ``source``.
    """
    survey = read.survey
    visit, tower = survey.survey, survey.tower
    builder = _Builder(read.written)
    builder.add("survey", (visit.id, tower.id, source_path, as_of(survey)), visit, ("survey",))
    builder.add("tower_seen", (visit.id, tower.id), tower, ("tower",))
    builder.add_all(OF_SURVEY, survey, (), (visit.id,))
    for place, bell in enumerate(survey.bells):
        builder.add_bell(bell, place, visit.id)
    founders = (bell.identity.founder_id for bell in survey.bells if bell.identity is not None)
    return SurveyRows(
        visit.id,
        tower.id,
        tuple(bell.id for bell in survey.bells),
        tuple({founder: None for founder in founders if founder is not None}),
        builder.rows,
    )


class _Builder:
    """Gathers the rows of one survey."""

    def __init__(self, written: Mapping[Path, Mapping[str, Written]]) -> None:
        self.written = written
        self.rows: Rows = {table.name: [] for table in SECTION_TABLES}

    def add(self, name: str, key: Row, section: Any, path: Path) -> None:
        """Add the row of one section, which stands at ``path`` in the form."""
        as_written = written_json(self.written.get(path, {}))
        self.rows[name].append((*key, *VALUES[name](section), as_written))

    def add_bell(self, bell: BellEntry, place: int, survey_id: str) -> None:
        """Add everything told of one bell."""
        path: Path = ("bells", place)
        identity = bell.identity or Identity()
        written = {**self.written.get((*path, "identity"), {}), **self.written.get(path, {})}
        self.rows["bell_seen"].append(
            (survey_id, bell.id, place + 1, *VALUES["bell_seen"](identity), written_json(written))
        )
        self.add_all(OF_BELL, bell, path, (survey_id, bell.id))

    def add_all(self, layout: tuple[tuple[str, str, str], ...], owner: Any, path: Path, key: Row) -> None:
        """Add the rows of all sections that one survey, or one bell of it, holds."""
        for name, holder_key, section_key in layout:
            holder = getattr(owner, holder_key) if holder_key else owner
            sections = getattr(holder, section_key) if holder is not None else None
            if not sections:
                continue
            where: Path = (*path, holder_key, section_key) if holder_key else (*path, section_key)
            counted_by = TABLES[name].counted_by
            if not counted_by:
                self.add(name, key, sections, where)
                continue
            for place, section in enumerate(sections):
                leading = (*key, place + 1) if counted_by == "ordinal" else key
                self.add(name, leading, section, (*where, place))
