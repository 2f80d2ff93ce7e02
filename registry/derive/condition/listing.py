"""The judgement of a bell in short, as lists of a whole registry need it."""

from datetime import date

from registry.derive.condition.actions import actions_of
from registry.derive.condition.grading import grade_bell
from registry.derive.condition.growth import growths_of
from registry.derive.condition.inspection import next_inspections
from registry.derive.condition.seen import GONE, History, identity_told
from registry.model.judged import Due, JudgedBell, ToDo

WHENEVER = date.max
"""Stands for the day of asking, which no list can know beforehand."""


def judged_in_short(history: History) -> JudgedBell:
    """Judge a bell, without anything that depends on the day of asking.

    Parameters
    ----------
    history : History
        What the surveys tell of it, the oldest first, not empty.
    """
    if identity_told(history, "status") in GONE:
        return JudgedBell(None, None, None, None)
    grades = grade_bell(history)
    return JudgedBell(
        grades.overall.condition,
        grades.overall.at_least.condition,
        grades.overall.at_least.urgency,
        grades.ringing.code,
        tuple(
            ToDo(
                each.component,
                each.urgency,
                each.recommendation,
                each.what,
                each.do,
                each.rule,
                each.survey_id,
                each.source,
            )
            for each in actions_of([(history[-1].tower.id, grades)])
        ),
        tuple(
            Due(each.kind, None if each.due == WHENEVER else each.due, each.why, each.source)
            for each in next_inspections(history, grades, growths_of(history), WHENEVER)
        ),
    )
