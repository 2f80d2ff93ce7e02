"""The swinging bell as a rigid pendulum on a fixed axle: period, and the forces on its bearings.

With s from the axle to the centre of mass, m the mass and J the moment of inertia about the axle, the bell
swings like a thread pendulum of length l = J/(m s); c = s/l says how much of it pulls. With amplitude a and
angle p from hanging, energy gives the angular speed p'^2 = 2 g (cos p - cos a)/l, and the forces follow:

    T = 4 sqrt(l/g) K(sin(a/2))
    V/G = 1 + c (3 cos^2 p - 2 cos a cos p - 1)
    H/G = c sin p (3 cos p - 2 cos a)

Nothing here is a structural certificate: drive, clapper, friction and the movement of the frame are left out.

References
----------
K by the arithmetic-geometric mean: M. Abramowitz and I. A. Stegun, Handbook of Mathematical Functions (1964),
p. 598; NIST Digital Library of Mathematical Functions, section 19.8.
"""

import math
from typing import NamedTuple

GRAVITY_M_S2 = 9.80665
"""Standard acceleration of free fall (3rd CGPM, 1901)."""


class Forces(NamedTuple):
    """Largest forces of one swing as multiples of the weight: upright, and to the side."""

    vertical: float
    horizontal: float


def complete_elliptic_k(modulus: float) -> float:
    """Give the complete elliptic integral of the first kind.

    Parameters
    ----------
    modulus : float
        The modulus k itself [-], from 0 to less than 1; not its square.

    Raises
    ------
    ValueError
        When the modulus is outside.
    """
    if not 0.0 <= modulus < 1.0:
        raise ValueError(f"modulus must be from 0 to less than 1, not {modulus!r}")
    # (1 - k)(1 + k) keeps its digits where 1 - k^2 would not.
    mean, other = 1.0, math.sqrt((1.0 - modulus) * (1.0 + modulus))
    while abs(mean - other) > 1e-15 * mean:
        mean, other = (mean + other) / 2.0, math.sqrt(mean * other)
    return math.pi / (2.0 * mean)


def period_s(pendulum_length_m: float, swing_angle_deg: float) -> float:
    """Give the time of one full swing to and fro.

    Parameters
    ----------
    pendulum_length_m : float
        Length of the thread pendulum that swings alike [m].
    swing_angle_deg : float
        Swing to one side [deg], more than 0 and less than 180.

    Returns
    -------
    float
        Period [s].

    Raises
    ------
    ValueError
        When the length is not positive or the angle outside.
    """
    if not pendulum_length_m > 0.0:
        raise ValueError(f"pendulum_length_m must be more than 0, not {pendulum_length_m!r}")
    return 4.0 * math.sqrt(pendulum_length_m / GRAVITY_M_S2) * _k_of(swing_angle_deg)


def pendulum_length_m(period: float, swing_angle_deg: float) -> float:
    """Give the length of the thread pendulum that swings alike, from the time of a swing.

    Parameters
    ----------
    period : float
        Time of one full swing to and fro [s].
    swing_angle_deg : float
        Swing to one side [deg], more than 0 and less than 180.

    Returns
    -------
    float
        Length [m].

    Raises
    ------
    ValueError
        When the period is not positive or the angle outside.
    """
    if not period > 0.0:
        raise ValueError(f"period must be more than 0, not {period!r}")
    return GRAVITY_M_S2 * (period / (4.0 * _k_of(swing_angle_deg))) ** 2


def _k_of(swing_angle_deg: float) -> float:
    if not 0.0 < swing_angle_deg < 180.0:
        raise ValueError(f"swing_angle_deg must be more than 0 and less than 180, not {swing_angle_deg!r}")
    return complete_elliptic_k(math.sin(math.radians(swing_angle_deg) / 2.0))


def forces_at(angle_deg: float, swing_angle_deg: float, c: float) -> Forces:
    """Give the forces while the bell passes an angle.

    Parameters
    ----------
    angle_deg : float
        Angle from hanging [deg], up to the swing angle.
    swing_angle_deg : float
        Swing to one side [deg], 0 to 180.
    c : float
        Distance of the centre of mass over the pendulum's length [-], 0 to 1.

    Returns
    -------
    Forces
        As multiples of the weight.

    Raises
    ------
    ValueError
        When an angle or ``c`` is outside.
    """
    _checked(swing_angle_deg, c)
    if abs(angle_deg) > swing_angle_deg:
        raise ValueError("angle_deg must not pass the swing angle")
    here, end = math.cos(math.radians(angle_deg)), math.cos(math.radians(swing_angle_deg))
    vertical = 1.0 + c * (3.0 * here**2 - 2.0 * end * here - 1.0)
    return Forces(vertical, c * math.sin(math.radians(angle_deg)) * (3.0 * here - 2.0 * end))


def largest_forces(swing_angle_deg: float, c: float) -> Forces:
    """Give the largest forces of a swing.

    The vertical force is largest hanging down, 1 + 2 c (1 - cos a). The horizontal one is largest where
    6 cos^2 p - 2 cos a cos p - 3 = 0; swings of up to 30 degrees end before that, and have it at their end.

    Parameters
    ----------
    swing_angle_deg : float
        Swing to one side [deg], 0 to 180.
    c : float
        Distance of the centre of mass over the pendulum's length [-], 0 to 1.

    Raises
    ------
    ValueError
        When the angle or ``c`` is outside.
    """
    _checked(swing_angle_deg, c)
    end = math.cos(math.radians(swing_angle_deg))
    at_deg = math.degrees(math.acos((end + math.sqrt(end**2 + 18.0)) / 6.0))
    horizontal = forces_at(min(at_deg, swing_angle_deg), swing_angle_deg, c).horizontal
    return Forces(1.0 + 2.0 * c * (1.0 - end), horizontal)


def _checked(swing_angle_deg: float, c: float) -> None:
    if not (0.0 <= swing_angle_deg <= 180.0 and 0.0 <= c <= 1.0):
        raise ValueError("the swing angle must be from 0 to 180 degrees and c from 0 to 1")
