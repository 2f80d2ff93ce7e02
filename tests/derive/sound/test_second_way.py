"""Recordings made in another way, and bells that nobody published, give their partials back as well."""

import importlib
from pathlib import Path
from typing import Any, NamedTuple

import numpy as np
import pytest

from registry.derive.sound import analyse
from registry.recordings import recording_of

BENCHMARKS = Path(__file__).resolve().parents[3] / "benchmarks"
KINDS = (
    "well tuned",
    "old style",
    "flat prime",
    "sharp prime",
    "missing quint",
    "major third",
    "neutral third",
    "steel",
    "carillon treble",
    "great bell",
)


class Ways(NamedTuple):
    """The modules that make recordings and judge what comes of them."""

    second: Any
    judging: Any


@pytest.fixture(scope="module")
def ways() -> Ways:
    """Give the second synthesis, and what holds an analysis against it."""
    with pytest.MonkeyPatch.context() as patch:
        patch.syspath_prepend(str(BENCHMARKS))
        return Ways(importlib.import_module("second_synthesis"), importlib.import_module("recordings"))


def judged(ways: Ways, bell: Any, seed: int, **recorder: Any) -> Any:
    """Record a bell in the second way, analyse the file, and hold the outcome against what was made."""
    random = np.random.default_rng([11, seed])
    modes = ways.second.modes_by_chance(bell, random)
    made = ways.second.recorded(modes, random, ways.second.Recorder(**recorder), 4.0)
    read = recording_of(made, "made.wav")
    return ways.judging.outcome(analyse(read.samples, read.rate_hz), modes, 4.0)


@pytest.mark.parametrize("kind", KINDS)
def test_every_kind_of_bell_is_named(ways: Ways, kind: str) -> None:
    """Partials in the order and bounds of the shape get their names, doublets their second tone."""
    bell = ways.second.drawn_bell(kind, np.random.default_rng([KINDS.index(kind)]))
    found = judged(ways, bell, KINDS.index(kind))
    assert found.refused == ""
    assert (found.invented, found.missed, found.false_doublets) == ([], [], 0)
    assert all(found.doublets)
    assert max(found.cents) < 2.0
    assert np.median(found.t60) < 0.05


@pytest.mark.parametrize(
    "recorder",
    [
        {
            "rate_hz": 44100,
            "subtype": "PCM_16",
            "container": "FLAC",
            "channels": 2,
            "lead_s": 0.7,
            "strokes": 2,
        },
        {"rate_hz": 96000, "subtype": "FLOAT", "snr_db": None},
        {"rate_hz": 22050, "subtype": "PCM_U8", "snr_db": 40.0},
        {"rate_hz": 44100, "subtype": "VORBIS", "container": "OGG"},
    ],
    ids=["two strokes in stereo", "no noise", "eight bits", "lossy"],
)
def test_a_recorder_makes_no_difference(ways: Ways, recorder: dict[str, Any]) -> None:
    """Rate, bits, channels, silence before the blow, a second stroke and lossy coding change nothing."""
    bell = ways.second.drawn_bell("old style", np.random.default_rng([5]))
    found = judged(ways, bell, 5, **recorder)
    assert found.refused == ""
    assert (found.invented, found.missed) == ([], [])
    assert max(found.cents) < 2.0
    assert found.strike_cents is None or found.strike_cents < 1.0
