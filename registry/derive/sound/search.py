"""Find the decaying sinusoids of a stroke, one layer of loudness after the other.

What stands out of the noise in the spectrum is fitted and taken away, so that what it hid stands out next:
the
second tone of a doublet, a weak partial in the skirt of a strong one. Partials die away at very different
speeds, and
a filter matched to one decay hardly sees another; so each layer is looked for behind several of them.
"""

from itertools import pairwise
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from registry.derive.sound.decaying import Complex, Fit, Real, Whole, fit, sound_of, spectrum_of
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


class Search:
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
        self.loudest = float(np.max(np.abs(np.fft.rfft(sound)) ** 2))
        self._look_again()

    @property
    def frequencies_hz(self) -> Real:
        """The frequencies found [Hz]."""
        frequencies: Real = self.poles.imag * self.rate_hz / (2.0 * np.pi)
        return frequencies

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

    def run(self) -> None:
        """Find layer after layer until nothing stands out, then part what lies too close to stand out."""
        for _ in range(self.rules["layers"]):
            if not self._add_layer():
                break
            self._fit_all()
            self._look_again()
        self._fit_all()
        self._look_again()
        self.settle()

    def begin_with(self, poles: Complex, amplitudes: Complex) -> None:
        """Begin with tones found before, in a part of this sound that sets in at the same moment."""
        self.poles, self.amplitudes = poles.copy(), amplitudes.copy()
        self.spread = np.zeros(len(poles))
        self._look_again()
        self._fit_all()
        self._look_again()
        self.settle()

    def settle(self) -> None:
        """Part what one tone does not explain, join what cannot be told apart, drop what noise could be."""
        if not len(self.poles):
            return
        self._part_close_ones()
        self._look_again()
        if self._join_those_not_told_apart():
            self._fit_all()
            self._look_again()
        kept = self._evidence() > self.rules["evidence"]
        kept &= self.decays < 0.98 * self.rules["fastest_decay"]
        self._keep(kept)
        self._fit_all()
        self._look_again()

    def tones(self) -> list[Tone]:
        """Give what was found, lowest first."""
        columns = (
            self.frequencies_hz,
            self.spread * self.rate_hz / (2.0 * np.pi),
            self.decays,
            self.spread * self.rate_hz,
            np.abs(self.amplitudes),
            self._evidence(),
        )
        return sorted(Tone(*(float(value) for value in row)) for row in zip(*columns, strict=True))

    def explained(self) -> tuple[float, float]:
        """Give the share of the energy that the tones explain, and the share that neither they nor steady noise do."""
        whole = max(float(np.sum(np.square(self.sound))), 1e-300)
        left = float(np.sum(np.square(self.left)))
        hertz = np.arange(len(self.spectrum)) / self.duration_s
        noise = 2.0 / self.length * float(np.sum(np.interp(hertz, self.floor_hz, self.floor)))
        return 1.0 - left / whole, max(left - noise, 0.0) / whole

    def _evidence(self) -> Real:
        """Give the energy of each tone over that of the noise a bin."""
        twice = np.maximum(2.0 * self.decays / self.rate_hz, 1e-9)
        energy = 0.25 * np.abs(self.amplitudes) ** 2 * -np.expm1(-twice * self.length) / twice
        noise = np.interp(self.frequencies_hz, self.floor_hz, self.floor)
        evidence: Real = energy * self.length / noise
        return evidence

    def _join_those_not_told_apart(self) -> bool:
        """Replace two tones whose distance is no surer than its error by one, where one explains the sound as well."""
        before = len(self.poles)
        for group in self._groups():
            if len(group) < 2:
                continue
            frequency = self.frequencies_hz[group]
            error = self.spread[group] * self.rate_hz / (2.0 * np.pi)
            order = np.argsort(frequency)
            apart = np.diff(frequency[order]) / np.hypot(error[order][:-1], error[order][1:])
            closest = int(np.argmin(apart))
            if apart[closest] < self.rules["told_apart_by_errors"] or self._cancel(
                group, frequency[order], closest
            ):
                self._join(group, order[closest], order[closest + 1])
        self._keep(np.abs(self.amplitudes) > 0.0)
        return len(self.poles) < before

    def _cancel(self, group: Whole, frequency: Real, closest: int) -> bool:
        """Say whether two tones are nearer than their width: they may be one, bent by what the model does not know."""
        gap = float(frequency[closest + 1] - frequency[closest])
        return gap < 0.5 * float(np.min(self.widths_hz[group]))

    def _join(self, group: Whole, low: int, high: int) -> None:
        """Put one tone in the place of two if the fit is hardly worse; the other is left without amplitude."""
        bins, values = self._without(group)
        noise = float(np.interp(self.frequencies_hz[group[0]], self.floor_hz, self.floor))
        own = spectrum_of(self.poles[group], self.amplitudes[group], bins, self.length)
        misfit = float(np.sum(np.abs(values - own) ** 2))
        share = np.abs(self.amplitudes[group]) ** 2
        begin = self.poles[group].copy()
        begin[low] = (begin[low] * share[low] + begin[high] * share[high]) / max(
            share[low] + share[high], 1e-300
        )
        tried = self._best(bins, values, np.delete(begin, high))
        gain = 2.0 * (tried.misfit - misfit) / max(noise, misfit / len(bins))
        loudest = float(np.max(np.abs(tried.amplitudes)))
        cancelling = (
            float(np.min(np.abs(self.amplitudes[group[[low, high]]]))) > self.rules["cancelling"] * loudest
        )
        if gain < self.rules["parting_gain"] or cancelling:
            self._take(group, bins, tried)

    def _keep(self, kept: NDArray[np.bool_]) -> None:
        self.poles, self.amplitudes, self.spread = self.poles[kept], self.amplitudes[kept], self.spread[kept]

    def _look_again(self) -> None:
        """Take what was found away from the sound, and measure the noise in what is left."""
        left = self.sound - sound_of(self.poles, self.amplitudes, self.length)
        self.left = left
        self.spectrum: Complex = np.fft.rfft(left)
        power = np.abs(self.spectrum) ** 2
        self.floor_hz, self.floor = self._floor(power)

    def _floor(self, power: Real) -> tuple[Real, Real]:
        """Give the noise a bin: the median of each band, which a few tones do not move.

        Before the first tone is found, a quick one may fill its band; later what fills a band is what a room
        adds to a
        tone, and counts as noise.
        """
        per_band = max(8, round(self.rules["noise_band_hz"] * self.duration_s))
        bands = len(power) // per_band
        level = np.median(power[: bands * per_band].reshape(bands, per_band), axis=1) / np.log(2.0)
        if not len(self.poles):
            level = _smoothed(level)
        middle = (np.arange(bands) + 0.5) * per_band / self.duration_s
        least = self.loudest * 10.0 ** (-self.rules["depth_db"] / 10.0) + 1e-300
        return middle, np.maximum(level, least)

    def _add_layer(self) -> bool:
        """Add the tones that stand out of what is left, if any do."""
        hertz = np.arange(len(self.spectrum)) / self.duration_s
        within = (hertz >= self.rules["lowest_hz"]) & (
            hertz <= min(self.rules["highest_hz"], 0.46 * self.rate_hz)
        )
        best = np.zeros(len(hertz))
        which = np.zeros(len(hertz), int)
        decays = self.rules["matched_decays"]
        for number, decay in enumerate(decays):
            if decay:
                weight = np.exp(-decay / self.rate_hz * np.arange(self.length))
                power = np.abs(np.fft.rfft(self.left * weight)) ** 2
            else:
                power = np.abs(self.spectrum) ** 2
            middle, floor = self._floor(power)
            power /= np.interp(hertz, middle, floor)
            better = power > best
            best[better] = power[better]
            which[better] = number
        peaks = 1 + np.flatnonzero((best[1:-1] > best[:-2]) & (best[1:-1] >= best[2:]) & within[1:-1])
        peaks = peaks[best[peaks] > self.rules["evidence"]]
        peaks = self._not_crowded(peaks)
        chosen = self._foremost(peaks, best, hertz, np.asarray(decays)[which])
        room = int(self.rules["most_tones"]) - len(self.poles)
        chosen = chosen[: max(room, 0)]
        if not chosen:
            return False
        begin = [
            (-max(float(decays[which[peak]]), 0.3) + 2j * np.pi * float(hertz[peak])) / self.rate_hz
            for peak in chosen
        ]
        self.poles = np.concatenate([self.poles, begin])
        self.amplitudes = np.concatenate([self.amplitudes, np.zeros(len(begin))])
        self.spread = np.concatenate([self.spread, np.zeros(len(begin))])
        return True

    def _not_crowded(self, peaks: Whole) -> Whole:
        """Leave out the peaks where tones enough have been found: what is left there is no further tone."""
        if not len(self.poles):
            return peaks
        near = (
            np.abs(peaks[:, None] / self.duration_s - self.frequencies_hz[None, :]) < self.rules["crowd_hz"]
        )
        kept: Whole = peaks[np.sum(near, axis=1) < self.rules["crowd"]]
        return kept

    def _foremost(self, peaks: Whole, best: Real, hertz: Real, decay: Real) -> list[int]:
        """Leave out the peaks that may be skirts of greater ones: a later layer sees them clear."""
        chosen: list[int] = []
        for peak in peaks[np.argsort(-best[peaks])][:400]:
            for other in chosen:
                apart = abs(hertz[peak] - hertz[other])
                near = max(self.rules["skirt_hz"], float(decay[other]), 12.0 / self.duration_s)
                if apart < near or (
                    apart < 20.0 * near and best[peak] < best[other] * self.rules["skirt_share"]
                ):
                    break
            else:
                chosen.append(int(peak))
        return chosen

    def _groups(self) -> list[Whole]:
        """Give the tones that overlap, together; each group is fitted as one."""
        if not len(self.poles):
            return []
        order = np.argsort(self.frequencies_hz)
        frequency, width = self.frequencies_hz[order], self.widths_hz[order]
        apart = np.diff(frequency) / (width[:-1] + width[1:])
        most = int(self.rules["most_in_group"])
        cuts = [0, *(1 + np.flatnonzero(apart > self.rules["overlap"])), len(order)]
        groups = []
        for first, last in pairwise(cuts):
            while last - first > most:  # cut where the gap is widest
                inner = first + 1 + int(np.argmax(apart[first : first + most]))
                groups.append(order[first:inner])
                first = inner  # noqa: PLW2901 - what is left of the group
            groups.append(order[first:last])
        loudest = [-float(np.max(np.abs(self.amplitudes[group]), initial=0.0)) for group in groups]
        return [groups[place] for place in np.argsort(loudest)]

    def _stretch(self, group: Whole, widths: float) -> Whole:
        """Give the bins round the tones of a group."""
        frequency, width = self.frequencies_hz[group], self.widths_hz[group]
        reach = np.minimum(widths * width, self.rules["stretch_hz"]) + 1.0
        low = np.min(frequency - reach)
        high = np.max(frequency + reach)
        first = max(1, int(low * self.duration_s))
        last = min(len(self.spectrum) - 1, int(high * self.duration_s) + 1)
        return np.arange(first, max(last, first + 8))

    def _fit_all(self) -> None:
        for group in self._groups():
            self._fit_group(group)

    def _fit_group(self, group: Whole) -> None:
        bins, values = self._without(group)
        self._take(group, bins, self._best(bins, values, self.poles[group]))

    def _best(self, bins: Whole, values: Complex, begin: Complex) -> Fit:
        fastest = self.rules["fastest_decay"] / self.rate_hz
        enough = 1e-3 * float(np.interp(bins[len(bins) // 2] / self.duration_s, self.floor_hz, self.floor))
        return fit(values, bins, self.length, begin, fastest=fastest, enough=enough)

    def _without(self, group: Whole) -> tuple[Whole, Complex]:
        """Give the stretch of a group with all other tones taken away."""
        bins = self._stretch(group, self.rules["stretch"])
        own = spectrum_of(self.poles[group], self.amplitudes[group], bins, self.length)
        return bins, self.spectrum[bins] + own

    def _take(self, group: Whole, bins: Whole, found: Fit) -> None:
        """Put a fit in the place of a group, also in what is left for its neighbours."""
        noise = float(np.interp(float(np.mean(self.frequencies_hz[group])), self.floor_hz, self.floor))
        reach = max(round(self.rules["reach_hz"] * self.duration_s), len(bins))
        middle = float(np.mean(self.frequencies_hz[group])) * self.duration_s
        wide = np.arange(max(1, int(middle) - reach), min(len(self.spectrum), int(middle) + reach))
        self.spectrum[wide] += spectrum_of(self.poles[group], self.amplitudes[group], wide, self.length)
        self.spectrum[wide] -= spectrum_of(found.poles, found.amplitudes, wide, self.length)
        # Where more is left than noise, the model is not all of the truth, and the errors are wider.
        spread = found.spread * np.sqrt(np.maximum(noise, self._left_near(found, wide)))
        self.amplitudes[group] = 0.0
        size = min(len(group), len(found.poles))
        self.poles[group[:size]] = found.poles[:size]
        self.amplitudes[group[:size]] = found.amplitudes[:size]
        self.spread[group[:size]] = spread[:size]
        if len(found.poles) > size:
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

    def _part_close_ones(self) -> None:
        """Try two tones where one does not explain what is there, for the loudest groups."""
        for group in self._groups()[: int(self.rules["most_parted"])]:
            bins, values = self._without(group)
            noise = float(np.interp(self.frequencies_hz[group[0]], self.floor_hz, self.floor))
            own = spectrum_of(self.poles[group], self.amplitudes[group], bins, self.length)
            misfit = float(np.sum(np.abs(values - own) ** 2)) / noise
            if misfit < len(bins) + 6.0 * np.sqrt(len(bins)) or len(group) >= int(
                self.rules["most_in_group"]
            ):
                continue
            best = None
            loudest = int(np.argmax(np.abs(self.amplitudes[group])))
            width = float(self.widths_hz[group][loudest])
            for apart in self.rules["parted_by_widths"]:
                shift = 1j * np.pi * apart * width / self.rate_hz
                begin = self.poles[group].copy()
                pole = begin[loudest]
                begin[loudest] = pole + shift
                tried = self._best(bins, values, np.append(begin, pole - shift))
                if best is None or tried.misfit < best.misfit:
                    best = tried
            if best is not None and self._is_better(best, misfit, noise, group):
                self._take(group, bins, best)

    def _is_better(self, tried: Fit, misfit: float, noise: float, group: Whole) -> bool:
        """Say whether one tone more is borne out by the fit, and is no mere bending of one tone."""
        gain = 2.0 * (misfit - tried.misfit / noise)
        before = float(np.sum(np.abs(self.amplitudes[group])))
        after = float(np.sum(np.abs(tried.amplitudes)))
        return gain > self.rules["parting_gain"] and after < 3.0 * before


def _smoothed(levels: Real) -> Real:
    """Give the median of each level and two on either side: a band full of one quick tone is not taken for noise.

    Towards the ends fewer are taken, as many on either side, so that a slope stays a slope.
    """
    smoothed = levels.copy()
    if len(levels) >= 3:
        smoothed[1], smoothed[-2] = np.median(levels[:3]), np.median(levels[-3:])
    if len(levels) >= 5:
        smoothed[2:-2] = np.median(np.lib.stride_tricks.sliding_window_view(levels, 5), axis=1)
    return smoothed
