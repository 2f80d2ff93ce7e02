"""Make the recording of a bell from its listed partials: doublets, decay, attack, room, noise, faults.

Everything is drawn from a seed, so that a case can be made again. Nothing here is a model of a real bell:
amplitudes and decays are invented within what is usual, and each case keeps the values it was made of.
"""

import csv
from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

Samples = NDArray[np.float64]

TABLES = Path(__file__).resolve().parent.parent / "tests" / "derive"
NAMES = ("hum", "prime", "tierce", "quint", "nominal", "tenth", "eleventh", "superquint", "octave-nominal")


class Mode(NamedTuple):
    """One decaying sinusoid of a bell, as it was made."""

    name: str
    frequency_hz: float
    amplitude: float
    t60_s: float
    phase: float


class Bell(NamedTuple):
    """A published bell: its partials by name, each one frequency or the two of a doublet."""

    title: str
    partials: tuple[tuple[str, tuple[float, ...]], ...]


def published_bells(nominal_hz: float = 800.0) -> list[Bell]:
    """Give the published bells; one whose source gives ratios only is set to ``nominal_hz``."""
    bells: dict[str, dict[str, list[float]]] = {}
    for file in (TABLES / "tables" / "partials.csv", TABLES / "sound" / "tables" / "handbell.csv"):
        with file.open(encoding="utf-8", newline="") as table:
            for row in csv.DictReader(line for line in table if not line.startswith("#")):
                hertz = row["frequency_hz"] or nominal_hz * 2.0 ** (float(row["cents_from_nominal"]) / 1200.0)
                bells.setdefault(row["bell"], {}).setdefault(row["partial"], []).append(float(hertz))
    return [
        Bell(title, tuple((name, tuple(hertz)) for name, hertz in partials.items()))
        for title, partials in bells.items()
    ]


LEVELS_DB = {"hum": -6.0, "prime": -8.0, "tierce": 0.0, "quint": -22.0, "nominal": -3.0, "superquint": -8.0}
"""Usual levels at the stroke; other partials stand at -14 dB."""


def modes_of(
    bell: Bell,
    random: np.random.Generator,
    *,
    spread_db: float = 6.0,
    longest_t60_s: tuple[float, float] = (8.0, 20.0),
    steepness: tuple[float, float] = (0.6, 1.0),
) -> list[Mode]:
    """Draw amplitude, decay and phase for each partial; decays shorten with frequency.

    Parameters
    ----------
    bell : Bell
        The frequencies.
    random : Generator
        Where chance comes from.
    spread_db : float
        Standard deviation of the levels round the usual ones.
    longest_t60_s, steepness : tuple of float
        T60 of the lowest partial, and the power of frequency by which the others are shorter.
    """
    lowest = min(hertz for _, each in bell.partials for hertz in each)
    longest = random.uniform(*longest_t60_s)
    power = random.uniform(*steepness)
    modes = []
    for name, frequencies in bell.partials:
        level = LEVELS_DB.get(name, -14.0) + random.normal(0.0, spread_db)
        t60 = longest * (frequencies[0] / lowest) ** -power * random.uniform(0.7, 1.3)
        for number, hertz in enumerate(frequencies):
            unlike = 0.0 if number == 0 else -random.uniform(0.0, 12.0)
            alike = 1.0 if number == 0 else random.uniform(0.9, 1.1)
            amplitude = 10.0 ** ((level + unlike) / 20.0)
            modes.append(Mode(name, hertz, amplitude, t60 * alike, random.uniform(0.0, 2.0 * np.pi)))
    return modes


def ringing(modes: Iterable[Mode], rate_hz: int, duration_s: float, *, lead_s: float = 0.0) -> Samples:
    """Give the sound of one stroke ``lead_s`` after the start."""
    samples = np.zeros(round(rate_hz * duration_s))
    first = round(rate_hz * lead_s)
    time = np.arange(len(samples) - first) / rate_hz
    for mode in modes:
        decay = np.exp(-6.907755 / mode.t60_s * time)
        samples[first:] += (
            mode.amplitude * decay * np.cos(2.0 * np.pi * mode.frequency_hz * time + mode.phase)
        )
    return samples


def with_noise(samples: Samples, random: np.random.Generator, snr_db: float) -> Samples:
    """Add white noise that stands ``snr_db`` below the mean power of the whole signal."""
    power = float(np.mean(samples**2)) * 10.0 ** (-snr_db / 10.0)
    return samples + random.normal(0.0, np.sqrt(power), len(samples))


