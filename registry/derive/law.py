"""The similarity law that ties mass and note to the mouth diameter, and how far bells scatter about it.

A bell of diameter d and thickness t sounds like a plate, f ~ t/d², and weighs in proportion to t·d². Hence

    m = C·f·d⁴        f = Φ·g(d)/d        m = C·Φ·g(d)·d³

with C the mass factor [kg·s/m⁴] of the material, Φ the pitch factor [Hz·m] of the profile, and g(d) the
growth of small bells, which founders cast thicker. C does not depend on the profile, so that a bell whose
note is known needs no class. Where neither note nor class is known, Φ rises slowly for great bells, which
tend to have the heavier profiles.

Bells scatter about the law in two ways: in common with the bells of one founder, tower and decade that are
of like size, and each on its own.

References
----------
T. D. Rossing and R. Perrin, Vibrations of bells, Applied Acoustics 20 (1987) 41-70.
The constants and their sources stand in ``schema/rules/estimates.yaml``.
"""

import math
from functools import cache
from typing import Any, NamedTuple

from registry.derive.constants import constants


class SmallBells(NamedTuple):
    """How much thicker than large ones small bells of a kind are cast: g(d) = 1 + (onset/d)^power."""

    onset_m: float
    power: float
    smallest_m: float

    def growth(self, diameter_m: float) -> float:
        """Give g(d) [-]; below the smallest published bell its value is held."""
        return 1.0 + math.pow(self.onset_m / max(diameter_m, self.smallest_m), self.power)


class GreatBells(NamedTuple):
    """How much heavier the profiles of great bells tend to be: (d/onset)^slope above the onset, else 1."""

    onset_m: float
    slope: float

    def growth(self, diameter_m: float) -> float:
        """Give the factor on the pitch factor [-]."""
        return math.pow(max(diameter_m / self.onset_m, 1.0), self.slope)


class Thickness(NamedTuple):
    """The plate-like law f = K·t/d²: K [m/s], half the width of its 90 % interval, and where it is from."""

    factor: float
    spread: float
    source: str


CENT = math.log(2.0) / 1200.0
"""A cent, in natural logarithm."""

NINETY_PERCENT = 1.6449
"""Half the width of the 90 % interval of a normal distribution, in standard deviations."""


class Scatter(NamedTuple):
    """Standard deviations about the law, in natural logarithm.

    ``ring`` is what bells of like size from one founder, tower and decade have in common, ``bell`` what each
    has on its own.
    """

    ring: float
    bell: float

    @property
    def spread(self) -> float:
        """Half the width of the 90 % interval of a bell of which no sister is known."""
        return NINETY_PERCENT * math.hypot(self.ring, self.bell)


class Spreading(NamedTuple):
    """A central value and half the width of its 90 % interval in natural logarithm."""

    value: float
    spread: float

    @property
    def interval(self) -> tuple[float, float]:
        """The ends of the interval, in the unit of the value."""
        factor = math.exp(self.spread)
        return self.value / factor, self.value * factor

    def within(self, spread: float) -> "Spreading":
        """Add an independent spread."""
        return Spreading(self.value, math.hypot(self.spread, spread))


