"""Loss at a strike point from all readings of one visit, and the geometry of the pit."""

import math

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy.integrate import quad
from seen_bells import seen

from registry.derive.condition.loss import loss_at, tolerance_mm
from registry.derive.condition.pit import (
    cap_volume_mm3,
    deepest_by_ball_mm,
    pit_volume_mm3,
    sphere_radius_mm,
)
from registry.model.condition import StrikePoint
from registry.model.visit import Instrument

VISIT = seen()


class TestLoss:
    """Loss and its bounds."""

    def test_from_walls(self):
        """A wall of 92 mm beside 100 mm has lost 8 %; the bounds are those of both readings' errors."""
        loss = loss_at(StrikePoint(1, thickness_at_pit_mm=92.0, thickness_beside_mm=100.0), VISIT, None)
        assert loss.value == pytest.approx(8.0)
        assert loss.low == pytest.approx(100 * (1 - 92.15 / 99.85))
        assert loss.high == pytest.approx(100 * (1 - 91.85 / 100.15))

    def test_from_depth_and_thickest_wall(self):
        """Without the wall beside, the thickest wall stands in, up to a tenth thinner where it is struck."""
        loss = loss_at(StrikePoint(1, pit_depth_mm=5.0), VISIT, 100.0)
        assert loss.value == pytest.approx(5.0)
        assert loss.low == pytest.approx(100 * (5.0 - 0.15) / (100 + 0.15))
        assert loss.high == pytest.approx(100 * (5.0 + 0.15) / (90 - 0.15))

    def test_more_readings_narrow_the_bounds(self):
        """Two ways of measuring tell more than one; the way by the walls gives the value."""
        point = StrikePoint(1, pit_depth_mm=8.1, thickness_at_pit_mm=92.0, thickness_beside_mm=100.0)
        both = loss_at(point, VISIT, None)
        walls = loss_at(point._replace(pit_depth_mm=None), VISIT, None)
        assert walls.low < both.low < both.high < walls.high
        assert both.value == pytest.approx(8.0)
        assert len(both.ways) == 2

    def test_value_lies_where_all_readings_agree(self):
        """A value that other readings exclude is moved to where all of them agree."""
        point = StrikePoint(1, pit_depth_mm=8.2, thickness_at_pit_mm=92.2, thickness_beside_mm=100.0)
        loss = loss_at(point, VISIT, None)
        assert loss.value == loss.low == pytest.approx(100 * (8.2 - 0.15) / 100.15)

    def test_contradiction(self):
        """Readings that cannot all be right are told, and the greatest loss stands."""
        point = StrikePoint(1, pit_depth_mm=12.0, thickness_at_pit_mm=97.0, thickness_beside_mm=100.0)
        loss = loss_at(point, VISIT, None)
        assert loss.value == pytest.approx(12.0)
        assert "contradict" in loss.contradiction

    @pytest.mark.parametrize(
        "point",
        [
            StrikePoint(1),
            StrikePoint(1, pit_depth_mm=2.0),
            StrikePoint(1, thickness_at_pit_mm=90.0),
            StrikePoint(1, thickness_beside_mm=90.0),
        ],
    )
    def test_nothing_told(self, point):
        """Without a worn and an unworn reading there is no loss, and none is assumed."""
        assert loss_at(point, VISIT, None) is None

    @given(
        st.floats(20.0, 200.0), st.floats(0.0, 0.2), st.lists(st.floats(-0.1, 0.1), min_size=3, max_size=3),
        st.sets(st.sampled_from(["pit_depth_mm", "thickness_at_pit_mm", "thickness_beside_mm"]), max_size=2),
    )  # fmt: skip
    def test_missing_reading_never_narrows(self, unworn, share, errors, missing):
        """The bounds hold the true loss, and taking a reading away only widens them."""
        readings = {
            "pit_depth_mm": max(unworn * share + errors[0], 0.0),
            "thickness_at_pit_mm": unworn * (1 - share) + errors[1],
            "thickness_beside_mm": unworn + errors[2],
        }
        whole = loss_at(StrikePoint(1, **readings), VISIT, unworn)
        less = loss_at(StrikePoint(1, **(readings | dict.fromkeys(missing))), VISIT, unworn)
        assert whole.low - 1e-9 <= 100 * share <= whole.high + 1e-9
        assume(less is not None)
        assert less.low <= whole.low + 1e-9
        assert less.high >= whole.high - 1e-9

    def test_tolerance(self):
        """The largest error stated for instruments of the kind counts, and half the last digit written."""
        assert tolerance_mm(VISIT, "wall") == pytest.approx(0.15)
        assert tolerance_mm(VISIT, "crack") == pytest.approx(1.0)
        two = seen(
            instruments=(Instrument("caliper", tolerance_mm=0.3), Instrument("ultrasonic", tolerance_mm=0.1))
        )
        assert tolerance_mm(two, "wall") == pytest.approx(0.35)

    def test_tolerance_not_stated(self):
        """Where none is stated 0.5 mm count, 2 mm for cracks (common practice, no source)."""
        bare = seen(instruments=(Instrument("tape", tolerance_mm=3.0), Instrument("ultrasonic")))
        assert tolerance_mm(bare, "wall") == pytest.approx(0.55)
        assert tolerance_mm(bare, "pit") == pytest.approx(0.55)
        assert tolerance_mm(seen(instruments=()), "crack") == pytest.approx(2.5)


