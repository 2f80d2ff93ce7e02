"""Cracks and their repairs on the unrolled surface."""

from collections.abc import Sequence
from typing import NamedTuple

from registry.drawing.surface import ZONES, Point, Surface, path_of

OFF_THE_WALL = frozenset({"crown", "canons"})
"""Places of cracks that the unrolled surface does not show."""


class CrackOnWall(NamedTuple):
    """A crack as surveyed, or a repaired one; heights and lengths [mm], None where not told."""

    number: int
    state: str
    position: str | None
    orientation: str | None
    bearing_deg: float | None
    start_height_mm: float | None
    end_height_mm: float | None
    length_mm: float | None
    side: str | None
    repaired: str | None


class CrackLine(NamedTuple):
    """A crack: its lines, its repair, its label. ``assumed`` where it is placed by words, not by measures."""

    number: int
    path: str
    repair: str
    ends: tuple[Point, ...]
    label_x: float
    label_y: float
    state: str
    inside: bool
    assumed: bool


def is_repaired(repair: str | None) -> bool:
    """Say whether something was done about a crack."""
    return repair not in (None, "no", "unknown")


def crack_line(crack: CrackOnWall, surface: Surface) -> CrackLine:
    """Draw a crack between its measured ends, or in the zone the surveyor names."""
    assert crack.bearing_deg is not None  # noqa: S101 - the caller leaves out the others
    start, end = _ends_of(crack, surface)
    assumed = crack.start_height_mm is None and crack.end_height_mm is None
    lines = _crack_lines(crack, surface, start, end)
    places = [point for line in lines for point in line]
    top = min(places, key=lambda point: point[1])
    return CrackLine(
        crack.number,
        " ".join(path_of(line) for line in lines) if crack.state != "none" else "",
        _repair(crack.repaired, lines, surface),
        tuple((round(x, 1), round(y, 1)) for x, y in (lines[0][0], lines[0][-1]))
        if crack.repaired == "stop-hole"
        else (),
        round(top[0] + 7, 1),
        round(max(top[1] - 3, 12.0), 1),
        crack.state,
        crack.side == "inside",
        assumed,
    )


def _ends_of(crack: CrackOnWall, surface: Surface) -> tuple[float, float]:
    """Give the heights of the ends [mm]: measured, or from the length, or from the zone."""
    low, high = (part * surface.height_mm for part in ZONES.get(crack.position or "", ZONES["waist"]))
    length = crack.length_mm
    upright = crack.orientation in (None, "vertical", "unknown", "branched")
    start, end = crack.start_height_mm, crack.end_height_mm
    if start is None and end is None:
        if not upright:
            return (low + high) / 2, (low + high) / 2
        start = 0.0 if crack.position == "lip" else low
        end = min(start + length, surface.height_mm) if length else high
    elif start is None:
        assert end is not None  # noqa: S101 - one of the two is known
        start = max(end - length, 0.0) if length and upright else end
    elif end is None:
        end = min(start + length, surface.height_mm) if length and upright else start
    return min(start, surface.height_mm), min(end, surface.height_mm)


def _crack_lines(crack: CrackOnWall, surface: Surface, start: float, end: float) -> list[list[Point]]:
    """Give the lines of a crack by the way it runs; a slant is drawn rising to the right."""
    bearing = crack.bearing_deg or 0.0
    middle = (start + end) / 2
    length = crack.length_mm or max(end - start, 0.06 * surface.height_mm)
    x, y = surface.at(bearing, middle)
    reach = length * surface.scale / 2
    match crack.orientation:
        case "horizontal":
            return [_jagged((x - reach, y), (x + reach, y))]
        case "slanting":
            rise = (end - start) * surface.scale / 2
            run = (reach**2 - rise**2) ** 0.5 if reach > rise else reach * 0.7
            rise = rise or run
            return [_jagged((x - run, y + rise), (x + run, y - rise))]
        case "star":
            spokes = ((0.0, -1.0), (0.87, 0.5), (-0.87, 0.5))
            return [_jagged((x, y), (x + reach * east, y + reach * south)) for east, south in spokes]
        case "branched":
            low, fork, high = (surface.at(bearing, height) for height in (start, middle, end))
            sway = (low[1] - high[1]) * 0.2
            return [
                _jagged(low, fork),
                _jagged(fork, (high[0] - sway, high[1])),
                _jagged(fork, (high[0] + sway, high[1])),
            ]
        case _:
            return [_jagged(surface.at(bearing, start), surface.at(bearing, end))]


def _jagged(first: Point, last: Point) -> list[Point]:
    """Draw a line that sways a little, as cracks do; its ends are exact."""
    across, down = last[0] - first[0], last[1] - first[1]
    length = (across**2 + down**2) ** 0.5
    if length < 6:
        return [first, last]
    steps = max(int(length / 5), 3)
    points = []
    for step in range(steps + 1):
        sway = (0.0, 1.3, -1.3)[step % 3] if 0 < step < steps else 0.0
        part = step / steps
        points.append(
            (first[0] + across * part - down / length * sway, first[1] + down * part + across / length * sway)
        )
    return points


def _repair(repair: str | None, lines: Sequence[Sequence[Point]], surface: Surface) -> str:
    """Draw what was done: a seam along the crack, or stitches across it; a stop hole is drawn at its ends."""
    if not is_repaired(repair) or repair == "stop-hole":
        return ""
    if repair != "stitched":
        return " ".join(path_of(line) for line in lines)
    half = max(0.02 * surface.height_mm * surface.scale, 4.0)
    return " ".join(
        f"M{x - half:.1f},{y:.1f}h{2 * half:.1f}"
        for line in lines
        for x, y in line[:: max(len(line) // 4, 1)]
    )
