"""The bell unrolled: its surface laid flat, with cracks, repairs, strike points and inscriptions to scale.

The projection keeps every length round the bell and every height above the lip: at each height the surface is
as wide as the girth there, so lines of equal bearing bend in where the bell grows narrow. It is seen from
outside, as one reads the inscriptions; bearings run clockwise seen from above and so from right to left. The
mark at 0° stands in the middle, and the surface is cut open opposite to it.
"""

from collections.abc import Iterator, Sequence
from math import pi
from typing import NamedTuple

from registry.drawing.cracks import OFF_THE_WALL, CrackLine, CrackOnWall, crack_line, is_repaired
from registry.drawing.shape import Sizes, outside, wall_at
from registry.drawing.surface import Line, Surface, band, closed, meridians, parallels, zone_names

WIDTH = 680.0
LEFT, RIGHT, TOP, BOTTOM = 44.0, 66.0, 24.0, 44.0
TALLEST = 330.0

LINES_AT = {
    "shoulder": 0.93,
    "waist": 0.6,
    "waist-front": 0.6,
    "waist-back": 0.6,
    "soundbow": 0.21,
    "lip": 0.045,
}
"""Part of the height at which the first line of an inscription stands. Of the drawing only."""

TURNED_TO = {"waist-front": 90.0, "waist-back": 270.0}
"""Bearing at which an inscription is drawn that has a side; all others stand in the middle."""

LETTER_RATIO = 0.025
"""Letter height to mouth diameter where nobody measured it. Of the drawing only."""
CAP_HEIGHT = 0.66
"""Height of capitals to the size of the type."""
LETTER_WIDTH, CAPITAL_WIDTH = 0.58, 0.76
"""Mean width of letters, and of capitals, to the size of the type; a little more than of most faces."""


class StrikeOnWall(NamedTuple):
    """A strike point as surveyed; None where not told."""

    number: int
    bearing_deg: float | None
    height_mm: float | None
    pit_length_mm: float | None
    pit_width_mm: float | None
    use: str | None
    struck_by: str | None
    built_up: bool


class TextOnWall(NamedTuple):
    """An inscription as surveyed; ``lines`` as cast."""

    number: int
    place: str
    lines: tuple[str, ...]
    letter_height_mm: float | None


class StrikePatch(NamedTuple):
    """A strike point: an ellipse as large as its pit."""

    number: int
    x: float
    y: float
    rx: float
    ry: float
    label_y: float
    old: bool
    inside: bool
    built_up: bool


class TextLine(NamedTuple):
    """One line of an inscription: its band and its words, squeezed to what fits round the bell there."""

    text: str
    x: float
    y: float
    size: float
    squeeze: float
    band_x: float
    band_y: float
    band_width: float
    band_height: float
    measured: bool


class UnrolledDrawing(NamedTuple):
    """What is needed to draw the surface. The lists name what could not be placed for want of a bearing."""

    width: float
    height: float
    outline: str
    soundbow: str
    meridians: tuple[Line, ...]
    parallels: tuple[Line, ...]
    zones: tuple[tuple[str, float, float], ...]
    cracks: tuple[CrackLine, ...]
    strikes: tuple[StrikePatch, ...]
    texts: tuple[TextLine, ...]
    cracks_not_drawn: tuple[int, ...]
    strikes_not_drawn: tuple[int, ...]
    texts_not_drawn: tuple[int, ...]
    assumed_heights: bool
    scale_mm: int
    scale_width: float
    scale_y: float
    millimetres_per_unit: float


