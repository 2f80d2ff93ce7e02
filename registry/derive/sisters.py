"""Mass and note of a bell as the registry's own bells tell it: weighed sisters, and sisters with a note.

Each known bell deviates a little from the similarity law. A bell that was never weighed is expected to
deviate as its sisters do: fully like one of the same founder, tower, years and size, hardly like a stranger.
Where no bell speaks the law alone stands, and an estimate says how many bells spoke.

A bell that contradicts itself, such as one whose note was written an octave off or whose mass has the
headstock in it, does not speak. A bell never speaks for itself, so that its own weighing can be held against
the estimate.

References
----------
``registry.derive.kinship`` for the model, ``registry.derive.law`` for the law; ``benchmarks/estimates.py``
measures both on published bells.
"""

import math
from collections.abc import Iterable, Iterator
from typing import Any, NamedTuple

from registry.derive.constants import constants
from registry.derive.kinship import Deviation, Expected, Kin, Witnesses
from registry.derive.law import CENT, NINETY_PERCENT, Law, Scatter, Spreading, law_of
from registry.derive.strike import strike_doubt
from registry.model.derived import Derived
from registry.model.known_bell import KnownBell

TOO_FAR = 4.0
"""Standard deviations from the law beyond which a bell is taken to contradict itself."""


def rounding(mass_kg: float) -> float:
    """Guess how far a mass was rounded, from the zeros it ends with.

    Parameters
    ----------
    mass_kg : float
        The mass as stated [kg].

    Returns
    -------
    float
        Standard deviation [kg]: that of an even spread over one step of the last figure that is no zero.
    """
    step = 1.0
    while mass_kg >= 10.0 * step and mass_kg % (10.0 * step) == 0.0:
        step *= 10.0
    return step / math.sqrt(12.0)


class _Basis(NamedTuple):
    """One thing that bells tell of each other: how far the truth lies from a law."""

    quantity: str
    method: str
    scatter: Scatter

    def law(self, law: Law, bell: KnownBell) -> Spreading | None:
        """Give what the law says of a bell; None where the bell lacks what this rests on."""
        if self.quantity == "strike_hz":
            return law.strike(_metres(bell))
        if self.method == "size":
            return law.mass_by_size(_metres(bell))
        if bell.strike_hz is None:
            return None
        return law.mass_by_strike(_metres(bell), bell.strike_hz, bell.cast_year)

    def truth(self, bell: KnownBell) -> float | None:
        """Give what is known of a bell."""
        return bell.strike_hz if self.quantity == "strike_hz" else bell.mass_kg

    def uncertainty(self, bell: KnownBell, *, of_truth: bool) -> float:
        """Give the standard deviation [ln] that the readings of a bell leave open."""
        of_size = bell.tolerances.mouth_diameter_mm / bell.mouth_diameter_mm / NINETY_PERCENT
        of_strike = CENT * bell.tolerances.strike_cents / NINETY_PERCENT
        if self.quantity == "strike_hz":
            return math.hypot(of_size, of_strike if of_truth else 0.0)
        of_mass = 0.0
        if of_truth and bell.mass_kg is not None:
            kg = bell.mass_tolerance_kg
            of_mass = (rounding(bell.mass_kg) if kg is None else kg / NINETY_PERCENT) / bell.mass_kg
        if self.method == "size":
            return math.hypot(3.0 * of_size, of_mass)
        return math.hypot(4.0 * of_size, of_strike, of_mass)


