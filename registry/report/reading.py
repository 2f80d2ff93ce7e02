"""What a report is about, and what the surveys up to its visit say: nothing newer enters it."""

import sqlite3
from collections.abc import Iterable
from typing import Any, NamedTuple

from registry.derive.bell import derive_bell
from registry.derive.condition.seen import History
from registry.model.derived import Derived
from registry.store import pages, pages_sound, pages_survey
from registry.store.bell_facts import facts_of_bell
from registry.store.facts import FACT_TABLES, facts_of
from registry.store.history import BellHistory, read_histories
from registry.store.pages import GONE, Row, SurveyLine
from registry.store.pages_survey import Kind
from registry.store.seen import read_seen


class Subject(NamedTuple):
    """What a report is about.

    ``survey`` is the visit it reports on: the newest one, or the one asked for; None where there was none.
    ``surveys`` are those that may enter the report, the newest state of things first.
    """

    kind: Kind
    id: str
    tower_id: str
    bell_ids: tuple[str, ...]
    survey: SurveyLine | None
    surveys: tuple[SurveyLine, ...]


class BellRecord(NamedTuple):
    """What the surveys of a report say of one bell: rows by table, the newest survey first.

    ``recordings`` are those analysed, with their values by quantity.
    """

    id: str
    sections: dict[str, list[Row]]
    surveys: tuple[SurveyLine, ...]
    derived: list[Row]
    history: History
    recordings: list[tuple[Row, dict[str, Row]]]

    def newest(self, table: str, *fields: str) -> Row | None:
        """Give the newest row of a table that tells one of these fields."""
        return next(
            (row for row in self.sections[table] if any(row[field] is not None for field in fields)), None
        )

    def value(self, table: str, field: str) -> Any:
        """Give the newest value of a field; None where no survey tells it."""
        row = self.newest(table, field)
        return None if row is None else row[field]

    def newest_list(self, table: str) -> list[Row]:
        """Give the rows of the newest survey that has any in a table."""
        rows = self.sections[table]
        return [row for row in rows if row["survey_id"] == rows[0]["survey_id"]]

    @property
    def values(self) -> dict[tuple[str, str], Any]:
        """The newest value of each fact, by table and field."""
        return {(told["section"], told["field"]): told["value"] for told in newest_facts(self)}

    @property
    def mass(self) -> Derived | None:
        """The preferred estimate of its mass [kg]."""
        row = next((row for row in self.derived if row["quantity"] == "mass_kg" and row["rank"] == 1), None)
        return None if row is None else Derived(**{name: row[name] for name in Derived._fields})

    @property
    def gone(self) -> bool:
        """Whether the bell is no longer in its tower."""
        return self.value("bell_seen", "status") in GONE

    @property
    def name(self) -> str:
        """The name by which the bell is known, else its id."""
        return self.value("bell_seen", "name") or self.id


def subject_of(conn: sqlite3.Connection, kind: Kind, known_id: str) -> Subject:
    """Find out what a report on a bell, a tower or a survey covers.

    Raises
    ------
    LookupError
        When the registry has no such bell, tower or survey.
    """
    if kind not in pages_survey.kinds_of(conn, known_id):
        raise LookupError(f"no {kind} {known_id}")
    if kind == "survey":
        (row,) = pages_survey.read_of_survey(conn, "survey", known_id)
        surveys = tuple(pages.read_surveys_of_tower(conn, row["tower_id"]))
        place = next(index for index, line in enumerate(surveys) if line.id == known_id)
        seen = pages_survey.read_of_survey(conn, "bell_seen", known_id)
        in_order = sorted(seen, key=lambda row: (row["position"] is None, row["position"], row["ordinal"]))
        bell_ids = tuple(row["bell_id"] for row in in_order)
        return Subject(kind, known_id, row["tower_id"], bell_ids, surveys[place], surveys[place:])
    if kind == "bell":
        bell = pages_survey.read_bell(conn, known_id)
        assert bell is not None  # noqa: S101 - kinds_of has found it
        tower_id, bell_ids = bell["tower_id"], (known_id,)
        of_bell = tuple(pages.read_surveys_of_bell(conn, known_id))
        return Subject(kind, known_id, tower_id, bell_ids, _newest_visit(of_bell), of_bell)
    surveys = tuple(pages.read_surveys_of_tower(conn, known_id))
    bell_ids = tuple(row["id"] for row in pages.read_bells_of_tower(conn, known_id))
    return Subject(kind, known_id, known_id, bell_ids, _newest_visit(surveys), surveys)


def _newest_visit(surveys: Iterable[SurveyLine]) -> SurveyLine | None:
    return next((line for line in surveys if line.kind == "visit"), None)


def read_records(conn: sqlite3.Connection, subject: Subject) -> list[BellRecord]:
    """Read what the surveys of a report say of its bells, and what follows from them alone."""
    seen = read_seen(conn, subject.bell_ids)
    return [
        _record(conn, history, subject, seen[history.bell_id])
        for history in read_histories(conn, subject.bell_ids)
    ]


def _record(conn: sqlite3.Connection, history: BellHistory, subject: Subject, seen: History) -> BellRecord:
    bell_id = history.bell_id
    surveys = tuple(pages.read_surveys_of_bell(conn, bell_id))
    if subject.survey is not None and subject.kind == "survey":
        # A bell may have been surveyed in other towers too: take what is not newer than this survey.
        newest = _age(subject.survey)
        surveys = tuple(line for line in surveys if _age(line) <= newest)
    allowed = {line.id for line in surveys}
    is_newest = len(allowed) == len(history.bell_seen)
    sections = {
        table: [row for row in rows if row["survey_id"] in allowed]
        for table, rows in pages_survey.read_sections_of_bell(conn, bell_id).items()
    }
    then = tuple(each for each in seen if each.survey_id in allowed)
    derived = pages_survey.read_derived(conn, bell_id) if is_newest else _derived_then(history, allowed)
    recordings = [
        each for each in pages_sound.read_recordings(conn, bell_id) if each[0]["survey_id"] in allowed
    ]
    return BellRecord(bell_id, sections, surveys, derived, then, recordings)


def _age(line: SurveyLine) -> tuple[str, str, str]:
    return line.as_of, line.date, line.id


def _derived_then(history: BellHistory, allowed: set[str]) -> list[Row]:
    """Compute anew what follows from some surveys alone, as rows of the table ``derived``."""
    until_then = BellHistory(
        history.bell_id, *([row for row in rows if row["survey_id"] in allowed] for rows in history[1:])
    )
    rows = [
        {
            "subject": each.subject,
            "survey_id": each.survey_id,
            "rank": each.rank,
            "unit": each.derived.unit,
            **each.derived._asdict(),
        }
        for each in derive_bell(facts_of_bell(until_then))
    ]
    return sorted(rows, key=lambda row: (row["subject"], row["quantity"], row["rank"]))


def newest_facts(record: BellRecord) -> list[Row]:
    """Give the newest value of each fact of a bell, as rows of the view ``current_fact``."""
    told = []
    for table in FACT_TABLES:
        for fact in facts_of(table):
            row = record.newest(table.name, *fact.leaders)
            if row is not None and row[fact.field] is not None:
                told.append(
                    {
                        "section": table.name,
                        "field": fact.field,
                        "value": row[fact.field],
                        "survey_id": row["survey_id"],
                        "disagrees": 0,
                    }
                )
    return told


def where_of(row: Row, field: str = "") -> str:
    """Say where a value stands: the survey and the line of its form."""
    written = row["as_written"]
    place = written.get(field) or written.get("")
    return f"{row['survey_id']}, line {place[0]}" if place else str(row["survey_id"])
