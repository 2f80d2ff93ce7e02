"""The contour of a bell: as measured where its section was, else the general one."""

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.interpolate import PchipInterpolator

from registry.drawing.profile import profile_drawing
from registry.drawing.section import SectionPoint, contour_of, smooth
from registry.drawing.shape import outside, sizes_from

SIZES = sizes_from(1000.0, 800.0, 500.0, 75.0, 28.0)
CONE = [SectionPoint(200.0 * step, 1000.0 - 100.0 * step, 20.0) for step in range(5)]
"""A wall of even thickness on a straight cone, lip 1000 mm across and 800 mm high."""


@given(st.lists(st.tuples(st.integers(1, 50), st.integers(-100, 100)), min_size=3, max_size=12))
def test_smooth_lines_agree_with_scipy(pairs: list[tuple[int, int]]) -> None:
    """Within the readings the line is SciPy's monotone one, but for its ends, where ours runs straight on."""
    known = [sum(step for step, _ in pairs[: place + 1]) for place in range(len(pairs))]
    values = [value for _, value in pairs]
    inner = [low + (high - low) * part for low, high in pairwise(known[1:-1]) for part in (0.25, 0.5, 0.75)]
    assert smooth(known, values, inner) == pytest.approx(
        list(PchipInterpolator(known, values)(inner)), abs=1e-6
    )


@given(st.lists(st.tuples(st.floats(0.1, 50.0), st.floats(-100.0, 100.0)), min_size=2, max_size=12))
def test_smooth_lines_stay_between_the_readings(pairs: list[tuple[float, float]]) -> None:
    """Nothing is drawn wider or narrower than the two readings about it."""
    known = [sum(step for step, _ in pairs[: place + 1]) for place in range(len(pairs))]
    values = [value for _, value in pairs]
    for place in range(len(pairs) - 1):
        low, high = sorted(values[place : place + 2])
        wanted = [known[place] + (known[place + 1] - known[place]) * part / 8 for part in range(9)]
        assert all(low - 1e-6 <= value <= high + 1e-6 for value in smooth(known, values, wanted))


def test_a_straight_cone_is_drawn_straight_and_even() -> None:
    """Every point of the inside lies a wall's thickness from the straight outside."""
    contour = contour_of(SIZES, CONE)
    assert contour.measured == tuple((point.diameter_mm / 2.0, point.height_mm) for point in CONE)
    for radius, height in contour.outer:
        assert radius == pytest.approx(500.0 - height / 4.0)
    for radius, height in contour.inner[1:]:
        # Distance from the line x + y/4 = 500, whose normal has the length sqrt(1 + 1/16).
        assert (500.0 - radius - height / 4.0) / (17.0**0.5 / 4.0) == pytest.approx(20.0)


def test_a_section_over_the_head_needs_no_other_head() -> None:
    """A section followed to the axis is closed there, and no general head is set on it."""
    contour = contour_of(SIZES, [*CONE, SectionPoint(830.0, 300.0, 25.0), SectionPoint(840.0, 0.0, 25.0)])
    assert contour.head == []
    assert contour.outer[-1] == pytest.approx((0.0, 840.0))
    assert contour.inner_head[-1][0] == 0.0


@pytest.mark.parametrize("section", [[], CONE[:3], [point._replace(thickness_mm=None) for point in CONE[:4]]])
def test_too_little_of_a_section_gives_the_general_contour(section: list[SectionPoint]) -> None:
    """With few points or no wall the drawing does not claim to be the bell's own."""
    contour = contour_of(SIZES, section)
    assert contour.outer == outside(SIZES)
    assert contour.measured == ()


def test_the_drawing_marks_where_it_was_measured() -> None:
    """Each measured point is marked on the cut half, to the scale of the drawing."""
    drawing = profile_drawing(SIZES, "canons", CONE, 30.0)
    scale = 1.0 / drawing.millimetres_per_unit
    for (x, y), point in zip(drawing.section_points, CONE, strict=True):
        assert x == pytest.approx(drawing.axis_x + point.diameter_mm / 2.0 * scale)
        assert y == pytest.approx(drawing.lip_y - point.height_mm * scale, abs=0.06)
    assert profile_drawing(SIZES).section_points == ()
