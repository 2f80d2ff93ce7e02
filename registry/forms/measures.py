"""Quantities and whole numbers read from a form, with advice on those that no bell can have."""

import re
from collections.abc import Callable

from registry.forms.finding import FormValueError
from registry.forms.shown import shown
from registry.model.fields import Quantity, Whole
from registry.units import FIELD_UNITS, read_quantity

_PLAIN_START = re.compile(r"[+-]?[0-9]{1,9}(?:\.[0-9]{1,9})?(?![0-9./-])").match
_PLAIN = re.compile(r"[+-]?[0-9]{1,9}(?:\.[0-9]{1,9})?").fullmatch
_WHOLE = re.compile(r"[+-]?(?:0|[1-9][0-9]{0,8})").fullmatch


def quantity_reader(kind: Quantity) -> Callable[[str], float]:
    """Read a number in the unit of the field, and refuse what no bell can have."""
    unit, low, high = kind.unit, kind.low, kind.high
    # Most readings are plain numbers with the field's own unit: what read_quantity gives too, but slowly.
    symbol = re.escape(FIELD_UNITS[unit].symbol)
    plain = re.compile(rf"([+-]?(?:0|[1-9][0-9]{{0,9}})(?:\.[0-9]{{1,9}})?) {symbol}").fullmatch

    def read(text: str) -> float:
        own = plain(text)
        value = float(own[1]) + 0.0 if own else read_quantity(text, unit)
        if low <= value <= high:
            return value
        raise FormValueError(
            "out-of-range",
            range_of(low, high, unit),
            _slip(text, value, kind),
            quantity_read(text, value, unit),
        )

    return read


def range_of(low: float, high: float, unit: str) -> str:
    """Write a range with its unit: ``50 to 6700 mm``."""
    return with_unit(f"{low:.10g} to {high:.10g}", unit)


def with_unit(number: str, unit: str) -> str:
    """Write a number with the symbol of its unit."""
    return f"{number}{'' if unit == 'deg' else ' '}{FIELD_UNITS[unit].symbol}".rstrip()


def quantity_read(text: str, value: float, unit: str) -> str:
    """Write a quantity as read: with the field's unit if none was written, else with the value it gives."""
    text = text.strip()
    if _PLAIN(text):
        return with_unit(text, unit)
    converted = with_unit(f"{value:.8g}", unit)
    same = text.replace(" ", "") == converted.replace(" ", "")
    return shown(text) if same else f"{shown(text)} ({converted})"


_OTHER_UNITS = {"mm": ("cm", "m", "in", "ft"), "kg": ("t", "cwt", "lb", "g"), "hz": ("kHz",), "c": ("°F",)}
"""By unit of the field, units that people write without naming them."""


def _slip(text: str, value: float, kind: Quantity) -> str:
    """Say what a value out of range may have been: another unit, or a point that slipped."""
    low, high = kind.usual or (kind.low, kind.high)
    plain = "check the reading; write it with the unit you read"
    if kind.unit not in _OTHER_UNITS:
        return plain
    number = _PLAIN_START(text)
    if number is None:
        return plain
    bare = number[0]
    if bare != text:
        meant = [with_unit(bare, kind.unit)] if low <= float(bare) <= high else []
    else:
        units = [f"{bare} {unit}" for unit in _OTHER_UNITS[kind.unit]]
        meant = [one for one in units if low <= read_quantity(one, kind.unit) <= high]
    if meant:
        return f"check the unit; write the unit you read, e.g. {' or '.join(meant)}"
    for factor in (0.1, 10.0, 0.01, 100.0, 0.001, 1000.0):
        if low <= value * factor <= high and kind.unit != "c":
            return f"check the digits and the unit, e.g. {with_unit(f'{value * factor:.6g}', kind.unit)}"
    return plain


def whole_reader(kind: Whole) -> Callable[[str], int]:
    """Read a count or a grade."""
    low, high = kind.low, kind.high
    expected = f"a whole number from {low} to {high}"

    def read(text: str) -> int:
        if _WHOLE(text):
            value = int(text)
            if low <= value <= high:
                return value
            raise FormValueError("out-of-range", expected, "check the number")
        if re.fullmatch("[+-]?[0-9]+", text):
            plain = text.lstrip("+-")
            if plain.startswith("0") and len(plain) < 10:
                raise FormValueError(
                    "ambiguous-number", expected, f"write {int(plain)}, without the leading zero"
                )
            raise FormValueError("out-of-range", expected, "check the number")
        if re.fullmatch(r"[+-]?[0-9]{1,9}\.[0-9]{1,9}", text):
            raise FormValueError(
                "not-whole", expected, "write a whole number; what lies between goes in the remarks"
            )
        raise FormValueError("not-a-number", expected, "write the number alone; words belong in the remarks")

    return read
