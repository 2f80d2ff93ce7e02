"""How the bells of one ring are tuned to each other: against equal, just and meantone scales.

The key note is taken to be that of the lowest bell, as ringers and tuners do, where a mode on it has all the
others; else that of another bell. The pitch of the whole is the one that leaves the least squares, so that no
bell is right by definition. Old rings deviate: that is character, not fault.

References
----------
Equal temperament on a' = 440 Hz as in ISO 16:1975; the scales by definition (``registry.derive.scales``).
"""

import math
from collections.abc import Sequence
from typing import NamedTuple

from registry.derive.constants import constants
from registry.derive.inputs import checked
from registry.derive.scales import EQUAL, MODES, SCALES, Scale
from registry.model.derived import Derived
from registry.model.pitch import ISO_A_HZ, Pitch

SOURCE = "ISO 16:1975 (a' = 440 Hz); definitions of equal temperament, just and quarter-comma meantone scales"


class RingNote(NamedTuple):
    """The strike note of one bell of a ring, with half the width of its 90 % interval."""

    name: str
    strike_hz: float
    uncertainty_cents: float


class RingBell(NamedTuple):
    """One bell as it stands in the ring.

    Parameters
    ----------
    name : str
        As it was given.
    pitch : Pitch
        The note it has in the ring, at the ring's own pitch.
    above_lowest_cents : float
        Its interval above the lowest bell [cents].
    deviation : Derived
        How far it lies from the scale [cents], positive where it is sharp.
    """

    name: str
    pitch: Pitch
    above_lowest_cents: float
    deviation: Derived


class RingTuning(NamedTuple):
    """A ring held against one scale.

    Parameters
    ----------
    scale : str
        ``equal``, ``just`` or ``meantone``.
    key : Pitch
        The key note.
    modes : tuple of str
        The modes on the key note that have all the bells, the commonest first; empty where none has.
    reference_hz : float
        Frequency of a' to which the key note belongs in equal temperament [Hz].
    rms_cents : float
        Root of the mean square of the deviations [cents].
    bells : tuple of RingBell
        In the order given.
    """

    scale: str
    key: Pitch
    modes: tuple[str, ...]
    reference_hz: float
    rms_cents: float
    bells: tuple[RingBell, ...]


def ring_tunings(notes: Sequence[RingNote]) -> tuple[RingTuning, ...]:
    """Hold the bells of one ring against every scale, the best-fitting one first.

    Parameters
    ----------
    notes : sequence of RingNote
        Two bells at least.

    Raises
    ------
    ValueError
        When there are fewer than two bells, or a value lies outside the range of the form.
    """
    if len(notes) < len("ab"):
        raise ValueError("a ring has at least two bells")
    for note in notes:
        checked("strike_hz", note.strike_hz)
        if not 0.0 < note.uncertainty_cents < math.inf:
            raise ValueError(f"uncertainty_cents must be a number above 0, not {note.uncertainty_cents!r}")
    numbers = _numbers(notes)
    key, modes = _key(numbers)
    tunings = [_tuning(scale, notes, numbers, key, modes) for scale in SCALES]
    return tuple(sorted(tunings, key=lambda tuning: tuning.rms_cents))


def _cents(strike_hz: float) -> float:
    """Give the cents above C of octave -1, so that a hundred make one number of ``Pitch``."""
    return 6900.0 + 1200.0 * math.log2(strike_hz / ISO_A_HZ)


def _weights(notes: Sequence[RingNote]) -> list[float]:
    """Weigh the bells by how well their notes are known; they add up to 1."""
    plain = [note.uncertainty_cents**-2.0 for note in notes]
    return [weight / sum(plain) for weight in plain]


