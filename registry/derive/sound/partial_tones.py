"""Measure the partials of one stroke: frequency, decay, level, and the second tone of a doublet."""

import math
from collections.abc import Sequence
from typing import NamedTuple

import numpy as np

from registry.derive.sound.decaying import Real
from registry.derive.sound.limits import limits
from registry.derive.sound.search import Search, Tone
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
    """One partial: its louder tone, and the other one if it is a doublet that the recording is long enough to part."""

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
    return max(
        range(len(strokes)),
        key=lambda number: (
            strokes[number].level_db + 20.0 * math.log10(min(strokes[number].rings_s, enough) + 1e-9)
        ),
    )


def sounding_of(samples: Real, rate_hz: float, stroke: Stroke) -> Sounding:
    """Measure the partials of one stroke.

    Parameters
    ----------
    samples : array of float
        The whole recording.
    rate_hz : float
        Its sampling rate [Hz].
    stroke : Stroke
        The stroke to follow.

    Returns
    -------
    Sounding
        Its tones.
    """
    rules = limits("stroke_followed")
    first = round((stroke.at_s + rules["after_blow_s"]) * rate_hz)
    last = round((stroke.at_s + min(stroke.rings_s - rules["before_next_s"], rules["longest_s"])) * rate_hz)
    whole, rate = _lowered(np.asarray(samples[first:last], float), rate_hz)
    whole -= float(np.mean(whole))
    head = whole[: _fast_length(min(len(whole), round(rules["searched_s"] * rate)))]
    search = Search(head, rate)
    search.run()
    explained = search.explained()
    if len(whole) > 1.3 * len(head):
        longer = Search(whole[: _fast_length(len(whole))], rate)
        longer.begin_with(search.poles, search.amplitudes)
        search = longer
    return _sorted_out(search, *explained)


def _sorted_out(search: Search, share: float, left_over: float) -> Sounding:
    rules = limits("stroke_followed")
    sure = rules["frequency_error_share"]
    tones = [tone for tone in search.tones() if tone.frequency_error_hz < sure * tone.frequency_hz]
    steady = [tone for tone in tones if _is_steady(tone)]
    decaying = [tone for tone in tones if not _is_steady(tone)]
    late = rules["after_blow_s"]
    reference = max((tone.amplitude * math.exp(tone.decay * late) for tone in decaying), default=1.0)
    reference = max(reference, 1e-12)
    clusters = _clusters(decaying)
    room = _is_reverberant(clusters)
    partials = []
    for cluster in clusters:
        loudest = max(cluster, key=_energy)
        partner = _partner(loudest, cluster, room=room)
        smear = 0.0
        if room:
            rest = sum(_energy(tone) for tone in cluster if tone is not loudest and tone is not partner)
            smear = math.sqrt(rest / max(_energy(loudest), 1e-300))
        if partner is not None and _as_loud(loudest, partner) and partner.frequency_hz < loudest.frequency_hz:
            loudest, partner = partner, loudest
        other = None if partner is None else _measured(partner, reference, late, smear)
        partials.append(PartialTone(_measured(loudest, reference, late, smear), other))
    least = np.median(search.floor) * search.rules["evidence"] * 2.0 * math.sqrt(search.duration_s)
    noise = 10.0 * math.log10(
        max(float(least), 1e-300) / (0.25 * reference**2 * search.length * search.rate_hz)
    )
    return Sounding(
        tuple(sorted(partials, key=lambda each: each.tone.frequency_hz)),
        tuple(_measured(tone, reference, late, 0.0) for tone in steady),
        share,
        left_over,
        room,
        search.duration_s,
        noise,
    )


def _measured(tone: Tone, reference: float, late_s: float, smear: float) -> Measured:
    """Give a tone with its intervals, widened by the share of its amplitude that a room has smeared."""
    rules = limits("stroke_followed")
    factor, smeared = rules["errors_in_interval"], rules["smeared"] * smear
    half = factor * tone.decay_error + smeared * tone.decay
    falls = tone.decay > half
    level = 20.0 * math.log10(max(tone.amplitude * math.exp(tone.decay * late_s), 1e-15) / reference)
    return Measured(
        tone.frequency_hz,
        factor * tone.frequency_error_hz + smeared * tone.decay / (2.0 * math.pi),
        T60_TIMES_DECAY / tone.decay if falls else None,
        T60_TIMES_DECAY / max(tone.decay + half, 1e-9),
        T60_TIMES_DECAY / (tone.decay - half) if falls else None,
        level,
    )


