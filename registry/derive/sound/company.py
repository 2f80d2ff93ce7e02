"""Tell whether other bells sound in a recording: at the same stroke, or at others."""

from collections.abc import Sequence

import numpy as np

from registry.derive.sound.decaying import Real, Samples
from registry.derive.sound.labels import Naming
from registry.derive.sound.limits import limits
from registry.derive.sound.partial_tones import Sounding
from registry.derive.sound.readings import Heard, two_bells
from registry.derive.sound.refusing import Refusal
from registry.derive.sound.strokes import Stroke


def refused_other_bell(sounding: Sounding, naming: Naming) -> Refusal | None:
    """Refuse a stroke in which two bells sound, or loud tones of something else."""
    other = _other_bell(sounding, naming)
    if other is not None:
        return _several(f"the partials of two bells, with nominals at {other[0]:.1f} and {other[1]:.1f} Hz")
    strangers = _strangers(sounding, naming)
    if len(strangers) >= limits("refusing")["strangers"]:
        listed = ", ".join(f"{hertz:.1f} Hz" for hertz in strangers)
        return _several(f"beside the partials of one bell, loud tones at {listed}")
    return None


def refused_other_strokes(
    samples: Samples, rate_hz: float, strokes: Sequence[Stroke], place: int
) -> Refusal | None:
    """Refuse a recording in which other strokes set other tones going than the one that was followed."""
    foreign = [
        f"{stroke.at_s:.1f} s"
        for number, stroke in enumerate(strokes)
        if number != place and _is_foreign(samples, rate_hz, stroke, strokes[place])
    ]
    if not foreign:
        return None
    return _several(f"other tones are struck at {', '.join(foreign[:5])} than at {strokes[place].at_s:.1f} s")


def _several(read: str) -> Refusal:
    return Refusal(
        "recording-several-bells", read, "one bell alone", "record each bell alone, the others silent"
    )


def _other_bell(sounding: Sounding, naming: Naming) -> tuple[float, float] | None:
    """Give the nominals of two bells that explain the loud tones, where one leaves too many unnamed."""
    rules = limits("refusing")
    taken = {label.tone for label in naming.labels}
    loud = [
        number for number, each in enumerate(sounding.partials) if each.level_db > rules["two_bells_above_db"]
    ]
    if sum(number not in taken for number in loud) < rules["two_bells_unnamed"]:
        return None
    partials = [sounding.partials[number] for number in loud]
    return two_bells([Heard(each.tone.frequency_hz, each.level_db) for each in partials])


def _strangers(sounding: Sounding, naming: Naming) -> list[float]:
    """Give the loud tones without a name, where a bell has its named partials and hardly any others."""
    rules = limits("refusing")
    taken = {label.tone for label in naming.labels}
    nominals = [
        sounding.partials[each.tone].tone.frequency_hz for each in naming.labels if each.name == "nominal"
    ]
    if not nominals:
        return []
    low, high = (nominals[0] * 2.0 ** (cents / 1200.0) for cents in rules["strangers_between_cents"])
    return [
        each.tone.frequency_hz
        for number, each in enumerate(sounding.partials)
        if number not in taken
        and low < each.tone.frequency_hz < high
        and each.level_db > rules["strangers_above_db"]
    ]


def _is_foreign(samples: Samples, rate_hz: float, stroke: Stroke, followed: Stroke) -> bool:
    """Say whether two strokes set other tones going."""
    rules = limits("refusing")
    if stroke.level_db < followed.level_db - rules["foreign_within_db"]:
        return False
    one, other = _struck(samples, rate_hz, stroke), _struck(samples, rate_hz, followed)
    if one is None or other is None:
        return False
    return min(_shared(one, other), _shared(other, one)) < float(rules["foreign_share"])


def _struck(samples: Samples, rate_hz: float, stroke: Stroke) -> tuple[Real, Real] | None:
    """Give frequencies [Hz] and energies of the loudest tones a stroke set going, if it is long enough."""
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
