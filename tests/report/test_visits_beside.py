"""What has changed since the visit before, and what to look at next time."""

import sqlite3
from datetime import date

from registry.judging import Settings
from registry.report.blocks import Prose, Table
from registry.report.document import judged_bells
from registry.report.next_time import next_time_blocks
from registry.report.reading import BellRecord, read_records, subject_of
from registry.report.since_last import OF_THE_FRAME, STATE, TABLES, since_last_blocks
from registry.store.facts import FACT_TABLES, facts_of

MADE = date(2026, 1, 2)


def records_of(conn: sqlite3.Connection, tower_id: str) -> tuple[list[BellRecord], str]:
    """Give the bells of a tower and its newest visit."""
    subject = subject_of(conn, "tower", tower_id)
    assert subject.survey is not None
    return read_records(conn, subject), subject.survey.id


def since(conn: sqlite3.Connection, tower_id: str) -> list:
    """Give what has changed at a tower."""
    records, visit_id = records_of(conn, tower_id)
    return list(since_last_blocks(records, judged_bells(records, Settings(MADE)), visit_id))


def test_then_and_now_stand_together(conn) -> None:
    """A bell that came to be silenced says so, with what it was before and what was seen otherwise."""
    table = next(each for each in since(conn, "kestrel-gate") if isinstance(each, Table))
    row = next(row for row in table.rows if row[0].text == "Second quarter")
    assert row[0].sub == "before: 21 August 2015"
    assert row[1].text == "3 – grave symptoms"
    said = row[3].text.replace("\N{NO-BREAK SPACE}", " ").splitlines()
    assert said[-1] == "Crack 1: state suspected, now confirmed; length 14 mm, now 26 mm."


def test_small_differences_are_left_to_the_growth(conn) -> None:
    """A pit read 0.1 mm deeper in 36 mm of wall is no news; the note says that it was left out."""
    table = next(each for each in since(conn, "kestrel-gate") if isinstance(each, Table))
    said = "\n".join(row[3].text for row in table.rows)
    assert "thickness at pit" not in said
    assert "a tenth or less" in table.note


def test_the_frame_is_told_once(conn) -> None:
    """What belongs to the tower stands in a row of its own, however many bells hang there."""
    table = next(each for each in since(conn, "marrewijk-town-hall") if isinstance(each, Table))
    frames = [row for row in table.rows if row[0].text == "Frame"]
    assert [row[3].text for row in frames] == ["Frame: decay none seen, now slight."]


def test_a_first_visit_has_nothing_to_compare_with(conn) -> None:
    """Where nobody came before, that is said, and no row is made up."""
    blocks = since(conn, "quarrendyke-school")
    assert not any(isinstance(each, Table) for each in blocks)
    (said,) = [each.text for each in blocks if isinstance(each, Prose)]
    assert said.startswith("No visit before this one")


def test_every_field_compared_is_a_field_of_the_form() -> None:
    """A field that was renamed would be left out in silence."""
    known = {table.name: {fact.field for fact in facts_of(table)} for table in FACT_TABLES}
    for section, fields in {**STATE, **OF_THE_FRAME}.items():
        table = TABLES.get(section, section)
        if table in known:
            assert set(fields.split()) <= known[table], section


def test_every_open_question_is_listed_once_with_its_bells(conn) -> None:
    """The list for the next visit holds all that was not settled, and nothing that was."""
    records, _ = records_of(conn, "vellhaven-minster")
    judged = judged_bells(records, Settings(MADE))
    table = next(each for each in next_time_blocks(records, judged) if isinstance(each, Table))
    rows = {row[0].text: row[1].text for row in table.rows if len(row) > 1}
    assert rows["☐ Headstock"].split(", ") == [
        "Noon bell",
        "Katharina",
        "Angelus bell",
        "Dominica",
        "Apostolica",
    ]
    settled = [one for one in judged.values() if not one.grades.overall.not_known]
    assert settled
    assert not any("Gloria" in bells.split(", ") for bells in rows.values())
