"""The general form of a bell, scaled to the sizes that were measured: for drawings, never for a computation.

Sizes that no one measured are assumed from the mouth diameter d, and every drawing says which.
"""

from itertools import pairwise
from math import cos, hypot, pi, sin
from typing import NamedTuple

Point = tuple[float, float]

HEIGHT_RATIO = 0.8
"""Height to mouth diameter. Common practice, no source."""
SHOULDER_RATIO = 0.5
"""Shoulder to mouth diameter. Knight's Encyclopaedia, 1854; Meyers Konversations-Lexikon, 4th edition."""
SOUNDBOW_RATIO = 1 / 13
"""Sound-bow thickness to mouth diameter, larger bells. Denison."""
WAIST_RATIO = 1 / 3
"""Waist thickness to sound-bow thickness. Common practice, no source."""

STEPS = 48
HEAD_STEPS = 12
HEAD_RATIO = 0.05
"""Rise of the head above the shoulder, to mouth diameter; of the drawing only."""


class Size(NamedTuple):
    """One length of the drawing, and whether someone measured it."""

    value_mm: float
    measured: bool


class Sizes(NamedTuple):
    """The lengths that give a bell its outline and its wall."""

    mouth_diameter: Size
    height: Size
    shoulder_diameter: Size
    soundbow_thickness: Size
    waist_thickness: Size


def sizes_from(
    mouth_diameter_mm: float,
    height_mm: float | None = None,
    shoulder_diameter_mm: float | None = None,
    soundbow_thickness_mm: float | None = None,
    waist_thickness_mm: float | None = None,
) -> Sizes:
    """Take the measured sizes and assume the others from the mouth diameter.

    Parameters
    ----------
    mouth_diameter_mm, height_mm, shoulder_diameter_mm, soundbow_thickness_mm, waist_thickness_mm : float
        Lengths [mm]; None where not measured.
    """

    def given_or(value: float | None, assumed: float) -> Size:
        return Size(assumed, measured=False) if value is None else Size(value, measured=True)

    soundbow = given_or(soundbow_thickness_mm, mouth_diameter_mm * SOUNDBOW_RATIO)
    return Sizes(
        Size(mouth_diameter_mm, measured=True),
        given_or(height_mm, mouth_diameter_mm * HEIGHT_RATIO),
        given_or(shoulder_diameter_mm, mouth_diameter_mm * SHOULDER_RATIO),
        soundbow,
        given_or(waist_thickness_mm, soundbow.value_mm * WAIST_RATIO),
    )


def outside(sizes: Sizes) -> list[Point]:
    """Give the outer contour of one half as (radius, height above the lip) [mm], from lip to shoulder."""
    lip, shoulder = sizes.mouth_diameter.value_mm / 2, sizes.shoulder_diameter.value_mm / 2
    height = sizes.height.value_mm
    points = []
    for step in range(STEPS + 1):
        part = step / STEPS
        flare = 0.9 * (1 - part) ** 2.3 + 0.1 * (1 - part)
        points.append((shoulder + (lip - shoulder) * flare, height * part))
    return points


def head(sizes: Sizes) -> list[Point]:
    """Give the contour of the head from the shoulder to the axis."""
    shoulder, height = sizes.shoulder_diameter.value_mm / 2, sizes.height.value_mm
    rise = sizes.mouth_diameter.value_mm * HEAD_RATIO
    return [
        (shoulder * cos(angle) ** 0.4 if step < HEAD_STEPS else 0.0, height + rise * sin(angle))
        for step in range(1, HEAD_STEPS + 1)
        for angle in (pi / 2 * step / HEAD_STEPS,)
    ]


def inside(sizes: Sizes) -> list[Point]:
    """Give the inner contour from lip to shoulder: the outer one less the wall, across the wall."""
    outer = outside(sizes)
    return offset(outer, [wall_at(height, sizes) for _, height in outer])


def offset(outer: list[Point], walls: list[float]) -> list[Point]:
    """Give the inner contour: the outer one moved in by the wall [mm] at each point, square to it."""
    points = []
    for index, ((radius, height), wall) in enumerate(zip(outer, walls, strict=True)):
        before, after = outer[max(index - 1, 0)], outer[min(index + 1, len(outer) - 1)]
        along = (after[0] - before[0], after[1] - before[1])
        length = hypot(*along) or 1.0
        points.append((max(radius - wall * along[1] / length, 0.0), height + wall * along[0] / length))
    # Across the lip the wall would reach below the plane of the lip: cut it there.
    above = next((index for index, (_, height) in enumerate(points) if height > 0), len(points) - 1)
    return [(points[above][0], 0.0), *points[above:]]


def inner_head(sizes: Sizes) -> list[Point]:
    """Give the inner contour of the head from the shoulder to the axis."""
    wall, height = sizes.waist_thickness.value_mm * 1.2, sizes.height.value_mm
    inner = sizes.shoulder_diameter.value_mm / 2 - sizes.waist_thickness.value_mm
    rise = sizes.mouth_diameter.value_mm * HEAD_RATIO - wall
    return [
        (max(inner, 0.0) * cos(angle) ** 0.4 if step < HEAD_STEPS else 0.0, height + rise * sin(angle))
        for step in range(1, HEAD_STEPS + 1)
        for angle in (pi / 2 * step / HEAD_STEPS,)
    ]


def wall_at(height_mm: float, sizes: Sizes) -> float:
    """Give the thickness of the wall [mm] at a height above the lip [mm]: thin lip, sound-bow, waist."""
    soundbow, waist = sizes.soundbow_thickness.value_mm, sizes.waist_thickness.value_mm
    unit = min(soundbow, sizes.height.value_mm / 8)
    knots = ((0.0, soundbow * 0.3), (1.1 * unit, soundbow), (4.6 * unit, waist))
    if height_mm >= knots[-1][0]:
        return waist
    (low, wall_below), (high, wall_above) = next(pair for pair in pairwise(knots) if height_mm <= pair[1][0])
    blend = (1 - cos(pi * (height_mm - low) / (high - low))) / 2
    return wall_below + (wall_above - wall_below) * blend


class Place(NamedTuple):
    """Where a bell lies in its drawing.

    ``scale`` is in drawing units per millimetre; ``axis_x`` and ``lip_y`` are its axis and the plane of the
    lip.
    """

    scale: float
    axis_x: float
    lip_y: float

    def at(self, radius_mm: float, height_mm: float) -> Point:
        """Give the place of a point of the right half."""
        return self.axis_x + radius_mm * self.scale, self.lip_y - height_mm * self.scale

    def path(self, points: list[Point], *, mirrored: bool = False) -> str:
        """Write points as the inside of an SVG path, ``x,y x,y ...``, of the left half if mirrored."""
        side = -1 if mirrored else 1
        places = (self.at(side * radius, height) for radius, height in points)
        return " ".join(f"{x:.1f},{y:.1f}" for x, y in places)
