"""What the computations take of one bell, and what they give back."""

from typing import Any, NamedTuple

from registry.model.bell import ProfilePoint
from registry.model.derived import Derived
from registry.model.known_bell import KnownBell


class Told(NamedTuple):
    """A value with the survey that tells it."""

    value: Any
    survey_id: str


class HeardSound(NamedTuple):
    """The partials of one survey.

    ``tolerance_hz`` is the largest error of a reading that the survey states for its instruments.
    """

    survey_id: str
    partials_hz: dict[str, float]
    strike_hz: float | None
    tolerance_hz: float | None


class StruckPoint(NamedTuple):
    """One strike point of one survey; ``tolerance_mm`` as the survey states it for thickness or depth."""

    survey_id: str
    number: int
    thickness_at_pit_mm: float | None
    thickness_beside_mm: float | None
    pit_depth_mm: float | None
    tolerance_mm: float | None


class MeasuredSection(NamedTuple):
    """The section of a bell as one survey measured it, with the largest errors of its instruments."""

    survey_id: str
    points: tuple[ProfilePoint, ...]
    head_thickness_mm: float | None = None
    crown_kind: str | None = None
    outside_tolerance_mm: float | None = None
    thickness_tolerance_mm: float | None = None


class DatedText(NamedTuple):
    """A text on the bell that may state a date.

    ``subject`` is ``cast-text`` or ``inscription:1``; ``seen_year`` that of the survey, which no date can be
    later than; ``year_begins`` as the survey tells it.
    """

    subject: str
    survey_id: str
    text: str
    seen_year: int
    year_begins: str | None = None


class BellFacts(NamedTuple):
    """The newest value of each fact of a bell, and the single surveys where growth or wear shows.

    ``mass_kg`` is a mass as stated, with ``mass_basis`` how it was obtained. ``strike_hz`` was measured or
    follows from the note written down; ``nominal_hz`` is the partial of that name. ``kin`` tells where the
    bell comes from and how far its readings can be trusted; its mass is one that can speak for others.
    """

    bell_id: str
    material: Told | None = None
    profile_class: Told | None = None
    mouth_diameter_mm: Told | None = None
    mass_kg: Told | None = None
    mass_basis: str | None = None
    strike_hz: Told | None = None
    nominal_hz: Told | None = None
    cast_date: Told | None = None
    sounds: tuple[HeardSound, ...] = ()
    strike_points: tuple[StruckPoint, ...] = ()
    soundbow_thickness_mm: Told | None = None
    section: MeasuredSection | None = None
    kin: KnownBell | None = None
    texts: tuple[DatedText, ...] = ()


class Computed(NamedTuple):
    """A computed value of a bell.

    ``subject`` is ``bell``, ``partial:hum``, ``strike-point:1``, ``cast-text`` or ``inscription:1``;
    ``rank`` 1 marks the method to prefer where several give one quantity; ``survey_id`` is None where the
    inputs come from several surveys.
    """

    subject: str
    survey_id: str | None
    rank: int
    derived: Derived
