"""The pitch of a bell by its temperature: its direction and its bookkeeping; no test rests on the number."""

import math

import pytest

from registry.derive.temperature import at_temperature, cents_warmer


@pytest.mark.parametrize("material", ["bronze", "cast-steel"])
def test_warmer_is_flatter(material):
    """A metal is softer when it is warm, so that the bell sounds flatter."""
    assert cents_warmer(30.0, 10.0, material) < 0.0
    assert cents_warmer(10.0, 30.0, material) == -cents_warmer(30.0, 10.0, material)
    assert cents_warmer(20.0, 20.0, material) == 0.0


def test_there_and_back():
    """A frequency taken to another temperature and back is the same; on the way it moved by those cents."""
    warm = at_temperature(440.0, 5.0, 25.0)
    assert 1200.0 * math.log2(warm / 440.0) == pytest.approx(cents_warmer(25.0, 5.0))
    assert at_temperature(warm, 25.0, 5.0) == pytest.approx(440.0)


@pytest.mark.parametrize("material", ["glass", "unknown", None])
def test_unknown_coefficient(material):
    """A material without a coefficient gets no correction."""
    assert cents_warmer(25.0, 5.0, material) is None
    assert at_temperature(440.0, 25.0, 5.0, material) is None
