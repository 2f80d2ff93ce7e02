"""What is to be done, across bells: one line for every finding that asks for something."""

from collections.abc import Iterable
from datetime import date
from typing import NamedTuple

from registry.derive.condition.grading import BellGrades
from registry.derive.condition.seen import OF_THE_TOWER


class Action(NamedTuple):
    """One thing to do.

    Parameters
    ----------
    tower_id : str
        The tower.
    bell_id : str or None
        The bell; None where it is a matter of the tower.
    component : str
        What it concerns.
    urgency, recommendation : int
        0 to 3 each; 0 for a finding told beside the grade.
    what, do : str
        What was found, and what to do.
    rule : str
        The rule that asks for it.
    survey_id : str or None
        The survey that found it.
    day : date or None
        Its day.
    cautions : tuple of str
        Entries of ``cautions.yaml``.
    source : str
        What the rule rests on.
    """

    tower_id: str
    bell_id: str | None
    component: str
    urgency: int
    recommendation: int
    what: str
    do: str
    rule: str
    survey_id: str | None
    day: date | None
    cautions: tuple[str, ...]
    source: str


def actions_of(graded: Iterable[tuple[str, BellGrades]]) -> tuple[Action, ...]:
    """List what is to be done, most urgent first.

    Parameters
    ----------
    graded : iterable of (str, BellGrades)
        The id of the tower and the grades of one of its bells, each.

    Returns
    -------
    tuple of Action
        What concerns the tower stands once, however many bells hang there.
    """
    found: dict[tuple[str, ...], Action] = {}
    for tower_id, grades in graded:
        for grade in grades.grades:
            bell_id = None if grade.component in OF_THE_TOWER else grades.bell_id
            for each in (*grade.fired, *grade.asides):
                steps = each.rule.grades
                action = Action(
                    tower_id,
                    bell_id,
                    grade.component,
                    steps.urgency if steps else 0,
                    steps.recommendation if steps else 0,
                    each.found,
                    each.rule.do,
                    each.rule.id,
                    each.fact.survey_id,
                    each.fact.day,
                    each.rule.cautions,
                    each.rule.source,
                )
                found.setdefault((tower_id, bell_id or "", each.rule.id, each.found), action)
    return tuple(
        sorted(
            found.values(),
            key=lambda each: (
                -each.urgency,
                -each.recommendation,
                each.tower_id,
                each.bell_id or "",
                each.rule,
                each.what,
            ),
        )
    )
