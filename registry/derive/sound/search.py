"""Find the decaying sinusoids of a stroke, one layer of loudness after the other.

What stands out of the noise in the spectrum is fitted and taken away, so that what it hid stands out next:
the second tone of a doublet, a weak partial in the skirt of a strong one. Partials die away at very different
speeds, and a filter matched to one decay hardly sees another; so each layer is looked for behind several.
"""

import numpy as np

from registry.derive.sound.decaying import Complex, Fit, Real, Whole
from registry.derive.sound.fitting import Fitted


def searched(sound: Real, rate_hz: float) -> Fitted:
    """Find the tones of a stretch of sound.

    Parameters
    ----------
    sound : array of float
        Samples of one stroke, from just after the blow.
    rate_hz : float
        Sampling rate [Hz].
    """
    fitted = Fitted(sound, rate_hz)
    for _ in range(fitted.rules["layers"]):
        if not _add_layer(fitted):
            break
        fitted.fit_all()
        fitted.look_again()
    fitted.fit_all()
    fitted.look_again()
    _settle(fitted)
    return fitted


def continued(sound: Real, rate_hz: float, earlier: Fitted) -> Fitted:
    """Measure the tones of a longer sound that sets in at the same moment, beginning with earlier ones."""
    fitted = Fitted(sound, rate_hz)
    fitted.poles, fitted.amplitudes = earlier.poles.copy(), earlier.amplitudes.copy()
    fitted.spread = np.zeros(len(fitted.poles))
    fitted.look_again()
    fitted.fit_all()
    _settle(fitted)
    return fitted


def _settle(fitted: Fitted) -> None:
    """Part what one tone does not explain, join what cannot be told apart, drop what noise could be."""
    if not len(fitted.poles):
        return
    if _part_close_ones(fitted):
        fitted.look_again()
    if _join_those_not_told_apart(fitted):
        fitted.fit_all()
        fitted.look_again()
    kept = fitted.evidence() > fitted.rules["evidence"]
    kept &= fitted.decays < 0.98 * fitted.rules["fastest_decay"]
    fitted.keep(kept)
    fitted.fit_all()
    fitted.look_again()


def _add_layer(fitted: Fitted) -> bool:
    """Add the tones that stand out of what is left, if any do."""
    rules = fitted.rules
    hertz = np.arange(len(fitted.spectrum)) / fitted.duration_s
    within = (hertz >= rules["lowest_hz"]) & (hertz <= min(rules["highest_hz"], 0.46 * fitted.rate_hz))
    best = np.zeros(len(hertz))
    which = np.zeros(len(hertz), int)
    decays = np.asarray(rules["matched_decays"], float)
    for number, decay in enumerate(decays):
        weight = np.exp(-decay / fitted.rate_hz * np.arange(fitted.length))
        power = np.abs(np.fft.rfft(fitted.left * weight) if decay else fitted.spectrum) ** 2
        power /= np.interp(hertz, *fitted.floor_of(power))
        better = power > best
        best[better] = power[better]
        which[better] = number
    peaks = 1 + np.flatnonzero((best[1:-1] > best[:-2]) & (best[1:-1] >= best[2:]) & within[1:-1])
    peaks = _not_crowded(fitted, peaks[best[peaks] > rules["evidence"]])
    room = max(int(rules["most_tones"]) - len(fitted.poles), 0)
    chosen = _foremost(fitted, peaks, best, decays[which])[:room]
    slowly = np.maximum(decays[which[chosen]], 0.3)
    fitted.add((-slowly + 2j * np.pi * hertz[chosen]) / fitted.rate_hz)
    return len(chosen) > 0


def _not_crowded(fitted: Fitted, peaks: Whole) -> Whole:
    """Leave out the peaks where tones enough have been found: what is left there is no further tone."""
    if not len(fitted.poles):
        return peaks
    apart = np.abs(peaks[:, None] / fitted.duration_s - fitted.frequencies_hz[None, :])
    kept: Whole = peaks[np.sum(apart < fitted.rules["crowd_hz"], axis=1) < fitted.rules["crowd"]]
    return kept