def _numbers(notes: Sequence[RingNote]) -> list[int]:
    """Name each bell's note at the pitch of the ring, in equal temperament: the one that fits all best."""
    cents, weights = [_cents(note.strike_hz) for note in notes], _weights(notes)
    best: tuple[float, list[int]] | None = None
    for anchor in cents:
        # No note is more than half a semitone off if this bell is right; then let all have their say.
        numbers = [round((each - anchor) / 100.0) + round(anchor / 100.0) for each in cents]
        left = [each - 100.0 * number for each, number in zip(cents, numbers, strict=True)]
        middle = math.fsum(weight * each for weight, each in zip(weights, left, strict=True))
        squares = math.fsum(weight * (each - middle) ** 2 for weight, each in zip(weights, left, strict=True))
        if best is None or squares < best[0] - 1e-9:
            # The whole ring is named from the nearest pitch of a' = 440 Hz.
            best = squares, [number + round(middle / 100.0) for number in numbers]
    return best[1] if best else []


def _key(numbers: Sequence[int]) -> tuple[Pitch, tuple[str, ...]]:
    """Choose the key note: the lowest bell, else the lowest other one on which a mode has all the bells."""
    for key in sorted(numbers):
        steps = {(number - key) % 12 for number in numbers}
        modes = tuple(name for name, mode in MODES.items() if steps <= mode)
        if modes:
            return Pitch(key), modes
    return Pitch(min(numbers)), ()


def _tuning(
    scale: Scale, notes: Sequence[RingNote], numbers: Sequence[int], key: Pitch, modes: tuple[str, ...]
) -> RingTuning:
    weights = _weights(notes)
    cents = [_cents(note.strike_hz) for note in notes]
    ideal = [100.0 * key.number + scale.above_key(number - key.number) for number in numbers]
    left = [each - wanted for each, wanted in zip(cents, ideal, strict=True)]
    pitch = math.fsum(weight * each for weight, each in zip(weights, left, strict=True))
    reference_hz = ISO_A_HZ * 2.0 ** (pitch / 1200.0)
    bells = []
    for place, (note, number) in enumerate(zip(notes, numbers, strict=True)):
        half = math.hypot(
            *(
                (weight - (other == place)) * each.uncertainty_cents
                for other, (weight, each) in enumerate(zip(weights, notes, strict=True))
            )
        )
        value = left[place] - pitch
        deviation = Derived(
            "ring_deviation_cents",
            value,
            value - half,
            value + half,
            constants("similarity")["level"],
            scale.name,
            constants("ring")["version"],
            {
                "strike_hz": note.strike_hz,
                "uncertainty_cents": note.uncertainty_cents,
                "note": Pitch(number).scientific,
                "key": key.scientific,
                "reference_hz": reference_hz,
                "bells": len(notes),
            },
            SOURCE,
        )
        bells.append(RingBell(note.name, Pitch(number), cents[place] - min(cents), deviation))
    rms = math.sqrt(math.fsum((each - pitch) ** 2 for each in left) / len(left))
    return RingTuning(scale.name, key, modes, reference_hz, rms, tuple(bells))


def missing_notes(tuning: RingTuning) -> tuple[Pitch, ...]:
    """List the notes of the ring's mode that no bell has, between its lowest and its highest; lowest first.

    Where several modes have all the bells the commonest counts; without a mode there is no gap.
    """
    if not tuning.modes:
        return ()
    mode = MODES[tuning.modes[0]]
    there = {bell.pitch.number for bell in tuning.bells}
    return tuple(
        Pitch(number)
        for number in range(min(there), max(there))
        if (number - tuning.key.number) % 12 in mode and number not in there
    )


def wanted_hz(tuning: RingTuning, note: Pitch) -> float:
    """Give the frequency [Hz] that a further bell of a ring needs, in the ring's scale and at its pitch."""
    scale = next((each for each in SCALES if each.name == tuning.scale), EQUAL)
    cents = 100.0 * tuning.key.number + scale.above_key(note.number - tuning.key.number)
    return tuning.reference_hz * math.pow(2.0, (cents - 6900.0) / 1200.0)
