"""Grades of a bell, component by component, with the rules that gave them and what nobody looked at.

A grade is given only where every fact of its component is known, or where it is the gravest already. What was
not inspected is never good: it has no grade, only what is at least the case. The overall grade is the worst
of the parts that safety hangs on, never an average. No missing measurement of the newest visit can make a
grade better, and no earlier visit can.
"""

from collections import defaultdict
from collections.abc import Mapping, Sequence
from datetime import date
from typing import NamedTuple

from registry.derive.condition.advice import RingingAdvice, ringing_advice
from registry.derive.condition.fact import Fact
from registry.derive.condition.facts import facts_of, hangs
from registry.derive.condition.firing import Fired, fire, gravest_first
from registry.derive.condition.rulebook import Component, Rulebook, Steps, rulebook
from registry.derive.condition.seen import BellSeen, newest_told, visits_of
from registry.model.condition import Assessment

GRAVEST = 3


class Opinion(NamedTuple):
    """The surveyor's own judgement of a component, which stands beside the grade."""

    survey_id: str
    day: date
    assessment: Assessment
    disagreement: str
    """Where it is milder or graver than what the rules say; empty where it is neither."""


class Grade(NamedTuple):
    """The grade of one component.

    Parameters
    ----------
    component : str
        Word of the vocabulary ``component``; ``overall`` for the worst of the parts that safety hangs on.
    condition, urgency, recommendation : int or None
        0 to 3; None where it cannot be judged, which is not the same as 0.
    at_least : Steps
        What the fired rules alone give: it is this grave or graver.
    fired : tuple of Fired
        The rules that fired, gravest first.
    asides : tuple of Fired
        Findings told beside the grade.
    not_known : tuple of Fact
        What the newest visit did not settle, each with why.
    opinion : Opinion or None
        The surveyor's own judgement.
    """

    component: str
    condition: int | None
    urgency: int | None
    recommendation: int | None
    at_least: Steps
    fired: tuple[Fired, ...] = ()
    asides: tuple[Fired, ...] = ()
    not_known: tuple[Fact, ...] = ()
    opinion: Opinion | None = None


class BellGrades(NamedTuple):
    """All grades of one bell after the visits of a history.

    ``survey_id`` and ``day`` are those of the newest visit, whose state is graded; None where the bell was
    never visited.
    """

    bell_id: str
    survey_id: str | None
    day: date | None
    grades: tuple[Grade, ...]
    overall: Grade
    ringing: RingingAdvice
    pattern: str

    def of(self, component: str) -> Grade | None:
        """Give the grade of a component; None where the component was not asked for."""
        return next((grade for grade in self.grades if grade.component == component), None)


def grade_bell(history: Sequence[BellSeen], book: Rulebook | None = None) -> BellGrades:
    """Grade a bell as its newest visit found it.

    Parameters
    ----------
    history : sequence of BellSeen
        What the surveys tell of the bell, the oldest first, not empty.
    book : Rulebook, optional
        Other rules than the shipped ones.

    Returns
    -------
    BellGrades
        Of a bell that does not hang, its body alone is graded, and nothing is said on ringing.

    Raises
    ------
    ValueError
        When the history is empty.
    """
    if not history:
        raise ValueError("a bell that no survey tells of cannot be graded")
    rules = book or rulebook()
    facts: defaultdict[str, list[Fact]] = defaultdict(list)
    own: defaultdict[str, list[Fact]] = defaultdict(list)
    for fact in facts_of(history, rules):
        facts[fact.name].append(fact)
        own[rules.facts[fact.name].component].append(fact)
    hung = hangs(history)
    components = [each for each in rules.components.values() if hung or not each.hung]
    visits = visits_of(history)
    grades = tuple(_grade(each, own[each.name], facts, visits, rules) for each in components)
    critical = [grade for grade in grades if rules.components[grade.component].safety_critical]
    ringing = ringing_advice(
        [each for grade in grades for each in grade.fired],
        [fact for grade in grades for fact in grade.not_known],
        rules,
        hung=hung,
        visited=bool(visits),
    )
    newest = visits[-1] if visits else None
    return BellGrades(
        history[-1].entry.id,
        newest.survey_id if newest else None,
        newest.day if newest else None,
        grades,
        worst_of(critical),
        ringing,
        rules.pattern,
    )


