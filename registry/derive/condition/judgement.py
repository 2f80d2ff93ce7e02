"""What may be proposed for a bell, from the least intervention to the greatest.

Options come from the findings that ask for them. Some are withheld, with the reason: turning where no angle
is clear, welding of anything but tin bronze, recasting of every bell that is not known to be young and
unprotected. Costs are named only from a table that the user gives.
"""

from collections.abc import Mapping, Sequence
from datetime import date
from functools import cache
from typing import Any, NamedTuple

import yaml

from registry.derive.condition.facts import hangs
from registry.derive.condition.firing import Fired
from registry.derive.condition.grading import BellGrades, grade_bell
from registry.derive.condition.growth import Growth, growths_of
from registry.derive.condition.protection import ProtectionSettings, recasting
from registry.derive.condition.rulebook import Rulebook
from registry.derive.condition.seen import BellSeen, identity_told, weighed_kg
from registry.derive.condition.turning import Turning, where_to_turn
from registry.model.vocabulary import label_of
from registry.resources import shipped_text

WATCH, RING_LESS, TURN = "leave-and-watch", "ring-less", "turn"
WELD, RETIRE, RECAST = "weld", "retire-and-display", "recast"
NOT_BELL_BRONZE = "only tin bronze is welded"


class CostLine(NamedTuple):
    """One line of the user's table of costs: a range, for a bell or for a kilogram of it."""

    low: float
    high: float
    currency: str
    per: str
    source: str


class Cost(NamedTuple):
    """What an option may cost by the user's table."""

    low: float
    high: float
    currency: str
    source: str


class Proposal(NamedTuple):
    """One option for a bell.

    Parameters
    ----------
    code : str
        Its name in ``judgement.yaml``.
    text : str
        What it means here.
    because : tuple of str
        What was found that asks for it.
    evidence : tuple of str
        The surveys that found it.
    ask : tuple of str
        Who must be asked.
    cautions : tuple of str
        Entries of ``cautions.yaml``.
    source : str
        What it rests on.
    cost : Cost or None
        By the user's table; None without one.
    """

    code: str
    text: str
    because: tuple[str, ...]
    evidence: tuple[str, ...]
    ask: tuple[str, ...]
    cautions: tuple[str, ...]
    source: str
    cost: Cost | None


class Withheld(NamedTuple):
    """An option that findings ask for and that is not proposed."""

    code: str
    why: tuple[str, ...]
    cautions: tuple[str, ...]


class Candidate(NamedTuple):
    """A bell that needs something.

    Parameters
    ----------
    bell_id, tower_id : str
        The bell, and where it hangs.
    grades : BellGrades
        Its grades and the advice on ringing.
    growths : tuple of Growth
        How its wear and cracks grow.
    turning : Turning
        Where it can be turned to.
    proposals : tuple of Proposal
        Options, least intervention first.
    withheld : tuple of Withheld
        Options that are not proposed, and why.
    refer : str
        What the heritage authority is to be asked first; empty where no option calls for it.
    """

    bell_id: str
    tower_id: str
    grades: BellGrades
    growths: tuple[Growth, ...]
    turning: Turning
    proposals: tuple[Proposal, ...]
    withheld: tuple[Withheld, ...]
    refer: str


@cache
def judgement() -> dict[str, Any]:
    """Read ``judgement.yaml``; the mapping is shared: do not change it."""
    data: dict[str, Any] = yaml.safe_load(shipped_text("schema", "rules", "judgement.yaml"))
    return data


