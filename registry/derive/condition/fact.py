"""One fact that the rules look at, and what keeps it from being complete."""

from datetime import date
from typing import NamedTuple

from registry.derive.condition.rulebook import FactKind
from registry.derive.condition.seen import BellSeen


class Fact(NamedTuple):
    """One value that a rule can look at.

    Parameters
    ----------
    name : str
        The fact, as in ``condition.yaml``.
    value : float or str or None
        What was told; None where it was not, or where it does not apply.
    worst : float or None
        For a measurement the worse end of its interval.
    where : str
        ``strike point 1``, ``crack 2``; empty where there is only one.
    survey_id : str or None
        The survey that told it.
    day : date or None
        Its day.
    complete : bool
        Whether the newest visit settled it.
    why : str
        Why it is not complete, or why it does not apply.
    """

    name: str
    value: float | str | None
    worst: float | None = None
    where: str = ""
    survey_id: str | None = None
    day: date | None = None
    complete: bool = True
    why: str = ""


def left_out(kind: FactKind, seen: BellSeen) -> str:
    """Say why a fact could not be inspected at a visit; empty where nothing was left out."""
    for skipped in seen.not_inspected:
        if skipped.part in kind.parts:
            return f"not inspected: {skipped.reason.rstrip('. ')}"
    return ""
