"""The bells of a tower to one scale."""

import pytest

from registry.drawing.ring import SMALLEST, WIDEST, ring_outlines, scale_bar, scale_for


def test_bells_are_to_one_scale() -> None:
    """A bell of half the diameter is drawn half as wide; the largest takes the full width."""
    large, small = ring_outlines([(1600.0, None, None), (800.0, None, None)])
    assert large.width == pytest.approx(WIDEST + 2, abs=0.2)
    assert small.width - 2 == pytest.approx((large.width - 2) / 2, abs=0.2)


def test_a_bell_without_diameter_is_a_sign_without_scale() -> None:
    """It is drawn, marked as unknown, and does not change the scale of the others."""
    with_unknown = ring_outlines([(1600.0, None, None), (None, 500.0, None)])
    assert [outline.known for outline in with_unknown] == [True, False]
    assert with_unknown[0] == ring_outlines([(1600.0, None, None)])[0]


def test_a_tiny_bell_can_still_be_met_with_a_finger() -> None:
    """Beside a giant even a hand bell keeps the least width."""
    outline = ring_outlines([(3200.0, None, None), (60.0, None, None)])[1]
    assert outline.width >= SMALLEST


def test_scale_bar_is_round_and_no_longer_than_half_the_largest() -> None:
    """The bar has a round length and stays in proportion."""
    bar = scale_bar([1450.0, 700.0, None])
    assert bar.length_mm == 500
    assert bar.width == pytest.approx(500 * scale_for([1450.0]), abs=0.1)
    assert scale_bar([]).length_mm > 0
