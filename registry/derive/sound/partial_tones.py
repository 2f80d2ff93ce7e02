"""Measure the partials of one stroke: frequency, decay, level, and the second tone of a doublet."""

import math
from collections.abc import Sequence
from typing import NamedTuple

import numpy as np

from registry.derive.sound.decaying import Real, Samples
from registry.derive.sound.doublets import paired
from registry.derive.sound.fitting import Fitted, Tone
from registry.derive.sound.limits import limits
from registry.derive.sound.search import continued, searched
from registry.derive.sound.strokes import Stroke
from registry.model.pitch import cents_between

T60_TIMES_DECAY = 3.0 * math.log(10.0)
"""T60·α: the amplitude falls to a thousandth."""


class Measured(NamedTuple):
    """One decaying tone of a bell, with 90 % intervals.

    Parameters
    ----------
    frequency_hz, frequency_half_hz : float
        Frequency and half the width of its interval [Hz].
    t60_s : float or None
        Time in which it falls by 60 dB [s]; None where the recording is too short to show that it falls at
        all.
    t60_low_s, t60_high_s : float or None
        Ends of its interval [s]; None for no upper end.
    level_db : float
        Level at the stroke, over the loudest partial [dB].
    """

    frequency_hz: float
    frequency_half_hz: float
    t60_s: float | None
    t60_low_s: float
    t60_high_s: float | None
    level_db: float


class PartialTone(NamedTuple):
    """One partial: its louder tone, and the other of a doublet if the recording parts them."""

    tone: Measured
    doublet: Measured | None

    @property
    def split_cents(self) -> float | None:
        """How far apart the two tones of a doublet are [cents]."""
        if self.doublet is None:
            return None
        return abs(cents_between(self.tone.frequency_hz, self.doublet.frequency_hz))

    @property
    def level_db(self) -> float:
        """Level of both tones together, over the loudest partial [dB]."""
        if self.doublet is None:
            return self.tone.level_db
        powers = 10.0 ** (self.tone.level_db / 10.0) + 10.0 ** (self.doublet.level_db / 10.0)
        return 10.0 * math.log10(powers)


class Sounding(NamedTuple):
    """What one stroke holds.

    Parameters
    ----------
    partials : tuple of PartialTone
        Tones that decay, lowest first.
    steady : tuple of Measured
        Tones that do not: mains hum, ventilation, not the bell.
    tonal_share : float
        Share of the energy that the tones explain [-].
    left_over : float
        Share of the energy that neither the tones nor even noise explain [-].
    reverberant : bool
        Whether a room trails the tones: doublets are then told with more caution, and intervals are wider.
    followed_s : float
        How long the stroke was followed [s].
    noise_db : float
        Level below which a partial would not have been found, over the loudest partial [dB].
    """

    partials: tuple[PartialTone, ...]
    steady: tuple[Measured, ...]
    tonal_share: float
    left_over: float
    reverberant: bool
    followed_s: float
    noise_db: float


def best_stroke(strokes: Sequence[Stroke]) -> int:
    """Give the place of the stroke that can be followed longest and loudest."""
    enough = limits("stroke_followed")["enough_s"]

    def worth(number: int) -> float:
        stroke = strokes[number]
        return stroke.level_db + 20.0 * math.log10(min(stroke.rings_s, enough) + 1e-9)

    return max(range(len(strokes)), key=worth)


def stretch_of(samples: Samples, rate_hz: float, stroke: Stroke) -> tuple[Real, float]:
    """Give what is followed of a stroke: its samples, from just after the blow, and their rate [Hz]."""
    rules = limits("stroke_followed")
    first = round((stroke.at_s + rules["after_blow_s"]) * rate_hz)
    rings = min(stroke.rings_s - rules["before_next_s"], rules["longest_s"])
    whole, rate = _lowered(
        np.asarray(samples[first : round((stroke.at_s + rings) * rate_hz)], float), rate_hz
    )
    return whole - float(np.mean(whole)), rate


def sounding_in(stretch: Real, rate_hz: float, *, wholly: bool = False) -> Sounding:
    """Measure the partials in what is followed of a stroke: found in its first seconds, measured on all.

    A reverberant stroke is measured on its first seconds alone unless ``wholly``: it will be again, later.
    """
    enough = round(limits("stroke_followed")["searched_s"] * rate_hz)
    head = stretch[: _fast_length(min(len(stretch), enough))]
    fitted = searched(head, rate_hz)
    explained = fitted.explained()
    told = _sorted_out(fitted, *explained)
    if len(stretch) > 1.3 * len(head) and (wholly or not told.reverberant):
        fitted = continued(stretch[: _fast_length(len(stretch))], rate_hz, fitted)
        told = _sorted_out(fitted, *explained)
    return told


