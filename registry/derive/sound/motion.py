"""Tell whether the pitch of all partials wanders together: a swinging bell, or a recorder of unsteady speed.

A doublet makes one partial waver; motion makes all waver alike, in cents, by the Doppler effect: 12 cents to
and fro at 2.4 m/s. The bell must hang at rest for its partials to be measured.
"""

import math
from typing import NamedTuple

import numpy as np

from registry.derive.sound.decaying import Real, Samples
from registry.derive.sound.limits import limits
from registry.derive.sound.strokes import Stroke


class Wander(NamedTuple):
    """How far the pitch of all partials wanders together.

    Parameters
    ----------
    cents : float
        Standard deviation in time of the common shift [cents]; 0 where the partials do not agree on one, or
        too few can be followed.
    share : float
        Share of the energy that lies in the partials followed [-]: little where the sound is no bell's.
    """

    cents: float
    share: float


AT_REST = Wander(0.0, 0.0)
"""Nothing moves, as far as can be seen."""


def wander_of(samples: Samples, rate_hz: float, stroke: Stroke) -> Wander:
    """Tell how far the pitch of all partials wanders together during a stroke.

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
    Wander
        The common shift, and how much of the sound it was seen in.
    """
    rules = limits("motion")
    first = round((stroke.at_s + rules["after_blow_s"]) * rate_hz)
    last = round((stroke.at_s + min(stroke.rings_s, rules["followed_s"])) * rate_hz)
    size = round(rules["frame_s"] * rate_hz)
    hop = size // 4
    count = (last - first - size) // hop + 1
    if count < rules["fewest_frames"]:
        return AT_REST
    stretch = np.asarray(samples[first:last], float)
    framed = np.lib.stride_tricks.sliding_window_view(stretch, size)[::hop][:count]
    spectrum = np.abs(np.fft.rfft(framed * np.hanning(size), axis=1))
    shifts, weights, held = [], [], np.zeros(spectrum.shape[1], bool)
    for place in _foremost(spectrum[: max(3, count // 3)].mean(axis=0), rate_hz / size, rules):
        shift, weight = _track(spectrum, place, rules)
        if np.count_nonzero(weight) >= rules["fewest_frames"]:
            shifts.append(1200.0 / math.log(2.0) * shift)
            weights.append(weight)
            held[place - 4 : place + 5] = True
    if len(shifts) < rules["fewest_partials"]:
        return AT_REST
    energy = np.sum(np.square(spectrum), axis=0)
    hertz = np.arange(len(energy)) * rate_hz / size
    energy[(hertz < rules["lowest_hz"]) | (hertz > rules["highest_hz"])] = 0.0
    share = float(np.sum(energy[held]) / max(float(np.sum(energy)), 1e-300))
    return Wander(_common(np.array(shifts), np.array(weights), rules), share)


def _foremost(power: Real, per_bin_hz: float, rules: dict[str, float]) -> list[int]:
    """Give the bins of the loudest partials, well apart from each other."""
    low = max(4, round(rules["lowest_hz"] / per_bin_hz))
    high = min(len(power) - 6, round(rules["highest_hz"] / per_bin_hz))
    inner = power[low:high]
    peaks = low + 1 + np.flatnonzero((inner[1:-1] > inner[:-2]) & (inner[1:-1] >= inner[2:]))
    floor = float(np.median(inner)) if len(inner) else 0.0
    chosen: list[int] = []
    for peak in peaks[np.argsort(-power[peaks])]:
        if len(chosen) == int(rules["most_partials"]) or power[peak] < 20.0 * floor:
            break
        if all(abs(peak - other) > 8 for other in chosen):
            chosen.append(int(peak))
    return chosen


def _track(spectrum: Real, place: int, rules: dict[str, float]) -> tuple[Real, Real]:
    """Follow one partial: ln of its frequency over its mean, and how surely, frame by frame."""
    reach = 3
    near = spectrum[:, place - reach - 1 : place + reach + 2]
    top = 1 + np.argmax(near[:, 1:-1], axis=1)
    rows = np.arange(len(near))
    logs = np.log(near + 1e-30)
    left, middle, right = (logs[rows, top + step] for step in (-1, 0, 1))
    bend = left - 2.0 * middle + right
    offset = np.where(bend < 0.0, 0.5 * (left - right) / np.minimum(bend, -1e-12), 0.0)
    frequency = place - reach - 1 + top + np.clip(offset, -1.0, 1.0)
    amplitude = near[rows, top]
    floor = np.median(spectrum, axis=1)
    heard = (amplitude > float(np.max(amplitude)) * rules["followed_down_to"]) & (amplitude > 15.0 * floor)
    weight = np.where(heard, frequency * np.minimum(amplitude / np.maximum(floor, 1e-30), 300.0), 0.0)
    if not np.any(heard):
        return np.zeros(len(near)), weight
    return np.log(frequency / np.median(frequency[heard])), weight


def _common(shifts: Real, weights: Real, rules: dict[str, float]) -> float:
    """Give the spread of the shift that the partials have in common, if they agree on it."""
    enough = np.count_nonzero(weights, axis=0) >= rules["fewest_partials"]
    if np.count_nonzero(enough) < rules["fewest_frames"]:
        return 0.0
    shifts, weights = shifts[:, enough], weights[:, enough]
    middle = np.array(
        [_weighted_median(each, weight) for each, weight in zip(shifts.T, weights.T, strict=True)]
    )
    left = np.abs(shifts - middle)
    apart = np.array([_weighted_median(each, weight) for each, weight in zip(left.T, weights.T, strict=True)])
    spread = float(np.std(middle))
    agreeing = float(np.median(apart)) * rules["agreement"]
    return spread if spread > agreeing else 0.0


def _weighted_median(values: Real, weights: Real) -> float:
    order = np.argsort(values)
    reached = np.cumsum(weights[order])
    return float(values[order][int(np.searchsorted(reached, 0.5 * reached[-1]))])
