"""The scales a ring is held against: equal, just and quarter-comma meantone, and the modes by name.

All are definitions: equal temperament has twelve equal semitones; the just scale takes the simplest ratios to
its key note; quarter-comma meantone narrows every fifth so that four of them make a pure major third, 5/4.
"""

import math
from fractions import Fraction
from typing import NamedTuple

CENTS_IN_OCTAVE = 1200.0


class Scale(NamedTuple):
    """A way of tuning: the cents of the twelve steps above the key note."""

    name: str
    cents: tuple[float, ...]

    def above_key(self, semitones: int) -> float:
        """Give the cents of a step counted in semitones above the key note, in any octave."""
        octave, step = divmod(semitones, 12)
        return CENTS_IN_OCTAVE * octave + self.cents[step]


def _cents(ratio: Fraction) -> float:
    return CENTS_IN_OCTAVE * math.log2(ratio)


JUST_RATIOS = tuple(
    Fraction(*ratio)
    for ratio in (
        (1, 1),
        (16, 15),
        (9, 8),
        (6, 5),
        (5, 4),
        (4, 3),
        (45, 32),
        (3, 2),
        (8, 5),
        (5, 3),
        (9, 5),
        (15, 8),
    )
)
"""Ratios to the key note, semitone by semitone."""

MEANTONE_FIFTHS = (0, 7, 2, -3, 4, -1, 6, 1, 8, 3, -2, 5)
"""Each semitone as a number of fifths from the key note: from three below to eight above."""
MEANTONE_FIFTH_CENTS = CENTS_IN_OCTAVE * math.log2(5.0) / 4.0
"""Less two octaves, a fifth of which four make 5/4: the fourth root of 5."""

EQUAL = Scale("equal", tuple(100.0 * step for step in range(12)))
JUST = Scale("just", tuple(_cents(ratio) for ratio in JUST_RATIOS))
MEANTONE = Scale(
    "meantone", tuple(fifths * MEANTONE_FIFTH_CENTS % CENTS_IN_OCTAVE for fifths in MEANTONE_FIFTHS)
)
SCALES = (EQUAL, JUST, MEANTONE)

MODES: dict[str, frozenset[int]] = {
    "major": frozenset({0, 2, 4, 5, 7, 9, 11}),
    "minor": frozenset({0, 2, 3, 5, 7, 8, 10}),
    "harmonic minor": frozenset({0, 2, 3, 5, 7, 8, 11}),
    "dorian": frozenset({0, 2, 3, 5, 7, 9, 10}),
    "mixolydian": frozenset({0, 2, 4, 5, 7, 9, 10}),
    "phrygian": frozenset({0, 1, 3, 5, 7, 8, 10}),
    "lydian": frozenset({0, 2, 4, 6, 7, 9, 11}),
}
"""Semitones above the key note, the commoner first."""