class TestPit:
    """The geometry of a pit; exact volumes of spherical caps (E. W. Weisstein, Spherical Cap, MathWorld)."""

    def test_half_sphere(self):
        """A cap as deep as its radius is half a sphere: 2/3 pi r^3."""
        assert cap_volume_mm3(10.0, 20.0) == pytest.approx(2.0 / 3.0 * math.pi * 1000.0, rel=1e-14)
        assert sphere_radius_mm(10.0, 20.0) == pytest.approx(10.0)

    @given(st.floats(0.1, 20.0), st.floats(1.0, 200.0))
    def test_against_integration(self, depth, width):
        """The volume is that of the circles of the sphere, added up by quadrature; and pi h^2 (3R - h)/3."""
        assume(depth <= width / 2.0)
        radius = sphere_radius_mm(depth, width)
        summed, _ = quad(lambda z: math.pi * (radius**2 - z**2), radius - depth, radius)
        assert cap_volume_mm3(depth, width) == pytest.approx(summed, rel=1e-6)
        other = math.pi * depth**2 * (3.0 * radius - depth) / 3.0
        assert cap_volume_mm3(depth, width) == pytest.approx(other, rel=1e-6)

    def test_oval_pit(self):
        """A pit twice as long as high has twice the volume of the round one; a stretched sphere, sampled."""
        assert pit_volume_mm3(3.0, 40.0, 20.0) == pytest.approx(2.0 * cap_volume_mm3(3.0, 20.0))
        assert pit_volume_mm3(3.0, 20.0, 20.0) == pytest.approx(cap_volume_mm3(3.0, 20.0))
        radius = sphere_radius_mm(3.0, 20.0)
        x, y = np.meshgrid(np.linspace(-20, 20, 801), np.linspace(-10, 10, 401))
        below = np.sqrt(np.maximum(radius**2 - (x / 2.0) ** 2 - y**2, 0.0)) - (radius - 3.0)
        sampled = np.maximum(below, 0.0).sum() * (40 / 800) * (20 / 400)
        assert pit_volume_mm3(3.0, 40.0, 20.0) == pytest.approx(sampled, rel=1e-3)

    def test_no_depth(self):
        """What has no depth has no volume."""
        assert cap_volume_mm3(0.0, 20.0) == 0.0
        assert pit_volume_mm3(0.0, 0.0, 0.0) == 0.0

    def test_deepest_by_ball(self):
        """The deepest pit of a ball is where ball and rim, both circles, share the pit's ends."""
        half, ball, rim = 20.0, 100.0, 750.0
        deepest = deepest_by_ball_mm(2 * half, 2 * ball, 2 * rim)
        centre_ball, centre_rim = -math.sqrt(ball**2 - half**2), -math.sqrt(rim**2 - half**2)
        assert deepest == pytest.approx((centre_ball + ball) - (centre_rim + rim))

    @pytest.mark.parametrize("sizes", [(300.0, 200.0, 1500.0), (40.0, 1600.0, 1500.0)])
    def test_not_by_ball(self, sizes):
        """A pit longer than the ball, or a ball larger than the bell, is no pit of a ball."""
        assert deepest_by_ball_mm(*sizes) is None

    @pytest.mark.parametrize("depth", [-1.0, math.nan, math.inf])
    def test_no_size(self, depth):
        """Sizes below zero and what is no number are refused; so is a sphere without depth."""
        with pytest.raises(ValueError, match="sizes of a pit"):
            cap_volume_mm3(depth, 10.0)
        with pytest.raises(ValueError, match="more than 0"):
            sphere_radius_mm(0.0, 10.0)
