"""Find the strokes in a recording: where many bands of tone grow louder at once.

A doublet beats, and one band swells; a blow sets every partial going, above all the high ones, which die
first.
"""

from typing import NamedTuple

import numpy as np

from registry.derive.sound.decaying import Real, Samples
from registry.derive.sound.limits import limits


class Stroke(NamedTuple):
    """One blow and how long its sound can be followed.

    Parameters
    ----------
    at_s : float
        When the sound begins [s from the start of the recording].
    rings_s : float
        Until the next blow or the end of the recording [s].
    level_db : float
        Loudness of its first half second over full scale [dB].
    """

    at_s: float
    rings_s: float
    level_db: float


def strokes_of(samples: Samples, rate_hz: float) -> tuple[Stroke, ...]:
    """Give the strokes of a recording in order of time.

    Parameters
    ----------
    samples : array of float
        The sound.
    rate_hz : float
        Sampling rate [Hz].

    Returns
    -------
    tuple of Stroke
        Empty where nothing begins to sound.
    """
    rules = limits("strokes")
    hop = round(rate_hz * rules["frame_s"] / 2.0)
    frames = len(samples) // hop - 1
    if frames < 3:
        return ()
    power = _band_power(samples, rate_hz, hop, frames)
    starts = _onsets(power, rules)
    last = 0.0
    found: list[int] = []
    for frame in starts:
        at = _refined(samples, rate_hz, frame * hop, hop)
        if found and at - last < rules["apart_s"] * rate_hz:
            continue
        found.append(at)
        last = at
    if not found:  # it rings from before the recording began, or nothing was struck: where it is loudest
        found = [int(np.argmax(np.sum(power[: max(1, frames // 2)], axis=1))) * hop]
    ends = [*found[1:], len(samples)]
    strokes = []
    for first, end in zip(found, ends, strict=True):
        head = samples[first : min(end, first + round(rate_hz / 2.0))]
        level = 10.0 * np.log10(float(np.mean(np.square(head))) + 1e-20)
        strokes.append(Stroke(first / rate_hz, (end - first) / rate_hz, level))
    return tuple(strokes)


def _band_power(samples: Samples, rate_hz: float, hop: int, frames: int) -> Real:
    """Give the power in third-octave bands over time: one row a frame, frames half overlapping."""
    rules = limits("strokes")
    size = 2 * hop
    window = np.hanning(size).astype(samples.dtype)
    hertz = np.fft.rfftfreq(size, 1.0 / rate_hz)
    edges = rules["lowest_hz"] * 2.0 ** (np.arange(rules["bands"] + 1) / 3.0)
    places = np.unique(np.searchsorted(hertz, edges))
    places = places[places < len(hertz)]
    power = np.empty((frames, len(places) - 1))
    for first in range(0, frames, 512):
        count = min(512, frames - first)
        stretch = samples[first * hop : (first + count + 1) * hop]
        framed = np.lib.stride_tricks.sliding_window_view(stretch, size)[::hop][:count]
        spectrum = np.fft.rfft(framed * window)
        energy = spectrum.real**2 + spectrum.imag**2
        power[first : first + count] = np.add.reduceat(energy, places, axis=1)[:, :-1]
    return power


def _onsets(power: Real, rules: dict[str, float]) -> list[int]:
    """Give the frames in which most of the bands that sound grow louder than they were for a while before."""
    frames, bands = power.shape
    total = np.sum(power, axis=1)
    top = float(np.max(power))
    if top <= 0.0:
        return []
    quietest = np.argsort(total)[: max(3, frames // 10)]
    noise = np.mean(power[quietest], axis=0)
    back = max(2, round(rules["looks_back_s"] / (rules["frame_s"] / 2.0)))
    quiet = np.full((back, bands), top * 1e-9)
    earlier = np.lib.stride_tricks.sliding_window_view(np.concatenate([quiet, power])[:-1], back, axis=0)
    before = np.max(earlier, axis=2)
    after = np.concatenate([power[1:], power[-1:]])
    least = np.maximum(
        top * 10.0 ** (-rules["depth_db"] / 10.0), noise * 10.0 ** (rules["above_noise_db"] / 10.0)
    )
    sounding = after > least
    risen = sounding & (after > before * 10.0 ** (rules["rise_db"] / 10.0))
    count = np.sum(risen, axis=1)
    share = count / np.maximum(np.sum(sounding, axis=1), 1)
    candidates = (share >= rules["share_of_bands"]) & (count >= rules["bands_rising"])
    found: list[int] = []
    for frame in np.flatnonzero(candidates):
        if not found or frame - found[-1] > back:
            found.append(int(frame))
    return found


def _refined(samples: Samples, rate_hz: float, first: int, hop: int) -> int:
    """Give the sample at which the sound sets in, near ``first``: where the high tones jump most."""
    step = max(1, round(rate_hz * 0.001))
    begin = max(0, first - 2 * hop)
    wide = max(1, round(rate_hz / 5500.0))
    sums = np.concatenate([[0.0], np.cumsum(samples[begin : first + 4 * hop], dtype=float)])
    stretch = sums[2 * wide :] - 2.0 * sums[wide:-wide] + sums[: -2 * wide]  # a band round 3 kHz
    count = len(stretch) // step
    if count < 20:
        return first
    energy = np.mean(np.square(stretch[: count * step].reshape(count, step)), axis=1)
    sums = np.concatenate([[0.0], np.cumsum(energy)])
    places = np.arange(0, count - 6)
    after = (sums[places + 6] - sums[places]) / 6.0
    from_ = np.maximum(places - 10, 0)
    before = (sums[places] - sums[from_]) / np.maximum(places - from_, 1)
    if begin > 0:
        before[:3] = np.inf
    jump = after / (before + 1e-3 * float(np.max(energy)))
    return begin + wide + int(np.argmax(jump)) * step
