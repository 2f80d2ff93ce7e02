"""The pendulum: the elliptic integral against SciPy and tables, the forces against Newton and print."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import solve_ivp
from scipy.special import ellipk, ellipkm1

from registry.derive.condition.pendulum import (
    GRAVITY_M_S2,
    complete_elliptic_k,
    forces_at,
    largest_forces,
    pendulum_length_m,
    period_s,
)


class TestEllipticIntegral:
    """The complete elliptic integral of the first kind, by its modulus k (not m = k^2)."""

    @given(st.floats(0.0, 0.999999))
    def test_as_in_scipy(self, modulus):
        """It is the one of SciPy, which takes m = k^2."""
        assert complete_elliptic_k(modulus) == pytest.approx(ellipk(modulus**2), rel=1e-9)

    @pytest.mark.parametrize(
        ("parameter", "value"),
        [
            (0.0, 1.570796326794897), (0.05, 1.591003453790792), (0.10, 1.612441348720219),
            (0.15, 1.635256732264580), (0.20, 1.659623598610528), (0.25, 1.685750354812596),
            (0.30, 1.713889448178791),
        ],
    )  # fmt: skip
    def test_printed_table(self, parameter, value):
        """It gives the values of M. Abramowitz and I. A. Stegun, Handbook of Mathematical Functions, 1964."""
        assert complete_elliptic_k(math.sqrt(parameter)) == pytest.approx(value, rel=1e-14)

    def test_exact_value(self):
        """At k = 1/sqrt(2) it is Gamma(1/4)^2/(4 sqrt(pi)), by the mean of 1 and sqrt(2) that Gauss found."""
        exact = math.gamma(0.25) ** 2 / (4.0 * math.sqrt(math.pi))
        assert complete_elliptic_k(math.sqrt(0.5)) == pytest.approx(exact, rel=1e-14)

    @pytest.mark.parametrize("small", [1e-3, 1e-6, 1e-9, 1e-12])
    def test_close_to_one(self, small):
        """Towards k = 1, where a bell nearly rests mouth up, it keeps its digits (SciPy, from 1 - k^2)."""
        modulus = 1.0 - small
        rest = (1.0 - modulus) * (1.0 + modulus)
        assert complete_elliptic_k(modulus) == pytest.approx(ellipkm1(rest), rel=1e-13)

    @pytest.mark.parametrize("modulus", [-0.1, 1.0, 1.5, math.nan])
    def test_outside(self, modulus):
        """Moduli outside 0 to 1 are refused."""
        with pytest.raises(ValueError, match="modulus"):
            complete_elliptic_k(modulus)


class TestPeriod:
    """The time of a swing."""

    def test_small_swings(self):
        """Small swings take 2 pi sqrt(l/g), and 1 + a^2/16 of it as they grow."""
        small = 2.0 * math.pi * math.sqrt(1.3 / GRAVITY_M_S2)
        assert period_s(1.3, 0.01) == pytest.approx(small, rel=1e-8)
        angle = math.radians(5.0)
        assert period_s(1.3, 5.0) == pytest.approx(
            small * (1 + angle**2 / 16 + 11 * angle**4 / 3072), rel=1e-8
        )

    @pytest.mark.parametrize("angle", [30.0, 60.0, 108.0, 150.0, 178.0])
    def test_against_the_equation_of_motion(self, angle):
        """A quarter of it is what the equation of motion, solved step by step, takes to hanging."""

        def motion(_time, state):
            return [state[1], -GRAVITY_M_S2 / 0.9 * math.sin(state[0])]

        def hanging(_time, state):
            return state[0]

        hanging.terminal = True
        solved = solve_ivp(
            motion, (0, 30), [math.radians(angle), 0.0], events=hanging, rtol=1e-10, atol=1e-12
        )
        assert period_s(0.9, angle) == pytest.approx(4.0 * solved.t_events[0][0], rel=1e-6)

    @given(st.floats(0.1, 5.0), st.floats(1.0, 179.0))
    def test_length_from_period(self, length, angle):
        """The length is found again from the time of the swing."""
        assert pendulum_length_m(period_s(length, angle), angle) == pytest.approx(length, rel=1e-9)

    @pytest.mark.parametrize(("length", "angle"), [(0.0, 50.0), (-1.0, 50.0), (1.0, 0.0), (1.0, 180.0)])
    def test_refused(self, length, angle):
        """Lengths and angles that no pendulum has are refused."""
        with pytest.raises(ValueError, match="must be more than 0"):
            period_s(length, angle)
        with pytest.raises(ValueError, match="must be more than 0"):
            pendulum_length_m(length, angle)


class TestForces:
    """The forces on the bearings."""

    def test_published_full_circle(self):
        """Full circle, c = 0.8125: V is 4 1/4 and H 2 1/2 times the weight.

        Source: Heywood, in A. Dutton, Bell frames and bell towers, buildingconservation.com.
        """
        forces = largest_forces(180.0, 0.8125)
        assert forces.vertical == pytest.approx(4.25)
        assert forces.horizontal == pytest.approx(2.5, abs=0.03)

    def test_published_straight_headstock(self):
        """Straight headstock, c = 0.8, swing 108 degrees: V 3.1 and H 1.6 (Grassmayr foundry, Innsbruck)."""
        forces = largest_forces(108.0, 0.8)
        assert forces.vertical == pytest.approx(3.1, abs=0.05)
        assert forces.horizontal == pytest.approx(1.6, abs=0.05)

    @given(st.floats(1.0, 180.0), st.floats(0.0, 1.0), st.floats(-1.0, 1.0))
    def test_against_newton(self, swing, c, share):
        """The forces are weight plus mass times the acceleration of the centre, from energy and torque."""
        angle, end = math.radians(swing * share), math.radians(swing)
        # Per unit of mass, length and weight: p'^2 = 2 (cos p - cos a), p'' = -sin p; the centre lies at c.
        turning, turned = 2.0 * (math.cos(angle) - math.cos(end)), -math.sin(angle)
        sideways = c * (turned * math.cos(angle) - turning * math.sin(angle))
        upwards = c * (turned * math.sin(angle) + turning * math.cos(angle))
        forces = forces_at(swing * share, swing, c)
        assert forces.vertical == pytest.approx(1.0 + upwards, abs=1e-9)
        # The bell is pushed by the bearings, and pushes back.
        assert forces.horizontal == pytest.approx(-sideways, abs=1e-9)

    @given(st.floats(1.0, 180.0), st.floats(0.0, 1.0))
    def test_largest_is_largest(self, swing, c):
        """No angle of the swing has larger forces than those called largest, and some come close."""
        largest = largest_forces(swing, c)
        swung = [forces_at(angle, swing, c) for angle in np.linspace(0.0, swing, 400)]
        assert max(each.vertical for each in swung) == pytest.approx(largest.vertical, rel=1e-9)
        top = max(each.horizontal for each in swung)
        assert top <= largest.horizontal + 1e-12
        assert top == pytest.approx(largest.horizontal, rel=1e-3, abs=1e-12)

    @given(st.floats(0.0, 179.0), st.floats(0.0, 1.0), st.floats(0.0, 0.9))
    def test_grow_with_swing_and_c(self, swing, more, c):
        """Both forces grow with the swing and with c, so that bands may be taken from their ends."""
        here, further, heavier = (
            largest_forces(swing, c),
            largest_forces(swing + more, c),
            largest_forces(swing, c + 0.1),
        )
        for larger in (further, heavier):
            assert larger.vertical >= here.vertical - 1e-12
            assert larger.horizontal >= here.horizontal - 1e-12

    @pytest.mark.parametrize(
        ("angle", "swing", "c"), [(10, 5, 0.5), (0, 181, 0.5), (0, 90, 1.1), (0, 90, -0.1)]
    )
    def test_refused(self, angle, swing, c):
        """Angles beyond the swing, and what no bell has, are refused."""
        with pytest.raises(ValueError, match=r"swing angle|pass the swing"):
            forces_at(angle, swing, c)
