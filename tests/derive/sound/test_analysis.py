"""Recordings made of published partials give those partials back, and what is no bell is refused."""

import importlib
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from registry.derive.sound import analyse

BENCHMARKS = Path(__file__).resolve().parents[3] / "benchmarks"
RATE_HZ = 44100
BELLS = 12
"""The bells of ``tables/partials.csv`` (W. A. Hibbert; Csound manual; A. Schoofs et al.: cited there)."""


@pytest.fixture(scope="module")
def synthesis() -> Any:
    """Give the module that makes recordings from listed partials."""
    with pytest.MonkeyPatch.context() as patch:
        patch.syspath_prepend(str(BENCHMARKS))
        return importlib.import_module("synthesis")


def struck(synthesis: Any, bell: int, *, seconds: float = 4.0, seed: int = 7) -> tuple[Any, Any]:
    """Make one stroke of a published bell with noise 20 dB below it; give its modes too."""
    random = np.random.default_rng([seed, bell])
    modes = synthesis.modes_of(synthesis.published_bells()[bell], random)
    clean = synthesis.to_full_scale(synthesis.ringing(modes, RATE_HZ, seconds))
    return synthesis.with_noise(clean, random, 20.0), modes


@pytest.mark.parametrize("bell", range(BELLS))
def test_published_partials_come_back(synthesis: Any, bell: int) -> None:
    """Each named partial is found within two cents and under its own name, and none is invented."""
    samples, modes = struck(synthesis, bell)
    analysis = analyse(samples, RATE_HZ)
    assert analysis.refusals == ()
    found = {each.name: each.partial.tone.frequency_hz for each in analysis.partials}
    made = {mode.name for mode in modes}
    assert {name for name in found if name in synthesis.NAMES} == made & set(synthesis.NAMES)
    for name in made & set(synthesis.NAMES):
        off = min(
            abs(1200.0 * np.log2(found[name] / mode.frequency_hz)) for mode in modes if mode.name == name
        )
        assert off < 2.0, name


def test_strike_is_half_the_nominal(synthesis: Any) -> None:
    """The strike note is half the nominal where that lies between 500 and 1500 Hz (Hibbert, thesis, 2008)."""
    samples, modes = struck(synthesis, 1)
    nominal = next(mode.frequency_hz for mode in modes if mode.name == "nominal")
    strike = analyse(samples, RATE_HZ).strike
    assert 500.0 < nominal < 1500.0
    assert strike is not None
    assert strike.value == pytest.approx(nominal / 2.0, rel=2.0 ** (1.0 / 1200.0) - 1.0)


def refusals(samples: Any) -> list[str]:
    """Analyse samples that cannot be judged."""
    analysis = analyse(samples, RATE_HZ)
    assert analysis.partials == ()
    return [each.code for each in analysis.refusals]


def test_what_is_too_short_is_refused(synthesis: Any) -> None:
    """A tenth of a second holds no partials to be measured."""
    assert refusals(struck(synthesis, 1, seconds=0.1)[0]) == ["recording-too-short"]


def test_silence_is_refused() -> None:
    """Nothing that sounds, nothing to measure."""
    assert refusals(np.zeros(RATE_HZ * 3)) == ["recording-silent"]


def test_clipped_sound_is_refused(synthesis: Any) -> None:
    """Peaks cut off make partials that the bell has not."""
    assert refusals(synthesis.clipped(struck(synthesis, 1)[0])) == ["recording-clipped"]


def test_speech_is_refused(synthesis: Any) -> None:
    """A voice is no bell."""
    voice = synthesis.to_full_scale(synthesis.speaking(RATE_HZ, 4.0, np.random.default_rng(3)))
    assert refusals(voice) == ["recording-not-a-bell"]


def test_a_swinging_bell_is_refused(synthesis: Any) -> None:
    """A bell that moves toward the microphone and away changes its pitch (Doppler)."""
    random = np.random.default_rng(5)
    modes = synthesis.modes_of(synthesis.published_bells()[1], random)
    moved = synthesis.to_full_scale(synthesis.swinging(modes, RATE_HZ, 5.0))
    assert refusals(synthesis.with_noise(moved, random, 30.0)) == ["recording-swinging"]


def test_two_bells_are_refused(synthesis: Any) -> None:
    """Two bells at once cannot be told apart with certainty."""
    one, _ = struck(synthesis, 1)
    other, _ = struck(synthesis, 3)
    late = RATE_HZ // 2
    both = one.copy()
    both[late:] += other[:-late]
    assert refusals(synthesis.to_full_scale(both)) == ["recording-several-bells"]


@pytest.mark.parametrize(
    ("samples", "rate_hz"), [([[0.0]], 44100), ([float("nan")] * 9, 44100), ([0.0] * 9, 0)]
)
def test_what_is_no_recording_is_a_mistake_of_the_caller(samples: Any, rate_hz: int) -> None:
    """Samples are one row of finite numbers at a positive rate."""
    with pytest.raises(ValueError, match="must be"):
        analyse(np.array(samples), rate_hz)
