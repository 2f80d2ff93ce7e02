"""The volume of metal: solids that everyone knows, and the smooth curve between measured points."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.interpolate import PchipInterpolator
from sections import invented_bell, points

from registry.derive.revolution import monotone, revolved, volume_m3
from registry.model.bell import ProfilePoint


class TestExactSolids:
    """Solids whose volume everyone knows."""

    @pytest.mark.parametrize("smooth", [True, False])
    @given(radius=st.floats(100.0, 2000.0), share=st.floats(0.02, 0.9), height=st.floats(100.0, 3000.0))
    @settings(deadline=None)
    def test_cylinder_with_a_head(self, smooth, radius, share, height):
        """A cup with straight walls: π(R² − r²)(h − b) + πR²b, b the thickness of its head."""
        wall, head = share * radius, 0.1 * height
        cup = points(*((height * step / 4, 2 * radius, wall) for step in range(5)))
        exact = math.pi * ((radius**2 - (radius - wall) ** 2) * (height - head) + radius**2 * head) / 1e9
        assert volume_m3(cup, head, smooth=smooth) == pytest.approx(exact, rel=1e-9)

    @pytest.mark.parametrize("smooth", [True, False])
    def test_solid_cone(self, smooth):
        """A cone whose wall reaches to the axis everywhere is π·R²·h/3."""
        cone = points(*((100.0 * step, 2 * (500.0 - 50.0 * step), 2000.0) for step in range(11)))
        assert volume_m3(cone, smooth=smooth) == pytest.approx(math.pi * 0.5**2 * 1.0 / 3.0, rel=1e-9)

    @pytest.mark.parametrize("smooth", [True, False])
    def test_conical_wall(self, smooth):
        """A conical wall, measured square to it: frustum less frustum, parallel at t/cos of the slope."""
        height, wall, head, low, high = 1.0, 0.05, 0.1, 0.8, 0.5
        rows = [(1000.0 * height * s, 2000.0 * (low + (high - low) * s), 50.0) for s in (0, 0.3, 0.5, 0.9, 1)]
        inset = wall * math.hypot(1.0, (low - high) / height)
        ceiling = low + (high - low) * (height - head) / height - inset
        outer = math.pi * height / 3.0 * (low**2 + low * high + high**2)
        inner = math.pi * (height - head) / 3.0 * ((low - inset) ** 2 + (low - inset) * ceiling + ceiling**2)
        got = volume_m3(points(*rows), 1000.0 * head, smooth=smooth)
        assert got == pytest.approx(outer - inner, rel=1e-9)

    @pytest.mark.parametrize("count", [20, 40])
    def test_half_a_sphere(self, count):
        """A hemispherical shell, 2π/3·(R³ − r³), drawn to its pole; within 0.3 % from 20 points."""
        radius, wall = 600.0, 40.0
        rows = [
            (
                radius * math.sin(angle),
                2 * radius * math.cos(angle) if number < count else 0.0,
                wall,
            )
            for number in range(count + 1)
            for angle in [0.5 * math.pi * number / count]
        ]
        exact = 2 * math.pi / 3 * (radius**3 - (radius - wall) ** 3) / 1e9
        assert volume_m3(points(*rows)) == pytest.approx(exact, rel=3e-3)

    @given(st.lists(st.tuples(st.floats(0.0, 2.0), st.floats(0.0, 2.0)), min_size=3, max_size=3, unique=True))
    def test_pappus(self, corners):
        """A triangle turned about the axis sweeps its area times the way of its centroid (Pappus)."""
        (r1, z1), (r2, z2), (r3, z3) = corners
        area = abs((r2 - r1) * (z3 - z1) - (r3 - r1) * (z2 - z1)) / 2.0
        expected = 2.0 * math.pi * (r1 + r2 + r3) / 3.0 * area
        assert revolved(corners) == pytest.approx(expected, rel=1e-9, abs=1e-9)


class TestCurve:
    """The smooth curve between the points."""

    def test_few_points_are_enough(self):
        """From 12 points the smooth curve gives a bell-like volume within 1 % of that from 200."""
        fine = volume_m3(invented_bell(count=200))
        assert volume_m3(invented_bell(count=12)) == pytest.approx(fine, rel=0.01)

    def test_better_than_straight_lines(self):
        """With ten points the smooth curve errs less than straight lines."""
        fine = volume_m3(invented_bell(count=200))
        smooth, straight = (volume_m3(invented_bell(count=10), smooth=smooth) for smooth in (True, False))
        assert abs(smooth - fine) < abs(straight - fine)

    def test_thicknesses_may_be_fewer(self):
        """Between two measured walls the thickness goes in proportion along the outside."""
        cup = points((0, 1000, 50), (200, 1000), (400, 1000, 30), (600, 1000), (800, 1000, 40))
        full = points((0, 1000, 50), (200, 1000, 40), (400, 1000, 30), (600, 1000, 35), (800, 1000, 40))
        assert volume_m3(cup, smooth=False) == pytest.approx(volume_m3(full, smooth=False), rel=1e-12)

    def test_like_scipy(self):
        """Between inner points the curve is SciPy's pchip; the ends have their own slope."""
        along, values = [0.0, 0.4, 1.0, 1.5, 2.1, 3.0], [0.0, 0.5, 0.7, 0.7, 1.6, 2.0]
        places = [0.4 + 0.017 * step for step in range(100)]
        expected = PchipInterpolator(along, values)(places)
        assert monotone(along, values, places) == pytest.approx(expected, abs=1e-12)

    @settings(deadline=None)
    @given(st.floats(0.3, 3.0))
    def test_scales_as_the_cube(self, scale):
        """A bell twice as large has eight times the metal."""
        bell = invented_bell()
        larger = [
            ProfilePoint(scale * p.height_mm, scale * p.diameter_mm, scale * p.thickness_mm) for p in bell
        ]
        assert volume_m3(larger) == pytest.approx(scale**3 * volume_m3(bell), rel=1e-9)
