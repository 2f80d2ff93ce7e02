"""Make the sound of a bell from listed partials, so that invented bells can be heard and analysed."""

import io
import math
from collections.abc import Sequence
from typing import NamedTuple

import numpy as np
import soundfile

RATE_HZ = 22050
SECONDS = 8.0
LEAD_S = 0.4
"""Silence before the blow."""
NOISE_DB = -60.0
"""Of the loudest sample."""
HEARD_DB = 70.0
"""How far the lowest tone falls until nobody hears it; our own, as in ``schema/rules/sound.yaml``."""
STEEPNESS = 0.8
"""T60 shortens with this power of the frequency; common practice, no source."""
LEVELS_DB = {"hum": -6.0, "prime": -8.0, "tierce": 0.0, "quint": -22.0, "nominal": -3.0, "superquint": -8.0}
"""Levels at the stroke; other partials stand at -14 dB. Invented, within what is usual."""


class Partial(NamedTuple):
    """One partial to sound; ``beat_hz`` is how far the second tone of a doublet stands above it."""

    name: str
    frequency_hz: float
    beat_hz: float | None = None


def recording_made_of(partials: Sequence[Partial], rings_for_s: float, seed: int) -> bytes:
    """Make a recording of one stroke.

    Parameters
    ----------
    partials : sequence of Partial
        At least one.
    rings_for_s : float
        Audible ring [s]: the lowest partial falls by 70 dB in it.
    seed : int
        Of the phases and the noise; one seed always makes the same bytes.

    Returns
    -------
    bytes
        A FLAC file of 16 bits, one channel.
    """
    random = np.random.default_rng(seed)
    time = np.arange(round(SECONDS * RATE_HZ)) / RATE_HZ
    lowest_hz = min(each.frequency_hz for each in partials)
    sound = np.zeros(len(time))
    for each in partials:
        t60_s = rings_for_s * 60.0 / HEARD_DB * (each.frequency_hz / lowest_hz) ** -STEEPNESS
        level = 10.0 ** (LEVELS_DB.get(each.name, -14.0) / 20.0)
        tones = [(each.frequency_hz, level)]
        if each.beat_hz:
            tones.append((each.frequency_hz + each.beat_hz, 0.6 * level))
        for hertz, amplitude in tones:
            envelope = np.exp(-math.log(1000.0) / t60_s * time) - np.exp(-time / 0.001)
            sound += amplitude * envelope * np.cos(2.0 * np.pi * hertz * time + random.uniform(0.0, 6.28))
    whole = np.concatenate([np.zeros(round(LEAD_S * RATE_HZ)), sound])
    whole *= 0.7 / float(np.max(np.abs(whole)))
    whole += random.normal(0.0, 0.7 * 10.0 ** (NOISE_DB / 20.0), len(whole))
    file = io.BytesIO()
    soundfile.write(file, whole, RATE_HZ, format="FLAC", subtype="PCM_16")
    return file.getvalue()
