"""The rim from above, to scale: where the bell is struck and how deep, turned from where, and cracked."""

from collections.abc import Iterator, Sequence
from math import cos, degrees, radians, sin
from typing import NamedTuple

SIZE = 300.0
CENTRE = SIZE / 2
RIM = 104.0
WALL = 16.0
"""Thickness of the wall [drawing units] where it or the diameter was not measured."""
LABEL = RIM + 22
LABEL_INSIDE = 42.0
"""How far inside the wall the label of a crack stands where there is no room for it outside."""
TURN = RIM - 46
"""Radius of the first arc that shows a turning; each further one lies inside it."""
BESIDE = 96.0
"""Room beside the circle for words, in drawing units."""
LEAST_APART_DEG = 16.0
DEEPER = 3.0
"""Pits are drawn so many times as deep as they are: to scale they could not be seen."""


class StrikeMark(NamedTuple):
    """A strike point on the rim; ``old`` is one from before the bell was turned.

    ``pit`` is the path of its pit to scale, empty where it was not measured; ``by_hammer`` puts it outside.
    """

    number: int
    bearing_deg: float
    x: float
    y: float
    label_x: float
    label_y: float
    old: bool
    by_hammer: bool = False
    pit: str = ""
    words: tuple[str, ...] = ()
    words_x: float = 0.0
    words_y: float = 0.0
    anchor: str = "middle"


class CrackMark(NamedTuple):
    """A crack on the rim, drawn as a line across the wall."""

    number: int
    bearing_deg: float
    points: str
    label_x: float
    label_y: float
    state: str
    through: bool


class TurnMark(NamedTuple):
    """A turning: an arc from an old strike point to the one that took its place."""

    path: str
    head: str
    words: str
    x: float
    y: float


class Free(NamedTuple):
    """A part of the rim where the bell could be struck next: an arc outside it."""

    path: str
    first_deg: float
    last_deg: float


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
    turns: tuple[TurnMark, ...] = ()
    free: tuple[Free, ...] = ()
    to_scale: bool = False
    beside: float = 0.0


class StrikeSeen(NamedTuple):
    """A strike point as surveyed; lengths [mm], None where not told."""

    number: int
    bearing_deg: float | None
    use: str | None
    struck_by: str | None = None
    pit_depth_mm: float | None = None
    pit_length_mm: float | None = None
    turned_by_deg: float | None = None
    words: tuple[str, ...] = ()
    """What stands beside it, such as depth and wall left, a line each."""


class CrackSeen(NamedTuple):
    """A crack as surveyed; state ``none`` is not drawn."""

    number: int
    bearing_deg: float | None
    state: str
    side: str | None


def rim_drawing(
    strikes: Sequence[StrikeSeen],
    cracks: Sequence[CrackSeen],
    *,
    mouth_diameter_mm: float | None = None,
    wall_mm: float | None = None,
    free_deg: Sequence[tuple[float, float]] = (),
) -> RimDrawing:
    """Place strike points and cracks by their bearing, clockwise seen from above, 0 at the top.

    Parameters
    ----------
    strikes, cracks : sequences
        As surveyed. Without a bearing they are named, never placed.
    mouth_diameter_mm, wall_mm : float, optional
        With both, wall and pits are drawn to scale.
    free_deg : sequence of (float, float)
        Parts of the rim proposed for the next strike points, from bearing to bearing, clockwise.
    """
    found = [crack for crack in cracks if crack.state != "none"]
    scale = 2 * RIM / mouth_diameter_mm if mouth_diameter_mm else None
    wall = min(max(wall_mm * scale, 5.0), RIM / 2) if scale and wall_mm else WALL
    marks = tuple(_strikes(strikes, wall, scale))
    worded = [mark.bearing_deg for mark in marks if mark.words]
    return RimDrawing(
        SIZE,
        CENTRE,
        RIM,
        round(RIM - wall, 1),
        marks,
        tuple(
            _crack(crack, crack.bearing_deg, wall, worded) for crack in found if crack.bearing_deg is not None
        ),
        tuple(strike.number for strike in strikes if strike.bearing_deg is None),
        tuple(crack.number for crack in found if crack.bearing_deg is None),
        tuple(_turns(strikes)),
        tuple(Free(_arc(first, last, RIM + 7), first, last) for first, last in free_deg),
        bool(scale and wall_mm),
        BESIDE if any(strike.words for strike in strikes) else 0.0,
    )


def at_bearing(bearing_deg: float, radius: float) -> tuple[float, float]:
    """Give the point of the drawing at a bearing [degrees] and a distance from the axis."""
    angle = radians(bearing_deg)
    return round(CENTRE + radius * sin(angle), 1), round(CENTRE - radius * cos(angle), 1)


def _arc(first_deg: float, last_deg: float, radius: float) -> str:
    """Write the arc clockwise from one bearing to another."""
    (x1, y1), (x2, y2) = at_bearing(first_deg, radius), at_bearing(last_deg, radius)
    large = int((last_deg - first_deg) % 360.0 > 180.0)
    return f"M{x1},{y1}A{radius:.1f},{radius:.1f} 0 {large} 1 {x2},{y2}"