def unrolled_drawing(
    sizes: Sizes,
    cracks: Sequence[CrackOnWall] = (),
    strikes: Sequence[StrikeOnWall] = (),
    texts: Sequence[TextOnWall] = (),
) -> UnrolledDrawing:
    """Lay the outer surface of a bell flat.

    Parameters
    ----------
    sizes : Sizes
        Measured sizes, the others assumed.
    cracks, strikes, texts : sequences
        What is to be drawn on it. Cracks that were not found and not repaired leave it blank; a part
        without bearing is named, never guessed.
    """
    room = WIDTH - LEFT - RIGHT
    widest = pi * max(sizes.mouth_diameter.value_mm, sizes.shoulder_diameter.value_mm)
    scale = min(room / widest, TALLEST / sizes.height.value_mm)
    surface = Surface(sizes, scale, LEFT + room / 2, TOP + sizes.height.value_mm * scale)
    found = [crack for crack in cracks if crack.state != "none" or is_repaired(crack.repaired)]
    drawn = [crack for crack in found if crack.bearing_deg is not None and crack.position not in OFF_THE_WALL]
    struck = [strike for strike in strikes if strike.bearing_deg is not None]
    written = [text for text in texts if text.place in LINES_AT and text.lines]
    length_mm = next((mm for mm in (2000, 1000, 500, 200, 100, 50, 20) if mm * scale <= room / 4), 10)
    lines = tuple(crack_line(crack, surface) for crack in drawn)
    return UnrolledDrawing(
        WIDTH,
        round(surface.lip_y + BOTTOM, 1),
        closed(surface.meridian(-0.5) + surface.meridian(0.5)[::-1]),
        closed(band(surface, 0.0, 2.2 * sizes.soundbow_thickness.value_mm)),
        tuple(meridians(surface)),
        tuple(parallels(surface)),
        tuple(zone_names(surface)),
        lines,
        tuple(_strike(strike, surface) for strike in struck),
        tuple(line for text in written for line in _text(text, surface)),
        tuple(crack.number for crack in found if crack not in drawn),
        tuple(strike.number for strike in strikes if strike not in struck),
        tuple(text.number for text in texts if text not in written),
        any(line.assumed for line in lines) or any(strike.height_mm is None for strike in struck),
        length_mm,
        round(length_mm * scale, 1),
        round(surface.lip_y + BOTTOM - 8, 1),
        1 / scale,
    )


def _strike(strike: StrikeOnWall, surface: Surface) -> StrikePatch:
    height = strike.height_mm if strike.height_mm is not None else _thickest(surface.sizes)
    x, y = surface.at(strike.bearing_deg or 0.0, min(height, surface.height_mm))
    along = (strike.pit_length_mm or 0.0) * surface.scale / 2
    up = (strike.pit_width_mm or 0.0) * surface.scale / 2
    rx, ry = max(along, 2.5), max(up or along * 0.7, 2.5)
    return StrikePatch(
        strike.number,
        round(x, 1),
        round(y, 1),
        round(rx, 1),
        round(ry, 1),
        round(y - ry - 4, 1),
        strike.use == "old",
        strike.struck_by != "hammer",
        strike.built_up,
    )


def _thickest(sizes: Sizes) -> float:
    """Find the height above the lip [mm] at which the drawn wall is thickest."""
    return max((height for _, height in outside(sizes)), key=lambda height: wall_at(height, sizes))


def _text(text: TextOnWall, surface: Surface) -> Iterator[TextLine]:
    """Set the lines of an inscription in its zone, their letters as high as they are on the bell."""
    letter_mm = text.letter_height_mm or LETTER_RATIO * surface.sizes.mouth_diameter.value_mm
    letter = letter_mm * surface.scale
    size = letter / CAP_HEIGHT
    first_mm = LINES_AT[text.place] * surface.height_mm
    for index, line in enumerate(text.lines):
        base_mm = max(first_mm - index * 1.6 * letter_mm, 0.0)
        x, y = surface.at(TURNED_TO.get(text.place, 0.0), base_mm)
        side = 0.46 if text.place in TURNED_TO else 0.96
        room = surface.girth(base_mm) * side
        natural = len(line) * size * (CAPITAL_WIDTH if line.upper() == line else LETTER_WIDTH)
        squeeze = min(1.0, room / natural) if natural else 1.0
        wide = natural * squeeze + 2 * letter * 0.4
        yield TextLine(
            line,
            round(x, 1),
            round(y, 1),
            round(size, 2),
            round(squeeze, 3),
            round(x - wide / 2, 1),
            round(y - letter * 1.25, 1),
            round(wide, 1),
            round(letter * 1.5, 1),
            text.letter_height_mm is not None,
        )
