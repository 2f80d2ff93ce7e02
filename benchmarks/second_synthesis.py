"""Make the recording of a bell in another way than ``synthesis``, so that nothing is tuned to one of them.

Here each tone rises exponentially, decays by a law of its own frequency, and is struck by chance as loud as
any other; noise is pink. What a recorder does to a sound is done too: sampling rate, bits, two channels,
silence before the blow, more strokes, the band of a telephone, lossy coding. Bells that nobody published are
drawn by the physics of the shape: order, bounds, and the tie between the partials of the rim.
"""

import io
from collections.abc import Sequence
from typing import NamedTuple

import numpy as np
import soundfile
from synthesis import Bell, Mode, Samples, through_a_phone


class Recorder(NamedTuple):
    """How a stroke is recorded.

    Parameters
    ----------
    rate_hz : int
        Sampling rate [Hz].
    subtype, container : str
        As soundfile names them: ``PCM_16``, ``PCM_24``, ``FLOAT``, ``VORBIS``; ``WAV``, ``FLAC``, ``OGG``.
    channels : int
        1 or 2; the second hears the same later and softer.
    lead_s : float
        Silence before the blow [s].
    strokes : int
        How many, alike but not the same; each rings for the whole length.
    snr_db : float or None
        Mean power of the sound over that of pink noise [dB]; None for no noise at all.
    band_hz : tuple of float or None
        Band of a telephone [Hz], outside which the sound falls by 24 dB an octave.
    """

    rate_hz: int = 48000
    subtype: str = "PCM_24"
    container: str = "WAV"
    channels: int = 1
    lead_s: float = 0.0
    strokes: int = 1
    snr_db: float | None = 20.0
    band_hz: tuple[float, float] | None = None


def modes_by_chance(bell: Bell, random: np.random.Generator) -> list[Mode]:
    """Draw every partial as loud as any other, with the decay law T60 = k·f^-p; twins of a doublet unlike."""
    lowest = min(hertz for _, each in bell.partials for hertz in each)
    longest, power = random.uniform(5.0, 30.0), random.uniform(0.4, 1.2)
    modes = []
    for name, frequencies in bell.partials:
        level = 10.0 ** (random.uniform(-20.0, 0.0) / 20.0)
        for number, hertz in enumerate(frequencies):
            share = 1.0 if number == 0 else random.uniform(0.3, 1.0)
            t60 = longest * (hertz / lowest) ** -power * random.uniform(0.85, 1.15)
            modes.append(Mode(name, hertz, level * share, t60, random.uniform(0.0, 2.0 * np.pi)))
    return modes


def recorded(modes: Sequence[Mode], random: np.random.Generator, recorder: Recorder, seconds: float) -> bytes:
    """Give the bytes of a recording in which each stroke rings for ``seconds``."""
    rate = recorder.rate_hz
    whole = np.concatenate(
        [
            np.zeros(round(recorder.lead_s * rate)),
            *(
                _stroke(modes, random, rate, seconds, loud)
                for loud in np.resize([1.0, 0.8, 0.9], recorder.strokes)
            ),
        ]
    )
    if recorder.band_hz:
        whole = through_a_phone(whole, rate, *recorder.band_hz)
    if recorder.snr_db is not None:
        noise = _pink(len(whole), random)
        whole = whole + noise * np.sqrt(np.mean(whole**2) * 10.0 ** (-recorder.snr_db / 10.0))
    whole = 0.8 * whole / np.max(np.abs(whole))
    late = round(0.0013 * rate)
    columns = [whole, 0.6 * np.concatenate([np.zeros(late), whole[:-late]])][: recorder.channels]
    file = io.BytesIO()
    soundfile.write(
        file, np.stack(columns, axis=1), rate, format=recorder.container, subtype=recorder.subtype
    )
    return file.getvalue()


def _stroke(
    modes: Sequence[Mode], random: np.random.Generator, rate: int, seconds: float, loud: float
) -> Samples:
    """Give one stroke, a little unlike the other ones: the clapper never hits twice alike."""
    time = np.arange(round(seconds * rate)) / rate
    sound = np.zeros(len(time))
    for mode in modes:
        envelope = np.exp2(-time * (6.907755 / mode.t60_s / np.log(2.0))) - np.exp(-time / 0.0015)
        turned = mode.phase + random.uniform(-0.4, 0.4)
        sound += loud * mode.amplitude * envelope * np.sin(2.0 * np.pi * mode.frequency_hz * time + turned)
    return sound


def _pink(length: int, random: np.random.Generator) -> Samples:
    """Give noise of unit mean power whose power falls with 1/f above 20 Hz."""
    spectrum = np.fft.rfft(random.normal(0.0, 1.0, length))
    places = np.arange(len(spectrum))
    spectrum *= 1.0 / np.sqrt(np.maximum(places, 20.0 * length / 48000.0))
    noise = np.fft.irfft(spectrum, length)
    return noise / np.sqrt(np.mean(noise**2))


class Kind(NamedTuple):
    """Where the lower partials of a kind of bell may stand [cents from the nominal], drawn evenly."""

    hum: tuple[float, float] = (-2420.0, -2380.0)
    prime: tuple[float, float] = (-1220.0, -1180.0)
    tierce: tuple[float, float] = (-920.0, -885.0)
    quint: tuple[float, float] | None = (-560.0, -400.0)
    nominal_hz: tuple[float, float] = (500.0, 1600.0)
    octave: tuple[float, float] = (1205.0, 1260.0)


KINDS = {
    "well tuned": Kind(),
    "old style": Kind((-2350.0, -2200.0), (-1330.0, -1200.0), (-910.0, -840.0)),
    "flat prime": Kind(prime=(-1600.0, -1400.0)),
    "sharp prime": Kind(prime=(-1150.0, -1040.0)),
    "missing quint": Kind(quint=None),
    "major third": Kind(tierce=(-822.0, -795.0)),
    "neutral third": Kind(tierce=(-870.0, -830.0)),
    "steel": Kind((-2480.0, -2300.0), (-1350.0, -1120.0), (-930.0, -850.0), (-600.0, -330.0)),
    "carillon treble": Kind(nominal_hz=(3000.0, 6500.0), octave=(1185.0, 1225.0)),
    "great bell": Kind(nominal_hz=(250.0, 420.0), octave=(1220.0, 1285.0)),
}
"""Kinds of bells. Their ranges are common practice, no source: they try the naming, and prove nothing."""


def drawn_bell(kind: str, random: np.random.Generator) -> Bell:
    """Draw a bell that nobody published; a third of its partials are doublets."""
    ranges = KINDS[kind]
    nominal_hz, octave = random.uniform(*ranges.nominal_hz), random.uniform(*ranges.octave)
    places = {
        "hum": random.uniform(*ranges.hum),
        "prime": random.uniform(*ranges.prime),
        "tierce": random.uniform(*ranges.tierce),
        **({} if ranges.quint is None else {"quint": random.uniform(*ranges.quint)}),
        "nominal": 0.0,
        "superquint": 671.1 + 0.553 * (octave - 1200.0) + random.normal(0.0, 5.0),
        "octave-nominal": octave,
    }
    partials = []
    for name, cents in places.items():
        hertz = nominal_hz * 2.0 ** (cents / 1200.0)
        apart = 2.0 ** (random.uniform(1.0, 14.0) / 1200.0) if random.uniform() < 1.0 / 3.0 else 0.0
        partials.append((name, (hertz, hertz * apart) if apart else (hertz,)))
    return Bell(f"{kind} (drawn)", tuple(partials))
