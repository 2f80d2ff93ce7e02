"""Recordings of invented bells, made of listed partials, for tests that need a file."""

from pathlib import Path

import numpy as np
import soundfile

RATE_HZ = 22050
PARTIALS = (
    ("hum", 0.25, -6.0, 14.0),
    ("prime", 0.5, -8.0, 10.0),
    ("tierce", 0.6, 0.0, 8.0),
    ("quint", 0.75, -22.0, 5.0),
    ("nominal", 1.0, -3.0, 5.0),
    ("superquint", 1.5, -8.0, 3.0),
    ("octave-nominal", 2.0, -14.0, 2.0),
)
"""Name, ratio to the nominal, level [dB] and time to fall by 60 dB [s]; invented."""


def ring(path: Path, nominal_hz: float = 800.0, *, seconds: float = 3.0) -> Path:
    """Write the recording of one stroke, with a little noise."""
    random = np.random.default_rng(1)
    time = np.arange(int(seconds * RATE_HZ)) / RATE_HZ
    sound = sum(
        10.0 ** (level / 20.0)
        * 10.0 ** (-3.0 * time / t60_s)
        * np.sin(2.0 * np.pi * ratio * nominal_hz * time + random.uniform(0.0, 6.0))
        for _, ratio, level, t60_s in PARTIALS
    )
    whole = np.concatenate([np.zeros(RATE_HZ // 4), sound])
    whole = 0.6 * whole / np.max(np.abs(whole)) + random.normal(0.0, 1e-3, len(whole))
    path.parent.mkdir(parents=True, exist_ok=True)
    soundfile.write(path, whole, RATE_HZ, subtype="PCM_16")
    return path


def silence(path: Path) -> Path:
    """Write a recording in which nothing sounds."""
    soundfile.write(path, np.zeros(3 * RATE_HZ), RATE_HZ, subtype="PCM_16")
    return path
