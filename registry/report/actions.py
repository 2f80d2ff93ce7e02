"""What to do first: the actions of several bells, those that ask for the same put together."""

from collections.abc import Iterable

from registry.derive.condition.actions import Action, actions_of
from registry.judging import BellJudgement


def grouped_actions(judged: Iterable[BellJudgement]) -> list[tuple[Action, ...]]:
    """List what is to be done for some bells, the most urgent first.

    Findings of one component that ask for the same, equally soon, stand together, whichever bells they are
    of; what belongs to the tower stands once. What is told beside the grade only is left out: it stands with
    its bell.
    """
    groups: dict[tuple[str | int, ...], list[Action]] = {}
    for action in actions_of((each.candidate.tower_id, each.grades) for each in judged):
        if action.urgency or action.recommendation:
            key = action.tower_id, action.urgency, action.component, action.do
            groups.setdefault(key, []).append(action)
    return [tuple(group) for group in groups.values()]
