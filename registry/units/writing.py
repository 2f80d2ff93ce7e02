"""Write quantities for people, and find the unit in a field's name."""

from math import floor, log10

from registry.units.tables import FIELD_UNITS


def format_quantity(value: float, unit: str, significant: int | None = None) -> str:
    """Write a quantity for people: ``1 180 mm``, ``−12.5 cents``, ``0.85 %``.

    Thousands are set off by a narrow space, the decimal mark is a point (International System of Units
    brochure, 9th edition, 5.4.4), and nothing breaks across lines.

    Parameters
    ----------
    value : float
        The value in ``unit``.
    unit : str
        One of `FIELD_UNITS`.
    significant : int, optional
        Round to so many significant digits instead of the decimals usual for the unit.
    """
    field = FIELD_UNITS[unit]
    size = abs(value)
    exponent = int(f"{size:e}".partition("e")[2])
    if significant is not None:
        decimals = significant - 1 - exponent
    elif 0 < size < 1:
        decimals = max(field.decimals, 1 - exponent)
    else:
        decimals = field.decimals
    digits = f"{round(size, decimals):,.{max(decimals, 0)}f}" if -6 <= exponent <= 15 else f"{size:.2e}"
    if "." in digits and "e" not in digits:
        digits = digits.rstrip("0").rstrip(".")
    digits = digits.replace(",", "\u202f")
    sign = "\u2212" if value < 0 and digits != "0" else ""
    gap = "" if unit == "deg" or not field.symbol else "\u00a0"
    return f"{sign}{digits}{gap}{field.symbol}"


def format_estimate(
    value: float | None, unit: str, low: float | None = None, high: float | None = None
) -> str:
    """Write a computed value, rounded to what its interval bears: about a hundredth of its width.

    A value without interval gets three digits, a year is written whole, and nothing gives an empty text.
    """
    if value is None:
        return ""
    if unit == "year":
        return f"{value:.0f}"
    unit = unit if unit in FIELD_UNITS else "number"
    if low is None or high is None or high <= low:
        return format_quantity(value, unit, 3)
    step = 10.0 ** (floor(log10(high - low)) - 1)
    rounded = round(value / step) * step
    return format_quantity(rounded, unit, max(1, floor(log10(abs(rounded) / step)) + 1) if rounded else None)


def unit_of(name: str) -> str | None:
    """Find the unit that ends a field's name: ``"kg_m3"`` for ``density_kg_m3``, None where there is none."""
    parts = name.split("_")
    endings = ("_".join(parts[start:]) for start in range(1, len(parts)))
    return next((ending for ending in endings if ending in FIELD_UNITS), None)