def with_attack(samples: Samples, rate_hz: int, random: np.random.Generator, at_s: float = 0.0) -> Samples:
    """Let the sound rise within 2 ms, and add the knock of the clapper: noise that is gone after 20 ms."""
    first = round(at_s * rate_hz)
    time = np.arange(len(samples) - first) / rate_hz
    knock = random.normal(0.0, float(np.max(np.abs(samples))) * 0.5, len(time)) * np.exp(-time / 0.004)
    changed = samples.copy()
    changed[first:] = changed[first:] * (1.0 - np.exp(-time / 0.0005)) + knock
    return changed


def in_a_room(
    samples: Samples, rate_hz: int, random: np.random.Generator, t60_s: float, wet: float
) -> Samples:
    """Add what the walls throw back: exponentially decaying noise as the response of the room."""
    length = round(t60_s * rate_hz)
    time = np.arange(length) / rate_hz
    response = random.normal(0.0, 1.0, length) * np.exp(-6.907755 / t60_s * time)
    response *= wet / np.sqrt(np.sum(response**2))
    response[0] += 1.0
    size = 1 << (len(samples) + length).bit_length()
    return np.fft.irfft(np.fft.rfft(samples, size) * np.fft.rfft(response, size), size)[: len(samples)]


def through_a_phone(
    samples: Samples, rate_hz: int, low_hz: float = 250.0, high_hz: float = 7000.0
) -> Samples:
    """Weaken what lies outside a phone's band by 24 dB an octave."""
    spectrum = np.fft.rfft(samples)
    frequency = np.maximum(np.fft.rfftfreq(len(samples), 1.0 / rate_hz), 1.0)
    gain = 1.0 / np.sqrt(1.0 + (low_hz / frequency) ** 8) / np.sqrt(1.0 + (frequency / high_hz) ** 8)
    return np.fft.irfft(spectrum * gain, len(samples))


def swinging(
    modes: Sequence[Mode], rate_hz: int, duration_s: float, *, path_m: float = 0.6, period_s: float = 1.6
) -> Samples:
    """Give a bell whose mouth goes to and fro by ``path_m`` while it sounds: Doppler shift at 343 m/s."""
    time = np.arange(round(rate_hz * duration_s)) / rate_hz
    late = path_m / 343.0 * np.sin(2.0 * np.pi * time / period_s)
    samples = np.zeros(len(time))
    for mode in modes:
        decay = np.exp(-6.907755 / mode.t60_s * time)
        phase = 2.0 * np.pi * mode.frequency_hz * (time - late) + mode.phase
        samples += mode.amplitude * decay * np.cos(phase)
    return samples


def speaking(rate_hz: int, duration_s: float, random: np.random.Generator) -> Samples:
    """Give something like speech: a gliding voice through changing formants, in syllables."""
    time = np.arange(round(rate_hz * duration_s)) / rate_hz
    knots = np.arange(0.0, duration_s + 0.4, 0.18)
    pitch = np.interp(time, knots, random.uniform(90.0, 180.0, len(knots)))
    phase = 2.0 * np.pi * np.cumsum(pitch) / rate_hz
    loud = np.interp(time, knots, random.choice([0.0, 0.5, 1.0], len(knots)))
    formants = [np.interp(time, knots, random.uniform(*band, len(knots))) for band in VOWELS]
    samples = np.zeros(len(time))
    for harmonic in range(1, 40):
        gain = sum(1.0 / (1.0 + ((harmonic * pitch - formant) / 90.0) ** 2) for formant in formants)
        samples += (gain + 0.02) / harmonic**0.5 * np.cos(harmonic * phase)
    return samples * loud + 0.02 * random.normal(0.0, 1.0, len(time)) * loud


VOWELS = ((280.0, 800.0), (900.0, 2200.0), (2300.0, 3000.0))
"""Where the formants of a voice wander [Hz]."""


def to_full_scale(samples: Samples, peak: float = 0.7) -> Samples:
    """Bring the loudest sample to ``peak`` of full scale."""
    return samples * (peak / float(np.max(np.abs(samples))))


def clipped(samples: Samples, share: float = 0.4) -> Samples:
    """Cut all that exceeds ``share`` of the loudest sample."""
    limit = share * float(np.max(np.abs(samples)))
    return np.clip(samples, -limit, limit)
