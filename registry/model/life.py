"""What surveys tell of the life of one bell, and the stays that follow from it."""

from typing import NamedTuple

from registry.model.edtf import EdtfError, parse_edtf
from registry.model.validity import Validity, of_date


class Happening(NamedTuple):
    """An event as one survey tells it; ``date`` is EDTF, empty where nobody knows when."""

    kind: str
    date: str = ""
    tower: str = ""
    other_bell: str = ""
    certainty: str = ""


class Sighting(NamedTuple):
    """A survey that has the bell: the day whose state it tells, where, in which state, and what happened.

    ``told_on`` is the day of the visit, or that on which a document was read: what happened may lie after the
    day of the document. ``cast_date`` is EDTF, empty where it tells none; ``status`` is empty likewise.
    """

    survey_id: str
    day: str
    told_on: str
    tower_id: str
    status: str = ""
    cast_date: str = ""
    happenings: tuple[Happening, ...] = ()


class Stay(NamedTuple):
    """A time that a bell spent in one place or state.

    It began between ``from_earliest`` and ``from_latest`` and ended between ``until_earliest`` and
    ``until_latest``: days, ISO 8601. A first day that is None is not known; an end that is None is not told,
    as for the stay that lasts.

    ``state`` is ``there`` for a tower, ``unknown`` where nobody tells the place, else the word of
    ``bell_status`` or ``event_kind`` that took the bell away; ``tower_id`` is empty but for ``there``.
    ``survey_id`` tells of it first; ``presumed`` says that it does so by telling what came after.
    """

    state: str
    tower_id: str
    from_earliest: str | None
    from_latest: str
    until_earliest: str | None
    until_latest: str | None
    survey_id: str
    presumed: bool = False

    def certainly_in(self, time: Validity) -> bool:
        """Say whether the stay must have a day in common with a time that is closed at both ends."""
        first, last = time
        begun = last is None or self.from_latest <= last
        return begun and (self.until_earliest is None or first is None or self.until_earliest >= first)

    def possibly_in(self, time: Validity) -> bool:
        """Say whether the stay can have a day in common with a time."""
        return Validity(self.from_earliest, self.until_latest).overlaps(time)


def days_of(text: str) -> Validity:
    """Give the days an EDTF expression spans; open at both ends where it is empty or beyond year 9999."""
    if not text:
        return Validity()
    try:
        return of_date(parse_edtf(text))
    except EdtfError:
        return Validity()
