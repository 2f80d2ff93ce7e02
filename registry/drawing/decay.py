"""How long each partial rings: a bar a partial, with the interval of its end."""

from collections.abc import Sequence
from typing import NamedTuple

WIDTH = 340.0
LEFT, RIGHT, TOP, ROW = 104.0, 16.0, 12.0, 22.0
STEPS = (0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0, 500.0)
"""Seconds between the lines of the grid."""


class Ring(NamedTuple):
    """A partial and the time it takes to fall by 60 dB [s]; ``t60_s`` is None where only a bound is known."""

    name: str
    t60_s: float | None
    low_s: float | None
    high_s: float | None


class DecayRow(NamedTuple):
    """A partial in drawing units. ``open`` says that it rings longer than the bar."""

    name: str
    y: float
    end_x: float
    low_x: float | None
    high_x: float | None
    open: bool


class DecayDrawing(NamedTuple):
    """One row a partial; ``marks`` are the lines of the grid with their seconds."""

    width: float
    height: float
    left: float
    base: float
    rows: tuple[DecayRow, ...]
    marks: tuple[tuple[float, float], ...]


def decay_drawing(rings: Sequence[Ring]) -> DecayDrawing | None:
    """Draw how long partials ring, in the order given; None where of none anything is known."""
    told = [ring for ring in rings if _end(ring) > 0.0]
    if not told:
        return None
    longest = max(max(_end(ring), ring.high_s or 0.0) if ring.t60_s else _end(ring) for ring in told)
    step = next((step for step in STEPS if longest <= 5.0 * step), STEPS[-1])
    count = int(longest // step) + 1
    room = WIDTH - LEFT - RIGHT

    def at(seconds: float) -> float:
        return round(LEFT + seconds / (count * step) * room, 1)

    base = TOP + ROW * len(told)
    rows = tuple(
        DecayRow(
            ring.name,
            round(TOP + ROW * (place + 0.5), 1),
            at(_end(ring)),
            at(ring.low_s) if ring.t60_s and ring.low_s is not None else None,
            at(ring.high_s) if ring.t60_s and ring.high_s is not None else None,
            ring.t60_s is None,
        )
        for place, ring in enumerate(told)
    )
    marks = tuple((at(number * step), number * step) for number in range(count + 1))
    return DecayDrawing(WIDTH, base + 38.0, LEFT, base, rows, marks)


def _end(ring: Ring) -> float:
    return ring.t60_s or ring.low_s or 0.0
