"""Quantities: a field's unit is the last part of its name, and a bare number is in that unit."""

from registry.units.reading import QuantityError, read_quantity
from registry.units.tables import FIELD_UNITS, FieldUnit
from registry.units.writing import format_estimate, format_quantity, unit_of

__all__ = [
    "FIELD_UNITS",
    "FieldUnit",
    "QuantityError",
    "format_estimate",
    "format_quantity",
    "read_quantity",
    "unit_of",
]
