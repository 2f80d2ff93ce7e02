"""The drawing of one bell with its dimension lines."""

import re

import pytest

from registry.drawing.profile import BOTTOM, TALLEST, WIDTH, profile_drawing
from registry.drawing.shape import sizes_from


def numbers_in(path: str) -> list[float]:
    """Read all coordinates of an SVG path."""
    return [float(number) for number in re.findall(r"-?[0-9]+\.[0-9]+", path)]


def test_assumed_sizes_are_named() -> None:
    """Only what was not measured is listed as assumed, in the words of the drawing."""
    drawing = profile_drawing(sizes_from(1180.0, 930.0, None, 88.0, None))
    assert drawing.assumed == ("shoulder diameter", "waist thickness")
    assert {each.name: each.measured for each in drawing.dimensions}["sound-bow thickness"]


def test_dimension_lines_are_to_scale() -> None:
    """The line under the bell is as long as the mouth, the line beside it as long as the height."""
    drawing = profile_drawing(sizes_from(1180.0, 930.0))
    by_name = {each.name: each for each in drawing.dimensions}
    left, _, right, _ = by_name["mouth diameter"].lines[0]
    _, low, _, high = by_name["height"].lines[0]
    assert (right - left) * drawing.millimetres_per_unit == pytest.approx(1180.0)
    assert (low - high) * drawing.millimetres_per_unit == pytest.approx(930.0)


@pytest.mark.parametrize("sizes", [(900.0, 2700.0), (2400.0, 300.0), (50.0, 40.0), (6700.0, 6500.0)])
def test_any_bell_fits_the_drawing(sizes: tuple[float, float]) -> None:
    """However tall, flat, small or large a bell is, nothing leaves the frame."""
    drawing = profile_drawing(sizes_from(*sizes))
    assert drawing.height <= TALLEST + 62 + BOTTOM + 1
    for path in (drawing.elevation, drawing.section):
        coordinates = numbers_in(path)
        assert min(coordinates) >= 0
        assert max(coordinates[0::2]) <= WIDTH
        assert max(coordinates[1::2]) <= drawing.height


def test_an_unknown_crown_is_not_drawn() -> None:
    """A crown gets its sign only where its kind has one; the others and unknown ones get none."""
    sizes = sizes_from(1000.0)
    assert profile_drawing(sizes, "canons").crown == "canons"
    assert profile_drawing(sizes, "flat-top").crown == "plate"
    assert profile_drawing(sizes, "other").crown == ""
    assert profile_drawing(sizes).crown == ""
