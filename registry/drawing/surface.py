"""The outer surface of a bell laid flat: how a bearing and a height become a place, and the grid on it."""

from collections.abc import Iterator, Sequence
from functools import lru_cache
from math import ceil, pi
from typing import NamedTuple

from registry.drawing.shape import Sizes, outside

Point = tuple[float, float]

CURVE_STEPS = 16

ZONES = {
    "lip": (0.0, 0.02),
    "soundbow": (0.02, 0.18),
    "waist": (0.24, 0.78),
    "shoulder": (0.84, 0.98),
    "whole-height": (0.0, 1.0),
}
"""Parts of the height in which a crack is drawn whose ends were not measured. Of the drawing only."""


class Line(NamedTuple):
    """A line of the grid with its label."""

    path: str
    label: str
    x: float
    y: float


@lru_cache(maxsize=8)
def _contour(sizes: Sizes) -> tuple[Point, ...]:
    """Keep the contour of the bells drawn last: every point of the surface asks for it."""
    return tuple(outside(sizes))


class Surface(NamedTuple):
    """How a bearing and a height become a place in the drawing; ``scale`` in drawing units per millimetre."""

    sizes: Sizes
    scale: float
    centre_x: float
    lip_y: float

    @property
    def height_mm(self) -> float:
        """Height of the bell from lip to shoulder [mm]."""
        return self.sizes.height.value_mm

    def girth(self, height_mm: float) -> float:
        """Give the girth [drawing units] at a height above the lip [mm]."""
        contour = _contour(self.sizes)
        height_mm = min(max(height_mm, 0.0), self.height_mm)
        step = height_mm / self.height_mm * (len(contour) - 1)
        below = min(int(step), len(contour) - 2)
        low, high = contour[below][0], contour[below + 1][0]
        return 2 * pi * (low + (high - low) * (step - below)) * self.scale

    def at(self, bearing_deg: float, height_mm: float) -> Point:
        """Give the place of a point; bearings from 180° to 360° lie on the right."""
        east = (bearing_deg + 180.0) % 360.0 - 180.0
        return self._place(-east / 360.0, height_mm)

    def _place(self, part: float, height_mm: float) -> Point:
        return self.centre_x + part * self.girth(height_mm), self.lip_y - height_mm * self.scale

    def meridian(self, part: float, low_mm: float = 0.0, high_mm: float | None = None) -> list[Point]:
        """Give the line of one bearing from low to high, ``part`` of the girth (−0.5 to 0.5) off the mark."""
        high = self.height_mm if high_mm is None else high_mm
        return [
            self._place(part, low_mm + (high - low_mm) * step / CURVE_STEPS)
            for step in range(CURVE_STEPS + 1)
        ]


def path_of(points: Sequence[Point]) -> str:
    """Write an open line as an SVG path."""
    return "M" + " L".join(f"{x:.1f},{y:.1f}" for x, y in points)


def closed(points: Sequence[Point]) -> str:
    """Write a closed line as an SVG path."""
    return path_of(points) + " Z"


def band(surface: Surface, low_mm: float, high_mm: float) -> list[Point]:
    """Give the edge of what lies between two heights [mm]."""
    high_mm = min(high_mm, surface.height_mm)
    return surface.meridian(-0.5, low_mm, high_mm) + surface.meridian(0.5, low_mm, high_mm)[::-1]


def meridians(surface: Surface) -> Iterator[Line]:
    """Draw a line every 30°, from 180° on the left through 0° to 180° on the right."""
    for bearing in range(180, -181, -30):
        line = surface.meridian(-bearing / 360)
        x, y = line[0]
        yield Line(path_of(line), f"{bearing % 360}°", round(x, 1), round(y + 15, 1))


def parallels(surface: Surface) -> Iterator[Line]:
    """Draw a line at round heights, at most six of them."""
    step = next(mm for mm in (10, 20, 50, 100, 200, 500, 1000, 2000) if surface.height_mm / mm <= 6)
    for height in range(0, ceil(surface.height_mm), step):
        (left, y), (right, _) = (
            surface.meridian(-0.5, height, height)[0],
            surface.meridian(0.5, height, height)[0],
        )
        yield Line(f"M{left:.1f},{y:.1f}H{right:.1f}", str(height), round(left - 6, 1), round(y + 3.5, 1))


def zone_names(surface: Surface) -> Iterator[tuple[str, float, float]]:
    """Name the parts of the height at the right of the surface."""
    for name in ("shoulder", "waist", "soundbow"):
        low, high = ZONES[name]
        height = surface.height_mm * (low + high) / 2
        x, y = surface.meridian(0.5, height, height)[0]
        yield name.replace("soundbow", "sound-bow"), round(x + 8, 1), round(y + 4, 1)
