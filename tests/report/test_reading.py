"""What a report is about: nothing newer than its visit enters it."""

import sqlite3

import pytest

from registry.report.reading import BellRecord, newest_facts, read_records, subject_of
from registry.store.pages_survey import kinds_of, read_derived, read_facts

TOWERS = ("kestrel-gate", "vellhaven-minster", "sint-brandaan", "halvenau-christ-church")


def records(conn: sqlite3.Connection, kind: str, known_id: str) -> dict[str, BellRecord]:
    """Read the bells of a report by their ids."""
    return {each.id: each for each in read_records(conn, subject_of(conn, kind, known_id))}  # type: ignore[arg-type]


def test_an_id_says_what_it_is_of(conn) -> None:
    """Bells, towers and surveys are told apart; an id of nothing is of nothing."""
    assert kinds_of(conn, "kestrel-gate") == ["tower"]
    assert kinds_of(conn, "kestrel-gate-2015-08-21") == ["survey"]
    assert kinds_of(conn, "vellhaven-minster-angelus") == ["bell"]
    assert kinds_of(conn, "nowhere") == []
    with pytest.raises(LookupError):
        subject_of(conn, "bell", "kestrel-gate")


def test_a_tower_is_reported_as_its_newest_visit_found_it(conn) -> None:
    """Bells stand in the order of the ring, and documents are no visit."""
    subject = subject_of(conn, "tower", "vellhaven-minster")
    assert subject.survey is not None
    assert subject.survey.id == "vellhaven-minster-2025-05-06"
    assert subject.bell_ids[:2] == ("vellhaven-minster-noon", "vellhaven-minster-katharina")
    assert subject_of(conn, "tower", "oud-wierhoek").survey is None


def test_a_survey_knows_nothing_of_later_ones(conn) -> None:
    """The report on the visit of 2015 has no row, fact or judgement of 2025."""
    then = records(conn, "survey", "kestrel-gate-2015-08-21")
    for record in then.values():
        days = {row["survey_date"] for rows in record.sections.values() for row in rows}
        assert max(days) <= "2015-08-21"
        assert {seen.survey_id for seen in record.history} == {line.id for line in record.surveys}
    quarter = then["kestrel-gate-quarter-low"]
    assert [row["state"] for row in quarter.newest_list("crack")] == ["suspected"]
    now = records(conn, "tower", "kestrel-gate")["kestrel-gate-quarter-low"]
    assert [row["state"] for row in now.newest_list("crack")] == ["confirmed"]


@pytest.mark.parametrize("tower_id", TOWERS)
def test_facts_are_those_of_the_current_view(conn, tower_id: str) -> None:
    """Of the newest state a report takes the same facts as the pages do."""
    for record in records(conn, "tower", tower_id).values():
        told = {
            (row["section"], row["field"]): (row["value"], row["survey_id"]) for row in newest_facts(record)
        }
        current = {
            (row["section"], row["field"]): (row["value"], row["survey_id"])
            for row in read_facts(conn, record.id)
        }
        assert told == current


def test_computed_values_of_then_rest_on_what_was_known_then(conn) -> None:
    """The mass and wear of 2015 are computed from no reading of 2025, those of today are the registry's."""
    then = records(conn, "survey", "kestrel-gate-2015-08-21")
    now = records(conn, "tower", "kestrel-gate")
    for bell_id, record in then.items():
        assert record.derived
        assert not [row for row in record.derived if row["survey_id"] == "kestrel-gate-2025-03-19"]
        assert now[bell_id].derived == read_derived(conn, bell_id)
        assert {row["quantity"] for row in record.derived} <= {
            row["quantity"] for row in now[bell_id].derived
        }


def test_the_newest_list_is_of_one_survey(conn) -> None:
    """Cracks of two visits never stand side by side as if seen on one day."""
    for record in records(conn, "tower", "ostrelle-notre-dame").values():
        for table in ("crack", "strike_point"):
            assert len({row["survey_id"] for row in record.newest_list(table)}) <= 1
