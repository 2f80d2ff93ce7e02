"""What each survey saw of one bell, in the order of time: the plain input of everything in this package."""

from collections import defaultdict
from collections.abc import Callable, Iterable, Sequence
from datetime import date
from typing import Any, NamedTuple

from registry.model.condition import Assessment
from registry.model.survey import BellEntry, Survey, as_of
from registry.model.tower import Frame, Hazard, Tower
from registry.model.visit import Instrument, NotInspected

OF_THE_TOWER = frozenset({"frame", "access", "tower"})
"""Components that belong to the tower, so that their assessment names no bell."""

AT_REST = frozenset({"chiming", "clock-only", "carillon", "silent"})
"""Ways of ringing in which the bell does not swing."""

NOT_HUNG = frozenset({"standing", "in-workshop", "on-display"})
"""States of a bell that is there and does not hang."""

GONE = frozenset({"moved", "requisitioned", "lost", "stolen", "destroyed", "recast"})
"""States of a bell that nobody can look at."""

WEIGHED = frozenset({"weighed", "founder-record", "inscribed"})
"""Ways to obtain a mass that do not rest on the sizes."""

BELL_ALONE = frozenset({"staple"})
"""What may have been on the scale without spoiling the mass of the bell: next to nothing beside it."""


class BellSeen(NamedTuple):
    """What one survey tells of one bell and of the place it hangs in.

    Parameters
    ----------
    survey_id : str
        The survey.
    day : date
        The day whose state it tells: that of the visit; of a document, when it was written.
    kind : str
        ``visit`` or ``document``; only a visit inspected anything.
    entry : BellEntry
        The bell, as this survey saw it.
    tower : Tower
        The tower, as this survey saw it.
    frame : Frame or None
        The frame.
    hazards : tuple of Hazard
        Hazards of the place.
    assessments : tuple of Assessment
        The surveyor's own judgement of this bell, and of what belongs to the tower.
    not_inspected : tuple of NotInspected
        Parts of this bell or of the whole tower that could not be inspected.
    instruments : tuple of Instrument
        Instruments with their tolerances.
    """

    survey_id: str
    day: date
    kind: str
    entry: BellEntry
    tower: Tower
    frame: Frame | None = None
    hazards: tuple[Hazard, ...] = ()
    assessments: tuple[Assessment, ...] = ()
    not_inspected: tuple[NotInspected, ...] = ()
    instruments: tuple[Instrument, ...] = ()

    def tolerance_mm(self, kinds: Iterable[str]) -> float | None:
        """Give the largest error [mm] stated for instruments of these kinds; None where none is stated."""
        wanted = frozenset(kinds)
        stated = [
            each.tolerance_mm
            for each in self.instruments
            if each.kind in wanted and each.tolerance_mm is not None
        ]
        return max(stated, default=None)


History = tuple[BellSeen, ...]
"""What all surveys tell of one bell, the oldest first."""


def seen_in(survey: Survey) -> tuple[BellSeen, ...]:
    """Give what a survey tells of each of its bells."""
    visit = survey.survey
    day = date.fromisoformat(as_of(survey))
    return tuple(
        BellSeen(
            visit.id,
            day,
            visit.kind,
            entry,
            survey.tower,
            survey.frame,
            survey.hazards,
            tuple(
                each
                for each in survey.assessments
                if each.bell == entry.id or (each.bell is None and each.component in OF_THE_TOWER)
            ),
            tuple(each for each in visit.not_inspected if each.bell in (None, entry.id)),
            visit.instruments,
        )
        for entry in survey.bells
    )


def histories_of(surveys: Iterable[Survey]) -> dict[str, History]:
    """Give the history of every bell that some surveys name, by its id.

    Two surveys of one day stand in the order of their ids.
    """
    found: defaultdict[str, list[BellSeen]] = defaultdict(list)
    for survey in surveys:
        for seen in seen_in(survey):
            found[seen.entry.id].append(seen)
    return {
        bell_id: tuple(sorted(found[bell_id], key=lambda seen: (seen.day, seen.survey_id)))
        for bell_id in sorted(found)
    }


def visits_of(history: Sequence[BellSeen]) -> History:
    """Leave out the documents: someone who reads inspects nothing."""
    return tuple(seen for seen in history if seen.kind == "visit")


def newest_told(history: Sequence[BellSeen], read: Callable[[BellSeen], Any]) -> tuple[Any, BellSeen] | None:
    """Give the newest value that ``read`` finds, with the survey that tells it; None where no survey does."""
    for seen in reversed(history):
        value = read(seen)
        if value is not None:
            return value, seen
    return None


def identity_told(history: Sequence[BellSeen], field: str) -> str | None:
    """Give the newest word on what the bell is: ``material``, ``status``, ..."""
    told = newest_told(history, lambda seen: getattr(seen.entry.identity, field, None))
    return None if told is None else str(told[0])


def weighed_kg(history: Sequence[BellSeen]) -> tuple[float, BellSeen] | None:
    """Give the newest mass [kg] of the bell alone that does not rest on its sizes."""

    def mass(seen: BellSeen) -> float | None:
        sizes = seen.entry.dimensions
        if sizes is None or sizes.mass_basis not in WEIGHED or not BELL_ALONE.issuperset(sizes.mass_includes):
            return None
        return sizes.mass_kg

    return newest_told(history, mass)


def apart_deg(one_deg: float, other_deg: float) -> float:
    """Give the smaller angle between two bearings [deg], 0 to 180."""
    return abs((one_deg - other_deg + 180.0) % 360.0 - 180.0)