def _sorted_out(fitted: Fitted, tonal_share: float, left_over: float) -> Sounding:
    """Part the bell from steady tones, and put its tones together to partials."""
    rules = limits("stroke_followed")
    sure = rules["frequency_error_share"]
    tones = [tone for tone in fitted.tones() if tone.frequency_error_hz < sure * tone.frequency_hz]
    decaying = [tone for tone in tones if not _is_steady(tone)]
    loudest = max((_at_stroke(tone) for tone in decaying), default=1.0)
    pairs, reverberant = paired(decaying)
    partials = [
        PartialTone(
            _measured(pair.first, loudest, pair.smear),
            None if pair.second is None else _measured(pair.second, loudest, pair.smear),
        )
        for pair in pairs
    ]
    return Sounding(
        tuple(sorted(partials, key=lambda each: each.tone.frequency_hz)),
        tuple(_measured(tone, loudest, 0.0) for tone in tones if _is_steady(tone)),
        tonal_share,
        left_over,
        reverberant,
        fitted.duration_s,
        _least_level_db(fitted, loudest),
    )


def _least_level_db(fitted: Fitted, loudest: float) -> float:
    """Give the level at which a tone that rings for about a second would just be found."""
    energy = float(np.median(fitted.floor)) * fitted.rules["evidence"]
    amplitude_squared = energy / (0.25 * fitted.length * fitted.rate_hz * min(0.1, fitted.duration_s))
    return 10.0 * math.log10(max(amplitude_squared, 1e-300) / loudest**2)


def _at_stroke(tone: Tone) -> float:
    """Give the amplitude at the blow, back from where the looking began."""
    amplitude = tone.amplitude * math.exp(tone.decay * limits("stroke_followed")["after_blow_s"])
    return max(amplitude, 1e-15)


def _measured(tone: Tone, loudest: float, smear: float) -> Measured:
    """Give a tone with its intervals, widened by the share of its amplitude that a room has smeared."""
    rules = limits("stroke_followed")
    factor, smeared = rules["errors_in_interval"], rules["smeared"] * smear
    half = factor * tone.decay_error + smeared * tone.decay
    return Measured(
        tone.frequency_hz,
        factor * tone.frequency_error_hz + smeared * tone.decay / (2.0 * math.pi),
        T60_TIMES_DECAY / tone.decay if tone.decay > factor * tone.decay_error else None,
        T60_TIMES_DECAY / max(tone.decay + half, 1e-9),
        T60_TIMES_DECAY / (tone.decay - half) if tone.decay > half else None,
        20.0 * math.log10(_at_stroke(tone) / loudest),
    )


def _is_steady(tone: Tone) -> bool:
    """Say whether a tone surely does not die away as a bell does, or hardly does and stands on the mains."""
    rules = limits("steady")
    t60 = T60_TIMES_DECAY / max(tone.decay, 1e-9)
    near = min(
        abs(tone.frequency_hz - mains * round(tone.frequency_hz / mains)) for mains in rules["mains_hz"]
    )
    on_mains = near < rules["mains_within_hz"] and tone.frequency_hz < rules["mains_below_hz"]
    if on_mains and t60 > rules["mains_t60_s"]:
        return True
    least = T60_TIMES_DECAY / max(tone.decay + 3.0 * tone.decay_error, 1e-9)
    return bool(t60 > rules["t60_s"] and least > rules["t60_of_largest_s"])


def _lowered(sound: Real, rate_hz: float) -> tuple[Real, float]:
    """Give the sound at a lower rate where the recording holds more than can be heard."""
    factor = int(rate_hz // limits("stroke_followed")["rate_enough_hz"])
    if factor < 2:
        return sound, rate_hz
    length = len(sound) // (2 * factor) * 2 * factor
    spectrum = np.fft.rfft(sound[:length])[: length // factor // 2 + 1]
    return np.fft.irfft(spectrum, length // factor) / factor, rate_hz / factor


def _fast_length(most: int) -> int:
    """Give the largest length up to ``most`` whose transform is quick: no prime factor above 5."""
    best = 1
    five = 1
    while five <= most:
        three = five
        while three <= most:
            best = max(best, three << ((most // three).bit_length() - 1))
            three *= 3
        five *= 5
    return best
