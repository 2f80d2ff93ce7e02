"""A first size for a bell that is to have a wanted note: diameter, sound-bow, mass, by weight class.

It starts the talk with a founder and ends nothing: he has his own profiles, and a bell's inner tuning lies in
their curves. In a ring whose bells are known, their own f·d says more than any class, for a new bell is to
match them.

References
----------
``registry.derive.law`` and ``registry.derive.sisters``; their constants and sources in ``schema/rules``.
"""

import math
from collections.abc import Callable, Iterable, Sequence
from typing import Any, NamedTuple

from registry.derive.constants import constants
from registry.derive.inputs import checked, checked_term, range_of
from registry.derive.law import Law, Spreading, law_of
from registry.derive.sisters import Sisters
from registry.model.derived import Derived
from registry.model.known_bell import KnownBell

OF_RING = "as the ring"
"""Stands for a class where the bells of the ring say how heavy the new one is to be."""


class Design(NamedTuple):
    """The sizes of one bell that would have the wanted note.

    Parameters
    ----------
    profile : str
        Word of the vocabulary ``profile_class``, or ``"as the ring"``.
    mouth_diameter : Derived
        Mouth diameter [mm].
    soundbow_thickness : Derived or None
        Greatest thickness of the sound-bow [mm]; None for a metal of which it is not known.
    mass : Derived
        Mass [kg].
    """

    profile: str
    mouth_diameter: Derived
    soundbow_thickness: Derived | None
    mass: Derived


class Plan(NamedTuple):
    """What casting takes, from numbers that the user sets; None where he sets none.

    ``metal_kg``, ``price`` and ``days`` are each low, best and high.
    """

    metal_kg: tuple[float, float, float] | None
    price: tuple[float, float, float] | None
    days: tuple[float, float, float] | None


def designs(
    strike_hz: float,
    material: str = "bronze",
    *,
    profiles: Sequence[str] = (),
    ring: Iterable[KnownBell] = (),
) -> tuple[Design, ...]:
    """Give the sizes that lead to a wanted strike note.

    Parameters
    ----------
    strike_hz : float
        The wanted strike note [Hz].
    material : str
        Word of the vocabulary ``material`` for which there is a law.
    profiles : sequence of str, optional
        Words of the vocabulary ``profile_class``; all seven classes unless given. Defined for bronze.
    ring : iterable of KnownBell, optional
        Bells it is to match, of one founder, tower and time, with diameter and note; weighed or not.

    Returns
    -------
    tuple of Design
        As the ring first, where its bells are given; then class by class. For another metal than bronze one
        design, without a class.

    Raises
    ------
    ValueError
        When the note lies outside what a bell of the form can have, a word is not in its vocabulary, or no
        published bell bears a design in this material.
    """
    checked("strike_hz", strike_hz)
    law = law_of(checked_term("material", material))
    if law is None:
        raise ValueError(f"no published bells of {material} to rest a design on")
    for word in profiles:
        checked_term("profile_class", word)
        if not law.knows(word):
            raise ValueError(f"the class {word} is not defined for {material}")
    known = list(ring)
    for bell in known:
        checked("mouth_diameter_mm", bell.mouth_diameter_mm)
        if bell.mass_kg is not None:
            checked("mass_kg", bell.mass_kg)
    found = [_as_the_ring(law, material, strike_hz, known)] if known else []
    if law.half_semitones:
        found += [_of_class(law, material, strike_hz, word) for word in profiles or law.half_semitones]
    elif not known:
        found.append(_of_class(law, material, strike_hz, "unknown"))
    return tuple(found)


def plan(
    mass: Derived,
    *,
    allowance_percent: float | None = None,
    price_per_kg: float | None = None,
    days: float = 0.0,
    days_per_100_kg: float | None = None,
) -> Plan:
    """Give metal, price and time by the numbers the user sets; nothing of them is ours.

    Parameters
    ----------
    mass : Derived
        The mass of the design [kg].
    allowance_percent : float, optional
        Metal for gates, feeders and melting loss, as a share of the bell [%].
    price_per_kg : float, optional
        Price of a kilogram of finished bell, in any currency.
    days : float, optional
        Days for a bell of whatever size.
    days_per_100_kg : float, optional
        Days for every 100 kg beside them.

    Raises
    ------
    ValueError
        When a number is negative or not finite.
    """
    for name, number in (
        ("allowance_percent", allowance_percent),
        ("price_per_kg", price_per_kg),
        ("days", days),
        ("days_per_100_kg", days_per_100_kg),
    ):
        if number is not None and not 0.0 <= number < math.inf:
            raise ValueError(f"{name} must be a number from 0, not {number!r}")
    metal = price = time = None
    if allowance_percent is not None:
        metal = _times(mass, 1.0 + allowance_percent / 100.0)
    if price_per_kg is not None:
        price = _times(mass, price_per_kg)
    if days or days_per_100_kg is not None:
        low, best, high = _times(mass, (days_per_100_kg or 0.0) / 100.0)
        time = (days + low, days + best, days + high)
    return Plan(metal, price, time)


