"""Sections of bells for tests."""

import math

from registry.model.bell import ProfilePoint


def points(*rows):
    """Make points of height, diameter and thickness [mm]."""
    return [ProfilePoint(*row) for row in rows]


def invented_bell(diameter_mm=1000.0, count=12):
    """Give a section of bell-like shape drawn by formulas, from lip to shoulder, closer in the sound-bow."""
    rows = []
    for number in range(count):
        x = (number / (count - 1)) ** 1.6
        outside = diameter_mm * (0.52 + 0.48 * math.exp(-3.2 * x) - 0.02 * x)
        wall = diameter_mm * (0.03 + 0.05 * math.exp(-(((x - 0.07) / 0.09) ** 2)))
        rows.append((0.78 * diameter_mm * x, outside, wall if number else 0.006 * diameter_mm))
    return points(*rows)