def _grade(
    component: Component,
    own: Sequence[Fact],
    facts: Mapping[str, Sequence[Fact]],
    visits: Sequence[BellSeen],
    book: Rulebook,
) -> Grade:
    """Grade a component by its own facts and by those of the whole bell, by name, that its rules look at."""
    of_component = book.of_component.get(component.name, ())
    fired = fire([rule for rule in of_component if rule.grades is not None], facts, book)
    asides = fire([rule for rule in of_component if rule.grades is None], facts, book)
    not_known = [fact for fact in own if not fact.complete and not book.facts[fact.name].aside]
    if component.never_complete:
        not_known.append(Fact("access_hazard", None, complete=False, why=component.never_complete))
    at_least = _worst([each.rule.grades for each in fired if each.rule.grades is not None])
    judged = bool(visits) and not not_known and not any(each.rule.or_worse for each in fired)
    grade = Grade(
        component.name,
        _claim(at_least.condition, judged=judged),
        _claim(at_least.urgency, judged=judged),
        _claim(at_least.recommendation, judged=judged),
        at_least,
        gravest_first(fired),
        asides,
        tuple(not_known),
    )
    return grade._replace(opinion=_opinion(grade, visits))


def _worst(grades: Sequence[Steps]) -> Steps:
    if not grades:
        return Steps(0, 0, 0)
    return Steps(*(max(steps) for steps in zip(*grades, strict=True)))


def _claim(at_least: int, *, judged: bool) -> int | None:
    """Give the grade where it is known: all was told, or it cannot be graver."""
    return at_least if judged or at_least == GRAVEST else None


def worst_of(grades: Sequence[Grade], name: str = "overall") -> Grade:
    """Take the worst of several grades; unknown where one of them is unknown, unless another is the gravest.

    Parameters
    ----------
    grades : sequence of Grade
        Of components of a bell, or of bells of a tower.
    name : str
        What the worst one is called.
    """
    at_least = _worst([grade.at_least for grade in grades])
    return Grade(
        name,
        _claim(at_least.condition, judged=all(each.condition is not None for each in grades)),
        _claim(at_least.urgency, judged=all(each.urgency is not None for each in grades)),
        _claim(at_least.recommendation, judged=all(each.recommendation is not None for each in grades)),
        at_least,
        gravest_first([each for grade in grades for each in grade.fired]),
        tuple(each for grade in grades for each in grade.asides),
        tuple(fact for grade in grades for fact in grade.not_known),
    )


def _opinion(grade: Grade, visits: Sequence[BellSeen]) -> Opinion | None:
    """Find the surveyor's newest judgement of a component and hold the grade against it."""

    def judged(seen: BellSeen) -> Assessment | None:
        return next((each for each in seen.assessments if each.component == grade.component), None)

    told = newest_told(visits, judged)
    if told is None:
        return None
    assessment, seen = told
    against = []
    for step in Steps._fields:
        theirs = getattr(assessment, step)
        ours, least = getattr(grade, step), getattr(grade.at_least, step)
        if theirs is None:
            continue
        if theirs < least:
            against.append(f"{step} {theirs} by the surveyor, at least {least} by the rules")
        elif ours is not None and theirs > ours:
            against.append(f"{step} {theirs} by the surveyor, {ours} by the rules")
    if against and seen.survey_id != visits[-1].survey_id:
        against.append(f"the surveyor's word is of {seen.day}")
    return Opinion(seen.survey_id, seen.day, assessment, "; ".join(against))
