"""The strike note to expect of a diameter, and the strike note that a nominal gives.

The *strike note* is what the ear hears at the stroke; the *nominal* is a physical partial about an octave
above it. They are two quantities and never stand for each other: ``strike_from_nominal`` is the one way
between them.
"""

from typing import Any

from registry.derive.constants import constants
from registry.derive.inputs import checked, checked_term
from registry.derive.law import Law, law_of
from registry.model.derived import Derived
from registry.model.known_bell import EXACT, Tolerances

QUANTITY = "strike_hz"


def strike_estimate(  # noqa: PLR0913 - each is a thing one may know of a bell
    mouth_diameter_mm: float,
    profile_class: str | None = None,
    material: str | None = "bronze",
    *,
    soundbow_thickness_mm: float | None = None,
    tolerances: Tolerances = EXACT,
    law: Law | None = None,
) -> Derived | None:
    """Estimate the strike note from the diameter: f·d is nearly constant within one profile.

    Where the thickness of the sound-bow is known, and fits the diameter, f·d²/t is more constant still.

    Parameters
    ----------
    mouth_diameter_mm : float
        Outer diameter at the lip [mm].
    profile_class : str, optional
        Word of the vocabulary ``profile_class``, in half-semitone steps of f·d; defined for bronze.
    material : str, optional
        Word of the vocabulary ``material``; None means unknown.
    soundbow_thickness_mm : float, optional
        Greatest thickness of the sound-bow, unworn [mm]; for bronze.
    tolerances : Tolerances, optional
        How far the readings can be trusted; exact unless given.
    law : Law, optional
        Another law than the shipped one, for calibration.

    Returns
    -------
    Derived or None
        Frequency [Hz] with a 90 % interval; None where nothing published bears an estimate for the material.

    Raises
    ------
    ValueError
        When a value lies outside the range of the form or a word is not in its vocabulary.

    References
    ----------
    T. D. Rossing and R. Perrin, Vibrations of bells, Applied Acoustics 20 (1987) 41-70; see
    ``registry.derive.law``.
    """
    inputs: dict[str, Any] = {
        "mouth_diameter_mm": checked("mouth_diameter_mm", mouth_diameter_mm),
        "material": checked_term("material", material),
    }
    profile = checked_term("profile_class", profile_class)
    if soundbow_thickness_mm is not None:
        checked("soundbow_thickness_mm", soundbow_thickness_mm)
    law = law or law_of(inputs["material"])
    if law is None:
        return None
    diameter_m = mouth_diameter_mm / 1000.0
    of_size = tolerances.mouth_diameter_mm / mouth_diameter_mm
    method, source, note = "size", law.source, law.caveat(diameter_m)
    strike = law.strike(diameter_m, profile).within(of_size)
    if law.knows(profile):
        inputs["profile_class"] = profile
        method, source = "size-and-class", f"{law.source}; {law.class_source}"
    if soundbow_thickness_mm is not None and law.thickness is not None:
        doubt = thickness_doubt(law, diameter_m, soundbow_thickness_mm / 1000.0, profile)
        if doubt:
            note = f"estimated without the sound-bow thickness: {doubt}"
        else:
            inputs = {**inputs, "soundbow_thickness_mm": soundbow_thickness_mm}
            inputs.pop("profile_class", None)
            method, source = "size-and-thickness", law.thickness.source
            of_bow = tolerances.soundbow_thickness_mm / soundbow_thickness_mm
            strike = law.strike_by_thickness(diameter_m, soundbow_thickness_mm / 1000.0)
            strike = strike.within(2.0 * of_size).within(of_bow)
    rules = constants("similarity")
    low, high = strike.interval
    return Derived(
        QUANTITY,
        strike.value,
        low,
        high,
        rules["level"],
        method,
        rules["version"],
        inputs | tolerances.of(inputs),
        source,
        note,
    )


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


def thickness_doubt(law: Law, diameter_m: float, thickness_m: float, profile_class: str = "unknown") -> str:
    """Say why a thickness of the sound-bow [m] does not belong to a diameter [m]; empty where it may."""
    expected = law.strike(diameter_m, profile_class).value
    ratio = law.strike_by_thickness(diameter_m, thickness_m).value / expected
    limit = constants("similarity")["strike_fits_within"]
    if 1.0 / limit <= ratio <= limit:
        return ""
    doubt = (
        "the sound-bow thickness does not fit the diameter, which leads one to expect about "
        f"{1000.0 * thickness_m / ratio:.0f} mm"
    )
    if ratio < 1.0:
        return f"{doubt}: measured above the sound-bow, or at a worn place?"
    return f"{doubt}: check both"


def strike_from_nominal(nominal_hz: float, uncertainty_hz: float | None = None) -> Derived:
    """Give the strike note as half the nominal partial.

    Parameters
    ----------
    nominal_hz : float
        The physical partial called nominal [Hz], not the note.
    uncertainty_hz : float, optional
        Half-width of the 90 % interval of the reading [Hz].

    Returns
    -------
    Derived
        Strike note [Hz]. The interval is that of the reading alone; where the rule itself does not hold, the
        note says so.

    Raises
    ------
    ValueError
        When the frequency lies outside the range of the form, or the uncertainty is not positive and smaller.

    References
    ----------
    W. A. Hibbert, thesis, Open University 2008.
    """
    checked("nominal_hz", nominal_hz, "frequency_hz")
    rule = constants("strike_from_nominal")
    half = reading_uncertainty(uncertainty_hz, nominal_hz)
    note = ""
    if nominal_hz > rule["nominal_high_hz"]:
        note = f"nominal above {rule['nominal_high_hz']} Hz: a small bell, perhaps heard by its prime or hum"
    elif nominal_hz < rule["nominal_low_hz"]:
        note = (
            f"nominal below {rule['nominal_low_hz']} Hz: a large bell, perhaps heard with a second strike "
            "note about a fourth above"
        )
    return Derived(
        QUANTITY,
        nominal_hz / 2.0,
        (nominal_hz - half) / 2.0,
        (nominal_hz + half) / 2.0,
        rule["level"],
        "half-nominal",
        rule["version"],
        {"nominal_hz": nominal_hz, "uncertainty_hz": half},
        rule["source"],
        note,
    )


def reading_uncertainty(uncertainty_hz: float | None, lowest_hz: float) -> float:
    """Give the uncertainty of a reading [Hz], the usual one where the surveyor states none.

    Raises
    ------
    ValueError
        When it is not positive, or not smaller than the lowest frequency read.
    """
    if uncertainty_hz is None:
        uncertainty_hz = float(constants("partials")["reading_uncertainty_hz"])
    if not 0.0 < uncertainty_hz < lowest_hz:
        raise ValueError(
            f"uncertainty_hz must be more than 0 and less than the frequency, not {uncertainty_hz!r}"
        )
    return uncertainty_hz