def judge(
    history: Sequence[BellSeen],
    on: date,
    *,
    protection: ProtectionSettings | None = None,
    costs: Mapping[str, CostLine] | None = None,
    book: Rulebook | None = None,
) -> Candidate:
    """Say what may be proposed for one bell.

    Parameters
    ----------
    history : sequence of BellSeen
        What the surveys tell of the bell, the oldest first, not empty.
    on : date
        The day of asking.
    protection : ProtectionSettings, optional
        Other settings of countries than the shipped ones.
    costs : mapping of str to CostLine, optional
        The user's table of costs by option.
    book : Rulebook, optional
        Other rules of grading than the shipped ones.

    Raises
    ------
    ValueError
        When the history is empty, or the table of costs names no option of ours.
    """
    options: dict[str, Any] = judgement()["options"]
    unknown = set(costs or {}) - set(options)
    if unknown:
        raise ValueError(f"costs name {', '.join(sorted(unknown))}, which is no option")
    grades = grade_bell(history, book)
    found = [*grades.overall.fired, *grades.overall.asides]
    turning = where_to_turn(history, book)
    recast = recasting(history, on, protection)
    silent = grades.ringing.code == "stop"
    proposals: list[Proposal] = []
    withheld: list[Withheld] = []
    for code, option in options.items():
        asking = found if code == WATCH else [each for each in found if code in each.rule.asks_for]
        if code != WATCH and not asking:
            continue
        why = _why_not(code, history, grades, turning, recast.reasons)
        if why:
            withheld.append(Withheld(code, why, tuple(option["cautions"])))
        else:
            cost = _cost((costs or {}).get(code), history)
            proposals.append(_proposal(code, option, asking, turning, cost, silent=silent))
    asked_of_authority = any("the heritage authority" in each.ask for each in proposals)
    withheld_recast = any(each.code == RECAST for each in withheld)
    return Candidate(
        history[-1].entry.id,
        history[-1].tower.id,
        grades,
        growths_of(history, book),
        turning,
        tuple(proposals),
        tuple(withheld),
        judgement()["refer"]["text"] if asked_of_authority or withheld_recast else "",
    )


def _why_not(
    code: str,
    history: Sequence[BellSeen],
    grades: BellGrades,
    turning: Turning,
    kept: tuple[str, ...],
) -> tuple[str, ...]:
    """Say why an option that was asked for is not proposed; empty where it is."""
    if code == RING_LESS and grades.ringing.code == "stop":
        return ("it is not to be rung at all before an expert has looked",)
    if code in (RING_LESS, TURN, RETIRE) and not hangs(history):
        return ("it does not hang",)
    if code == TURN and not turning.turns:
        return (turning.why_not,)
    if code == TURN and turning.notes:
        return turning.notes
    material = identity_told(history, "material")
    if code == WELD and material not in judgement()["options"][WELD]["materials"]:
        return (f"{NOT_BELL_BRONZE}; the material is {label_of('material', material) or 'not known'}",)
    return kept if code == RECAST else ()


def _proposal(  # noqa: PLR0913 - the parts of one proposal
    code: str,
    option: Mapping[str, Any],
    asking: Sequence[Fired],
    turning: Turning,
    cost: Cost | None,
    *,
    silent: bool,
) -> Proposal:
    text = option.get("silent_text", option["text"]) if silent else option["text"]
    if code == TURN:
        best = turning.turns[0]
        text += (
            f" Best by {best.angle_deg:+g}°, clockwise seen from above:"
            f" {best.clear_deg:.0f}° clear of {best.clear_of}."
        )
    return Proposal(
        code,
        text,
        tuple(dict.fromkeys(each.found for each in asking)),
        tuple(dict.fromkeys(each.fact.survey_id for each in asking if each.fact.survey_id)),
        tuple(option["ask"]),
        tuple(option["cautions"]),
        option["source"],
        cost,
    )


def _cost(line: CostLine | None, history: Sequence[BellSeen]) -> Cost | None:
    """Work out a cost from the user's table; None where it goes by a mass that nobody weighed."""
    if line is None:
        return None
    if line.per == "bell":
        return Cost(line.low, line.high, line.currency, line.source)
    if line.per != "kg":
        raise ValueError(f"a cost is per bell or per kg, not per {line.per}")
    mass = weighed_kg(history)
    if mass is None:
        return None
    return Cost(line.low * mass[0], line.high * mass[0], line.currency, line.source)