def _strikes(strikes: Sequence[StrikeSeen], wall: float, scale: float | None) -> Iterator[StrikeMark]:
    """Place the strike points; words beside them keep clear of each other."""
    taken: list[float] = []
    for strike in strikes:
        bearing = strike.bearing_deg
        if bearing is None:
            continue
        by_hammer = strike.struck_by == "hammer"
        pit = _pit(strike, bearing, wall, scale, by_hammer=by_hammer)
        label = at_bearing(bearing, RIM - wall - (22 if pit else 16))
        # Where its pit is drawn the dot stands before it, inside, or outside for a hammer.
        beyond = RIM + 6 if by_hammer else RIM - wall - 7
        place = at_bearing(bearing, beyond if pit else RIM - wall / 2)
        words = () if _near(bearing, taken) else strike.words
        if words:
            taken.append(bearing)
        x, y = at_bearing(bearing, RIM + (17 if by_hammer else 12))
        side = sin(radians(bearing))
        anchor = "middle" if abs(side) < 0.35 else "start" if side > 0 else "end"
        lift = 12.0 * len(words)
        above = cos(radians(bearing))
        yield StrikeMark(
            strike.number,
            bearing,
            *place,
            *label,
            strike.use == "old",
            by_hammer,
            pit,
            words,
            x,
            round(y + 10 - lift / 2 - above * lift / 2, 1),
            anchor,
        )


def _pit(strike: StrikeSeen, bearing: float, wall: float, scale: float | None, *, by_hammer: bool) -> str:
    """Draw a pit to scale as a bite out of the wall, from inside, or from outside where a hammer strikes."""
    if scale is None or strike.pit_depth_mm is None or strike.pit_length_mm is None:
        return ""
    edge = RIM if by_hammer else RIM - wall
    half = degrees(strike.pit_length_mm * scale / 2 / edge)
    depth = min(strike.pit_depth_mm * scale * DEEPER, wall * 0.9) * (-1 if by_hammer else 1)
    points = []
    for step in range(-6, 7):
        part = step / 6
        points.append(at_bearing(bearing + half * part, edge + depth * (1 - part**2)))
    back = [
        at_bearing(bearing + half * step / 6, edge - (0.6 if not by_hammer else -0.6))
        for step in range(6, -7, -1)
    ]
    return "M" + " L".join(f"{x},{y}" for x, y in (*points, *back)) + "Z"


def _near(bearing: float, others: Sequence[float]) -> bool:
    """Say whether what stands at a bearing would meet what stands at one of the others."""
    return any(abs((bearing - other + 180.0) % 360.0 - 180.0) < LEAST_APART_DEG for other in others)


def _crack(crack: CrackSeen, bearing: float, wall: float, worded: Sequence[float]) -> CrackMark:
    """Draw a crack as a jagged line across the wall, a little beyond it where it goes through.

    Its label stands outside, or inside where words of a strike point stand, at the bearings ``worded``.
    """
    through = crack.side == "through"
    reach = 8.0 if through else 0.0
    first, last = RIM - wall - reach, RIM + reach
    points = []
    for step in range(7):
        sway = (0, 1.6, -1.6)[step % 3] if 0 < step < 6 else 0
        points.append(at_bearing(bearing + sway, first + (last - first) * step / 6))
    label = at_bearing(bearing, RIM - wall - LABEL_INSIDE if _near(bearing, worded) else LABEL)
    text = " ".join(f"{x},{y}" for x, y in points)
    return CrackMark(crack.number, bearing, text, *label, crack.state, through)


def _turns(strikes: Sequence[StrikeSeen]) -> Iterator[TurnMark]:
    """Lead from each old strike point with a known turning to the point in use about so far away."""
    in_use = [
        strike.bearing_deg for strike in strikes if strike.use == "in-use" and strike.bearing_deg is not None
    ]
    radius = TURN
    for strike in strikes:
        if strike.turned_by_deg is None or strike.bearing_deg is None or not in_use:
            continue
        old, by = strike.bearing_deg, strike.turned_by_deg
        ahead = {bearing: (bearing - old) % 360.0 for bearing in in_use}
        new = min(ahead, key=lambda bearing: min(abs(ahead[bearing] - by), abs(360.0 - ahead[bearing] - by)))
        clockwise = abs(ahead[new] - by) <= abs(360.0 - ahead[new] - by)
        first, last = (old, new) if clockwise else (new, old)
        tip = at_bearing(new, radius)
        back = new - 5.0 if clockwise else new + 5.0
        head = (tip, at_bearing(back, radius + 4), at_bearing(back, radius - 4))
        x, y = at_bearing(first + ((last - first) % 360.0) / 2, radius - 12)
        yield TurnMark(
            _arc(first, last, radius),
            "M" + " L".join(f"{px},{py}" for px, py in head) + "Z",
            f"{by:g}°",
            x,
            y,
        )
        radius -= 14
