"""The weight class of a bell from two of its size, note and mass.

A class means the mass of a bell for its note: a heavier one is larger for the same note, that is, it has a
larger f·d. Classes lie half a semitone apart, and founders differ by more than that in what they call medium:
the answer is a probability for each class, never one word alone.

References
----------
Seven-class table and its neighbours, in ``schema/rules/estimates.yaml``.
"""

import math
from typing import Any, NamedTuple

from registry.derive.constants import constants
from registry.derive.inputs import checked, checked_term
from registry.derive.law import CENT, NINETY_PERCENT, Law, law_of
from registry.model.derived import Derived
from registry.model.known_bell import EXACT, Tolerances

QUANTITY = "profile_step_semitones"
SEMITONE = 100.0 * CENT


class ClassJudgement(NamedTuple):
    """Which weight class a bell may belong to.

    Parameters
    ----------
    probabilities : dict
        Probability [0..1] of each of the seven classes, lightest first; they add up to 1.
    likeliest : str
        The most probable one.
    step : Derived
        Semitones by which the bell is sharper than a medium one of its size.
    """

    probabilities: dict[str, float]
    likeliest: str
    step: Derived


def class_of(
    mouth_diameter_mm: float | None = None,
    strike_hz: float | None = None,
    mass_kg: float | None = None,
    material: str | None = "bronze",
    *,
    tolerances: Tolerances = EXACT,
) -> ClassJudgement | None:
    """Judge the weight class from two or three of size, note and mass.

    Parameters
    ----------
    mouth_diameter_mm : float, optional
        Outer diameter at the lip [mm].
    strike_hz : float, optional
        Strike note [Hz].
    mass_kg : float, optional
        Mass, the bell alone [kg]; of no use once size and note are known.
    material : str, optional
        Word of the vocabulary ``material``; classes are defined for bronze alone.
    tolerances : Tolerances, optional
        How far the readings can be trusted; exact unless given.

    Returns
    -------
    ClassJudgement or None
        None where fewer than two are known, where they do not fit each other, or where classes are not
        defined for the material.

    Raises
    ------
    ValueError
        When a value lies outside the range of the form or a word is not in its vocabulary.
    """
    given = {"mouth_diameter_mm": mouth_diameter_mm, "strike_hz": strike_hz, "mass_kg": mass_kg}
    inputs: dict[str, Any] = {
        name: checked(name, value) for name, value in given.items() if value is not None
    }
    law = law_of(checked_term("material", material))
    if law is None or not law.half_semitones or len(inputs) < len("fd"):
        return None
    factor, doubt, method = _pitch_factor(law, inputs, tolerances)
    rules = constants("profile_class")
    step = math.log(factor / law.medium_pitch_factor) / SEMITONE
    if abs(step) > math.log(constants("similarity")["strike_fits_within"]) / SEMITONE:
        return None
    of_founders = law.class_spread / NINETY_PERCENT / SEMITONE
    of_readings = doubt / SEMITONE
    logs = {
        word: _prior(law, half / 2.0, of_founders)
        + _bell_curve(step - half / 2.0, math.hypot(of_founders, of_readings))
        for word, half in law.half_semitones.items()
    }
    most = max(logs.values())
    weights = {word: math.exp(log - most) for word, log in logs.items()}
    total = sum(weights.values())
    probabilities = {word: weight / total for word, weight in weights.items()}
    ranked = sorted(probabilities, key=lambda word: -probabilities[word])
    named = ", ".join(f"{word} ({100.0 * probabilities[word]:.0f} %)" for word in ranked[:3])
    half_width = NINETY_PERCENT * math.hypot(of_founders, of_readings)
    derived = Derived(
        QUANTITY,
        step,
        step - half_width,
        step + half_width,
        constants("similarity")["level"],
        method,
        rules["version"],
        {**inputs, **tolerances.of(inputs), "material": "bronze"},
        f"{law.source}; {law.class_source}",
        f"most like {named}; one founder's light may be another's medium",
    )
    return ClassJudgement(probabilities, ranked[0], derived)


def _pitch_factor(law: Law, known: dict[str, float], tolerances: Tolerances) -> tuple[float, float, str]:
    """Give f·d/g(d) [Hz·m], its standard deviation [ln] from the readings, and what it rests on."""
    of_mass = law.undated_scatter.spread
    if "mouth_diameter_mm" in known and "strike_hz" in known:
        diameter_m, strike_hz = known["mouth_diameter_mm"] / 1000.0, known["strike_hz"]
        spread, method = 0.0, "size-and-strike"
    elif "mouth_diameter_mm" in known:
        diameter_m = known["mouth_diameter_mm"] / 1000.0
        strike_hz = known["mass_kg"] / (law.mass_factor * diameter_m**4)
        spread, method = of_mass, "size-and-mass"
    else:
        strike_hz = known["strike_hz"]
        diameter_m = (known["mass_kg"] / (law.mass_factor * strike_hz)) ** 0.25
        spread, method = of_mass / 4.0, "strike-and-mass"
    of_size = 0.0
    if "mouth_diameter_mm" in known:
        # Where mass stands for the note, f·d goes with 1/d³ of it.
        power = 1.0 if "strike_hz" in known else 3.0
        of_size = power * tolerances.mouth_diameter_mm / known["mouth_diameter_mm"]
    of_strike = CENT * tolerances.strike_cents if "strike_hz" in known else 0.0
    growth = law.small.growth(diameter_m)
    of_small = law.small_spread_by_size * math.log(growth)
    spread = math.hypot(spread, of_size, of_strike, of_small)
    return strike_hz * diameter_m / growth, spread / NINETY_PERCENT, method


def _prior(law: Law, step: float, of_founders: float) -> float:
    """Give the weight [ln] of a class before anything of the bell is known: how common such bells are."""
    middle = math.log(law.pitch_factor / law.medium_pitch_factor) / SEMITONE
    of_bells = math.hypot(*law.pitch_scatter) / SEMITONE
    return _bell_curve(step - middle, math.sqrt(of_bells**2 - of_founders**2))


def _bell_curve(distance: float, deviation: float) -> float:
    """Give the logarithm of the normal density, but for a constant."""
    return -0.5 * (distance / deviation) ** 2
