"""The mass of a bell from its mouth diameter, and its note or weight class where they are known.

Methods, each with a 90 % interval: ``size-and-strike`` m = C·f·d⁴, ``size-strike-and-date`` the same with C
of the time of casting, ``size-and-class`` with the note that the class leads one to expect, ``size`` m = k·d³
with k growing for small bells.

An estimate never replaces a weighing: published masses of one bell commonly differ by 5 to 30 %. Do not
choose lifting gear, or judge a frame, by the value: weigh the bell.

References
----------
T. D. Rossing and R. Perrin, Vibrations of bells, Applied Acoustics 20 (1987) 41-70; see
``registry.derive.law``.
"""

import math
from typing import Any, NamedTuple

from registry.derive.constants import constants
from registry.derive.inputs import checked, checked_term
from registry.derive.law import Law, Spreading, law_of
from registry.model.derived import Derived

QUANTITY = "mass_kg"


def mass_estimates(  # noqa: PLR0913 - each is a thing one may know of a bell
    mouth_diameter_mm: float,
    strike_hz: float | None = None,
    profile_class: str | None = None,
    material: str | None = "bronze",
    *,
    cast_year: int | None = None,
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
    checked("mouth_diameter_mm", mouth_diameter_mm)
    if strike_hz is not None:
        checked("strike_hz", strike_hz)
    inputs: dict[str, Any] = {
        "mouth_diameter_mm": mouth_diameter_mm,
        "material": checked_term("material", material),
    }
    profile = checked_term("profile_class", profile_class)
    law = law or law_of(inputs["material"])
    if law is None:
        return (_no_mass(inputs),)

    diameter_m = mouth_diameter_mm / 1000.0
    ranked = [(law.mass_by_size(diameter_m), "size", inputs)]
    if law.knows(profile):
        ranked.append(
            (law.mass_by_class(diameter_m, profile), "size-and-class", inputs | {"profile_class": profile})
        )
    ranked.sort(key=lambda each: each[0].spread)
    estimates = [_mass(law, *each, note=law.caveat(diameter_m)) for each in ranked]
    if strike_hz is not None:
        doubt = strike_doubt(law, diameter_m, strike_hz, profile)
        method, known = "size-and-strike", inputs | {"strike_hz": strike_hz}
        if cast_year is not None and law.date_factors:
            method, known = "size-strike-and-date", known | {"cast_year": cast_year}
        mass = law.mass_by_strike(diameter_m, strike_hz, cast_year)
        by_strike = _mass(law, mass, method, known, note=doubt or law.caveat(diameter_m))
        if doubt:
            estimates[0] = estimates[0]._replace(note=f"estimated without the strike note: {doubt}")
        estimates.insert(len(estimates) if doubt else 0, by_strike)
    return tuple(estimates)


def strike_doubt(law: Law, diameter_m: float, strike_hz: float, profile_class: str = "unknown") -> str:
    """Say why a strike note [Hz] does not belong to a diameter [m]; empty where it may."""
    expected_hz = law.strike(diameter_m, profile_class).value
    ratio = strike_hz / expected_hz
    limit = constants("similarity")["strike_fits_within"]
    if 1.0 / limit <= ratio <= limit:
        return ""
    doubt = f"the strike note does not fit the diameter, which leads one to expect about {expected_hz:.0f} Hz"
    if 1.0 / limit <= ratio / 2.0 <= limit:
        return f"{doubt}: an octave too high, or the nominal taken for the strike note?"
    if 1.0 / limit <= ratio * 2.0 <= limit:
        return f"{doubt}: an octave too low, or the hum taken for the strike note?"
    return f"{doubt}: check both"


def _mass(law: Law, estimate: Spreading, method: str, inputs: dict[str, Any], note: str) -> Derived:
    rules = constants("similarity")
    low, high = estimate.interval
    source = f"{law.source}; {law.class_source}" if "profile_class" in inputs else law.source
    return Derived(
        QUANTITY, estimate.value, low, high, rules["level"], method, rules["version"], inputs, source, note
    )


def _no_mass(inputs: dict[str, Any]) -> Derived:
    rules = constants("similarity")
    reasons = rules["without_basis"]
    note = f"no estimate: {reasons.get(inputs['material'], reasons['otherwise'])}"
    return Derived(
        QUANTITY, None, None, None, rules["level"], "size", rules["version"], inputs, rules["source"], note
    )


class MassAgreement(NamedTuple):
    """Whether a mass from a scale lies within an estimate's interval, and what might explain it if not.

    Parameters
    ----------
    agrees : bool
        The weighed mass lies within the interval. One sound bell in ten does not, at 90 %.
    ratio : Derived
        Weighed to estimated mass [-]; its note is the likeliest slip.
    slips : tuple of str
        Slips of measurement or note-taking that would explain the disagreement, likeliest first; empty where
        the masses agree, or no simple one does.
    """

    agrees: bool
    ratio: Derived
    slips: tuple[str, ...]


POUND_KG = 0.45359237
"""The international pound of 1959."""

SLIPS_OF_INPUT: tuple[tuple[str, str, float], ...] = (
    ("the radius was given for the mouth diameter", "mouth_diameter_mm", 2.0),
    ("the circumference was given for the mouth diameter", "mouth_diameter_mm", 1.0 / math.pi),
    ("a mouth diameter in inches was taken for centimetres", "mouth_diameter_mm", 2.54),
    ("a mouth diameter in centimetres was taken for inches", "mouth_diameter_mm", 1.0 / 2.54),
    ("the strike note is an octave too high, or the nominal was given for it", "strike_hz", 0.5),
    ("the strike note is an octave too low, or the hum was given for it", "strike_hz", 2.0),
)
"""What may have gone wrong with an input of the estimate, and the factor that puts it right."""

SLIPS_OF_SCALE: tuple[tuple[str, float], ...] = (
    ("pounds were written down as kilograms", POUND_KG),
    ("kilograms were converted as if they were pounds", 1.0 / POUND_KG),
    ("tonnes were written down as kilograms", 1000.0),
)
"""What may have gone wrong with the weighed mass, and the factor that puts it right."""

FITTINGS_SHARE = 0.30
"""Fittings on the scale: published masses of one bell differ by 5 to 30 % with what was weighed along."""


def mass_agreement(weighed_kg: float, estimate: Derived) -> MassAgreement | None:
    """Hold a weighed mass against an estimate.

    Parameters
    ----------
    weighed_kg : float
        The mass from the scale [kg].
    estimate : Derived
        One of ``mass_estimates``.

    Returns
    -------
    MassAgreement or None
        None where the estimate has no value. A slip is named only where putting it right makes diameter, note
        and mass fit each other.

    Raises
    ------
    ValueError
        When the mass lies outside the range of the form, or the estimate is not one of a mass.

    References
    ----------
    International yard and pound agreement, 1959; the spread of published masses as in ``schema/rules``.
    """
    checked("weighed_kg", weighed_kg, "mass_kg")
    if estimate.quantity != QUANTITY:
        raise ValueError(f"the estimate must be one of {QUANTITY}, not of {estimate.quantity}")
    if estimate.value is None or estimate.low is None or estimate.high is None:
        return None
    agrees = estimate.low <= weighed_kg <= estimate.high
    slips = () if agrees else _slips(weighed_kg, estimate, estimate.high)
    ratio = Derived(
        "weighed_to_estimated_ratio",
        weighed_kg / estimate.value,
        weighed_kg / estimate.high,
        weighed_kg / estimate.low,
        estimate.level,
        estimate.method,
        estimate.version,
        {"weighed_kg": weighed_kg, "estimated_kg": estimate.value},
        estimate.source,
        slips[0] if slips else "",
    )
    return MassAgreement(agrees, ratio, slips)


def _slips(weighed_kg: float, estimate: Derived, high_kg: float) -> tuple[str, ...]:
    """Name every slip that, put right, brings the weighed mass into the interval; the closest first."""
    material = estimate.inputs["material"]
    others = ("cast-steel", "cast-iron") if material == "bronze" else ("bronze",)
    suspected: list[tuple[str, dict[str, Any], float]] = [
        *((slip, {}, factor) for slip, factor in SLIPS_OF_SCALE),
        *(
            (slip, {name: estimate.inputs[name] * factor}, 1.0)
            for slip, name, factor in SLIPS_OF_INPUT
            if name in estimate.inputs
        ),
        *((f"the bell is of {other}", {"material": other}, 1.0) for other in others),
    ]
    fits = []
    for slip, changed, factor in suspected:
        right = _again(estimate, changed)
        if right is not None and right.low <= weighed_kg * factor <= right.high:
            fits.append((abs(math.log(weighed_kg * factor / right.value)), slip))
    named = [slip for _, slip in sorted(fits)]
    if high_kg < weighed_kg <= high_kg * (1.0 + FITTINGS_SHARE):
        named.append("clapper, headstock or tackle hung on the scale with the bell")
    return tuple(named)


class _Right(NamedTuple):
    value: float
    low: float
    high: float


def _again(estimate: Derived, changed: dict[str, Any]) -> _Right | None:
    """Repeat an estimate with some inputs changed; None where they do not fit each other."""
    inputs = estimate.inputs | changed
    try:
        repeated = mass_estimates(**inputs)
    except ValueError:
        return None
    law = law_of(inputs["material"])
    if law is None or (
        "strike_hz" in inputs and strike_doubt(law, inputs["mouth_diameter_mm"] / 1000.0, inputs["strike_hz"])
    ):
        return None
    for each in repeated:
        if each.method == estimate.method and None not in (each.value, each.low, each.high):
            return _Right(each.value, each.low, each.high)  # type: ignore[arg-type]
    return None
