"""The conductor of judgement: what the registry tells of a bell, and what the rules make of it.

Everything here is worked out when it is asked for, a few milliseconds a bell, and never stored beside what
was observed. What lists of a whole registry need is worked out at the load: see `registry.store.work`.
"""

import sqlite3
from collections.abc import Iterator, Mapping, Sequence
from datetime import date
from typing import NamedTuple

from registry.derive.condition.candidates import candidates as ranked
from registry.derive.condition.comparison import Compared, side_by_side
from registry.derive.condition.grading import BellGrades, Grade, worst_of
from registry.derive.condition.growth import Growth
from registry.derive.condition.inspection import Inspection, next_inspections
from registry.derive.condition.judgement import Candidate, CostLine, judge
from registry.derive.condition.protection import ProtectionSettings
from registry.derive.condition.seen import GONE, History, identity_told
from registry.derive.condition.swing import Swing, swing_of
from registry.derive.condition.turning import Turning
from registry.model.derived import Derived
from registry.store.pages import read_bells_of_tower
from registry.store.seen import each_history
from registry.store.work import read_masses


class Settings(NamedTuple):
    """What the user decides of a judgement.

    Parameters
    ----------
    on : date
        The day of asking.
    protection : ProtectionSettings or None
        Settings of countries other than the shipped ones.
    costs : mapping of str to CostLine or None
        The user's table of costs.
    """

    on: date
    protection: ProtectionSettings | None = None
    costs: Mapping[str, CostLine] | None = None


class BellJudgement(NamedTuple):
    """All that is judged of one bell.

    Parameters
    ----------
    bell_id : str
        The bell.
    gone : bool
        Whether it is no longer there to be looked at.
    history : History
        What the surveys tell of it, the oldest first.
    candidate : Candidate
        Grades with the rules that fired, advice on ringing, growth, turning, and what may be proposed.
    swing : Swing or None
        What it does to its fittings; None where it is not known to swing.
    inspections : tuple of Inspection
        When to look again, the soonest first.
    compared : tuple of Compared
        Its surveys side by side.
    """

    bell_id: str
    gone: bool
    history: History
    candidate: Candidate
    swing: Swing | None
    inspections: tuple[Inspection, ...]
    compared: tuple[Compared, ...]

    @property
    def grades(self) -> BellGrades:
        """Its grades and the advice on ringing."""
        return self.candidate.grades

    @property
    def growths(self) -> tuple[Growth, ...]:
        """How its wear and cracks grow."""
        return self.candidate.growths

    @property
    def turning(self) -> Turning:
        """Where it can be turned to."""
        return self.candidate.turning


class TowerJudgement(NamedTuple):
    """What is judged of a tower: its bells that are there, the worst of their grades, and what is due."""

    tower_id: str
    bells: tuple[BellJudgement, ...]
    worst: Grade | None
    inspections: tuple[Inspection, ...]


def judge_history(
    bell_id: str, history: History, settings: Settings, mass: Derived | None = None
) -> BellJudgement:
    """Judge a bell by what surveys tell of it.

    Parameters
    ----------
    bell_id : str
        The bell.
    history : History
        What the surveys tell, the oldest first, not empty; the first few of them give the judgement as it
        was then.
    settings : Settings
        Day of asking and the user's own tables.
    mass : Derived, optional
        The estimate of its mass [kg], for the forces of a bell that nobody weighed.
    """
    candidate = judge(history, settings.on, protection=settings.protection, costs=settings.costs)
    return BellJudgement(
        bell_id,
        identity_told(history, "status") in GONE,
        history,
        candidate,
        swing_of(history, mass),
        next_inspections(history, candidate.grades, candidate.growths, settings.on),
        side_by_side(history),
    )


def judge_bells(
    conn: sqlite3.Connection, bell_ids: Sequence[str], *, settings: Settings
) -> Iterator[BellJudgement]:
    """Judge some bells, in their order; those that no survey mentions are left out.

    Parameters
    ----------
    conn : Connection
        The registry.
    bell_ids : sequence of str
        The bells.
    settings : Settings
        Day of asking and the user's own tables.
    """
    masses = read_masses(conn, bell_ids)
    for bell_id, history in each_history(conn, bell_ids):
        yield judge_history(bell_id, history, settings, masses.get(bell_id))


def judge_bell(conn: sqlite3.Connection, bell_id: str, *, settings: Settings) -> BellJudgement | None:
    """Judge one bell; None where no survey mentions it."""
    return next(judge_bells(conn, [bell_id], settings=settings), None)


def judge_tower(conn: sqlite3.Connection, tower_id: str, *, settings: Settings) -> TowerJudgement:
    """Judge the bells that hang or stand in a tower; of a tower without bells nothing is said.

    Returns
    -------
    TowerJudgement
        ``worst`` is unknown where the grade of one bell is unknown, unless another is the gravest; it is None
        where there is no bell.
    """
    bell_ids = [row["id"] for row in read_bells_of_tower(conn, tower_id)]
    bells = tuple(each for each in judge_bells(conn, bell_ids, settings=settings) if not each.gone)
    due = (inspection for bell in bells for inspection in bell.inspections)
    return TowerJudgement(
        tower_id,
        bells,
        worst_of([bell.grades.overall for bell in bells]) if bells else None,
        tuple(sorted(due, key=lambda each: (each.due, each.bell_id))),
    )


def candidates(
    conn: sqlite3.Connection, *, settings: Settings, bell_ids: Sequence[str] | None = None
) -> tuple[Candidate, ...]:
    """Rank the bells that need something, the most pressing first.

    Parameters
    ----------
    conn : Connection
        The registry.
    settings : Settings
        Day of asking and the user's own tables.
    bell_ids : sequence of str, optional
        The bells asked of; all of the registry unless given.
    """
    histories = (history for _, history in each_history(conn, bell_ids))
    return ranked(histories, settings.on, protection=settings.protection, costs=settings.costs)
