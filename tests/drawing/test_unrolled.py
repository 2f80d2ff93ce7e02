"""The surface of a bell laid flat: true lengths, true bearings, nothing guessed."""

import re
from math import pi

import pytest

from registry.drawing.cracks import CrackOnWall
from registry.drawing.shape import sizes_from
from registry.drawing.unrolled import WIDTH, StrikeOnWall, TextOnWall, unrolled_drawing

SIZES = sizes_from(1000.0, 800.0, 500.0, 76.0)


def crack(number: int = 1, **told: object) -> CrackOnWall:
    """Give a confirmed crack at 0° that is told as little of as possible."""
    nothing = dict.fromkeys(CrackOnWall._fields)
    return CrackOnWall(**{**nothing, "number": number, "state": "confirmed", "bearing_deg": 0.0, **told})


def strike(number: int = 1, **told: object) -> StrikeOnWall:
    """Give a strike point at 0°."""
    nothing = {**dict.fromkeys(StrikeOnWall._fields), "built_up": False}
    return StrikeOnWall(**{**nothing, "number": number, "bearing_deg": 0.0, **told})


def points_of(path: str) -> list[tuple[float, float]]:
    """Read the points of a path."""
    return [(float(x), float(y)) for x, y in re.findall(r"(-?[0-9.]+),(-?[0-9.]+)", path)]


def test_girth_at_the_lip_and_height_are_to_scale() -> None:
    """The surface is as wide at the lip as the mouth is round, and as high as the bell."""
    drawing = unrolled_drawing(SIZES)
    xs, ys = zip(*points_of(drawing.outline), strict=True)
    assert (max(xs) - min(xs)) * drawing.millimetres_per_unit == pytest.approx(pi * 1000.0, rel=1e-3)
    assert (max(ys) - min(ys)) * drawing.millimetres_per_unit == pytest.approx(800.0, rel=1e-3)


def test_girth_at_the_shoulder_is_that_of_the_shoulder() -> None:
    """The upper edge is as long as the shoulder is round."""
    drawing = unrolled_drawing(SIZES)
    top = min(y for _, y in points_of(drawing.outline))
    edge = [x for x, y in points_of(drawing.outline) if y == top]
    assert (max(edge) - min(edge)) * drawing.millimetres_per_unit == pytest.approx(pi * 500.0, rel=1e-3)


@pytest.mark.parametrize(
    ("bearing", "part"), [(0, 0.0), (90, -0.25), (179.9, -0.5), (270, 0.25), (350, 1 / 36)]
)
def test_seen_from_outside_bearings_run_from_right_to_left(bearing: float, part: float) -> None:
    """Clockwise from above, 90° lies on the left of whoever faces the mark, 270° on the right."""
    drawing = unrolled_drawing(SIZES, strikes=[strike(bearing_deg=bearing, height_mm=0.0)])
    middle = unrolled_drawing(SIZES, strikes=[strike(height_mm=0.0)]).strikes[0].x
    (mark,) = drawing.strikes
    off = (mark.x - middle) * drawing.millimetres_per_unit
    assert off == pytest.approx(part * pi * 1000.0, abs=6.0)


def test_a_measured_crack_has_its_length_and_place() -> None:
    """A crack from 100 to 300 mm above the lip is 200 mm long in the drawing, and is not called assumed."""
    drawing = unrolled_drawing(
        SIZES, [crack(orientation="vertical", start_height_mm=100.0, end_height_mm=300.0)]
    )
    (line,) = drawing.cracks
    (_, low), (_, high) = points_of(line.path)[0], points_of(line.path)[-1]
    assert (low - high) * drawing.millimetres_per_unit == pytest.approx(200.0, abs=2.0)
    assert not line.assumed
    assert not drawing.assumed_heights


def test_a_horizontal_crack_runs_round_the_bell() -> None:
    """Its length lies along the rim."""
    drawing = unrolled_drawing(SIZES, [crack(orientation="horizontal", position="waist", length_mm=150.0)])
    xs, ys = zip(*points_of(drawing.cracks[0].path), strict=True)
    assert (max(xs) - min(xs)) * drawing.millimetres_per_unit == pytest.approx(150.0, abs=2.0)
    assert max(ys) - min(ys) < 4
    assert drawing.assumed_heights


