"""When a bell is to be looked at again, and why then."""

import calendar
import math
from collections.abc import Sequence
from datetime import date
from typing import Any, NamedTuple

from registry.derive.condition.facts import hangs
from registry.derive.condition.firing import Fired
from registry.derive.condition.grading import BellGrades
from registry.derive.condition.growth import ALREADY, Growth, soonest_limit
from registry.derive.condition.judgement import judgement
from registry.derive.condition.seen import GONE, BellSeen, identity_told, visits_of

MENDED_RULES = frozenset({"crack-mended", "crown-crack-mended"})


class Inspection(NamedTuple):
    """One inspection that is due.

    Parameters
    ----------
    bell_id, tower_id : str
        The bell, and where it hangs.
    kind : str
        ``expert`` (call one), ``soon``, ``technical`` or ``by-eye``.
    due : date
        The day by which; it may lie in the past.
    why : str
        What makes it due then.
    source : str
        What the interval rests on.
    """

    bell_id: str
    tower_id: str
    kind: str
    due: date
    why: str
    source: str


def months_later(day: date, months: int) -> date:
    """Give the same day some months later, or the last of that month where it has no such day."""
    year, month = divmod(day.year * 12 + day.month - 1 + months, 12)
    return date(year, month + 1, min(day.day, calendar.monthrange(year, month + 1)[1]))


def next_inspections(
    history: Sequence[BellSeen], grades: BellGrades, growths: Sequence[Growth], on: date
) -> tuple[Inspection, ...]:
    """Give the inspections of a bell that come next, the first one first.

    Parameters
    ----------
    history : sequence of BellSeen
        What the surveys tell of the bell, the oldest first.
    grades : BellGrades
        Its grades.
    growths : sequence of Growth
        How its wear grows.
    on : date
        The day of asking: a bell that nobody ever looked at is due then.

    Returns
    -------
    tuple of Inspection
        Empty for a bell that is gone; of one that does not hang, the yearly look alone.
    """
    if not history or identity_told(history, "status") in GONE:
        return ()
    rules: dict[str, Any] = judgement()["inspections"]
    visits = visits_of(history)
    bell_id, tower_id = history[-1].entry.id, history[-1].tower.id

    def due(kind: str, rule: str, day: date, why: str) -> Inspection:
        return Inspection(bell_id, tower_id, kind, day, why, rules[rule]["source"])

    if not visits:
        return (due("technical", "technical", on, "nobody has looked at it, as far as is recorded"),)
    last = visits[-1].day
    found = [
        due("by-eye", "by-eye", months_later(last, rules["by-eye"]["every_months"]), "a look every year")
    ]
    if not hangs(history):
        return tuple(found)
    pressing = [each for each in grades.overall.fired if each.rule.grades and each.rule.grades.urgency >= 2]
    if pressing:
        worst = max(pressing, key=_urgency)
        kind = "expert" if _urgency(worst) == 3 else "soon"
        found.append(due(kind, kind, months_later(last, rules[kind]["within_months"]), worst.found))
    measured = [seen.day for seen in visits if _was_technical(seen)]
    if not measured:
        found.append(due("technical", "technical", on, "no visit both measured wear and looked for cracks"))
    else:
        rule, day, why = _technical(measured[-1], grades, growths, rules)
        found.append(due("technical", rule, day, why))
    return tuple(sorted(found, key=lambda each: each.due))


def _urgency(fired: Fired) -> int:
    return fired.rule.grades.urgency if fired.rule.grades else 0


def _technical(
    last: date, grades: BellGrades, growths: Sequence[Growth], rules: dict[str, Any]
) -> tuple[str, date, str]:
    """Give rule, day and reason of the next technical inspection: by the interval, or sooner."""
    options = [("technical", months_later(last, rules["technical"]["every_months"]), "every three years")]
    if any(each.rule.id in MENDED_RULES for each in grades.overall.fired):
        options.append(("mended", months_later(last, rules["mended"]["every_months"]), "a mended crack"))
    # A limit that is passed needs no measuring to know it: that finding asks for more than a look.
    soonest = soonest_limit(each for each in growths if each.limit and each.limit.reached != ALREADY)
    if soonest < math.inf:
        day = last if soonest == -math.inf else _day_of(soonest, last)
        options.append(("technical", day, "the limit of wear may be reached by then"))
    return min(options, key=lambda each: each[1])


def _was_technical(seen: BellSeen) -> bool:
    """Say whether a visit looked for cracks and measured a strike point."""
    return bool(seen.entry.cracks) and any(
        point.pit_depth_mm is not None or point.thickness_at_pit_mm is not None
        for point in seen.entry.strike_points
    )


def _day_of(year: float, not_before: date) -> date:
    """Give the first day of a decimal year's month, not before another day."""
    whole = math.floor(year)
    if whole < not_before.year:
        return not_before
    return max(date(whole, min(int((year - whole) * 12.0) + 1, 12), 1), not_before)
