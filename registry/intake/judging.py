"""Which of the forms that are right in themselves fit each other and the registry."""

from collections.abc import Sequence
from typing import NamedTuple

from registry.forms.across import check_across
from registry.model.footprint import Footprint
from registry.problems import Level, Problem


class Verdict(NamedTuple):
    """What the rules across surveys say; ``refused`` are the files of forms with an error."""

    problems: tuple[Problem, ...]
    refused: frozenset[str]


def judge(new: Sequence[Footprint], known: Sequence[Footprint]) -> Verdict:
    """Hold new surveys against each other and against those of the registry.

    A form that is refused does not replace its earlier text, so what it contradicted may stand again: the
    others are judged until none is refused any more.
    """
    problems: list[Problem] = []
    refused: set[str] = set()
    while True:
        accepted = [footprint for footprint in new if footprint.file not in refused]
        found = check_across(accepted, known)
        failing = {problem.file for problem in found if problem.level is Level.ERROR}
        if not failing:
            return Verdict((*problems, *found), frozenset(refused))
        problems += [problem for problem in found if problem.file in failing]
        refused |= failing
