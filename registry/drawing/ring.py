"""The bells of a tower side by side, to one scale."""

from typing import NamedTuple

from registry.drawing.shape import HEAD_RATIO, Place, head, outside, sizes_from

WIDEST = 132.0
"""Width of the largest bell in the row, in drawing units (CSS pixels)."""
SMALLEST = 14.0
"""A bell is never drawn narrower than this, so that it can be seen and met with a finger."""
UNKNOWN_WIDTH = 48.0


class BellOutline(NamedTuple):
    """One bell of the row. ``known`` is False where no diameter was measured: the sign has no scale."""

    width: float
    height: float
    outline: str
    known: bool


class Scale(NamedTuple):
    """A bar that shows the scale of the row."""

    length_mm: int
    width: float


def ring_outlines(sizes_mm: list[tuple[float | None, float | None, float | None]]) -> list[BellOutline]:
    """Draw the bells to one scale.

    Parameters
    ----------
    sizes_mm : list of tuple
        Mouth diameter, height, shoulder diameter of each bell [mm]; None where not measured.
    """
    scale = scale_for([diameter for diameter, _, _ in sizes_mm])
    return [_outline(*sizes, scale=scale) for sizes in sizes_mm]


def scale_for(diameters_mm: list[float | None]) -> float:
    """Give drawing units per millimetre, so that the largest bell has the greatest width."""
    known = [diameter for diameter in diameters_mm if diameter]
    return WIDEST / max(known) if known else WIDEST / 1000


def scale_bar(diameters_mm: list[float | None]) -> Scale:
    """Give a bar of a round length, near half of the largest bell."""
    scale = scale_for(diameters_mm)
    target = WIDEST / scale / 2
    length = max((step for step in (50, 100, 200, 500, 1000, 2000) if step <= target), default=50)
    return Scale(length, round(length * scale, 1))


def _outline(
    diameter: float | None, height: float | None, shoulder: float | None, *, scale: float
) -> BellOutline:
    known = diameter is not None
    if diameter is None:
        diameter, scale = 1000.0, UNKNOWN_WIDTH / 1000.0
        height = shoulder = None
    scale = max(scale, SMALLEST / diameter)
    sizes = sizes_from(diameter, height, shoulder)
    half = outside(sizes) + head(sizes)
    axis_x = max(diameter, sizes.shoulder_diameter.value_mm) * scale / 2 + 1
    lip_y = (sizes.height.value_mm + diameter * HEAD_RATIO) * scale + 1
    place = Place(scale, axis_x, lip_y)
    outline = f"M{place.path(half)} L{place.path(half[::-1], mirrored=True)} Z"
    return BellOutline(round(axis_x * 2, 1), round(lip_y + 1, 1), outline, known)
