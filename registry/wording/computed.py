"""Computed values as a page shows them: interval, method, inputs, source, and apart from the observed."""

from collections.abc import Mapping, Sequence
from typing import Any, NamedTuple

from registry.drawing.bars import IntervalDrawing, interval_drawing
from registry.store.pages import Row
from registry.units import FIELD_UNITS, format_estimate, unit_of
from registry.wording.words import heading, label, plain_number, quantity

OBSERVED_TWIN = {"mass_kg": "mass_kg", "strike_hz": "strike_hz"}
"""Computed quantities and the column of ``bell_current`` that holds the same as observed."""


class Estimate(NamedTuple):
    """One computed value in words. ``observed`` is the same quantity as observed, where it was."""

    quantity: str
    name: str
    value: str
    interval: str
    method: str
    version: int
    inputs: list[tuple[str, str]]
    source: str
    note: str
    survey_id: str | None
    drawing: IntervalDrawing | None
    drawing_words: str
    observed: str


class EstimateGroup(NamedTuple):
    """One quantity: the preferred method, and the others."""

    main: Estimate
    others: list[Estimate]


def estimates_of(derived: Sequence[Row], current: Mapping[str, Any]) -> list[EstimateGroup]:
    """Group what is computed of the bell itself by quantity, the preferred method first."""
    groups: dict[str, list[Estimate]] = {}
    for row in sorted(derived, key=lambda row: row["rank"]):
        if row["subject"] == "bell":
            groups.setdefault(row["quantity"], []).append(_estimate(row, current))
    return [EstimateGroup(found[0], found[1:]) for found in groups.values()]


def by_subject(derived: Sequence[Row], kind: str) -> dict[tuple[str, str | None], Estimate]:
    """Give what is computed of strike points or partials, by their number or name and the survey.

    Parameters
    ----------
    kind : str
        ``"strike-point"`` or ``"partial"``.
    """
    return {
        (row["subject"].partition(":")[2], row["survey_id"]): _estimate(row, {})
        for row in derived
        if row["subject"].startswith(f"{kind}:") and row["rank"] == 1
    }


def _estimate(row: Row, current: Mapping[str, Any]) -> Estimate:
    observed = current.get(OBSERVED_TWIN.get(row["quantity"], ""))
    value = format_estimate(row["value"], row["unit"], row["low"], row["high"])
    interval = _interval(row)
    seen = quantity(observed, row["unit"]) if observed is not None else ""
    about = f"about {value}" if value else "no single value"
    words = f"{label(row['quantity'])}: {about}, {interval or 'no interval'}"
    return Estimate(
        row["quantity"],
        heading(label(row["quantity"])),
        value,
        interval,
        row["method"].replace("-", " "),
        row["version"],
        [(label(name), _input(name, given)) for name, given in row["inputs"].items()],
        row["source"],
        row["note"],
        row["survey_id"],
        None if row["unit"] == "year" else _drawing(row, observed),
        words + (f"; observed {seen}" if seen else ""),
        seen,
    )


def _drawing(row: Row, observed: float | None) -> IntervalDrawing | None:
    """Draw the interval, its ends named as in the words beside it."""
    low, high = row["low"], row["high"]
    drawing = interval_drawing(row["value"], low, high, observed)
    first, last = (format_estimate(end, "number", low, high) for end in (low, high))
    return drawing._replace(low_label=first, high_label=last) if drawing else None


def _interval(row: Row) -> str:
    """Word the interval: from, to, and how sure it is."""
    low, high = row["low"], row["high"]
    if low is None and high is None:
        return ""
    if row["unit"] == "year" and low == high:
        return ""
    first, last = (format_estimate(end, row["unit"], low, high) for end in (low, high))
    sure = "certain bounds" if row["level"] == 1 else f"{row['level']:.0%} interval"
    if low is None or high is None:
        return f"at most {last} ({sure})" if low is None else f"at least {first} ({sure})"
    return f"{first} to {last} ({sure})"


def _input(name: str, value: Any) -> str:
    unit = unit_of(name)
    if isinstance(value, int | float) and not isinstance(value, bool):
        return quantity(value, unit) if unit in FIELD_UNITS else plain_number(value)
    return str(value)
