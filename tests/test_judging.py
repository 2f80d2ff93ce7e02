"""What is judged from a registry: the same as from the surveys themselves, at once and as kept for lists."""

import sqlite3
from collections.abc import Iterator
from contextlib import closing
from datetime import date

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from random_bells import RandomBells
from sample_forms import checked
from seen_bells import seen

from registry.derive.condition.actions import actions_of
from registry.derive.condition.listing import judged_in_short
from registry.derive.condition.seen import BellSeen, History, histories_of
from registry.intake.writing import computing
from registry.judging import Settings, candidates, judge_bell, judge_bells, judge_history, judge_tower
from registry.model.condition import Crack
from registry.model.survey import ReadSurvey, Survey
from registry.model.visit import Visit
from registry.store import write
from registry.store.database import create_schema
from registry.store.refresh import refresh
from registry.store.rows import rows_of
from registry.store.work import WorkQuery, count_work, read_inspections, read_to_do

ON = date(2026, 1, 1)
SETTINGS = Settings(ON)


def load(conn: sqlite3.Connection, surveys: list[Survey]) -> None:
    """Write surveys into an empty registry, and compute what follows."""
    create_schema(conn)
    write.begin_changes(conn)
    for survey in surveys:
        path = f"{survey.survey.id}.yaml"
        write.put_source(conn, write.SourceFile(path, "form", "0" * 64, b""), "2026-01-01")
        write.put_surveys(conn, [rows_of(ReadSurvey(survey, {}), path)])
    refresh(conn, computing, judged_in_short)


def survey_of(told: BellSeen) -> Survey:
    """Make the form that tells what was seen of one bell."""
    visit = Visit(
        told.survey_id,
        told.kind,
        told.day.isoformat(),
        ("A. Surveyor",),
        instruments=told.instruments,
        not_inspected=told.not_inspected,
    )
    return Survey(visit, told.tower, told.frame, told.hazards, (told.entry,), told.assessments)


@pytest.fixture(scope="module")
def sample() -> Iterator[sqlite3.Connection]:
    """Load the sample once; no test may change it."""
    with closing(sqlite3.connect(":memory:")) as conn:
        load(conn, [form.read.survey for form in checked().values()])
        yield conn


@pytest.fixture(scope="module")
def histories() -> dict[str, History]:
    """Give what the forms of the sample tell of its bells."""
    return histories_of(form.read.survey for form in checked().values())


def test_a_registry_is_judged_as_its_forms(sample, histories) -> None:
    """Grades, advice, growth and options follow from the tables as they do from the forms."""
    judged = {each.bell_id: each for each in judge_bells(sample, sorted(histories), settings=SETTINGS)}
    assert list(judged) == sorted(histories)
    for bell_id in list(histories)[::4]:
        from_forms = judge_history(bell_id, judged[bell_id].history, SETTINGS)
        assert judged[bell_id].candidate == from_forms.candidate
        assert judged[bell_id].inspections == from_forms.inspections


def test_nobody_knows_of_a_bell_that_no_survey_names(sample) -> None:
    """A bell without a survey is not judged at all, rather than judged good."""
    assert judge_bell(sample, "nobody", settings=SETTINGS) is None
    assert judge_tower(sample, "nobody", settings=SETTINGS).worst is None


def test_the_work_list_is_what_is_judged_at_once(sample, histories) -> None:
    """Things to do and inspections kept at the load are those that follow now, once for each tower."""
    judged = [each for each in judge_bells(sample, list(histories), settings=SETTINGS) if not each.gone]
    homes = dict(sample.execute("SELECT id, tower_id FROM bell_current"))
    actions = actions_of((homes[each.bell_id], each.grades) for each in judged)
    rows = read_to_do(sample)
    assert [(row["tower_id"], row["bell_id"], row["rule"], row["found"], row["do"]) for row in rows] == [
        (each.tower_id, each.bell_id, each.rule, each.what, each.do)
        for each in actions
        if each.urgency or each.recommendation
    ]
    assert {(row["bell_id"], row["kind"], row["due"]) for row in read_inspections(sample, ON)} == {
        (each.bell_id, due.kind, due.due.isoformat()) for each in judged for due in each.inspections
    }


