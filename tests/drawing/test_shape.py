"""The general form of a bell: measured sizes are kept, the others assumed and marked."""

from itertools import pairwise

import pytest

from registry.drawing.shape import (
    HEIGHT_RATIO,
    SHOULDER_RATIO,
    SOUNDBOW_RATIO,
    Place,
    head,
    inner_head,
    inside,
    outside,
    sizes_from,
    wall_at,
)


def test_measured_sizes_are_kept_and_others_marked_as_assumed() -> None:
    """A size that was given is drawn as given; one that was not follows the diameter and says so."""
    sizes = sizes_from(1000.0, height_mm=777.0, waist_thickness_mm=31.0)
    assert sizes.height == (777.0, True)
    assert sizes.waist_thickness == (31.0, True)
    assert sizes.shoulder_diameter == (1000.0 * SHOULDER_RATIO, False)
    assert sizes.soundbow_thickness == (1000.0 * SOUNDBOW_RATIO, False)
    assert sizes_from(1000.0).height == (1000.0 * HEIGHT_RATIO, False)


def test_outside_runs_from_the_lip_to_the_shoulder() -> None:
    """The contour starts at half the mouth diameter, ends at half the shoulder, and never flares back."""
    sizes = sizes_from(1200.0, height_mm=900.0, shoulder_diameter_mm=620.0)
    points = outside(sizes)
    assert points[0] == pytest.approx((600.0, 0.0))
    assert points[-1] == pytest.approx((310.0, 900.0))
    assert all(low[0] >= high[0] and low[1] < high[1] for low, high in pairwise(points))


@pytest.mark.parametrize(
    "sizes",
    [
        sizes_from(1000.0),
        sizes_from(250.0, 180.0, 140.0, 22.0, 9.0),
        sizes_from(900.0, 300.0),  # low as a bowl
        sizes_from(300.0, 900.0, 290.0),  # tall as a tube
        sizes_from(60.0, soundbow_thickness_mm=40.0),  # thicker than any bell
    ],
)
def test_wall_lies_between_axis_and_outside(sizes: object) -> None:
    """The inner contour never crosses the axis, the plane of the lip or the outer contour."""
    outer, inner = outside(sizes), inside(sizes)  # type: ignore[arg-type]
    assert all(radius >= 0 and height >= 0 for radius, height in inner)
    assert inner[0][1] == 0.0
    assert inner[0][0] <= outer[0][0]
    assert max(radius for radius, _ in inner) <= outer[0][0]


def test_wall_is_thickest_at_the_soundbow_and_settles_at_the_waist() -> None:
    """The greatest thickness drawn is that of the sound-bow; from the middle up it is that of the waist."""
    sizes = sizes_from(1000.0, soundbow_thickness_mm=80.0, waist_thickness_mm=27.0)
    walls = [wall_at(height, sizes) for height in range(800)]
    assert max(walls) == pytest.approx(80.0, abs=0.1)
    assert walls[400] == walls[799] == 27.0


def test_head_closes_at_the_axis() -> None:
    """Both contours of the head end on the axis, the inner one below the outer."""
    sizes = sizes_from(1000.0)
    assert head(sizes)[-1][0] == inner_head(sizes)[-1][0] == 0.0
    assert inner_head(sizes)[-1][1] < head(sizes)[-1][1]


def test_place_turns_millimetres_into_drawing_units() -> None:
    """A point is scaled from axis and lip; the left half is the mirror of the right."""
    place = Place(scale=0.5, axis_x=100.0, lip_y=200.0)
    assert place.at(40.0, 60.0) == (120.0, 170.0)
    assert place.path([(40.0, 60.0)]) == "120.0,170.0"
    assert place.path([(40.0, 60.0)], mirrored=True) == "80.0,170.0"
