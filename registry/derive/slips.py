"""Whether the readings of a bell fit each other, and which slip of measurement would explain it if not.

Diameter, strike note, thickness of the sound-bow and mass are tied by the similarity law. Given the diameter,
the others scatter about it in a known way, so that together they have a misfit: a sum of squares in units of
that scatter. A slip is named only where putting it right makes all readings fit each other.

References
----------
``registry.derive.law`` for the law and its scatter. International yard and pound agreement, 1959.
"""

import math
from collections.abc import Iterator
from typing import NamedTuple

from registry.derive.inputs import range_of
from registry.derive.kinship import factored, solved
from registry.derive.law import NINETY_PERCENT, Law, law_of

RARITY = 2.0 * math.log(3.0)
"""How much less likely iron is than steel, on the scale of squares: one bell to three (common practice)."""


class Readings(NamedTuple):
    """What was read or stated of one bell; None where nothing was."""

    material: str
    mouth_diameter_mm: float
    strike_hz: float | None = None
    soundbow_thickness_mm: float | None = None
    mass_kg: float | None = None
    profile_class: str = "unknown"
    cast_year: int | None = None


class Misfit(NamedTuple):
    """The sum of squares of ``readings`` readings beside the diameter, in units of their scatter.

    ``breadth`` is the logarithm of the volume of that scatter: of two explanations that fit as well, the one
    that leaves less open is the likelier.
    """

    squares: float
    readings: int
    breadth: float

    @property
    def fits(self) -> bool:
        """The readings lie within what nine bells in ten do."""
        return self.squares <= USUAL[self.readings]

    @property
    def contradicts(self) -> bool:
        """The readings lie where not one bell in a thousand does."""
        return self.squares > UNHEARD_OF[self.readings]


USUAL = (0.0, 2.706, 4.605, 6.251)
"""90 % of the chi-square distribution, by degrees of freedom."""
UNHEARD_OF = (0.0, 10.83, 13.82, 16.27)
"""99.9 % of the chi-square distribution, by degrees of freedom."""

POUND_KG = 0.45359237
"""The international pound of 1959."""

SLIPS: tuple[tuple[str, str, float], ...] = (
    ("the radius was given for the mouth diameter", "mouth_diameter_mm", 2.0),
    ("the circumference was given for the mouth diameter", "mouth_diameter_mm", 1.0 / math.pi),
    ("a mouth diameter in inches was taken for centimetres", "mouth_diameter_mm", 2.54),
    ("a mouth diameter in centimetres was taken for inches", "mouth_diameter_mm", 1.0 / 2.54),
    ("the strike note is an octave too high, or the nominal was given for it", "strike_hz", 0.5),
    ("the strike note is an octave too low, or the hum was given for it", "strike_hz", 2.0),
    ("a thickness in inches was taken for centimetres", "soundbow_thickness_mm", 2.54),
    ("a thickness in centimetres was taken for inches", "soundbow_thickness_mm", 1.0 / 2.54),
    ("the thickness of the waist was given for that of the sound-bow", "soundbow_thickness_mm", 2.2),
    ("pounds were written down as kilograms", "mass_kg", POUND_KG),
    ("kilograms were converted as if they were pounds", "mass_kg", 1.0 / POUND_KG),
    ("tonnes were written down as kilograms", "mass_kg", 1000.0),
)
"""What may have gone wrong with a reading, and the factor that puts it right."""


def misfit(readings: Readings) -> Misfit | None:
    """Tell how well the readings of a bell fit each other.

    Returns
    -------
    Misfit or None
        None where there is nothing beside the diameter, no law for the material, or a reading that no bell
        can have.
    """
    law = law_of(readings.material)
    if law is None or not all(_possible(readings, name) for name in Readings._fields[1:5]):
        return None
    deviations, covariance = [], []
    shared = _variances(law, readings)
    for value, expected, ties in _expected(law, readings):
        deviations.append(math.log(value / expected))
        covariance.append(ties)
    if not deviations:
        return None
    matrix = [
        [shared.pitch + sum(getattr(shared, tie) for tie in one if tie in other) for other in covariance]
        for one in covariance
    ]
    weights = solved(matrix, deviations)
    squares = sum(weight * each for weight, each in zip(weights, deviations, strict=True))
    breadth = 2.0 * sum(math.log(row[-1]) for row in factored(matrix))
    return Misfit(squares, len(deviations), breadth)


def likely_slips(readings: Readings) -> tuple[str, ...]:
    """Name every slip that, put right, makes the readings fit each other; the likeliest first.

    Empty where the readings fit as they are, where there are too few to tell, or where no simple slip
    explains them.
    """
    plain = misfit(readings)
    if plain is None or plain.fits:
        return ()
    fits = []
    for slip, corrected in _corrected(readings):
        right = misfit(corrected)
        if right is not None and right.fits:
            rare = RARITY if corrected.material == "cast-iron" else 0.0
            fits.append((right.squares + right.breadth + rare, slip))
    return tuple(slip for _, slip in sorted(fits))


class _Variances(NamedTuple):
    pitch: float
    thickness: float
    mass: float


def _variances(law: Law, readings: Readings) -> _Variances:
    diameter_m = readings.mouth_diameter_mm / 1000.0
    strike_hz = readings.strike_hz or law.strike(diameter_m).value
    mass = law.mass_by_strike(diameter_m, strike_hz, readings.cast_year)
    thickness = law.thickness.spread if law.thickness else 0.0
    spreads = (law.strike(diameter_m, readings.profile_class).spread, thickness, mass.spread)
    return _Variances(*((spread / NINETY_PERCENT) ** 2 for spread in spreads))


def _expected(law: Law, readings: Readings) -> Iterator[tuple[float, float, tuple[str, ...]]]:
    """Give each reading, what the diameter makes one expect, and its scatter beside that of the profile."""
    diameter_m = readings.mouth_diameter_mm / 1000.0
    strike_hz = law.strike(diameter_m, readings.profile_class).value
    if readings.strike_hz is not None:
        yield readings.strike_hz, strike_hz, ()
    if readings.soundbow_thickness_mm is not None and law.thickness is not None:
        thickness_m = strike_hz * diameter_m**2 / law.thickness.factor
        yield readings.soundbow_thickness_mm, 1000.0 * thickness_m, ("thickness",)
    if readings.mass_kg is not None:
        mass = law.mass_by_strike(diameter_m, strike_hz, readings.cast_year)
        yield readings.mass_kg, mass.value, ("mass",)


def _corrected(readings: Readings) -> Iterator[tuple[str, Readings]]:
    for slip, name, factor in SLIPS:
        value = getattr(readings, name)
        if value is not None:
            yield slip, readings._replace(**{name: value * factor})
    others = ("cast-steel", "cast-iron") if readings.material == "bronze" else ("bronze",)
    for other in others:
        yield f"the bell is of {other}", readings._replace(material=other)


def _possible(readings: Readings, name: str) -> bool:
    value = getattr(readings, name)
    low, high = range_of(name)
    return value is None or low <= value <= high
