"""The volume of metal in a bell: a solid of revolution between its outside and its inside.

The outside is measured, the inside follows from the thickness of the wall square to it. For straight lines
between the points the volume is exact: each sweeps the frustum of a cone.

References
----------
Pappus of Alexandria, second centroid theorem. F. N. Fritsch and J. Butland, A method for constructing local
monotone piecewise cubic interpolants, SIAM J. Sci. Stat. Comput. 5 (1984) 300-304 (as SciPy's pchip has it).
"""

import math
from collections.abc import Sequence
from itertools import pairwise

from registry.model.bell import ProfilePoint

PIECES = 12
"""Straight pieces for which each stretch of the smooth curve stands."""

Point = tuple[float, float]
"""Radius and height above the lip [m]."""


def volume_m3(
    profile: Sequence[ProfilePoint], head_thickness_mm: float | None = None, *, smooth: bool = True
) -> float:
    """Give the volume of metal between outside and inside, head included [m³].

    Parameters
    ----------
    profile : sequence of ProfilePoint
        From the lip upwards, at least two points, at least one with its thickness.
    head_thickness_mm : float, optional
        Thickness of the head [mm]; that of the last wall unless given.
    smooth : bool
        Join the points by a smooth curve, else by straight lines.
    """
    outside = [(point.diameter_mm / 2000.0, point.height_mm / 1000.0) for point in profile]
    along = _lengths(outside)
    walls = [
        (place, point.thickness_mm / 1000.0)
        for place, point in zip(along, profile, strict=True)
        if point.thickness_mm is not None
    ]
    curve, thickness = outside, [_between(walls, place) for place in along]
    if smooth:
        curve = _curve(along, outside)
        thickness = _smooth(walls, _places(along))
    inside = _inside(curve, thickness)
    head = thickness[-1] if head_thickness_mm is None else head_thickness_mm / 1000.0
    return revolved(_closed(curve, inside, head))


def revolved(outline: Sequence[Point]) -> float:
    """Give the volume of the solid that a closed outline of straight lines makes about the axis [m³].

    Each line sweeps the frustum of a cone: π/3·h·(r² + r·R + R²). Pappus gives the same.
    """
    total = 0.0
    for (r, z), (next_r, next_z) in pairwise([*outline, outline[0]]):
        total += (next_z - z) * (r * r + r * next_r + next_r * next_r)
    return abs(total) * math.pi / 3.0


def _closed(outside: Sequence[Point], inside: Sequence[Point], head_m: float) -> list[Point]:
    """Close the outline: up the outside, over the head to the axis, down the inside to the lip."""
    inside = _cut(inside, outside[0][1], above=True)
    top = outside[-1][1]
    if outside[-1][0] == 0.0:
        return [*outside, *reversed(inside)]
    ceiling = top - head_m
    return [*outside, (0.0, top), (0.0, ceiling), *reversed(_cut(inside, ceiling, above=False))]


def _cut(line: Sequence[Point], height: float, *, above: bool) -> list[Point]:
    """Keep the part of a line above, or below, a height; it ends at the height where it crosses it."""
    kept: list[Point] = []
    for place, (r, z) in enumerate(line):
        if place:
            last_r, last_z = line[place - 1]
            if (last_z < height) != (z < height) and last_z != height:
                kept.append((last_r + (r - last_r) * (height - last_z) / (z - last_z), height))
        if (z >= height) if above else (z <= height):
            kept.append((r, z))
    return kept


def _inside(outside: Sequence[Point], wall: Sequence[float]) -> list[Point]:
    """Give the inside: each point of the outside moved square to it by the thickness of the wall."""
    inside = []
    for place, ((r, z), thickness) in enumerate(zip(outside, wall, strict=True)):
        before, after = outside[max(place - 1, 0)], outside[min(place + 1, len(outside) - 1)]
        dr, dz = after[0] - before[0], after[1] - before[1]
        length = math.hypot(dr, dz) or 1.0
        inside.append((max(r - thickness * dz / length, 0.0), z + thickness * dr / length))
    return inside


def _lengths(points: Sequence[Point]) -> list[float]:
    """Give the way along the points, from the first [m]."""
    along = [0.0]
    for (r, z), (next_r, next_z) in pairwise(points):
        along.append(along[-1] + math.hypot(next_r - r, next_z - z))
    return along


def _between(known: Sequence[tuple[float, float]], s: float) -> float:
    """Give a value between two known ones in proportion, beyond the last the same."""
    if s <= known[0][0]:
        return known[0][1]
    for (low, value), (high, next_value) in pairwise(known):
        if s <= high:
            return value + (next_value - value) * (s - low) / (high - low)
    return known[-1][1]


def _places(along: Sequence[float]) -> list[float]:
    """Give the places on the smooth curve that stand for it."""
    places = [along[0]]
    for low, high in pairwise(along):
        places += [low + (high - low) * step / PIECES for step in range(1, PIECES + 1)]
    return places


def _curve(along: Sequence[float], points: Sequence[Point]) -> list[Point]:
    """Give the smooth curve through the points: cubic pieces that never overshoot (Fritsch and Butland)."""
    radii, heights = (monotone(along, [point[axis] for point in points], _places(along)) for axis in (0, 1))
    return [*zip(radii, heights, strict=True)]


def _smooth(known: Sequence[tuple[float, float]], places: Sequence[float]) -> list[float]:
    """Give the values of the smooth curve through known ones, beyond the last the same."""
    if len(known) == 1:
        return [known[0][1]] * len(places)
    along, values = zip(*known, strict=True)
    return monotone(along, values, [min(max(place, along[0]), along[-1]) for place in places])


def monotone(along: Sequence[float], values: Sequence[float], places: Sequence[float]) -> list[float]:
    """Give the values at some places, in order, of the smooth curve through given ones.

    Parameters
    ----------
    along, values : sequence of float
        Two points at least; ``along`` in rising order.
    places : sequence of float
        Between the first and the last of ``along``, in rising order.
    """
    steps = [high - low for low, high in pairwise(along)]
    slopes = [(high - low) / step for (low, high), step in zip(pairwise(values), steps, strict=True)]
    tangents = [slopes[0]]
    for (slope, next_slope), (step, next_step) in zip(pairwise(slopes), pairwise(steps), strict=True):
        if slope * next_slope <= 0.0:
            tangents.append(0.0)
        else:
            one, other = 2.0 * next_step + step, next_step + 2.0 * step
            tangents.append((one + other) / (one / slope + other / next_slope))
    tangents.append(slopes[-1])
    found, piece = [], 0
    for place in places:
        while piece < len(steps) - 1 and place > along[piece + 1]:
            piece += 1
        step, t = steps[piece], (place - along[piece]) / steps[piece]
        found.append(
            values[piece] * (1.0 + 2.0 * t) * (1.0 - t) ** 2
            + step * tangents[piece] * t * (1.0 - t) ** 2
            + values[piece + 1] * t * t * (3.0 - 2.0 * t)
            + step * tangents[piece + 1] * t * t * (t - 1.0)
        )
    return found