class Law(NamedTuple):
    """The law of one material. Spreads are half-widths of 90 % intervals in natural logarithm."""

    mass_factor: float
    mass_scatter: Scatter
    """Of the mass whose note and time are known."""
    undated_scatter: Scatter
    """Of the mass whose note is known, its time not."""
    pitch_factor: float
    pitch_scatter: Scatter
    size_scatter: Scatter
    """Of the mass of which only the diameter is known."""
    thickness: Thickness | None
    """What the sound-bow says of note and mass; known for bronze alone."""
    great: GreatBells
    small: SmallBells
    small_spread_by_size: float
    small_spread_by_strike: float
    carillon: SmallBells | None
    medium_pitch_factor: float
    class_spread: float
    half_semitones: dict[str, int]
    """Empty where classes are not defined: they are, for bronze alone."""
    date_factors: tuple[tuple[int, float], ...]
    """Last year of a time, and the factor on the mass that the habits of its founders make; in order."""
    source: str
    class_source: str

    def knows(self, profile_class: str) -> bool:
        """Tell whether the class says anything of the note of a bell of this material."""
        return profile_class in self.half_semitones or (
            profile_class == "carillon" and self.carillon is not None
        )

    def strike(self, diameter_m: float, profile_class: str = "unknown") -> Spreading:
        """Give the strike note [Hz] to expect of a diameter [m]."""
        if profile_class == "carillon" and self.carillon is not None:
            growth = self.carillon.growth(diameter_m)
            return Spreading(self.pitch_factor * growth / diameter_m, self.pitch_scatter.spread)
        growth = self.small.growth(diameter_m)
        if profile_class in self.half_semitones:
            factor = self.medium_pitch_factor * 2.0 ** (self.half_semitones[profile_class] / 24.0)
            plain = Spreading(factor * growth / diameter_m, self.class_spread)
        else:
            factor = self.pitch_factor * self.great.growth(diameter_m)
            plain = Spreading(factor * growth / diameter_m, self.pitch_scatter.spread)
        return plain.within(self.small_spread_by_size * math.log(growth))

    def strike_by_thickness(self, diameter_m: float, thickness_m: float) -> Spreading:
        """Give the strike note [Hz] of a diameter [m] and the thickness [m] of the sound-bow.

        Raises
        ------
        ValueError
            Where the law does not know what a thickness says.
        """
        if self.thickness is None:
            raise ValueError("the law of this material knows nothing of the sound-bow")
        return Spreading(self.thickness.factor * thickness_m / diameter_m**2, self.thickness.spread)

    def caveat(self, diameter_m: float) -> str:
        """Say where the law is stretched beyond the published bells; empty where it is not."""
        if diameter_m >= self.small.smallest_m:
            return ""
        smallest_mm = self.small.smallest_m * 1000.0
        return f"an extrapolation: the smallest published bell measures {smallest_mm:.0f} mm"

    def date_factor(self, cast_year: int | None) -> float:
        """Give the factor on the mass for a year of casting; 1 where it is not known or says nothing."""
        if cast_year is None:
            return 1.0
        return next((factor for until, factor in self.date_factors if cast_year <= until), 1.0)

    def mass_by_strike(self, diameter_m: float, strike_hz: float, cast_year: int | None = None) -> Spreading:
        """Give the mass [kg] of a bell whose diameter [m] and strike note [Hz] are known, or its year too."""
        dated = cast_year is not None and self.date_factors
        scatter = self.mass_scatter if dated else self.undated_scatter
        factor = self.mass_factor * self.date_factor(cast_year)
        plain = Spreading(factor * strike_hz * diameter_m**4, scatter.spread)
        return plain.within(self.small_spread_by_strike * math.log(self.small.growth(diameter_m)))

    def mass_by_thickness(self, diameter_m: float, thickness_m: float) -> Spreading:
        """Give the mass [kg] of a bell whose diameter [m] and thickness [m] of the sound-bow are known."""
        strike = self.strike_by_thickness(diameter_m, thickness_m)
        return self.mass_by_strike(diameter_m, strike.value).within(strike.spread)

    def mass_by_class(self, diameter_m: float, profile_class: str) -> Spreading:
        """Give the mass [kg] of a bell whose diameter [m] and weight class are known."""
        strike = self.strike(diameter_m, profile_class)
        plain = Spreading(self.mass_factor * strike.value * diameter_m**4, self.undated_scatter.spread)
        return plain.within(strike.spread)

    def mass_by_size(self, diameter_m: float) -> Spreading:
        """Give the mass [kg] of a bell of which only the diameter [m] is known."""
        growth = self.small.growth(diameter_m)
        factor = self.mass_factor * self.pitch_factor * self.great.growth(diameter_m)
        plain = Spreading(factor * growth * diameter_m**3, self.size_scatter.spread)
        return plain.within(self.small_spread_by_size * math.log(growth))


def _small(rule: dict[str, Any]) -> SmallBells:
    return SmallBells(rule["onset_m"], rule["power"], rule["smallest_m"])


@cache
def law_of(material: str) -> Law | None:
    """Give the law of a material of the vocabulary; None where nothing published bears one."""
    rules = constants("similarity")
    factors = rules["materials"].get(material)
    if factors is None:
        return None
    small = rules["small_bells"]
    classes = rules["profile_classes"]
    bronze = material == "bronze"
    return Law(
        mass_factor=factors["mass_factor"],
        mass_scatter=Scatter(*factors["mass_scatter"]),
        undated_scatter=Scatter(*factors.get("undated_scatter", factors["mass_scatter"])),
        pitch_factor=factors["pitch_factor"],
        pitch_scatter=Scatter(*factors["pitch_scatter"]),
        size_scatter=Scatter(*factors["size_scatter"]),
        thickness=Thickness(**rules["thickness"]) if bronze else None,
        great=GreatBells(**(rules["great_bells"] if bronze else {"onset_m": 1.0, "slope": 0.0})),
        small=_small(small),
        small_spread_by_size=small["spread_by_size"],
        small_spread_by_strike=small["spread_by_strike"],
        carillon=_small(rules["carillon"]) if bronze else None,
        medium_pitch_factor=classes["medium_pitch_factor"],
        class_spread=classes["spread"],
        half_semitones=classes["half_semitones"] if bronze else {},
        date_factors=tuple((time["until"], time["factor"]) for time in rules["casting_dates"])
        if bronze
        else (),
        source=f"{rules['source']}; {factors['source']}",
        class_source=classes["source"],
    )
