"""The bell drawn to scale: outside on the left, cut open on the right, with its sizes."""

from collections.abc import Sequence
from math import hypot
from typing import NamedTuple

from registry.drawing.section import Contour, SectionPoint, contour_of
from registry.drawing.shape import HEAD_RATIO, Place, Point, Size, Sizes

WIDTH = 400.0
LEFT, RIGHT, TOP, BOTTOM = 74.0, 92.0, 62.0, 52.0
TALLEST = 300.0
TICK = 4.0

CROWNS = {"canons": "canons", "single-loop": "loop", "flat-top": "plate", "button": "button"}
"""Kinds of crown that have a sign of their own; a crown of any other kind is not drawn."""


class Dimension(NamedTuple):
    """One line with its number: where it runs, the lines that lead to it, what stands beside it."""

    name: str
    lines: tuple[tuple[float, float, float, float], ...]
    ticks: tuple[tuple[float, float], ...]
    text_x: float
    text_y: float
    anchor: str
    value_mm: float
    measured: bool
    upright: bool = False


class ProfileDrawing(NamedTuple):
    """What the template needs to draw the bell; ``section_points`` are where its section was measured."""

    width: float
    height: float
    axis_x: float
    top_y: float
    lip_y: float
    elevation: str
    section: str
    crown: str
    crown_y: float
    dimensions: tuple[Dimension, ...]
    assumed: tuple[str, ...]
    millimetres_per_unit: float
    section_points: tuple[Point, ...]


def profile_drawing(
    sizes: Sizes,
    crown: str | None = None,
    section: Sequence[SectionPoint] = (),
    head_thickness_mm: float | None = None,
) -> ProfileDrawing:
    """Draw the bell.

    Parameters
    ----------
    sizes : Sizes
        Measured sizes, the others assumed.
    crown : str or None
        Term of the vocabulary ``crown_kind``; drawn as a sign, not to scale.
    section : sequence of SectionPoint
        The section as measured; without one the general contour is drawn.
    head_thickness_mm : float, optional
        Thickness of the head [mm], for the measured section.
    """
    contour = contour_of(sizes, section, head_thickness_mm)
    full = contour.outer + contour.head
    inner = contour.inner + contour.inner_head
    diameter, height = sizes.mouth_diameter.value_mm, sizes.height.value_mm
    widest = max(diameter, sizes.shoulder_diameter.value_mm, *(2 * radius for radius, _ in full))
    tall = max(height + diameter * HEAD_RATIO, *(top for _, top in full))
    scale = min((WIDTH - LEFT - RIGHT) / widest, TALLEST / tall)
    axis_x = (LEFT + WIDTH - RIGHT) / 2
    lip_y = TOP + tall * scale
    place = Place(scale, axis_x, lip_y)
    dimensions = _dimensions(sizes, contour, place)
    return ProfileDrawing(
        WIDTH,
        round(lip_y + BOTTOM, 1),
        axis_x,
        round(lip_y - tall * scale, 1),
        round(lip_y, 1),
        f"M{axis_x:.1f},{lip_y:.1f} L{place.path(full, mirrored=True)} Z",
        f"M{place.path(full)} L{place.path(inner[::-1])} Z",
        CROWNS.get(crown or "", ""),
        round(lip_y - tall * scale, 1),
        dimensions,
        tuple(dimension.name for dimension in dimensions if not dimension.measured),
        1 / scale,
        tuple(place.at(*point) for point in contour.measured),
    )


def _dimensions(sizes: Sizes, contour: Contour, place: Place) -> tuple[Dimension, ...]:
    """Place the five sizes round the drawing, where they do not cross each other."""
    scale, axis_x, lip_y = place
    mouth, shoulder = (size.value_mm / 2 * scale for size in (sizes.mouth_diameter, sizes.shoulder_diameter))
    shoulder_y = lip_y - sizes.height.value_mm * scale
    below = lip_y + 24
    above = shoulder_y - sizes.mouth_diameter.value_mm * HEAD_RATIO * scale - 26
    beside = axis_x - max(mouth, shoulder) - 22
    return (
        Dimension(
            "mouth diameter",
            (
                (axis_x - mouth, below, axis_x + mouth, below),
                (axis_x - mouth, lip_y + 4, axis_x - mouth, below + TICK),
                (axis_x + mouth, lip_y + 4, axis_x + mouth, below + TICK),
            ),
            ((axis_x - mouth, below), (axis_x + mouth, below)),
            axis_x,
            below + 18,
            "middle",
            *sizes.mouth_diameter,
        ),
        Dimension(
            "height",
            (
                (beside, lip_y, beside, shoulder_y),
                (beside - TICK, lip_y, axis_x - mouth - 4, lip_y),
                (beside - TICK, shoulder_y, axis_x - shoulder - 4, shoulder_y),
            ),
            ((beside, lip_y), (beside, shoulder_y)),
            beside - 8,
            (lip_y + shoulder_y) / 2,
            "middle",
            *sizes.height,
            upright=True,
        ),
        Dimension(
            "shoulder diameter",
            (
                (axis_x - shoulder, above, axis_x + shoulder, above),
                (axis_x - shoulder, shoulder_y - 4, axis_x - shoulder, above - TICK),
                (axis_x + shoulder, shoulder_y - 4, axis_x + shoulder, above - TICK),
            ),
            ((axis_x - shoulder, above), (axis_x + shoulder, above)),
            axis_x,
            above - 8,
            "middle",
            *sizes.shoulder_diameter,
        ),
        _wall("sound-bow", sizes.soundbow_thickness, _soundbow_at(contour), contour, place),
        _wall(
            "waist",
            sizes.waist_thickness,
            _nearest_height(contour, sizes.height.value_mm / 2),
            contour,
            place,
        ),
    )


def _soundbow_at(contour: Contour) -> int:
    """Find where the drawn wall is thickest."""
    return max(range(len(contour.walls)), key=contour.walls.__getitem__)


def _nearest_height(contour: Contour, height: float) -> int:
    return min(range(len(contour.outer)), key=lambda at: abs(contour.outer[at][1] - height))


def _wall(name: str, size: Size, index: int, contour: Contour, place: Place) -> Dimension:
    """Lead from the middle of the wall at a point of the outside to its number on the right."""
    from_x, from_y = contour.outer[index]
    start = place.at(from_x, from_y)
    end = place.at(*min(contour.inner, key=lambda point: hypot(point[0] - from_x, point[1] - from_y)))
    margin = WIDTH - RIGHT + 8
    return Dimension(
        f"{name} thickness",
        ((*start, *end), (*start, margin, start[1] - 8)),
        (start, end),
        margin + 4,
        start[1] - 10,
        "start",
        *size,
    )
