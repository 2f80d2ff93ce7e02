"""Say what cannot be judged, and why: a wrong answer is worse than none."""

import math
from collections.abc import Sequence
from typing import NamedTuple

import numpy as np

from registry.derive.sound.decaying import Samples
from registry.derive.sound.limits import limits
from registry.derive.sound.motion import Wander
from registry.derive.sound.partial_tones import PartialTone, Sounding
from registry.derive.sound.strokes import Stroke
from registry.model.pitch import cents_between


class Refusal(NamedTuple):
    """Why a recording cannot be judged.

    ``code`` is one of the catalogue of problems; the rest is told to the user: what was found, what is
    needed, what to do.
    """

    code: str
    read: str
    expected: str
    remedy: str


AGAIN = "record the bell at rest, struck once by its clapper or a hammer, and let it ring out"


def refused_as_recorded(samples: Samples, rate_hz: float) -> Refusal | None:
    """Refuse what is no usable recording of anything: too short, silent, or clipped."""
    rules = limits("refusing")
    duration = len(samples) / rate_hz
    if duration < rules["shortest_s"]:
        return _too_short(duration)
    peak = float(np.max(np.abs(samples)))
    if peak < 10.0 ** (rules["silent_db"] / 20.0):
        heard = f"{20.0 * math.log10(peak):.0f} dB" if peak > 0.0 else "nothing"
        return Refusal(
            "recording-silent",
            f"loudest sample at {heard} of full scale",
            f"a sound above {rules['silent_db']:g} dB of full scale",
            "check microphone and level",
        )
    times = clipped_times(samples)
    if times >= rules["clipped_times"]:
        return Refusal(
            "recording-clipped",
            f"the sound is cut off at its loudest, {times} times",
            "no sample at the limit of the recorder",
            "record again with a lower level or from farther away",
        )
    return None


def refused_strokes(strokes: Sequence[Stroke], place: int) -> Refusal | None:
    """Refuse a recording in which nothing is struck, or whose best stroke is cut off too soon."""
    if not strokes:
        return _too_short(0.0)
    rings = strokes[place].rings_s
    return _too_short(rings) if rings < limits("refusing")["shortest_s"] else None


def _too_short(seconds: float) -> Refusal:
    shortest = limits("refusing")["shortest_s"]
    return Refusal(
        "recording-too-short",
        f"{seconds:.2f} s of ringing",
        f"at least {shortest:g} s after a stroke, better until it has died away",
        AGAIN,
    )


def clipped_times(samples: Samples) -> int:
    """Count how often the sound is cut off at one level; 0 where its peaks are as thin as of any sound.

    A sound that dies away comes near its largest value once or twice. One that is clipped stays there, again
    and again, and the levels just below are as good as empty.
    """
    times = 0
    for side in (samples, -samples):
        top = float(np.max(side))
        if top <= 0.0:
            continue
        steps = np.diff(np.unique(side[side > 0.8 * top][:4000]))
        step = float(np.min(steps)) if len(steps) else 0.0
        width = max(0.001 * top, 1.5 * step)
        at_top = side >= top - width
        held = np.count_nonzero(at_top)
        below = np.count_nonzero(side >= top - 9.0 * width) - held
        runs = np.count_nonzero(at_top[1:] & ~at_top[:-1]) + int(at_top[0])
        if held > limits("refusing")["clipped_share"] * below and held > 1.5 * runs:
            times += int(runs)
    return times


def refused_motion(wander: Wander, sounding: Sounding) -> Refusal | None:
    """Refuse a bell that moved: its tones waver together, and still ones cannot explain the sound."""
    rules = limits("motion")
    if wander.cents < rules["wander_cents"] or wander.share < rules["share"]:
        return None
    if sounding.left_over < rules["left_over"]:
        return None
    return Refusal(
        "recording-swinging",
        f"all partials waver together by {wander.cents:.1f} cents",
        f"less than {rules['wander_cents']:g} cents: a bell, a microphone and a recorder that keep still",
        AGAIN,
    )


def refused_sound(sounding: Sounding) -> Refusal | None:
    """Refuse what is not made of tones that die away: noise, speech, a held tone, a string."""
    rules = limits("refusing")
    percent, fewest = rules["tonal_share"] * 100.0, rules["fewest_partials"]
    if sounding.tonal_share < rules["tonal_share"]:
        read = f"{sounding.tonal_share * 100.0:.0f} % of the sound are tones that die away evenly"
    elif len(sounding.partials) < fewest:
        read = f"{len(sounding.partials)} tones that die away, {len(sounding.steady)} that do not"
    elif is_harmonic(sounding.partials):
        read = "tones that are all multiples of one: a string, a pipe or a voice"
    else:
        return None
    expected = f"at least {percent:.0f} % of the sound in {fewest} partials or more"
    return Refusal("recording-not-a-bell", read, expected, AGAIN)


def is_harmonic(partials: Sequence[PartialTone]) -> bool:
    """Say whether the loud tones are multiples of one frequency, several in a row, as no bell's are."""
    rules = limits("refusing")
    loud = [each.tone.frequency_hz for each in partials if each.level_db > rules["harmonic_above_db"]]
    bases = [hertz / number for hertz in loud[:3] for number in (1, 2, 3)]
    return any(_are_multiples(loud, base) for base in bases)


def _are_multiples(tones: Sequence[float], base: float) -> bool:
    rules = limits("refusing")
    orders = set()
    for hertz in tones:
        order = max(round(hertz / base), 1)
        if abs(cents_between(hertz, order * base)) > rules["harmonic_within_cents"]:
            return False
        orders.add(order)
    return any(all(first + step in orders for step in range(rules["harmonic_in_a_row"])) for first in orders)