def test_the_work_list_is_narrowed(sample) -> None:
    """Tower, region, component, urgency and day each leave only what they ask for, and all of it."""
    everything, due = read_to_do(sample), read_inspections(sample, ON)
    for query, keep in (
        (WorkQuery(tower_id=("kestrel-gate",)), lambda row: row["tower_id"] == "kestrel-gate"),
        (WorkQuery(urgency=2), lambda row: row["urgency"] >= 2),
        (WorkQuery(component=("frame", "clapper")), lambda row: row["component"] in {"frame", "clapper"}),
        (WorkQuery(region=(everything[0]["region"],)), lambda row: row["region"] == everything[0]["region"]),
    ):
        kept = [row for row in everything if keep(row)]
        assert 0 < len(kept) < len(everything)
        assert read_to_do(sample, query) == kept
    until = date(2025, 12, 31)
    kept = [row for row in due if row["due"] <= until.isoformat()]
    assert 0 < len(kept) < len(due)
    assert read_inspections(sample, ON, WorkQuery(until=until)) == kept


def test_the_work_list_is_counted_and_given_page_by_page(sample) -> None:
    """Pages put together are the whole, and the counts are those of the whole."""
    everything, due = read_to_do(sample), read_inspections(sample, ON)
    assert count_work(sample, ON) == (
        len(everything),
        sum(row["urgency"] == 3 for row in everything),
        len(due),
    )
    for whole, read in ((everything, read_to_do), (due, lambda c, **k: read_inspections(c, ON, **k))):
        paged = [row for start in range(0, len(whole), 7) for row in read(sample, limit=7, offset=start)]
        assert paged == whole


def test_the_worst_bell_of_a_tower_speaks_for_it(sample) -> None:
    """A tower is as bad as the worst bell that is there; bells that are gone do not count."""
    tower = judge_tower(sample, "kestrel-gate", settings=SETTINGS)
    assert tower.worst is not None
    assert tower.worst.condition == max(bell.grades.overall.at_least.condition for bell in tower.bells) == 3
    assert not any(bell.gone for bell in tower.bells)
    assert [each.due for each in tower.inspections] == sorted(each.due for each in tower.inspections)


def test_candidates_of_some_bells_are_those_of_all_that_are_among_them(sample) -> None:
    """Asked of a few bells, the ranking keeps the order of the whole."""
    whole = candidates(sample, settings=SETTINGS)
    some = [each.bell_id for each in whole[::2]]
    assert [each.bell_id for each in candidates(sample, settings=SETTINGS, bell_ids=some)] == some


@settings(deadline=None, max_examples=60)
@given(st.integers(0, 10**6))
def test_no_cracked_bell_is_ever_kept_as_normal(seed: int) -> None:
    """A bell with any crack, seen or suspected, never gets "normal" in the registry."""
    history = RandomBells(seed).history()
    with closing(sqlite3.connect(":memory:")) as conn:
        load(conn, [survey_of(told) for told in history])
        (ringing,) = conn.execute("SELECT ringing FROM bell_current").fetchone()
        judged = judge_bell(conn, "bell", settings=SETTINGS)
    assert judged is not None
    assert judged.grades.ringing.code == ringing
    assert judged.history == history
    cracked = any(crack.state != "none" for crack in history[-1].entry.cracks)
    assert not (cracked and ringing == "normal")


def test_a_sound_bell_is_normal_and_the_same_bell_cracked_is_not() -> None:
    """The test above can fail: the very bell that is kept as normal is not, once a crack is suspected."""
    for cracks, expected in (
        ((Crack(1, "none", method="eye"),), "normal"),
        ((Crack(1, "suspected"),), "stop"),
    ):
        with closing(sqlite3.connect(":memory:")) as conn:
            load(conn, [survey_of(seen(cracks=cracks))])
            assert conn.execute("SELECT ringing FROM bell_current").fetchone() == (expected,)


def test_a_bell_that_left_a_tower_takes_its_work_along() -> None:
    """What is to be done goes where the bell is, and ends where it is gone."""
    with closing(sqlite3.connect(":memory:")) as conn:
        load(conn, [survey_of(seen(cracks=(Crack(1, "confirmed"),)))])
        assert read_to_do(conn)
        later = seen("2026-02-01", identity={"status": "lost"})
        write.begin_changes(conn)
        write.put_source(conn, write.SourceFile("b.yaml", "form", "0" * 64, b""), "2026-01-01")
        write.put_surveys(conn, [rows_of(ReadSurvey(survey_of(later), {}), "b.yaml")])
        refresh(conn, computing, judged_in_short)
        assert read_to_do(conn) == []
        assert read_inspections(conn, ON) == []
        assert conn.execute("SELECT grade_at_least, ringing FROM bell_current").fetchone() == (None, None)
