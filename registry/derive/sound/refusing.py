"""Say what cannot be judged, and why: a wrong answer is worse than none."""

import math
from collections.abc import Sequence
from typing import NamedTuple

import numpy as np

from registry.derive.sound.decaying import Real
from registry.derive.sound.labels import Heard, Naming, two_bells
from registry.derive.sound.limits import limits
from registry.derive.sound.motion import Wander
from registry.derive.sound.partial_tones import PartialTone, Sounding
from registry.derive.sound.strokes import Stroke
from registry.model.pitch import cents_between


class Refusal(NamedTuple):
    """Why a recording, or what was asked of it, cannot be judged.

    ``code`` is one of the catalogue of problems; the rest is told to the user: what was found, what is
    needed, what to
    do.
    """

    code: str
    read: str
    expected: str
    remedy: str


AGAIN = "record the bell at rest, struck once by its clapper or a hammer, and let it ring out"


def refused_as_recorded(samples: Real, rate_hz: float) -> Refusal | None:
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


def _too_short(seconds: float) -> Refusal:
    return Refusal(
        "recording-too-short",
        f"{seconds:.2f} s of ringing",
        f"at least {limits('refusing')['shortest_s']:g} s after a stroke, better until it has died away",
        AGAIN,
    )


def clipped_times(samples: Real) -> int:
    """Count how often the sound is cut off at one level; 0 where its peaks are as thin as those of any sound.

    A sound that dies away comes near its largest value once or twice. One that is clipped stays there, again
    and
    again, and the levels just below are as good as empty.
    """
    times = 0
    for side in (samples, -samples):
        top = float(np.max(side))
        if top <= 0.0:
            continue
        high = side[side > 0.8 * top]
        steps = np.diff(np.unique(high[:4000]))
        step = float(np.min(steps)) if len(steps) else 0.0
        width = max(0.001 * top, 1.5 * step)
        at_top = side >= top - width
        below = np.count_nonzero(side >= top - 9.0 * width) - np.count_nonzero(at_top)
        runs = np.count_nonzero(at_top[1:] & ~at_top[:-1]) + int(at_top[0])
        held = np.count_nonzero(at_top)
        if held > limits("refusing")["clipped_share"] * below and held > 1.5 * runs:
            times += int(runs)
    return times


def refused_strokes(strokes: Sequence[Stroke], place: int) -> Refusal | None:
    """Refuse a recording whose best stroke is cut off too soon."""
    rings = strokes[place].rings_s
    return _too_short(rings) if rings < limits("refusing")["shortest_s"] else None


def refused_motion(wander: Wander, sounding: Sounding) -> Refusal | None:
    """Refuse a bell that moved while it sounded: its tones waver together, and tones that do not cannot explain it."""
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
    """Refuse what is not made of tones that die away: noise, speech, a held tone."""
    rules = limits("refusing")
    read = ""
    if sounding.tonal_share < rules["tonal_share"]:
        read = f"{sounding.tonal_share * 100.0:.0f} % of the sound are tones that die away evenly"
    elif len(sounding.partials) < rules["fewest_partials"]:
        read = f"{len(sounding.partials)} tones that die away, {len(sounding.steady)} that do not"
    elif is_harmonic(sounding.partials):
        read = "tones that are all multiples of one: a string, a pipe or a voice"
    if not read:
        return None
    expected = f"at least {rules['tonal_share'] * 100.0:.0f} % of the sound in {rules['fewest_partials']} partials or more"
    return Refusal("recording-not-a-bell", read, expected, AGAIN)


def is_harmonic(partials: Sequence[PartialTone]) -> bool:
    """Say whether the tones are multiples of one frequency, several in a row, as no bell's are."""
    rules = limits("refusing")
    loud = [each.tone.frequency_hz for each in partials if each.level_db > rules["harmonic_above_db"]]
    if len(loud) < rules["harmonic_in_a_row"]:
        return False
    for tone in loud[:3]:
        for number in range(1, 4):
            base = tone / number
            found = {
                order
                for each in loud
                if (order := round(each / base)) >= 1
                and abs(cents_between(order * base, each)) < rules["harmonic_within_cents"]
            }
            row = max((_row(found, order) for order in found), default=0)
            fitting = sum(
                abs(cents_between(max(round(each / base), 1) * base, each)) < rules["harmonic_within_cents"]
                for each in loud
            )
            if row >= rules["harmonic_in_a_row"] and fitting == len(loud):
                return True
    return False


def _row(found: set[int], first: int) -> int:
    last = first
    while last in found:
        last += 1
    return last - first


