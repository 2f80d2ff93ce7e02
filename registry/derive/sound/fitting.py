"""The decaying sinusoids of a stretch of sound, fitted together, and what is left without them."""

from itertools import pairwise
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from registry.derive.sound.decaying import (
    Complex,
    Fit,
    Real,
    Stretch,
    Whole,
    fit,
    sound_of,
    spectrum_of,
)
from registry.derive.sound.limits import limits


class Tone(NamedTuple):
    """One decaying sinusoid.

    Parameters
    ----------
    frequency_hz, frequency_error_hz : float
        Frequency and its standard error [Hz].
    decay, decay_error : float
        α and its standard error [1/s]; T60 = 6.908/α.
    amplitude : float
        At the first sample looked at, in the unit of the samples.
    evidence : float
        How many times the energy of the noise in its band it holds [-].
    """

    frequency_hz: float
    frequency_error_hz: float
    decay: float
    decay_error: float
    amplitude: float
    evidence: float


class Fitted:
    """The sinusoids found so far in a stretch of sound, and what is left of it without them.

    Parameters
    ----------
    sound : array of float
        Samples of one stroke, from just after the blow.
    rate_hz : float
        Sampling rate [Hz].
    """

    def __init__(self, sound: Real, rate_hz: float) -> None:
        self.sound = sound
        self.rate_hz = rate_hz
        self.length = len(sound)
        self.duration_s = self.length / rate_hz
        self.poles: Complex = np.zeros(0, complex)
        self.amplitudes: Complex = np.zeros(0, complex)
        self.spread: Real = np.zeros(0)
        self.rules = limits("search")
        self.left = sound
        self.spectrum: Complex = np.fft.rfft(sound)
        power = np.abs(self.spectrum) ** 2
        self.loudest = float(np.max(power))
        self.floor_hz, self.floor = self.floor_of(power)

    @property
    def frequencies_hz(self) -> Real:
        """The frequencies found [Hz]."""
        frequencies: Real = self.poles.imag * self.rate_hz / (2.0 * np.pi)
        return frequencies

    @property
    def errors_hz(self) -> Real:
        """The standard errors of the frequencies [Hz]."""
        errors: Real = self.spread * self.rate_hz / (2.0 * np.pi)
        return errors

    @property
    def decays(self) -> Real:
        """The decays α found [1/s]."""
        decays: Real = -self.poles.real * self.rate_hz
        return decays

    @property
    def widths_hz(self) -> Real:
        """Half the width of each peak [Hz]: what the decay and the length of the sound make of it."""
        widths: Real = self.decays / (2.0 * np.pi) + 0.5 / self.duration_s
        return widths

    def add(self, poles: Complex) -> None:
        """Add tones yet to be fitted."""
        self.poles = np.concatenate([self.poles, poles])
        self.amplitudes = np.concatenate([self.amplitudes, np.zeros(len(poles))])
        self.spread = np.concatenate([self.spread, np.zeros(len(poles))])

    def keep(self, kept: NDArray[np.bool_]) -> None:
        """Drop all other tones."""
        self.poles, self.amplitudes, self.spread = self.poles[kept], self.amplitudes[kept], self.spread[kept]

    def tones(self) -> list[Tone]:
        """Give what was found, lowest first."""
        columns = (
            self.frequencies_hz,
            self.errors_hz,
            self.decays,
            self.spread * self.rate_hz,
            np.abs(self.amplitudes),
            self.evidence(),
        )
        return sorted(Tone(*(float(value) for value in row)) for row in zip(*columns, strict=True))

    def evidence(self) -> Real:
        """Give the energy of each tone over that of the noise a bin."""
        twice = np.maximum(2.0 * self.decays / self.rate_hz, 1e-9)
        energy = 0.25 * np.abs(self.amplitudes) ** 2 * -np.expm1(-twice * self.length) / twice
        evidence: Real = energy * self.length / self.noise_at(self.frequencies_hz)
        return evidence

    def explained(self) -> tuple[float, float]:
        """Give the share of energy that the tones explain, and the share that noise does not either."""
        whole = max(float(np.sum(np.square(self.sound))), 1e-300)
        left = float(np.sum(np.square(self.left)))
        hertz = np.arange(len(self.spectrum)) / self.duration_s
        noise = 2.0 / self.length * float(np.sum(self.noise_at(hertz)))
        return 1.0 - left / whole, max(left - noise, 0.0) / whole

    def look_again(self) -> None:
        """Take what was found away from the sound, and measure the noise in what is left."""
        self.left = self.sound - sound_of(self.poles, self.amplitudes, self.length)
        self.spectrum = np.fft.rfft(self.left)
        self.floor_hz, self.floor = self.floor_of(np.abs(self.spectrum) ** 2)

    def noise_at(self, hertz: Real) -> Real:
        """Give the noise a bin at some frequencies [Hz]."""
        noise: Real = np.interp(hertz, self.floor_hz, self.floor)
        return noise

    def floor_of(self, power: Real) -> tuple[Real, Real]:
        """Give the noise a bin: the median of each band, which a few tones do not move.

        Before the first tone is found, a quick one may fill its band; later what fills a band is what a room
        adds to a tone, and counts as noise.
        """
        per_band = max(8, round(self.rules["noise_band_hz"] * self.duration_s))
        bands = max(len(power) // per_band, 1)
        per_band = min(per_band, len(power))
        level = np.median(power[: bands * per_band].reshape(bands, per_band), axis=1) / np.log(2.0)
        if not len(self.poles):
            level = _smoothed(level)
        middle = (np.arange(bands) + 0.5) * per_band / self.duration_s
        least = self.loudest * 10.0 ** (-self.rules["depth_db"] / 10.0) + 1e-300
        return middle, np.maximum(level, least)

    def groups(self) -> list[Whole]:
        """Give the tones that overlap, together, the loudest group first; each group is fitted as one."""
        if not len(self.poles):
            return []
        order = np.argsort(self.frequencies_hz)
        frequency, width = self.frequencies_hz[order], self.widths_hz[order]
        apart = np.diff(frequency) / (width[:-1] + width[1:])
        most = int(self.rules["most_in_group"])
        cuts = [0, *(1 + np.flatnonzero(apart > self.rules["overlap"])), len(order)]
        groups = []
        for begin, last in pairwise(cuts):
            first = begin
            while last - first > most:  # cut where the gap is widest
                inner = first + 1 + int(np.argmax(apart[first : first + most]))
                groups.append(order[first:inner])
                first = inner
            groups.append(order[first:last])
        loudest = [-float(np.max(np.abs(self.amplitudes[group]), initial=0.0)) for group in groups]
        return [groups[place] for place in np.argsort(loudest)]

    def fit_all(self) -> None:
        """Fit each group once, the others as they stand."""
        for group in self.groups():
            stretch = self.without(group)
            self.take(group, stretch, self.best(stretch, self.poles[group]))

    def best(self, stretch: Stretch, begin: Complex) -> Fit:
        """Fit tones to a stretch of the transform, beginning at some poles."""
        middle = np.array([stretch.bins[len(stretch.bins) // 2] / self.duration_s])
        fastest = self.rules["fastest_decay"] / self.rate_hz
        return fit(stretch, begin, fastest=fastest, enough=1e-3 * float(self.noise_at(middle)[0]))

    def without(self, group: Whole) -> Stretch:
        """Give the stretch round a group with all other tones taken away."""
        frequency, width = self.frequencies_hz[group], self.widths_hz[group]
        reach = np.minimum(self.rules["stretch"] * width, self.rules["stretch_hz"]) + 1.0
        first = max(1, int(np.min(frequency - reach) * self.duration_s))
        last = min(len(self.spectrum) - 1, int(np.max(frequency + reach) * self.duration_s) + 1)
        bins = np.arange(first, max(last, first + 8))
        bins = bins[bins < len(self.spectrum)]
        own = spectrum_of(self.poles[group], self.amplitudes[group], bins, self.length)
        return Stretch(self.spectrum[bins] + own, bins, self.length)

    def misfit_of(self, group: Whole, stretch: Stretch) -> float:
        """Give the sum of squares that a group leaves in its stretch as it stands."""
        own = spectrum_of(self.poles[group], self.amplitudes[group], stretch.bins, self.length)
        return float(np.sum(np.abs(stretch.values - own) ** 2))

    def take(self, group: Whole, stretch: Stretch, found: Fit) -> None:
        """Put a fit in the place of a group, also in what is left for its neighbours."""
        reach = max(round(self.rules["reach_hz"] * self.duration_s), len(stretch.bins))
        middle = int(float(np.mean(self.frequencies_hz[group])) * self.duration_s)
        wide = np.arange(max(1, middle - reach), min(len(self.spectrum), middle + reach))
        self.spectrum[wide] += spectrum_of(self.poles[group], self.amplitudes[group], wide, self.length)
        self.spectrum[wide] -= spectrum_of(found.poles, found.amplitudes, wide, self.length)
        noise = float(self.noise_at(np.array([middle / self.duration_s]))[0])
        # Where more is left than noise, the model is not all of the truth, and the errors are wider.
        spread = found.spread * np.sqrt(np.maximum(noise, self._left_near(found, wide)))
        self.amplitudes[group] = 0.0
        size = min(len(group), len(found.poles))
        self.poles[group[:size]] = found.poles[:size]
        self.amplitudes[group[:size]] = found.amplitudes[:size]
        self.spread[group[:size]] = spread[:size]
        self.poles = np.concatenate([self.poles, found.poles[size:]])
        self.amplitudes = np.concatenate([self.amplitudes, found.amplitudes[size:]])
        self.spread = np.concatenate([self.spread, spread[size:]])

    def _left_near(self, found: Fit, wide: Whole) -> Real:
        """Give the mean power a bin that is left close to each tone of a fit, for the freedom the fit had."""
        power = np.abs(self.spectrum[wide]) ** 2
        left = []
        for pole in found.poles:
            hertz = pole.imag * self.rate_hz / (2.0 * np.pi)
            width = -pole.real * self.rate_hz / (2.0 * np.pi) + 0.5 / self.duration_s
            near = np.abs(wide / self.duration_s - hertz) < 3.0 * width + 3.0 / self.duration_s
            count = int(np.count_nonzero(near))
            free = max(count - 2 * len(found.poles), 1)
            left.append(float(np.sum(power[near])) / free if count else 0.0)
        return np.array(left)


def _smoothed(levels: Real) -> Real:
    """Give the median of each level and two on either side: a band full of one quick tone is no noise.

    Towards the ends fewer are taken, as many on either side, so that a slope stays a slope.
    """
    smoothed = levels.copy()
    if len(levels) >= 3:
        smoothed[1], smoothed[-2] = np.median(levels[:3]), np.median(levels[-3:])
    if len(levels) >= 5:
        smoothed[2:-2] = np.median(np.lib.stride_tricks.sliding_window_view(levels, 5), axis=1)
    return smoothed
