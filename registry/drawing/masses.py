"""Mass against mouth diameter: the bells of a registry in the band that a law leaves open."""

from collections.abc import Iterator, Sequence
from math import ceil, floor, log10
from typing import NamedTuple

WIDTH, HEIGHT = 340.0, 270.0
LEFT, RIGHT, TOP, BASE = 66.0, 24.0, 12.0, 234.0

ROOM = 0.04
"""Free space at each end of an axis, in decades."""
NARROWEST = 0.3
"""An axis spans at least so many decades."""
FAINT_TO_BOLD = (1.0, 2.0, 5.0)
"""The round numbers of a decade that may be marked."""
CLOSEST = 26.0
"""Marks of an axis stand at least so far apart, in drawing units."""


class WeighedBell(NamedTuple):
    """A bell whose diameter [mm] and mass [kg] are on record; ``weighed`` where a scale told it."""

    name: str
    mouth_diameter_mm: float
    mass_kg: float
    weighed: bool


class BandPoint(NamedTuple):
    """What the law says of a diameter [mm]: the mass and the ends of its interval [kg]."""

    mouth_diameter_mm: float
    value_kg: float
    low_kg: float
    high_kg: float


class MarkedBell(NamedTuple):
    """The bell that the drawing is about; masses [kg], None where not known.

    ``estimate_kg`` with its interval is drawn as a bar, ``mass_kg`` as observed.
    """

    name: str
    mouth_diameter_mm: float
    mass_kg: float | None
    estimate_kg: float | None
    low_kg: float | None
    high_kg: float | None


class Dot(NamedTuple):
    """A bell in drawing units, with its words."""

    x: float
    y: float
    weighed: bool
    words: str


class Mark(NamedTuple):
    """A round number at its place on an axis."""

    at: float
    value: float


class MassDrawing(NamedTuple):
    """Both axes logarithmic. ``bar`` is the estimate of the marked bell: x, y, ends of its interval."""

    width: float
    height: float
    left: float
    base: float
    band: str
    middle: str
    dots: tuple[Dot, ...]
    seen: tuple[float, float] | None
    bar: tuple[float, float, float, float] | None
    diameters: tuple[Mark, ...]
    masses: tuple[Mark, ...]


class _Axis(NamedTuple):
    """A logarithmic axis from ``start`` to ``end`` in drawing units."""

    low: float
    high: float
    start: float
    end: float

    def at(self, value: float) -> float:
        share = (log10(value) - self.low) / (self.high - self.low)
        return round(self.start + share * (self.end - self.start), 1)

    def marks(self) -> Iterator[Mark]:
        """Give round numbers that do not crowd each other."""
        last = None
        for decade in range(floor(self.low), ceil(self.high) + 1):
            for step in FAINT_TO_BOLD:
                value = step * 10.0**decade
                if not self.low <= log10(value) <= self.high:
                    continue
                at = self.at(value)
                if last is None or abs(at - last) >= CLOSEST:
                    yield Mark(at, value)
                    last = at


def _axis(values: Sequence[float], start: float, end: float) -> _Axis:
    low, high = log10(min(values)) - ROOM, log10(max(values)) + ROOM
    more = max(NARROWEST - (high - low), 0.0) / 2.0
    return _Axis(low - more, high + more, start, end)


def mass_drawing(
    bells: Sequence[WeighedBell], band: Sequence[BandPoint], marked: MarkedBell | None = None
) -> MassDrawing | None:
    """Draw masses against diameters.

    Parameters
    ----------
    bells : sequence of WeighedBell
        The bells of the registry, all of one material.
    band : sequence of BandPoint
        What the law of this material says, by growing diameter; it is cut at the edges of the drawing.
    marked : MarkedBell, optional
        The bell that stands out.

    Returns
    -------
    MassDrawing or None
        None where there is nothing to compare: no bell, and no law.
    """
    diameters = [bell.mouth_diameter_mm for bell in bells]
    masses = [bell.mass_kg for bell in bells]
    if marked is not None:
        diameters.append(marked.mouth_diameter_mm)
        of_marked = (marked.mass_kg, marked.low_kg, marked.high_kg)
        masses += [kg for kg in of_marked if kg is not None]
    if not diameters or (not masses and not band):
        return None
    across = _axis(diameters, LEFT, WIDTH - RIGHT)
    inside = [point for point in band if across.low <= log10(point.mouth_diameter_mm) <= across.high]
    masses += [kg for point in inside for kg in (point.low_kg, point.high_kg)]
    up = _axis(masses, BASE, TOP)

    def line(points: Sequence[tuple[float, float]]) -> str:
        return "M" + "L".join(f"{across.at(mm)} {up.at(kg)}" for mm, kg in points) if points else ""

    low = [(point.mouth_diameter_mm, point.low_kg) for point in inside]
    high = [(point.mouth_diameter_mm, point.high_kg) for point in reversed(inside)]
    seen = bar = None
    if marked is not None:
        x = across.at(marked.mouth_diameter_mm)
        seen = (x, up.at(marked.mass_kg)) if marked.mass_kg is not None else None
        if marked.estimate_kg is not None and marked.low_kg is not None and marked.high_kg is not None:
            bar = (x, up.at(marked.estimate_kg), up.at(marked.low_kg), up.at(marked.high_kg))
    return MassDrawing(
        WIDTH,
        HEIGHT,
        LEFT,
        BASE,
        line(low + high) + "Z" if inside else "",
        line([(point.mouth_diameter_mm, point.value_kg) for point in inside]),
        tuple(
            Dot(across.at(bell.mouth_diameter_mm), up.at(bell.mass_kg), bell.weighed, bell.name)
            for bell in bells
        ),
        seen,
        bar,
        tuple(across.marks()),
        tuple(up.marks()),
    )
