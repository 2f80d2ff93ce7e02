"""The first page: may the bells be rung, how they are, what to do first, whom to ask, when to look again."""

from collections.abc import Iterator, Mapping, Sequence
from datetime import date

from registry.derive.condition.actions import Action
from registry.derive.condition.grading import BellGrades
from registry.derive.condition.inspection import Inspection
from registry.derive.condition.rulebook import rulebook
from registry.judging import BellJudgement
from registry.report.actions import grouped_actions
from registry.report.bell_condition import RINGING_STYLES, STYLES, step_cell, verdicts
from registry.report.blocks import Block, Cell, Column, Heading, Item, Items, Prose, Table
from registry.report.reading import BellRecord
from registry.wording.judged import INSPECTIONS, RINGING, urgency_words
from registry.wording.words import day, heading, plural, term

RINGING_ORDER = {"stop": 3, "reduced": 2, "cannot-say": 1, "normal": 0, "not-hung": 0}
"""Advice on ringing, the gravest first, and the sign it gets."""

EXPERT = "a bell expert"
"""Who examines a bell that is not to be rung, in the words of the options."""

Names = Mapping[str, str]


def in_short_blocks(
    records: Sequence[BellRecord], judged: Mapping[str, BellJudgement], made: date
) -> Iterator[Block]:
    """Say in short how the bells are, whether to ring them, what to do first, and when to look again.

    Parameters
    ----------
    records : sequence of BellRecord
        The bells of the report.
    judged : mapping of str to BellJudgement
        Those of them that are there to be judged.
    made : date
        The day of the report, for what is overdue.
    """
    if not judged:
        return
    yield Heading("In short", 1)
    names = {record.id: record.name for record in records}
    if len(records) == 1:
        (one,) = judged.values()
        yield verdicts(one.grades)
        yield Prose(one.grades.ringing.text)
    else:
        yield Items(tuple(_ringing(names, judged)))
        yield _bells(names, judged)
    yield from _next_inspection(names, judged, made)
    yield from _asked(names, judged)
    actions = grouped_actions(judged.values())
    if actions:
        yield Heading("What to do, the most urgent first", 2)
        yield Table(
            "",
            (
                Column("When", share=1.5),
                Column("Where", share=2.4),
                Column("What", share=5),
                Column("Because", share=5),
            ),
            tuple(_action_row(group, names) for group in actions),
        )


def _ringing(names: Names, judged: Mapping[str, BellJudgement]) -> Iterator[Item]:
    """Say of which bells may be rung and which not, in a sentence for each advice."""
    for code, severity in RINGING_ORDER.items():
        of_these = [names[bell_id] for bell_id, one in judged.items() if one.grades.ringing.told_as == code]
        if of_these:
            yield Item(
                f"{RINGING[code]}: {', '.join(of_these)}.", severity, rulebook().ringing[code]["text_of_many"]
            )


def _bells(names: Names, judged: Mapping[str, BellJudgement]) -> Table:
    rows = []
    for bell_id, one in judged.items():
        overall = one.grades.overall
        ringing = one.grades.ringing
        rows.append(
            (
                Cell(names[bell_id], bell_id),
                step_cell("condition", overall.condition, overall.at_least.condition),
                Cell(worst_parts(one.grades), style="soft"),
                step_cell("urgency", overall.urgency, overall.at_least.urgency),
                Cell(RINGING[ringing.told_as], style=RINGING_STYLES[ringing.code]),
            )
        )
    return Table(
        "The worst of the parts that safety hangs on, never an average; not inspected is never good",
        (
            Column("Bell", share=3),
            Column("Condition", share=3),
            Column("Worst part", share=2),
            Column("Urgency", share=3),
            Column("Ringing", share=2),
        ),
        tuple(rows),
    )


def worst_parts(grades: BellGrades) -> str:
    """Name the parts that safety hangs on and that are as bad as the bell as a whole; empty where none is."""
    least = grades.overall.at_least.condition
    critical = rulebook().components
    return ", ".join(
        term("component", grade.component)
        for grade in grades.grades
        if least and critical[grade.component].safety_critical and grade.at_least.condition == least
    )


def _next_inspection(names: Names, judged: Mapping[str, BellJudgement], made: date) -> Iterator[Block]:
    due = sorted((each for one in judged.values() for each in one.inspections), key=lambda each: each.due)
    if not due:
        return
    first = due[0]
    together = [each for each in due if (each.due, each.kind, each.why) == (first.due, first.kind, first.why)]
    word = "Next inspection: overdue since" if first.due < made else "Next inspection:"
    yield Prose(
        f"{word} {day(first.due.isoformat())}"
        f" ({INSPECTIONS[first.kind].lower()}, {_of_which(together, names, len(judged))}:"
        f" {first.why.rstrip('.')}).",
        "stop" if first.due < made else "plain",
    )


def _of_which(inspections: Sequence[Inspection], names: Names, bells: int) -> str:
    if len(inspections) == bells > 1:
        return "all bells"
    return ", ".join(names[each.bell_id] for each in inspections)


def _asked(names: Names, judged: Mapping[str, BellJudgement]) -> Iterator[Block]:
    """Name whoever must be asked before a bell is rung again, or any of the proposals is carried out."""
    asked: dict[str, dict[str, None]] = {}
    for bell_id, one in judged.items():
        expert = (EXPERT,) if one.grades.ringing.expert else ()
        for who in (*expert, *(who for each in one.candidate.proposals for who in each.ask)):
            asked.setdefault(who, {})[names[bell_id]] = None
    if asked:
        yield Heading("Whom to ask before anything is done", 2)
        yield Items(
            tuple(
                Item(f"{heading(who)}: {', '.join(bells)}." if len(judged) > 1 else f"{heading(who)}.")
                for who, bells in asked.items()
            )
        )


def _action_row(group: tuple[Action, ...], names: Names) -> tuple[Cell, ...]:
    first = group[0]
    component = heading(term("component", first.component))
    bells = list(dict.fromkeys(names[action.bell_id] for action in group if action.bell_id))
    where = Cell(", ".join(bells), component) if bells else Cell(component)
    found: dict[str, dict[str, None]] = {}
    for action in group:
        found.setdefault(action.what, {})[names[action.bell_id] if action.bell_id else ""] = None
    because = [
        f"{', '.join(of)}: {what}" if len(bells) > 1 and len(of) < len(bells) else what
        for what, of in found.items()
    ]
    return (
        Cell(heading(urgency_words(first.urgency)), style=STYLES[first.urgency]),
        where,
        Cell(first.do, plural(len(bells), "bell") if len(bells) > 1 else ""),
        Cell("\n".join(because), style="soft"),
    )