def _times(mass: Derived, factor: float) -> tuple[float, float, float]:
    if mass.value is None or mass.low is None or mass.high is None:
        raise ValueError("the mass has no value")
    return mass.low * factor, mass.value * factor, mass.high * factor


def _of_class(law: Law, material: str, strike_hz: float, profile: str) -> Design:
    diameter_m = _solved(lambda each: law.strike(each, profile).value, strike_hz)
    expected = law.strike(diameter_m, profile)
    inputs: dict[str, Any] = {"strike_hz": strike_hz, "material": material}
    if profile != "unknown":
        inputs["profile_class"] = profile
    method = "strike-and-class" if profile != "unknown" else "strike"
    source = f"{law.source}; {law.class_source}"
    return _design(law, profile, Spreading(diameter_m, expected.spread), inputs, (method, source, ""))


def _as_the_ring(law: Law, material: str, strike_hz: float, ring: Sequence[KnownBell]) -> Design:
    """Design a bell whose f·d, and mass where its sisters are weighed, is what they lead one to expect."""
    sisters = Sisters(ring, material)
    like = ring[0]._replace(bell_id="", strike_hz=None, mass_kg=None)

    def expected(diameter_m: float) -> Derived:
        told = sisters.strike(like._replace(mouth_diameter_mm=1000.0 * diameter_m))
        if told is None:
            raise ValueError("no bell of the ring has both its diameter and a note that fits it")
        return told

    diameter_m = _solved(lambda each: _value(expected(each)), strike_hz)
    told = expected(diameter_m)
    spread = math.log(_value(told, "high") / _value(told))
    inputs = {"strike_hz": strike_hz, "material": material, "bells_of_ring": len(ring)}
    noted = sum(told.inputs[who] for who in ("sisters", "of_founder"))
    rests = ("strike-and-ring", f"{law.source}; the bells of the ring", f"rests on {noted} bells of the ring")
    design = _design(law, OF_RING, Spreading(diameter_m, spread), inputs, rests)
    bell = like._replace(mouth_diameter_mm=1000.0 * diameter_m, strike_hz=strike_hz)
    mass = next(sisters.masses(bell), None)
    if mass is None:
        return design
    # At a fixed note the mass goes with the fourth power of a diameter that is not yet fixed.
    weighed = Spreading(_value(mass), math.log(_value(mass, "high") / _value(mass))).within(4.0 * spread)
    low, high = weighed.interval
    return design._replace(
        mass=design.mass._replace(
            value=weighed.value, low=low, high=high, method="strike-and-weighed-ring", note=mass.note
        )
    )


def _design(
    law: Law, profile: str, diameter: Spreading, inputs: dict[str, Any], rests: tuple[str, str, str]
) -> Design:
    """Put a design together from the diameter [m] that has the note."""
    method, source, note = rests
    strike_hz = inputs["strike_hz"]
    caveat = law.caveat(diameter.value)
    note = "; ".join(part for part in (note, caveat) if part)

    def derived(quantity: str, value: Spreading, scale: float = 1.0) -> Derived:
        low, high = value.interval
        rules = constants("design")
        return Derived(
            quantity,
            scale * value.value,
            scale * low,
            scale * high,
            constants("similarity")["level"],
            method,
            rules["version"],
            inputs,
            source,
            note,
        )

    thickness = None
    if law.thickness is not None:
        value = strike_hz * diameter.value**2 / law.thickness.factor
        thickness = Spreading(value, law.thickness.spread).within(2.0 * diameter.spread)
    mass = law.mass_by_strike(diameter.value, strike_hz).within(4.0 * diameter.spread)
    return Design(
        profile,
        derived("mouth_diameter_mm", diameter, 1000.0),
        None if thickness is None else derived("soundbow_thickness_mm", thickness, 1000.0),
        derived("mass_kg", mass),
    )


def _solved(strike_of: Callable[[float], float], strike_hz: float) -> float:
    """Find the diameter [m] whose strike note is the wanted one: the larger the bell the lower it sounds.

    Raises
    ------
    ValueError
        When no diameter of the form has the note.
    """
    low, high = (end / 1000.0 for end in range_of("mouth_diameter_mm"))
    if not strike_of(high) <= strike_hz <= strike_of(low):
        raise ValueError(f"no bell from {1000 * low:g} to {1000 * high:g} mm sounds {strike_hz:g} Hz")
    while high - low > 1e-6:
        middle = 0.5 * (low + high)
        if strike_of(middle) > strike_hz:
            low = middle
        else:
            high = middle
    return 0.5 * (low + high)


def _value(derived: Derived, end: str = "value") -> float:
    value = getattr(derived, end)
    if value is None:
        raise ValueError(f"{derived.quantity} has no {end}")
    return float(value)