def refused_company(
    samples: Real, rate_hz: float, strokes: Sequence[Stroke], place: int, sounding: Sounding, naming: Naming
) -> Refusal | None:
    """Refuse a recording in which another bell sounds: one of its own, or in strokes of other partials."""
    other, strangers = _other_bell(sounding, naming), _strangers(sounding, naming)
    foreign = [
        f"{stroke.at_s:.1f} s"
        for number, stroke in enumerate(strokes)
        if number != place and _is_foreign(samples, rate_hz, stroke, strokes[place])
    ]
    if foreign:
        read = f"other tones are struck at {', '.join(foreign[:5])} than at {strokes[place].at_s:.1f} s"
    elif other:
        read = f"the partials of two bells, with nominals at {other[0]:.1f} and {other[1]:.1f} Hz"
    elif len(strangers) >= limits("refusing")["strangers"]:
        read = "beside the partials of one bell, loud tones at " + ", ".join(
            f"{each:.1f} Hz" for each in strangers
        )
    else:
        return None
    return Refusal(
        "recording-several-bells", read, "one bell alone", "record each bell alone, the others silent"
    )


def _strangers(sounding: Sounding, naming: Naming) -> list[float]:
    """Give the loud tones without a name that stand where a bell has its named partials, and hardly any others."""
    rules = limits("refusing")
    taken = {label.tone for label in naming.labels}
    nominal = next((sounding.partials[each.tone] for each in naming.labels if each.name == "nominal"), None)
    if nominal is None:
        return []
    low, high = (
        nominal.tone.frequency_hz * 2.0 ** (cents / 1200.0) for cents in rules["strangers_between_cents"]
    )
    return [
        each.tone.frequency_hz
        for number, each in enumerate(sounding.partials)
        if number not in taken
        and low < each.tone.frequency_hz < high
        and each.level_db > rules["strangers_above_db"]
    ]


def _other_bell(sounding: Sounding, naming: Naming) -> tuple[float, float] | None:
    """Give the nominals of two bells that explain the loud tones, where one leaves too many of them without a name."""
    rules = limits("refusing")
    taken = {label.tone for label in naming.labels}
    loud = [
        number for number, each in enumerate(sounding.partials) if each.level_db > rules["two_bells_above_db"]
    ]
    if sum(number not in taken for number in loud) < rules["two_bells_unnamed"]:
        return None
    tones = [
        Heard(sounding.partials[number].tone.frequency_hz, sounding.partials[number].level_db)
        for number in loud
    ]
    return two_bells(tones)


def _is_foreign(samples: Real, rate_hz: float, stroke: Stroke, followed: Stroke) -> bool:
    """Say whether two strokes set other tones going."""
    rules = limits("refusing")
    if stroke.level_db < followed.level_db - rules["foreign_within_db"]:
        return False
    one, other = _struck(samples, rate_hz, stroke), _struck(samples, rate_hz, followed)
    if one is None or other is None:
        return False
    return bool(min(_shared(one, other), _shared(other, one)) < rules["foreign_share"])


def _struck(samples: Real, rate_hz: float, stroke: Stroke) -> tuple[Real, Real] | None:
    """Give the loudest tones that a stroke set going, their frequencies [Hz] and energies; None where it is too short."""
    rules = limits("refusing")
    size = round(rules["foreign_frame_s"] * rate_hz)
    first = round((stroke.at_s + 0.02) * rate_hz)
    if stroke.rings_s < rules["foreign_frame_s"] + 0.05 or first + size > len(samples):
        return None
    window = np.hanning(size)
    after = np.abs(np.fft.rfft(samples[first : first + size] * window)) ** 2
    start = first - round(0.03 * rate_hz) - size
    if start > 0:  # what still rings from before is no witness
        after -= np.minimum(after, np.abs(np.fft.rfft(samples[start : start + size] * window)) ** 2)
    hertz = np.arange(len(after)) * rate_hz / size
    after[(hertz < rules["foreign_lowest_hz"]) | (hertz > rules["foreign_highest_hz"])] = 0.0
    peaks = 1 + np.flatnonzero((after[1:-1] > after[:-2]) & (after[1:-1] >= after[2:]))
    loudest = peaks[np.argsort(-after[peaks])][: int(rules["foreign_tones"])]
    return hertz[loudest], after[loudest]


def _shared(tones: tuple[Real, Real], others: tuple[Real, Real]) -> float:
    """Give the share of the energy of some tones that lies where the others are."""
    if not len(tones[0]) or not len(others[0]):
        return 1.0
    apart = np.min(np.abs(tones[0][:, None] - others[0][None, :]), axis=1)
    near = apart < 2.5 / limits("refusing")["foreign_frame_s"]
    return float(np.sum(tones[1][near]) / max(float(np.sum(tones[1])), 1e-300))