class Sisters:
    """The known bells of one material, ready to speak for others.

    Parameters
    ----------
    bells : iterable of KnownBell
        Bells of this material whose size is known, weighed or with a note.
    material : str
        Word of the vocabulary ``material``.
    law : Law, optional
        Another law than the shipped one, for calibration.

    Raises
    ------
    ValueError
        Where nothing published bears a law of the material.
    """

    def __init__(self, bells: Iterable[KnownBell], material: str = "bronze", law: Law | None = None) -> None:
        chosen = law or law_of(material)
        if chosen is None:
            raise ValueError(f"no law for bells of {material}")
        self._law, self._material = chosen, material
        self._bells = [bell for bell in bells if not self._contradicts(bell)]
        self._witnesses: dict[_Basis, Witnesses] = {}

    def masses(self, bell: KnownBell) -> Iterator[Derived]:
        """Estimate the mass from size and note, then from size alone, as far as weighed bells speak.

        Yields
        ------
        Derived
            Mass [kg] with a 90 % interval; none where no weighed bell speaks.
        """
        if bell.strike_hz is not None and not self._contradicts(bell._replace(mass_kg=None)):
            yield from self._told(_Basis("mass_kg", "size-strike", self._law.mass_scatter), bell)
        yield from self._told(_Basis("mass_kg", "size", self._law.size_scatter), bell)

    def strike(self, bell: KnownBell) -> Derived | None:
        """Estimate the strike note from those of the founder's other bells.

        Returns
        -------
        Derived or None
            Frequency [Hz] with a 90 % interval; None where no bell of its founder has a note.
        """
        return next(self._told(_Basis("strike_hz", "size", self._law.pitch_scatter), bell), None)

    def _told(self, basis: _Basis, bell: KnownBell) -> Iterator[Derived]:
        plain = basis.law(self._law, bell)
        told = self._of(basis).expected(_kin(bell), bell.bell_id)
        if plain is None or not told.bells:
            return
        # What the law adds to its scatter, such as for small bells, and what the readings leave open.
        added = math.sqrt(max(plain.spread**2 - basis.scatter.spread**2, 0.0))
        rules = constants("kinship")
        half = rules["ninety_percent"] if told.sisters + told.family else NINETY_PERCENT
        spread = half * math.hypot(told.deviation, basis.uncertainty(bell, of_truth=False))
        value = Spreading(plain.value * math.exp(told.value), math.hypot(spread, added))
        inputs: dict[str, Any] = {
            "mouth_diameter_mm": bell.mouth_diameter_mm,
            "material": self._material,
            "sisters": told.sisters,
            "of_founder": told.family,
            "others": told.others,
        }
        if basis.method == "size-strike":
            inputs |= {"strike_hz": bell.strike_hz, "cast_year": bell.cast_year}
        low, high = value.interval
        yield Derived(
            basis.quantity,
            value.value,
            low,
            high,
            constants("similarity")["level"],
            f"{basis.method}-and-{told.speaker}",
            rules["version"],
            inputs,
            f"{self._law.source}; the registry's own bells",
            _who_spoke(told, basis, bell),
        )

    def _of(self, basis: _Basis) -> Witnesses:
        if basis not in self._witnesses:
            deviations = [
                Deviation(
                    _kin(bell),
                    math.log(truth / plain.value),
                    basis.uncertainty(bell, of_truth=True),
                    bell.bell_id,
                )
                for bell in self._bells
                if (truth := basis.truth(bell)) is not None
                and (plain := basis.law(self._law, bell)) is not None
            ]
            # The profile is each founder's own; only the habits of weighing are a region's.
            by_family = basis.quantity == "strike_hz"
            self._witnesses[basis] = Witnesses(deviations, basis.scatter, by_family=by_family)
        return self._witnesses[basis]

    def _contradicts(self, bell: KnownBell) -> bool:
        """Tell whether mass, note and size of a bell cannot belong together."""
        if bell.strike_hz is not None and strike_doubt(self._law, _metres(bell), bell.strike_hz):
            return True
        if bell.mass_kg is None:
            return False
        expected = self._law.mass_by_size(_metres(bell))
        if bell.strike_hz is not None:
            expected = self._law.mass_by_strike(_metres(bell), bell.strike_hz)
        return abs(math.log(bell.mass_kg / expected.value)) > TOO_FAR / NINETY_PERCENT * expected.spread


def mass_with_sisters(
    bell: KnownBell, weighed: Iterable[KnownBell], material: str = "bronze"
) -> Derived | None:
    """Estimate the mass of one bell with the help of weighed ones, in the best way there is.

    Parameters
    ----------
    bell : KnownBell
        The bell; its own mass, if any, is not looked at.
    weighed : iterable of KnownBell
        The weighed bells of the registry, of the same material.
    material : str
        Word of the vocabulary ``material``.

    Returns
    -------
    Derived or None
        Mass [kg] with a 90 % interval; None where no weighed bell speaks.
    """
    return next(Sisters(weighed, material).masses(bell), None)


def _metres(bell: KnownBell) -> float:
    return bell.mouth_diameter_mm / 1000.0


def _kin(bell: KnownBell) -> Kin:
    return Kin(bell.founder, bell.tower, bell.cast_year, _metres(bell))


def _who_spoke(told: Expected, basis: _Basis, bell: KnownBell) -> str:
    """Say how many bells spoke."""
    weighed, noted = ("weighed bell", "weighed bells"), ("bell with a note", "bells with a note")
    what = weighed if basis.quantity == "mass_kg" else noted
    of_ring = "of the same founder, tower and decade" if bell.founder else "of the same tower and decade"
    parts = (
        (told.sisters, of_ring),
        (told.family, "more of the founder" if bell.founder else "of the same tower"),
        (told.others, "of other founders"),
    )
    said = ", ".join(f"{number} {which}" for number, which in parts if number)
    return f"{told.bells} {what[told.bells > 1]} spoke: {said}"
