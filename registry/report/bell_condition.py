"""Grades and advice of one bell with the rules that gave them; the surveyors' own judgement beside them."""

from collections.abc import Iterator, Sequence

from registry.derive.condition.fact import Fact
from registry.derive.condition.firing import Fired
from registry.derive.condition.grading import BellGrades, Grade
from registry.derive.condition.rulebook import rulebook
from registry.derive.condition.seen import OF_THE_TOWER
from registry.model.cautions import cautions
from registry.report.blocks import (
    Block,
    CautionBox,
    Cell,
    Column,
    Heading,
    Item,
    Items,
    Prose,
    Table,
    Verdict,
    Verdicts,
)
from registry.wording.judged import RINGING, step_words
from registry.wording.words import day, heading, term

RINGING_STYLES = {"normal": "plain", "reduced": "warn", "stop": "alarm", "cannot-say": "soft"}
"""How the advice on ringing is set."""

STYLES = ("plain", "plain", "warn", "alarm")
"""How each step of a grade is set."""


def step_cell(step: str, value: int | None, at_least: int) -> Cell:
    """Set one step of a grade as a cell."""
    if value is None and not at_least:
        return Cell(step_words(step, value, at_least), style="soft")
    return Cell(step_words(step, value, at_least), style=STYLES[at_least if value is None else value])


def verdicts(grades: BellGrades) -> Verdicts:
    """Say overall condition, urgency and ringing at a glance."""
    overall = grades.overall
    return Verdicts(
        (
            Verdict(
                "Condition, the worst of the parts that safety hangs on",
                step_words("condition", overall.condition, overall.at_least.condition),
                STYLES[overall.at_least.condition]
                if overall.condition is None
                else STYLES[overall.condition],
            ),
            Verdict(
                "Urgency",
                step_words("urgency", overall.urgency, overall.at_least.urgency),
                STYLES[overall.at_least.urgency] if overall.urgency is None else STYLES[overall.urgency],
            ),
            Verdict("Ringing", RINGING[grades.ringing.told_as], RINGING_STYLES[grades.ringing.code]),
        )
    )


def condition_blocks(grades: BellGrades, *, alone: bool) -> Iterator[Block]:
    """Tell the condition of a bell: verdicts, grades by component, what they rest on, what is not known.

    ``alone`` says that the report is about this bell, so that its first page has told the verdicts. What
    belongs to the tower is told once, with the tower.
    """
    if not alone:
        yield verdicts(grades)
        yield Prose(grades.ringing.text)
    words = cautions()
    for code in grades.ringing.cautions:
        caution = words[code]
        yield CautionBox(caution.title, caution.points, caution.source, grave=grades.ringing.code == "stop")
    yield Heading("Condition")
    own = [grade for grade in grades.grades if grade.component not in OF_THE_TOWER]
    yield from grade_blocks(own)
    yield Prose(f"{heading(grades.pattern)}.", "soft")


def grade_blocks(grades: Sequence[Grade]) -> Iterator[Block]:
    """Set out grades, the findings they rest on, and what is not known."""
    yield _grade_table(grades)
    fired = [each for grade in grades for each in (*grade.fired, *grade.asides)]
    if fired:
        yield Heading("What was found, and what to do", 3)
        yield Items(tuple(_items(fired)))
    unknown = [fact for grade in grades for fact in grade.not_known]
    if unknown:
        yield Heading("Not settled by this visit", 3)
        yield Prose(_unknown_words(unknown), "soft")


def _grade_table(grades: Sequence[Grade]) -> Table:
    rows = []
    for grade in grades:
        opinion = grade.opinion
        steps = [
            step_cell(name, getattr(grade, name), getattr(grade.at_least, name))
            for name in ("condition", "urgency", "recommendation")
        ]
        if opinion is None:
            theirs = Cell("not assessed", style="soft")
        else:
            own = opinion.assessment
            told = " · ".join("–" if step is None else str(step) for step in own[1:4])
            reasons = (own.reasons or "").rstrip("\n")
            against = f"Disagrees: {opinion.disagreement}." if opinion.disagreement else ""
            theirs = Cell(
                f"{told} ({day(opinion.day.isoformat())})",
                "\n".join(filter(None, (reasons, against))),
                "warn" if against else "plain",
                f"{opinion.survey_id}, assessments",
            )
        rows.append((Cell(heading(term("component", grade.component))), *steps, theirs))
    return Table(
        "By the rules, four steps each from 0 to 3; at the right the surveyors' own steps in the same order",
        (
            Column("Component", share=1.6),
            Column("Condition", share=2),
            Column("Urgency", share=1.8),
            Column("To do", share=2.2),
            Column("Surveyor", share=3.6),
        ),
        tuple(rows),
    )


def _items(fired: Sequence[Fired]) -> Iterator[Item]:
    """List findings; those that ask for the same are one item."""
    together: dict[tuple[str, str], list[Fired]] = {}
    for each in fired:
        together.setdefault((each.rule.do, each.rule.source), []).append(each)
    for (do, source), of_one in together.items():
        urgency = max(each.rule.grades.urgency if each.rule.grades else 0 for each in of_one)
        found = " ".join(dict.fromkeys(each.found for each in of_one))
        yield Item(found, urgency, f"{do}\n{heading(source)}.")


def _unknown_words(facts: Sequence[Fact]) -> str:
    """Name what is not known, together what is not known for one reason."""
    kinds = rulebook().facts
    by_reason: dict[str, dict[str, None]] = {}
    for fact in facts:
        of = f" of {fact.where}" if fact.where else ""
        by_reason.setdefault(fact.why, {})[f"{kinds[fact.name].label}{of}"] = None
    said = [f"{heading(why) + ': ' if why else ''}{', '.join(names)}." for why, names in by_reason.items()]
    return "\n".join(said)