@pytest.mark.parametrize(
    "orientation", [None, "vertical", "horizontal", "slanting", "star", "branched", "unknown"]
)
@pytest.mark.parametrize("position", [None, "lip", "soundbow", "waist", "shoulder", "whole-height"])
@pytest.mark.parametrize("length", [None, 1.0, 9000.0])
def test_any_crack_can_be_drawn(orientation: str | None, position: str | None, length: float | None) -> None:
    """Whatever was told or left open, there is a line."""
    drawing = unrolled_drawing(SIZES, [crack(orientation=orientation, position=position, length_mm=length)])
    assert points_of(drawing.cracks[0].path)


def test_what_cannot_be_placed_is_named() -> None:
    """Without a bearing, in the crown or inside, a part is listed by its number and not drawn."""
    drawing = unrolled_drawing(
        SIZES,
        [
            crack(1, bearing_deg=None),
            crack(2, position="canons"),
            crack(3, position="waist"),
            crack(4, state="none"),
        ],
        [strike(1, bearing_deg=None), strike(2)],
        [TextOnWall(1, "inside", ("MARIA",), 20.0), TextOnWall(2, "shoulder", ("MARIA",), 20.0)],
    )
    assert drawing.cracks_not_drawn == (1, 2)
    assert [line.number for line in drawing.cracks] == [3]
    assert drawing.strikes_not_drawn == (1,)
    assert [mark.number for mark in drawing.strikes] == [2]
    assert drawing.texts_not_drawn == (1,)


@pytest.mark.parametrize(
    ("repaired", "seam", "ends"),
    [("welded", True, 0), ("stitched", True, 0), ("stop-hole", False, 2), ("no", False, 0)],
)
def test_repairs_are_drawn(repaired: str, seam: bool, ends: int) -> None:
    """A weld is a seam, stitches lie across, a stop hole sits at the ends; a mended crack keeps its place."""
    state = "none" if repaired == "welded" else "confirmed"
    drawing = unrolled_drawing(SIZES, [crack(state=state, position="soundbow", repaired=repaired)])
    (line,) = drawing.cracks
    assert bool(line.repair) is seam
    assert len(line.ends) == ends
    assert bool(line.path) is (state != "none")


def test_letters_are_as_high_as_on_the_bell() -> None:
    """A line of letters 40 mm high has a capital of 40 mm; without a measure it is marked as assumed."""
    drawing = unrolled_drawing(
        SIZES, texts=[TextOnWall(1, "shoulder", ("AVE",), 40.0), TextOnWall(2, "waist", ("AVE",), None)]
    )
    measured, assumed = drawing.texts
    assert measured.size * 0.66 * drawing.millimetres_per_unit == pytest.approx(40.0, rel=0.02)
    assert measured.measured
    assert not assumed.measured


def test_a_long_line_is_squeezed_to_the_girth() -> None:
    """Words that would not fit round the bell are set narrower, never higher or wider than it."""
    drawing = unrolled_drawing(SIZES, texts=[TextOnWall(1, "shoulder", ("GLORIA " * 40,), 40.0)])
    (line,) = drawing.texts
    assert line.squeeze < 1
    assert line.band_width * drawing.millimetres_per_unit <= pi * 1000.0


@pytest.mark.parametrize("sizes", [(50.0, 40.0), (6700.0, 6500.0), (900.0, 2700.0), (2400.0, 300.0)])
def test_any_bell_fits_the_drawing(sizes: tuple[float, float]) -> None:
    """However tall, flat, small or large a bell is, its surface stays within the frame."""
    drawing = unrolled_drawing(sizes_from(*sizes))
    xs, ys = zip(*points_of(drawing.outline), strict=True)
    assert min(xs) >= 0
    assert max(xs) <= WIDTH
    assert min(ys) >= 0
    assert max(ys) <= drawing.height
    assert drawing.scale_mm * 1.0 / drawing.millimetres_per_unit == pytest.approx(
        drawing.scale_width, abs=0.1
    )
