"""The bells of a ring held against a scale: how far each lies from its place, in cents, with its interval."""

from collections.abc import Sequence
from typing import NamedTuple

WIDTH = 340.0
LEFT, RIGHT, TOP, ROW = 108.0, 14.0, 30.0, 26.0
LONGEST_NAME = 14
STEPS = (1, 2, 5, 10, 20, 50, 100, 200, 500, 1000)
"""Cents between the lines of the grid."""


class TunedBell(NamedTuple):
    """A bell, its note in the ring, and how far it lies from it [cents] with the ends of the interval."""

    name: str
    note: str
    value_cents: float
    low_cents: float
    high_cents: float


class TuningRow(NamedTuple):
    """One bell in drawing units. ``label`` is its name, cut where it is long."""

    label: str
    note: str
    y: float
    x: float
    low_x: float
    high_x: float


class TuningDrawing(NamedTuple):
    """One row a bell; ``marks`` are the lines of the grid with their cents, ``zero_x`` the scale itself."""

    width: float
    height: float
    left: float
    base: float
    rows: tuple[TuningRow, ...]
    marks: tuple[tuple[float, int], ...]
    zero_x: float


def tuning_drawing(bells: Sequence[TunedBell]) -> TuningDrawing | None:
    """Draw the deviations of a ring, its bells in the order given; None without a bell."""
    if not bells:
        return None
    widest = max(max(abs(bell.low_cents), abs(bell.high_cents), 1.0) for bell in bells)
    step = next((step for step in STEPS if widest <= 2 * step), STEPS[-1])
    reach = -(-widest // step) * step
    room = WIDTH - LEFT - RIGHT

    def at(cents: float) -> float:
        return round(LEFT + (cents + reach) / (2.0 * reach) * room, 1)

    base = TOP + ROW * len(bells)
    count = round(reach / step)
    return TuningDrawing(
        WIDTH,
        base + 24.0,
        LEFT,
        base,
        tuple(
            TuningRow(
                _label(bell.name),
                bell.note,
                TOP + ROW * (place + 0.5),
                at(bell.value_cents),
                at(bell.low_cents),
                at(bell.high_cents),
            )
            for place, bell in enumerate(bells)
        ),
        tuple((at(number * step), number * step) for number in range(-count, count + 1)),
        at(0.0),
    )


def _label(name: str) -> str:
    return name if len(name) <= LONGEST_NAME else name[: LONGEST_NAME - 1].rstrip() + "…"
