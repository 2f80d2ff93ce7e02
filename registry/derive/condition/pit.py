"""The geometry of the pit that a clapper wears: volume, and the deepest pit a ball can leave.

References
----------
Spherical cap of height h on a circle of radius a: V = pi h (3 a^2 + h^2) / 6, on a sphere of radius
R = (a^2 + h^2) / (2 h) (E. W. Weisstein, Spherical Cap, MathWorld).
"""

import math


def cap_volume_mm3(depth_mm: float, width_mm: float) -> float:
    """Give the volume of a pit that is a piece of a sphere.

    Parameters
    ----------
    depth_mm : float
        Depth of the pit [mm].
    width_mm : float
        Its diameter at the surface [mm].

    Returns
    -------
    float
        Volume [mm3].

    Raises
    ------
    ValueError
        When a size is negative or no number.
    """
    _sizes(depth_mm, width_mm)
    radius_mm = width_mm / 2.0
    return math.pi * depth_mm * (3.0 * radius_mm**2 + depth_mm**2) / 6.0


def sphere_radius_mm(depth_mm: float, width_mm: float) -> float:
    """Give the radius of the sphere that a round pit is a piece of.

    Parameters
    ----------
    depth_mm : float
        Depth of the pit [mm], more than 0.
    width_mm : float
        Its diameter at the surface [mm].

    Returns
    -------
    float
        Radius [mm].

    Raises
    ------
    ValueError
        When a size is negative or no number, or the depth is 0.
    """
    _sizes(depth_mm, width_mm)
    if depth_mm == 0.0:
        raise ValueError("depth_mm must be more than 0")
    radius_mm = width_mm / 2.0
    return (radius_mm**2 + depth_mm**2) / (2.0 * depth_mm)


def pit_volume_mm3(depth_mm: float, length_mm: float, width_mm: float) -> float:
    """Give the volume of a pit that is longer along the rim than it is high.

    Exact for a round pit; for an oval one a cap stretched along the rim, which is exact for a stretched
    sphere.

    Parameters
    ----------
    depth_mm, length_mm, width_mm : float
        Depth, length along the rim, width up and down [mm].

    Returns
    -------
    float
        Volume [mm3].

    Raises
    ------
    ValueError
        When a size is negative or no number.
    """
    _sizes(depth_mm, length_mm, width_mm)
    if width_mm == 0.0:
        return 0.0
    return cap_volume_mm3(depth_mm, width_mm) * length_mm / width_mm


def deepest_by_ball_mm(length_mm: float, ball_diameter_mm: float, mouth_diameter_mm: float) -> float | None:
    """Give the depth of the pit that an unworn ball leaves when the pit is this long along the rim.

    The inside of the rim is taken as a cylinder of the mouth's radius, a little more than it is; a ball that
    wears flat leaves a shallower pit.

    Parameters
    ----------
    length_mm : float
        Length of the pit along the rim [mm].
    ball_diameter_mm, mouth_diameter_mm : float
        Diameters of ball and mouth [mm].

    Returns
    -------
    float or None
        Depth [mm]; None where the pit is longer than the ball, so that something else made it.

    Raises
    ------
    ValueError
        When a size is negative or no number.
    """
    _sizes(length_mm, ball_diameter_mm, mouth_diameter_mm)
    half_mm = length_mm / 2.0
    ball_mm, rim_mm = ball_diameter_mm / 2.0, mouth_diameter_mm / 2.0
    if half_mm > ball_mm or ball_mm >= rim_mm:
        return None
    by_ball_mm = ball_mm - math.sqrt(ball_mm**2 - half_mm**2)
    by_rim_mm = rim_mm - math.sqrt(rim_mm**2 - half_mm**2)
    return by_ball_mm - by_rim_mm


def _sizes(*sizes_mm: float) -> None:
    if not all(math.isfinite(size) and size >= 0.0 for size in sizes_mm):
        raise ValueError(f"sizes of a pit must be numbers from 0 mm, not {sizes_mm}")
