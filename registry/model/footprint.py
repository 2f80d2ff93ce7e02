"""What the rules across surveys need to know of one survey, from a form or from the registry."""

from typing import NamedTuple

from registry.model.life import Happening


class BellFootprint(NamedTuple):
    """One bell of one survey. ``line`` and ``column`` are those of its ``id`` in the form."""

    bell_id: str
    line: int
    column: int
    mouth_diameter_mm: float | None
    diameter_tolerance_mm: float | None
    material: str | None
    came_from_elsewhere: bool
    """True where an event (moved, returned, sold, found, hung...) explains another tower."""
    crack_numbers: tuple[int, ...]
    """Numbers of its cracks in state suspected or confirmed."""
    cracks_mentioned: tuple[int, ...]
    """Numbers of all its crack entries."""
    cracks_told: bool
    """True where the survey says anything on cracks of this bell."""
    gone: bool
    """True where its status says that it no longer is in the tower."""
    cast_date: str = ""
    happenings: tuple[Happening, ...] = ()


class Footprint(NamedTuple):
    """One survey. ``line`` and ``column`` are those of its ``id`` in the form."""

    file: str
    line: int
    column: int
    survey_id: str
    kind: str
    date: str
    surveyors: tuple[str, ...]
    tower_id: str
    latitude_deg: float | None
    longitude_deg: float | None
    bells: tuple[BellFootprint, ...]
    accuracy_m: float | None = None
