"""Which bells of a registry need something, the most pressing first."""

from collections.abc import Iterable, Mapping
from datetime import date
from typing import Any

from registry.derive.condition.growth import soonest_limit
from registry.derive.condition.judgement import Candidate, CostLine, judge
from registry.derive.condition.protection import ProtectionSettings
from registry.derive.condition.rulebook import Rulebook
from registry.derive.condition.seen import GONE, OF_THE_TOWER, History, identity_told


def candidates(
    histories: Iterable[History],
    on: date,
    *,
    protection: ProtectionSettings | None = None,
    costs: Mapping[str, CostLine] | None = None,
    book: Rulebook | None = None,
) -> tuple[Candidate, ...]:
    """Rank the bells that need something, most pressing first.

    Parameters
    ----------
    histories : iterable of History
        What the surveys tell, bell by bell.
    on : date
        The day of asking.
    protection, costs, book
        As for ``judge``.

    Returns
    -------
    tuple of Candidate
        Bells with an option beyond leaving and watching, proposed or withheld, or with a state of their own
        that speaks against ringing. Bells that are gone are left out. Order: urgency, condition, advice on
        ringing, the soonest year in which the limit of wear may be reached, id.
    """
    found = []
    for history in histories:
        if not history or identity_told(history, "status") in GONE:
            continue
        candidate = judge(history, on, protection=protection, costs=costs, book=book)
        if _needs_something(candidate):
            found.append(candidate)
    return tuple(sorted(found, key=_rank))


def _needs_something(candidate: Candidate) -> bool:
    """Say whether a bell needs more than to be looked at again; the state of the tower is no need of it."""
    own = [grade for grade in candidate.grades.grades if grade.component not in OF_THE_TOWER]
    speaking = any(each.rule.ringing is not None for grade in own for each in grade.fired)
    return speaking or len(candidate.proposals) > 1 or bool(candidate.withheld)


def _rank(candidate: Candidate) -> tuple[Any, ...]:
    least = candidate.grades.overall.at_least
    advice = ("stop", "reduced", "cannot-say", "normal").index(candidate.grades.ringing.code)
    return (-least.urgency, -least.condition, advice, soonest_limit(candidate.growths), candidate.bell_id)
