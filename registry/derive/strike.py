"""The strike note to expect of a diameter, and the strike note that a nominal gives.

The *strike note* is what the ear hears at the stroke; the *nominal* is a physical partial about an octave
above it. They are two quantities and never stand for each other: ``strike_from_nominal`` is the one way
between them.
"""

from registry.derive.constants import constants
from registry.derive.inputs import checked, checked_term
from registry.derive.law import Law, law_of
from registry.model.derived import Derived

QUANTITY = "strike_hz"


def strike_estimate(
    mouth_diameter_mm: float,
    profile_class: str | None = None,
    material: str | None = "bronze",
    *,
    law: Law | None = None,
) -> Derived | None:
    """Estimate the strike note from the diameter: f·d is nearly constant within one profile.

    Parameters
    ----------
    mouth_diameter_mm : float
        Outer diameter at the lip [mm].
    profile_class : str, optional
        Word of the vocabulary ``profile_class``, in half-semitone steps of f·d; defined for bronze.
    material : str, optional
        Word of the vocabulary ``material``; None means unknown.
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
    checked("mouth_diameter_mm", mouth_diameter_mm)
    inputs = {"mouth_diameter_mm": mouth_diameter_mm, "material": checked_term("material", material)}
    profile = checked_term("profile_class", profile_class)
    law = law or law_of(inputs["material"])
    if law is None:
        return None
    diameter_m = mouth_diameter_mm / 1000.0
    method, source = "size", law.source
    if law.knows(profile):
        inputs["profile_class"] = profile
        method, source = "size-and-class", f"{law.source}; {law.class_source}"
    rules = constants("similarity")
    strike = law.strike(diameter_m, profile)
    low, high = strike.interval
    return Derived(
        QUANTITY,
        strike.value,
        low,
        high,
        rules["level"],
        method,
        rules["version"],
        inputs,
        source,
        law.caveat(diameter_m),
    )


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
