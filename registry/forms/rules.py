"""Rules across the fields of one form."""

from collections.abc import Sequence
from datetime import date

from registry.geography import Region
from registry.model.survey import ReadSurvey
from registry.problems import Problem


def rule_problems(read: ReadSurvey, file: str, *, today: date, regions: Sequence[Region]) -> list[Problem]:
    """Apply every rule to a form."""
    return []
