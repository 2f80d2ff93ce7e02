"""The rim from above: where the bell is struck, and where it is cracked."""

from collections.abc import Sequence
from math import cos, radians, sin
from typing import NamedTuple

SIZE = 300.0
CENTRE = SIZE / 2
RIM = 104.0
WALL = 16.0
LABEL = RIM + 22


class StrikeMark(NamedTuple):
    """A strike point on the rim; ``old`` is one from before the bell was turned."""

    number: int
    bearing_deg: float
    x: float
    y: float
    label_x: float
    label_y: float
    old: bool


class CrackMark(NamedTuple):
    """A crack on the rim, drawn as a line across the wall."""

    number: int
    bearing_deg: float
    points: str
    label_x: float
    label_y: float
    state: str
    through: bool


class RimDrawing(NamedTuple):
    """What the template needs. The lists name what could not be placed for want of a bearing."""

    size: float
    centre: float
    rim: float
    inner: float
    strikes: tuple[StrikeMark, ...]
    cracks: tuple[CrackMark, ...]
    strikes_without_bearing: tuple[int, ...]
    cracks_without_bearing: tuple[int, ...]


class StrikeSeen(NamedTuple):
    """A strike point as surveyed."""

    number: int
    bearing_deg: float | None
    use: str | None


class CrackSeen(NamedTuple):
    """A crack as surveyed; state ``none`` is not drawn."""

    number: int
    bearing_deg: float | None
    state: str
    side: str | None


def rim_drawing(strikes: Sequence[StrikeSeen], cracks: Sequence[CrackSeen]) -> RimDrawing:
    """Place strike points and cracks by their bearing, clockwise seen from above, 0 at the top."""
    found = [crack for crack in cracks if crack.state != "none"]
    return RimDrawing(
        SIZE,
        CENTRE,
        RIM,
        RIM - WALL,
        tuple(_strike(strike, strike.bearing_deg) for strike in strikes if strike.bearing_deg is not None),
        tuple(_crack(crack, crack.bearing_deg) for crack in found if crack.bearing_deg is not None),
        tuple(strike.number for strike in strikes if strike.bearing_deg is None),
        tuple(crack.number for crack in found if crack.bearing_deg is None),
    )


def at_bearing(bearing_deg: float, radius: float) -> tuple[float, float]:
    """Give the point of the drawing at a bearing [degrees] and a distance from the axis."""
    angle = radians(bearing_deg)
    return round(CENTRE + radius * sin(angle), 1), round(CENTRE - radius * cos(angle), 1)


def _strike(strike: StrikeSeen, bearing: float) -> StrikeMark:
    place, label = at_bearing(bearing, RIM - WALL / 2), at_bearing(bearing, RIM - WALL - 16)
    return StrikeMark(strike.number, bearing, *place, *label, strike.use == "old")


def _crack(crack: CrackSeen, bearing: float) -> CrackMark:
    """Draw a crack as a jagged line across the wall, a little beyond it where it goes through."""
    through = crack.side == "through"
    reach = 8.0 if through else 0.0
    first, last = RIM - WALL - reach, RIM + reach
    points = []
    for step in range(7):
        sway = (0, 1.6, -1.6)[step % 3] if 0 < step < 6 else 0
        points.append(at_bearing(bearing + sway, first + (last - first) * step / 6))
    label = at_bearing(bearing, LABEL)
    text = " ".join(f"{x},{y}" for x, y in points)
    return CrackMark(crack.number, bearing, text, *label, crack.state, through)
