"""The mass of a bell from its mouth diameter, and from its note, sound-bow or weight class where known.

Methods, each with a 90 % interval: ``size-and-strike`` m = C·f·d⁴, ``size-strike-and-date`` the same with C
of the time of casting, ``size-and-thickness`` m = C·K·t·d² with t the greatest thickness of the sound-bow,
``size-and-class`` with the note that the class leads one to expect, ``size`` m = k·d³ with k growing for
small bells. How far the readings can be trusted is carried into the interval.

An estimate never replaces a weighing: published masses of one bell commonly differ by 5 to 30 %. Do not
choose lifting gear, or judge a frame, by the value: weigh the bell.

References
----------
T. D. Rossing and R. Perrin, Vibrations of bells, Applied Acoustics 20 (1987) 41-70; see
``registry.derive.law``.
"""

from collections.abc import Iterator
from typing import Any, NamedTuple

from registry.derive.constants import constants
from registry.derive.inputs import checked, checked_term
from registry.derive.law import CENT, Law, Spreading, law_of
from registry.derive.strike import strike_doubt, thickness_doubt
from registry.model.derived import Derived
from registry.model.known_bell import EXACT, Tolerances

QUANTITY = "mass_kg"


def mass_estimates(  # noqa: PLR0913 - each is a thing one may know of a bell
    mouth_diameter_mm: float,
    strike_hz: float | None = None,
    profile_class: str | None = None,
    material: str | None = "bronze",
    *,
    cast_year: int | None = None,
    soundbow_thickness_mm: float | None = None,
    tolerances: Tolerances = EXACT,
    law: Law | None = None,
) -> tuple[Derived, ...]:
    """Estimate the mass in every way that the inputs allow, the best way first.

    Parameters
    ----------
    mouth_diameter_mm : float
        Outer diameter at the lip [mm].
    strike_hz : float, optional
        Strike note [Hz], half the nominal partial; never the nominal itself. A strike note that fits another
        octave of this diameter better is not trusted: its estimate comes last and says so.
    profile_class : str, optional
        Word of the vocabulary ``profile_class``. Defined for bronze; of no use once the note is known.
    material : str, optional
        Word of the vocabulary ``material``; None means unknown.
    cast_year : int, optional
        Year of casting, where it is known to a few decades; refines the estimate from the note, for bronze.
    soundbow_thickness_mm : float, optional
        Greatest thickness of the sound-bow, unworn [mm]; for bronze. One that does not fit the diameter is
        not trusted either.
    tolerances : Tolerances, optional
        How far the readings can be trusted; exact unless given.
    law : Law, optional
        Another law than the shipped one, for calibration.

    Returns
    -------
    tuple of Derived
        Never empty. Where the material is unknown, or no published bell of it bears an estimate, a single one
        without value, whose note says what to do: bronze figures make a steel bell a third to a half too
        heavy, and a magnet settles the question at once.

    Raises
    ------
    ValueError
        When a value lies outside the range of the form or a word is not in its vocabulary.
    """
    asked = _Asked(
        checked("mouth_diameter_mm", mouth_diameter_mm),
        None if strike_hz is None else checked("strike_hz", strike_hz),
        checked_term("profile_class", profile_class),
        checked_term("material", material),
        cast_year,
        None if soundbow_thickness_mm is None else checked("soundbow_thickness_mm", soundbow_thickness_mm),
        tolerances,
    )
    law = law or law_of(asked.material)
    if law is None:
        return (_no_mass(asked),)
    ways = sorted(_ways(law, asked), key=lambda way: (bool(way.doubt), not way.by_strike, way.mass.spread))
    caveat = law.caveat(asked.diameter_m)
    without = "; ".join(f"estimated without the {way.doubted}: {way.doubt}" for way in ways if way.doubt)
    notes = [way.doubt or caveat for way in ways]
    notes[0] = without or caveat
    return tuple(_mass(law, way, note) for way, note in zip(ways, notes, strict=True))


class _Asked(NamedTuple):
    """What is known of a bell, checked."""

    mouth_diameter_mm: float
    strike_hz: float | None
    profile_class: str
    material: str
    cast_year: int | None
    soundbow_thickness_mm: float | None
    tolerances: Tolerances

    @property
    def diameter_m(self) -> float:
        return self.mouth_diameter_mm / 1000.0

    def inputs(self, *names: str) -> dict[str, Any]:
        """Give the inputs of a method: diameter, material and what is named, with their tolerances."""
        given = {name: getattr(self, name) for name in ("mouth_diameter_mm", "material", *names)}
        return given | self.tolerances.of(given)


class _Way(NamedTuple):
    """One way to the mass; ``doubt`` says why not to trust what is ``doubted``."""

    method: str
    mass: Spreading
    inputs: dict[str, Any]
    doubted: str = ""
    doubt: str = ""

    @property
    def by_strike(self) -> bool:
        """Whether the note is known, which tells more than anything else."""
        return "strike_hz" in self.inputs


def _ways(law: Law, asked: _Asked) -> Iterator[_Way]:
    diameter_m, tolerances = asked.diameter_m, asked.tolerances
    of_size = tolerances.mouth_diameter_mm / asked.mouth_diameter_mm
    yield _Way("size", law.mass_by_size(diameter_m).within(3.0 * of_size), asked.inputs())
    if law.knows(asked.profile_class):
        mass = law.mass_by_class(diameter_m, asked.profile_class).within(3.0 * of_size)
        yield _Way("size-and-class", mass, asked.inputs("profile_class"))
    if asked.soundbow_thickness_mm is not None and law.thickness is not None:
        thickness_m = asked.soundbow_thickness_mm / 1000.0
        of_bow = tolerances.soundbow_thickness_mm / asked.soundbow_thickness_mm
        mass = law.mass_by_thickness(diameter_m, thickness_m).within(2.0 * of_size).within(of_bow)
        doubt = thickness_doubt(law, diameter_m, thickness_m, asked.profile_class)
        yield _Way(
            "size-and-thickness", mass, asked.inputs("soundbow_thickness_mm"), "sound-bow thickness", doubt
        )
    if asked.strike_hz is not None:
        mass = law.mass_by_strike(diameter_m, asked.strike_hz, asked.cast_year)
        mass = mass.within(4.0 * of_size).within(CENT * tolerances.strike_cents)
        doubt = strike_doubt(law, diameter_m, asked.strike_hz, asked.profile_class)
        dated = asked.cast_year is not None and law.date_factors
        method = "size-strike-and-date" if dated else "size-and-strike"
        inputs = asked.inputs("strike_hz", *(["cast_year"] if dated else []))
        yield _Way(method, mass, inputs, "strike note", doubt)


def _mass(law: Law, way: _Way, note: str) -> Derived:
    rules = constants("similarity")
    low, high = way.mass.interval
    source = law.source
    if "profile_class" in way.inputs:
        source = f"{source}; {law.class_source}"
    elif law.thickness is not None and "soundbow_thickness_mm" in way.inputs:
        source = f"{source}; {law.thickness.source}"
    return Derived(
        QUANTITY,
        way.mass.value,
        low,
        high,
        rules["level"],
        way.method,
        rules["version"],
        way.inputs,
        source,
        note,
    )


def _no_mass(asked: _Asked) -> Derived:
    rules = constants("similarity")
    reasons = rules["without_basis"]
    note = f"no estimate: {reasons.get(asked.material, reasons['otherwise'])}"
    return Derived(
        QUANTITY,
        None,
        None,
        None,
        rules["level"],
        "size",
        rules["version"],
        asked.inputs(),
        rules["source"],
        note,
    )
