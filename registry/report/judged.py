"""What is judged of one bell for a report: grades, growth, options, swing, and when to look again."""

from collections.abc import Iterable
from datetime import date
from typing import NamedTuple

from registry.derive.condition.grading import BellGrades
from registry.derive.condition.inspection import Inspection, next_inspections
from registry.derive.condition.judgement import Candidate, judge
from registry.derive.condition.swing import Swing, swing_of
from registry.model.derived import Derived
from registry.report.reading import BellRecord


class Judged(NamedTuple):
    """The judgement of one bell; ``swing`` is None where it is not known to swing."""

    candidate: Candidate
    swing: Swing | None
    inspections: tuple[Inspection, ...]

    @property
    def grades(self) -> BellGrades:
        """Its grades and the advice on ringing."""
        return self.candidate.grades


def judged_bells(records: Iterable[BellRecord], on: date) -> dict[str, Judged]:
    """Judge the bells that are in their place, in their order.

    Parameters
    ----------
    records : iterable of BellRecord
        What the surveys tell.
    on : date
        The day of asking: on it depend the options by age, and what is due.
    """
    return {record.id: _judged(record, on) for record in records if not record.gone and record.history}


def _judged(record: BellRecord, on: date) -> Judged:
    candidate = judge(record.history, on)
    mass = next((row for row in record.derived if row["quantity"] == "mass_kg" and row["rank"] == 1), None)
    estimate = None if mass is None else Derived(**{name: mass[name] for name in Derived._fields})
    return Judged(
        candidate,
        swing_of(record.history, estimate),
        next_inspections(record.history, candidate.grades, candidate.growths, on),
    )
