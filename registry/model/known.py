"""What earlier surveys say of a tower and its bells, as a new form is prepared to follow it up."""

from collections.abc import Mapping
from typing import NamedTuple

GONE = frozenset({"moved", "requisitioned", "lost", "stolen", "destroyed", "recast"})
"""Words of ``bell_status`` for a bell that no longer is in its tower."""


class KnownValue(NamedTuple):
    """The newest value of one field, with the survey it comes from.

    ``text`` is what a form would hold: as the surveyor wrote it (``46 1/2 in``), or the code of a term; the
    values of a list are joined by ``", "``. It never carries a value that was derived.
    """

    text: str
    survey_id: str
    survey_date: str


KnownFields = Mapping[str, KnownValue]
"""The values of one section or of one item of a list, by field name; fields never filled are absent."""


class KnownBell(NamedTuple):
    """One bell that belongs to the tower, present or gone.

    ``sections`` holds the single sections by their key on the form (identity, dimensions, sound, crown,
    clapper, fittings, ringing). ``numbered`` holds the lists whose items keep their number at every visit
    (inscriptions, strike_points, cracks): by key, then by number.
    """

    id: str
    name: str | None
    sections: Mapping[str, KnownFields] = {}
    numbered: Mapping[str, Mapping[int, KnownFields]] = {}


class KnownTower(NamedTuple):
    """A tower as the registry knows it, newest value by newest value.

    ``sections`` holds ``tower`` and ``frame``. ``hazards`` and ``not_inspected`` are those of the newest
    visit that names any. ``bells`` stand in the order of the ring, bells without a position last.
    """

    id: str
    name: str
    place: str
    sections: Mapping[str, KnownFields] = {}
    hazards: tuple[KnownFields, ...] = ()
    not_inspected: tuple[KnownFields, ...] = ()
    bells: tuple[KnownBell, ...] = ()