def _foremost(fitted: Fitted, peaks: Whole, best: Real, decay: Real) -> Whole:
    """Leave out the peaks that may be skirts of greater ones: a later layer sees them clear."""
    rules = fitted.rules
    chosen: list[int] = []
    for peak in peaks[np.argsort(-best[peaks])][:400]:
        for other in chosen:
            apart = abs(int(peak) - other) / fitted.duration_s
            near = max(rules["skirt_hz"], float(decay[other]), 12.0 / fitted.duration_s)
            if apart < near or (apart < 20.0 * near and best[peak] < best[other] * rules["skirt_share"]):
                break
        else:
            chosen.append(int(peak))
    return np.array(chosen, int)


def _part_close_ones(fitted: Fitted) -> bool:
    """Put two tones where one does not explain what is there, in the loudest groups; say whether any was."""
    rules = fitted.rules
    before = len(fitted.poles)
    for group in fitted.groups()[: int(rules["most_parted"])]:
        stretch = fitted.without(group)
        noise = float(fitted.noise_at(fitted.frequencies_hz[group[:1]])[0])
        misfit = fitted.misfit_of(group, stretch) / noise
        size = len(stretch.bins)
        if misfit < size + 6.0 * np.sqrt(size) or len(group) >= int(rules["most_in_group"]):
            continue
        tried = [fitted.best(stretch, begin) for begin in _parted(fitted, group)]
        best = min(tried, key=lambda each: each.misfit)
        gain = 2.0 * (misfit - best.misfit / noise)
        # Two tones much louder than the one before would be one tone, bent by what the model does not know.
        louder = float(np.sum(np.abs(best.amplitudes))) / float(np.sum(np.abs(fitted.amplitudes[group])))
        if gain > rules["parting_gain"] and louder < 3.0:
            fitted.take(group, stretch, best)
    return len(fitted.poles) > before


def _parted(fitted: Fitted, group: Whole) -> list[Complex]:
    """Give beginnings for a fit in which the loudest tone of a group is two, near or farther apart."""
    loudest = int(np.argmax(np.abs(fitted.amplitudes[group])))
    width = float(fitted.widths_hz[group][loudest])
    begins = []
    for apart in fitted.rules["parted_by_widths"]:
        shift = 1j * np.pi * apart * width / fitted.rate_hz
        poles = fitted.poles[group]
        lower = poles[loudest] - shift
        poles[loudest] += shift
        begins.append(np.append(poles, lower))
    return begins


def _join_those_not_told_apart(fitted: Fitted) -> bool:
    """Replace two tones that are hardly surely apart by one, where one explains the sound as well."""
    before = len(fitted.poles)
    for group in fitted.groups():
        if len(group) < 2:
            continue
        order = np.argsort(fitted.frequencies_hz[group])
        frequency, error = fitted.frequencies_hz[group][order], fitted.errors_hz[group][order]
        gaps = np.diff(frequency)
        surely = gaps / np.hypot(error[:-1], error[1:])
        closest = int(np.argmin(surely))
        within_width = gaps[closest] < 0.5 * float(np.min(fitted.widths_hz[group]))
        if surely[closest] < fitted.rules["told_apart_by_errors"] or within_width:
            _join(fitted, group, int(order[closest]), int(order[closest + 1]))
    fitted.keep(np.abs(fitted.amplitudes) > 0.0)
    return len(fitted.poles) < before


def _join(fitted: Fitted, group: Whole, low: int, high: int) -> None:
    """Put one tone in the place of two if the fit is hardly worse, or if the two all but cancel."""
    rules = fitted.rules
    stretch = fitted.without(group)
    noise = float(fitted.noise_at(fitted.frequencies_hz[group[:1]])[0])
    misfit = fitted.misfit_of(group, stretch)
    share = np.abs(fitted.amplitudes[group]) ** 2
    begin = fitted.poles[group]
    begin[low] = (begin[low] * share[low] + begin[high] * share[high]) / max(share[low] + share[high], 1e-300)
    tried: Fit = fitted.best(stretch, np.delete(begin, high))
    gain = 2.0 * (tried.misfit - misfit) / max(noise, misfit / len(stretch.bins))
    weaker = float(np.min(np.abs(fitted.amplitudes[group[[low, high]]])))
    cancelling = weaker > rules["cancelling"] * float(np.max(np.abs(tried.amplitudes)))
    if gain < rules["parting_gain"] or cancelling:
        fitted.take(group, stretch, tried)