def _is_steady(tone: Tone) -> bool:
    """Say whether a tone surely does not die away as a bell does, or stands on a multiple of the mains and hardly may."""
    rules = limits("steady")
    t60 = T60_TIMES_DECAY / max(tone.decay, 1e-9)
    near = min(
        abs(tone.frequency_hz - mains * round(tone.frequency_hz / mains)) for mains in rules["mains_hz"]
    )
    if (
        near < rules["mains_within_hz"]
        and tone.frequency_hz < rules["mains_below_hz"]
        and t60 > rules["mains_t60_s"]
    ):
        return True
    least = T60_TIMES_DECAY / max(tone.decay + 3.0 * tone.decay_error, 1e-9)
    return bool(t60 > rules["t60_s"] and least > rules["t60_of_largest_s"])


def _clusters(tones: Sequence[Tone]) -> list[list[Tone]]:
    """Put together what lies within the width of a doublet, or is what a room made of one tone; the strongest first."""
    left = sorted(tones, key=lambda tone: -_energy(tone))
    clusters = []
    while left:
        strongest = left[0]
        near = [tone for tone in left if _belongs(tone, strongest)]
        clusters.append(sorted(near, key=lambda tone: -tone.amplitude) if len(near) > 1 else near)
        left = [tone for tone in left if tone not in near]
    return clusters


def _energy(tone: Tone) -> float:
    """Give what a tone holds over the first second."""
    twice = max(2.0 * tone.decay, 1e-9)
    return tone.amplitude**2 * -math.expm1(-twice) / twice


def _belongs(tone: Tone, strongest: Tone) -> bool:
    """Say whether a tone is the other one of a doublet, or lies in the skirt of a stronger one and dies much faster."""
    rules = limits("doublet")
    apart = abs(tone.frequency_hz - strongest.frequency_hz)
    if apart <= max(
        rules["room_hz"], strongest.frequency_hz * (2.0 ** (rules["widest_cents"] / 1200.0) - 1.0)
    ):
        return True
    weak = _energy(tone) < rules["room_energy"] * _energy(strongest) and tone.decay > 2.0 * strongest.decay
    return weak and apart < rules["room_hz"] + rules["room_widths"] * tone.decay / (2.0 * math.pi)


def _is_reverberant(clusters: Sequence[Sequence[Tone]]) -> bool:
    """Say whether many tones trail others that are no doublets: what walls throw back is no clean decay."""
    rules = limits("doublet")
    trailing = 0
    for cluster in clusters:
        loudest = max(cluster, key=_energy)
        trailing += len(cluster) - 1 - (_partner(loudest, cluster, room=False) is not None)
    return bool(
        trailing >= rules["room_trailing"] and trailing >= rules["room_trailing_share"] * len(clusters)
    )


def _partner(loudest: Tone, cluster: Sequence[Tone], *, room: bool) -> Tone | None:
    """Give the second tone of a doublet: surely apart, loud enough, and in a room no echo of the first."""
    rules = limits("doublet")
    for tone in sorted(cluster, key=lambda each: -_energy(each)):
        apart = abs(tone.frequency_hz - loudest.frequency_hz)
        if (
            tone is loudest
            or abs(cents_between(tone.frequency_hz, loudest.frequency_hz)) > rules["widest_cents"]
        ):
            continue
        error = math.hypot(tone.frequency_error_hz, loudest.frequency_error_hz)
        weaker_db = 20.0 * math.log10(loudest.amplitude / max(tone.amplitude, 1e-15))
        unlike = max(tone.decay, loudest.decay) / max(min(tone.decay, loudest.decay), 0.05)
        clear = apart > rules["apart_by_errors"] * error and weaker_db < rules["weaker_by_db"]
        clear = clear and unlike < rules["decays_within"]
        if clear and room:
            widths = 2.0 * math.pi * apart / max(tone.decay, 1e-9)
            alike = unlike < rules["room_decays_within"] and weaker_db < rules["room_weaker_by_db"]
            clear = widths > rules["room_apart_by_widths"][0 if alike else 1]
        if clear:
            return tone
    return None


def _as_loud(loudest: Tone, partner: Tone) -> bool:
    return bool(20.0 * math.log10(loudest.amplitude / partner.amplitude) < limits("doublet")["as_loud_db"])


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
