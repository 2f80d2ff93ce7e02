"""A reverberant stroke is measured again later, and each partial keeps the surer of its two measures."""

import importlib
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from registry.derive.sound.later import sounding_of, with_later
from registry.derive.sound.partial_tones import Measured, PartialTone, Sounding, sounding_in, stretch_of
from registry.derive.sound.strokes import Stroke

BENCHMARKS = Path(__file__).resolve().parents[3] / "benchmarks"
RATE_HZ = 44100


def measured(hertz: float, t60_s: float, spread: float, level_db: float = -6.0) -> Measured:
    """Make a tone whose T60 is known within a share of it."""
    return Measured(hertz, 0.01, t60_s, t60_s * (1.0 - spread), t60_s * (1.0 + spread), level_db)


def sounding(*partials: PartialTone) -> Sounding:
    """Make a reverberant stroke."""
    return Sounding(partials, (), 0.99, 0.0, reverberant=True, followed_s=4.0, noise_db=-60.0)


def test_the_surer_measure_stands_with_the_level_at_the_blow() -> None:
    """A late decay with the narrower interval replaces the early one; a vaguer one does not."""
    early = sounding(
        PartialTone(measured(200.0, 8.0, 0.3), None), PartialTone(measured(400.0, 5.0, 0.01), None)
    )
    late = sounding(
        PartialTone(measured(200.01, 9.0, 0.02, 0.0), None), PartialTone(measured(400.0, 6.0, 0.2), None)
    )
    hum, prime = with_later(early, late, 1.0).partials
    assert hum.tone.t60_s == 9.0
    assert hum.level_db == -6.0
    assert hum.tone.t60_low_s < 8.5
    assert prime.tone.t60_s == 5.0


def test_a_late_doublet_keeps_its_levels_at_the_blow() -> None:
    """A second tone that falls faster was louder at the blow than it is later."""
    early = sounding(PartialTone(measured(200.0, 8.0, 0.3), None))
    late = sounding(PartialTone(measured(200.0, 8.0, 0.01, 0.0), measured(201.0, 4.0, 0.01, -10.0)))
    (hum,) = with_later(early, late, 2.0).partials
    assert hum.doublet is not None
    assert hum.doublet.level_db == pytest.approx(-6.0 - 10.0 + 60.0 * 2.0 * (1.0 / 4.0 - 1.0 / 8.0))


def test_a_room_bends_the_decay_less() -> None:
    """In a room of a second and a half the hum's T60 comes back within 3 %, nearer than at the blow."""
    with pytest.MonkeyPatch.context() as patch:
        patch.syspath_prepend(str(BENCHMARKS))
        synthesis: Any = importlib.import_module("synthesis")
    random = np.random.default_rng([2026, 0, 6])
    modes = synthesis.modes_of(synthesis.published_bells()[6], random)
    dry = synthesis.with_attack(synthesis.ringing(modes, RATE_HZ, 4.0), RATE_HZ, random)
    wet = synthesis.to_full_scale(synthesis.in_a_room(dry, RATE_HZ, random, 1.5, 0.5))
    stroke = Stroke(0.0, 4.0, -10.0)
    both = sounding_of(wet, RATE_HZ, stroke)
    early = sounding_in(*stretch_of(wet, RATE_HZ, stroke))
    assert early.reverberant

    def off(found: Sounding) -> float:
        shares = []
        for mode in modes:
            near = min(found.partials, key=lambda each: abs(each.tone.frequency_hz - mode.frequency_hz))
            shares.append(abs((near.tone.t60_s or 0.0) / mode.t60_s - 1.0))
        return float(np.median(shares))

    assert off(both) < 0.03
    assert off(both) < off(early)
