"""What is kept of the judgement of a bell, so that a whole registry can be listed by it."""

from datetime import date
from typing import NamedTuple


class ToDo(NamedTuple):
    """One finding that asks for something.

    ``urgency`` and ``recommendation`` are 0 to 3, 0 for a finding told beside the grade; ``survey_id`` is the
    survey that found it, ``rule`` the rule that asks, ``source`` what that rests on.
    """

    component: str
    urgency: int
    recommendation: int
    found: str
    do: str
    rule: str
    survey_id: str | None
    source: str


class Due(NamedTuple):
    """One inspection; ``due`` is None where it is due on whatever day one asks."""

    kind: str
    due: date | None
    why: str
    source: str


class JudgedBell(NamedTuple):
    """The judgement of one bell in short.

    ``grade`` is the worst condition of the parts that safety hangs on, 0 to 3, None where it cannot be told;
    ``grade_at_least`` and ``urgency_at_least`` what is the case in any event. All are None where the bell is
    gone.
    """

    grade: int | None
    grade_at_least: int | None
    urgency_at_least: int | None
    ringing: str | None
    to_do: tuple[ToDo, ...] = ()
    due: tuple[Due, ...] = ()
