"""What has changed since the visit before: grades and advice then and now, and what was seen otherwise."""

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from registry.derive.condition.comparison import Compared, side_by_side
from registry.derive.condition.grading import BellGrades, grade_bell
from registry.derive.condition.seen import History, visits_of
from registry.judging import BellJudgement
from registry.report.blocks import Block, Cell, Column, Heading, Prose, Table
from registry.report.reading import BellRecord
from registry.wording.judged import RINGING, step_words
from registry.wording.words import day, heading, label, value_text

STATE = {
    "strike_points": "use pit_depth_mm thickness_at_pit_mm burr built_up",
    "cracks": "state side length_mm opening_mm repaired",
    "crown": "broken_loops argent staple staple_rust straps bolts_loose",
    "clapper": "presence material flat_width_mm play_vertical_mm play_sideways_mm pivot shaft_touches"
    " hardness_hb",
    "fittings": "headstock headstock_state bearings_state drive drive_state clock_hammer hammer_clearance_mm"
    " hammer_clear_of_swing isolator",
    "sound": "rings_for_s",
    "ringing": "style swing_angle_deg hours_a_year in_use",
}
"""By section of the form: the fields that tell the state a bell is in."""

OF_THE_FRAME = {"frame": "moves_when_ringing movement_mm loose_joints decay"}

TABLES = {"strike_points": "strike_point", "cracks": "crack"}
"""Tables that are not called as their section."""

THINGS = {"strike_points": "Strike point", "cracks": "Crack"}

LEAST_CHANGE = 0.1
"""Numbers that differ by this share or less are not listed (common practice, no source)."""


def since_last_blocks(
    records: Sequence[BellRecord], judged: Mapping[str, BellJudgement], visit_id: str | None
) -> Iterator[Block]:
    """Set the visit reported on beside the one before, bell by bell.

    Parameters
    ----------
    records : sequence of BellRecord
        The bells of the report.
    judged : mapping of str to BellJudgement
        Those of them that are there to be judged.
    visit_id : str or None
        The visit reported on; nothing is said without one.
    """
    names = {record.id: record.name for record in records}
    rows, first_seen = [], []
    for bell_id, one in judged.items():
        visits = visits_of(one.history)
        if not visits or visits[-1].survey_id != visit_id:
            continue
        if len(visits) == 1:
            first_seen.append(names[bell_id])
            continue
        then = grade_bell(one.history[: one.history.index(visits[-1])])
        changes = _changes(one.history, STATE)
        rows.append(_row(names[bell_id], visits[-2].day.isoformat(), then, one.grades, changes))
    if not rows and not first_seen:
        return
    yield Heading("Since the visit before", 2)
    frame = _frame(judged, visit_id)
    if frame:
        rows.append((Cell("Frame"), Cell(""), Cell(""), Cell("\n".join(frame))))
    if rows:
        yield Table(
            "Then, and now; what was read or seen otherwise than before",
            (
                Column("Bell", share=2.2),
                Column("Condition", share=3),
                Column("Ringing", share=2.2),
                Column("What is otherwise", share=6),
            ),
            tuple(rows),
            "Numbers that differ by a tenth or less are left out: readings have errors, and whether something"
            " grows is told with each bell.",
        )
    if first_seen:
        yield Prose(f"No visit before this one to compare with: {', '.join(first_seen)}.", "soft")


def _frame(judged: Mapping[str, BellJudgement], visit_id: str | None) -> list[str]:
    """Say what was seen otherwise of the frame; it is the same for all bells that hung in it before."""
    for one in judged.values():
        if one.history[-1].survey_id == visit_id and len(visits_of(one.history)) > 1:
            return _changes(one.history, OF_THE_FRAME)
    return []


def _row(
    name: str, then_day: str, then: BellGrades, now: BellGrades, changes: Sequence[str]
) -> tuple[Cell, ...]:
    return (
        Cell(name, f"before: {day(then_day)}"),
        _then_and_now(_condition(then), _condition(now)),
        _then_and_now(RINGING[then.ringing.told_as], RINGING[now.ringing.told_as]),
        Cell("\n".join(changes)) if changes else Cell("nothing of what both tell", style="soft"),
    )


def _condition(grades: BellGrades) -> str:
    overall = grades.overall
    return step_words("condition", overall.condition, overall.at_least.condition)


def _then_and_now(then: str, now: str) -> Cell:
    return (
        Cell(f"as before: {now}", style="soft")
        if then == now
        else Cell(f"{now}", f"before: {then}", "strong")
    )


def _changes(history: History, fields: Mapping[str, str]) -> list[str]:
    """Say what the newest visit tells otherwise than the survey before it that told the same."""
    said: dict[str, list[str]] = {}
    for each in side_by_side(history):
        change = _change(each) if each.field in fields.get(each.section, "").split() else ""
        if change:
            number = f" {each.number}" if each.number is not None else ""
            said.setdefault(f"{THINGS.get(each.section, heading(each.section))}{number}", []).append(change)
    return [f"{thing}: {'; '.join(changes)}." for thing, changes in said.items()]


def _change(compared: Compared) -> str:
    *earlier, now = compared.values
    then: Any = next((value for value in reversed(earlier) if value is not None), None)
    if now is None or then is None or now == then:
        return ""
    numbers = isinstance(then, float) and isinstance(now, float)
    if numbers and abs(now - then) <= LEAST_CHANGE * max(abs(now), abs(then)):
        return ""
    table = TABLES.get(compared.section, compared.section)
    before, after = (value_text(table, compared.field, value) for value in (then, now))
    return f"{label(compared.field).lower()} {before}, now {after}"
