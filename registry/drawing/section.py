"""The contour of a bell for its drawing: its own where it was measured point by point, else a general one."""

from bisect import bisect_right
from collections.abc import Sequence
from itertools import accumulate, pairwise
from math import hypot
from typing import NamedTuple

from registry.drawing.shape import Point, Size, Sizes, head, inner_head, inside, offset, outside, wall_at

FEWEST = 4
"""Points that a section needs to be drawn as measured. Common practice, no source."""
BETWEEN = 8
"""Steps of the drawn line from one measured point to the next."""


class SectionPoint(NamedTuple):
    """One measured point: its height above the lip, the outer diameter there, and the wall square to it."""

    height_mm: float
    diameter_mm: float
    thickness_mm: float | None


class Contour(NamedTuple):
    """Half a bell as (radius, height above the lip) [mm].

    ``outer`` and ``inner`` run from the lip to the shoulder, the heads from there to the axis, and ``walls``
    has the thickness [mm] at each point of ``outer``. ``measured`` are the points that someone measured.
    """

    outer: list[Point]
    head: list[Point]
    inner: list[Point]
    inner_head: list[Point]
    walls: list[float]
    measured: tuple[Point, ...] = ()


def contour_of(
    sizes: Sizes, section: Sequence[SectionPoint] = (), head_thickness_mm: float | None = None
) -> Contour:
    """Give the contour of a bell.

    Parameters
    ----------
    sizes : Sizes
        Measured sizes, the others assumed; they give the general contour.
    section : sequence of SectionPoint
        The section as measured, from the lip upwards. With fewer than `FEWEST` points, or thicknesses at
        fewer than two of them, the general contour is given.
    head_thickness_mm : float, optional
        Thickness of the head [mm]; where it is not known the head is drawn as thick as the wall below it.
    """
    points = _rising(section)
    walls = [(place, point.thickness_mm) for place, point in enumerate(points) if point.thickness_mm]
    if len(points) < FEWEST or len(walls) < len("ab"):
        outer = outside(sizes)
        return Contour(
            outer,
            head(sizes),
            inside(sizes),
            inner_head(sizes),
            [wall_at(height, sizes) for _, height in outer],
        )
    return _measured(points, [(place, wall) for place, wall in walls if wall], sizes, head_thickness_mm)


def _measured(
    points: Sequence[SectionPoint],
    walls: Sequence[tuple[int, float]],
    sizes: Sizes,
    head_thickness_mm: float | None,
) -> Contour:
    places = [(point.diameter_mm / 2.0, point.height_mm) for point in points]
    along = [0.0, *accumulate(hypot(b[0] - a[0], b[1] - a[1]) for a, b in pairwise(places))]
    fine = [
        low + (high - low) * step / BETWEEN for low, high in pairwise(along) for step in range(BETWEEN)
    ] + [along[-1]]
    radii = smooth(along, [radius for radius, _ in places], fine)
    heights = smooth(along, [height for _, height in places], fine)
    thick = smooth([along[place] for place, _ in walls], [wall for _, wall in walls], fine)
    outer = list(zip(radii, heights, strict=True))
    inner = offset(outer, thick)
    if places[-1][0] <= 0.0:
        return Contour(outer, [], inner, [(0.0, max(inner[-1][1], 0.0))], thick, tuple(places))
    above = sizes._replace(
        shoulder_diameter=Size(2.0 * places[-1][0], measured=True),
        height=Size(places[-1][1], measured=True),
        waist_thickness=Size(head_thickness_mm or thick[-1], measured=head_thickness_mm is not None),
    )
    return Contour(outer, head(above), inner, inner_head(above), thick, tuple(places))


def _rising(section: Sequence[SectionPoint]) -> list[SectionPoint]:
    """Leave out points that do not lie above the one before; over the crown of the head they may be level."""
    kept: list[SectionPoint] = []
    for point in section:
        if not kept or point.height_mm > kept[-1].height_mm or point.diameter_mm < kept[-1].diameter_mm:
            kept.append(point)
    return kept


def smooth(known: Sequence[float], values: Sequence[float], wanted: Sequence[float]) -> list[float]:
    """Interpolate without overshooting: between two readings the line stays between them.

    Parameters
    ----------
    known, values : sequence of float
        At least two places, rising, and what was read there.
    wanted : sequence of float
        Where to interpolate; beyond the ends the last reading holds.

    References
    ----------
    F. N. Fritsch and J. Butland, A method for constructing local monotone piecewise cubic interpolants, SIAM
    J. Sci. Stat. Comput. 5 (1984) 300-304.
    """
    steps = [b - a for a, b in pairwise(known)]
    rises = [(b - a) / step for (a, b), step in zip(pairwise(values), steps, strict=True)]
    slopes = [rises[0]]
    for (before, after), (low, high) in zip(pairwise(rises), pairwise(steps), strict=True):
        if before * after <= 0.0:
            slopes.append(0.0)
        else:
            share = (low + 2.0 * high) / (3.0 * (low + high))
            slopes.append(before * after / (share * after + (1.0 - share) * before))
    slopes.append(rises[-1])
    found = []
    for place in wanted:
        if place <= known[0] or place >= known[-1]:
            found.append(values[0] if place <= known[0] else values[-1])
            continue
        at = bisect_right(known, place) - 1
        step, part = steps[at], (place - known[at]) / steps[at]
        found.append(
            (1.0 + 2.0 * part) * (1.0 - part) ** 2 * values[at]
            + part * (1.0 - part) ** 2 * step * slopes[at]
            + part**2 * (3.0 - 2.0 * part) * values[at + 1]
            + part**2 * (part - 1.0) * step * slopes[at + 1]
        )
    return found
