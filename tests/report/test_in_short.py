"""The first page: what an owner must know before turning it."""

import sqlite3
from datetime import date
from itertools import pairwise

import pytest

from registry.derive.condition.judgement import judgement
from registry.derive.condition.rulebook import rulebook
from registry.judging import Settings
from registry.report.blocks import Heading, Item, Items, Prose, Table
from registry.report.document import judged_bells
from registry.report.in_short import EXPERT, RINGING_ORDER, in_short_blocks, worst_parts
from registry.report.reading import read_records, subject_of
from registry.wording.judged import RINGING

MADE = date(2026, 1, 2)


def blocks_of(conn: sqlite3.Connection, tower_id: str) -> list:
    """Give the blocks of the first page of a tower."""
    records = read_records(conn, subject_of(conn, "tower", tower_id))
    return list(in_short_blocks(records, judged_bells(records, Settings(MADE)), MADE))


def table_of(blocks: list, title: str) -> Table:
    """Give the table with a column of this title."""
    return next(
        each
        for each in blocks
        if isinstance(each, Table) and title in {column.title for column in each.columns}
    )


def list_of(blocks: list, after: str) -> tuple[Item, ...]:
    """Give the list below a heading."""
    headings = [each for each in blocks if isinstance(each, Heading) and each.text.startswith(after)]
    below = blocks[blocks.index(headings[0]) :]
    return next(each.items for each in below if isinstance(each, Items))


def test_each_bell_stands_under_one_advice_on_ringing(conn) -> None:
    """May it be rung? Every bell is named once, and those that must be silent come first."""
    items = list_of(blocks_of(conn, "vellhaven-minster"), "In short")
    assert [item.severity for item in items] == sorted((item.severity for item in items), reverse=True)
    assert items[0].text == "Do not ring: Dominica."
    named = [name for item in items for name in item.text.partition(": ")[2].rstrip(".").split(", ")]
    assert sorted(named) == ["Angelus bell", "Apostolica", "Dominica", "Gloria", "Katharina", "Noon bell"]


def test_no_advice_is_told_without_its_words() -> None:
    """Each advice has its place in the order, a few words and a sentence."""
    assert set(RINGING_ORDER) == set(RINGING) == set(rulebook().ringing)
    assert all(rulebook().ringing[code]["text_of_many"] for code in RINGING_ORDER)


def test_the_worst_part_is_named(conn) -> None:
    """A grave grade says where it is from, so that nobody looks for it in the bell."""
    records = read_records(conn, subject_of(conn, "tower", "kestrel-gate"))
    judged = judged_bells(records, Settings(MADE))
    assert "frame" in worst_parts(judged["kestrel-gate-quarter-high"].grades)
    rows = table_of(blocks_of(conn, "vellhaven-minster"), "Worst part").rows
    assert {row[0].text: row[2].text for row in rows}["Dominica"] == "crown and hanging"


def test_whoever_must_be_asked_is_named_with_the_bells(conn) -> None:
    """No proposal is carried out before the right ones were asked; leaving a bell as it is asks nobody."""
    asked = [item.text for item in list_of(blocks_of(conn, "vellhaven-minster"), "Whom to ask")]
    assert "The heritage authority: Angelus bell, Dominica." in asked
    assert not any("Gloria" in text for text in asked)


def test_a_bell_that_must_be_silent_is_for_an_expert(conn) -> None:
    """A suspected crack in the crown asks for no option yet, but for someone who examines it."""
    asked = [item.text for item in list_of(blocks_of(conn, "morusany-st-wenceslas"), "Whom to ask")]
    assert "A bell expert: Barbora, Václav." in asked
    assert any(EXPERT in option["ask"] for option in judgement()["options"].values())


def test_one_task_for_several_bells_is_told_once(conn) -> None:
    """Six worn bearings are one line that names six bells, the most urgent lines first."""
    rows = table_of(blocks_of(conn, "bramblethwaite-st-anne"), "Because").rows
    said = [(row[0].text, row[1].sub or row[1].text, row[2].text) for row in rows]
    assert len(said) == len(set(said))
    worn = next(row for row in rows if row[2].text.startswith("Lubricate"))
    assert worn[1].text.count(",") > 2
    order = [rulebook().steps["urgency"].index(row[0].text.lower()) for row in rows]
    assert all(before >= after for before, after in pairwise(order))


@pytest.mark.parametrize(
    ("tower_id", "which"), [("bramblethwaite-st-anne", "all bells"), ("vellhaven-minster", "Angelus bell")]
)
def test_the_next_inspection_says_of_which_bells(conn, tower_id: str, which: str) -> None:
    """What all bells wait for is not laid at the door of the first."""
    said = [each.text for each in blocks_of(conn, tower_id) if isinstance(each, Prose)]
    (due,) = [text for text in said if text.startswith("Next inspection")]
    assert f", {which}: " in due
