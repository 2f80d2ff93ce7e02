"""A bell of the registry as it can speak for others, or ask them."""

from collections.abc import Mapping
from typing import Any, NamedTuple


class Tolerances(NamedTuple):
    """How far the readings of a bell can be trusted: half-widths of 90 % intervals; 0 for exact.

    ``strike_cents`` holds what a note without its deviation, or without its reference pitch, leaves open.
    """

    mouth_diameter_mm: float = 0.0
    strike_cents: float = 0.0
    soundbow_thickness_mm: float = 0.0

    def of(self, given: Mapping[str, Any]) -> dict[str, float]:
        """Give the tolerances of the inputs that are given, by names that end in their units."""
        named = {
            "mouth_diameter_mm": ("mouth_diameter_tolerance_mm", self.mouth_diameter_mm),
            "strike_hz": ("strike_tolerance_cents", self.strike_cents),
            "soundbow_thickness_mm": ("soundbow_tolerance_mm", self.soundbow_thickness_mm),
        }
        return {name: value for field, (name, value) in named.items() if field in given and value}


EXACT = Tolerances()
"""Readings that are trusted fully."""


class KnownBell(NamedTuple):
    """A bell of the registry as it can speak for others, or ask them.

    Parameters
    ----------
    bell_id : str
        Its id.
    founder : str
        The founder's id or name; empty where nobody knows.
    tower : str
        The tower it was cast for, or hangs in.
    cast_year : int or None
        Year of casting, the middle one of those it may be.
    mouth_diameter_mm : float
        Outer diameter at the lip [mm].
    strike_hz : float or None
        Strike note [Hz].
    mass_kg : float or None
        Mass from a scale or a founder's record, the bell alone [kg]; None where it was never weighed.
    mass_tolerance_kg : float or None
        Half-width of the 90 % interval of the mass [kg]; None where its round figures must tell.
    tolerances : Tolerances
        How far the other readings can be trusted.
    """

    bell_id: str
    founder: str
    tower: str
    cast_year: int | None
    mouth_diameter_mm: float
    strike_hz: float | None = None
    mass_kg: float | None = None
    mass_tolerance_kg: float | None = None
    tolerances: Tolerances = EXACT
