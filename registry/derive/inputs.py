"""What an estimate may be asked: the ranges of the form, and the words of its vocabularies."""

import math
from functools import cache
from typing import Any

from registry.model.bell import Dimensions, Partial, Sound
from registry.model.condition import StrikePoint
from registry.model.fields import Quantity, section_fields
from registry.model.vocabulary import vocabulary

RANGE_OF_FORM: dict[str, type[Any]] = {
    "mouth_diameter_mm": Dimensions,
    "mass_kg": Dimensions,
    "soundbow_thickness_mm": Dimensions,
    "strike_hz": Sound,
    "frequency_hz": Partial,
    "pit_depth_mm": StrikePoint,
    "thickness_at_pit_mm": StrikePoint,
    "thickness_beside_mm": StrikePoint,
}
"""The section of the form whose field has this name: outside its range no bell can be."""


@cache
def range_of(field: str) -> tuple[float, float]:
    """Give the lowest and highest value the form accepts for a quantity, in the unit of its name."""
    section: Any = RANGE_OF_FORM[field]
    kind = next(each.kind for each in section_fields(section) if each.name == field)
    if not isinstance(kind, Quantity):
        raise TypeError(f"{field} is no quantity")
    return kind.low, kind.high


def checked(name: str, value: float, field: str | None = None) -> float:
    """Give ``value`` back if a bell can have it.

    Parameters
    ----------
    name : str
        What the caller calls the value, for the message; with its unit.
    value : float
        The value, in the unit of ``field``.
    field : str, optional
        Field of the form whose range holds; ``name`` unless given.

    Raises
    ------
    ValueError
        When the value is no finite number or lies outside the range of the form.
    """
    low, high = range_of(field or name)
    if not (math.isfinite(value) and low <= value <= high):
        raise ValueError(f"{name} must be a number from {low:g} to {high:g}, not {value!r}")
    return float(value)


def checked_term(name: str, word: str | None) -> str:
    """Give a word of the vocabulary ``name`` back; ``"unknown"`` for None.

    Raises
    ------
    ValueError
        When the vocabulary has no such word.
    """
    if word is None:
        return "unknown"
    terms = vocabulary(name).terms
    if word not in terms:
        raise ValueError(f"{name} must be one of {', '.join(terms)}, not {word!r}")
    return word
