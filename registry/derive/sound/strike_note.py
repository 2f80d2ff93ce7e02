"""The strike note that the partials give, where a rule for it holds; a second one of a large bell; or none.

References
----------
W. A. Hibbert, thesis, Open University 2008; the same, What note do we hear when a bell rings?
(hibberts.co.uk): half the nominal while that lies at roughly 500 to 1500 Hz; in heavier bells most listeners
hear a secondary strike about a fourth higher, from the rim partial I-7; in smaller ones prime or hum.
"""

from collections.abc import Mapping

from registry.derive.constants import constants
from registry.derive.sound.limits import limits
from registry.derive.sound.partial_tones import Measured, PartialTone
from registry.derive.sound.places import rim_place
from registry.derive.strike import strike_from_nominal
from registry.model.derived import Derived
from registry.model.pitch import cents_between


def strike_of(partials: Mapping[str, PartialTone]) -> Derived | None:
    """Give the strike note of a bell whose partials are named.

    Parameters
    ----------
    partials : mapping
        The partials by name.

    Returns
    -------
    Derived or None
        None where no nominal was found. The value is None where the bell is so small that half the nominal
        says nothing, and the note tells why.
    """
    if "nominal" not in partials:
        return None
    nominal = partials["nominal"]
    derived = strike_from_nominal(nominal.tone.frequency_hz, _half(nominal.tone))
    derived = _with_both_of_a_doublet(derived, nominal)
    if nominal.tone.frequency_hz <= constants("strike_from_nominal")["nominal_high_hz"]:
        return derived
    prime = partials.get("prime")
    half_hz = nominal.tone.frequency_hz / 2.0
    within = limits("strike")["prime_within_cents"]
    if prime is not None and abs(cents_between(prime.tone.frequency_hz, half_hz)) <= within:
        return derived._replace(note=f"{derived.note}; the prime stands within {within} cents of it")
    return derived._replace(
        value=None, low=None, high=None, note=f"{derived.note}; they differ, so none is given: listen"
    )


def secondary_strike_of(partials: Mapping[str, PartialTone]) -> Derived | None:
    """Give the secondary strike note of a large bell: two octaves below the rim partial I-7.

    Returns
    -------
    Derived or None
        None where the nominal is not that of a large bell, or neither I-7 nor the octave nominal was found.
    """
    rule, rules = constants("strike_from_nominal"), limits("strike")
    nominal = partials.get("nominal")
    if nominal is None or nominal.tone.frequency_hz >= rule["nominal_low_hz"]:
        return None
    inputs = {"nominal_hz": nominal.tone.frequency_hz}
    if "I-7" in partials:
        seventh = partials["I-7"].tone
        method, value, half = "quarter-of-I-7", seventh.frequency_hz / 4.0, _half(seventh) / 4.0
        inputs["rim_7_hz"] = seventh.frequency_hz
        low, high, note = value - half, value + half, ""
    elif "octave-nominal" in partials:
        octave = partials["octave-nominal"].tone.frequency_hz
        place, spread = rim_place(7, cents_between(octave, nominal.tone.frequency_hz))
        value = nominal.tone.frequency_hz * 2.0 ** (place / 1200.0) / 4.0
        factor = 2.0 ** (limits("stroke_followed")["errors_in_interval"] * spread / 1200.0)
        method, low, high = "quarter-of-expected-I-7", value / factor, value * factor
        inputs["octave_nominal_hz"] = octave
        note = "I-7 was not heard; where it must stand follows from the octave nominal"
    else:
        return None
    return Derived(
        "secondary_strike_hz",
        value,
        low,
        high,
        rule["level"],
        method,
        rules["version"],
        inputs,
        rules["secondary_source"],
        note,
    )


def _half(tone: Measured) -> float:
    """Give the half-width of a frequency, which is never nothing."""
    return max(tone.frequency_half_hz, 1e-9 * tone.frequency_hz)


def _with_both_of_a_doublet(derived: Derived, nominal: PartialTone) -> Derived:
    """Widen the interval to the other tone of the nominal, where it is about as loud."""
    other = nominal.doublet
    if other is None or other.level_db < nominal.tone.level_db - limits("strike")["doublet_within_db"]:
        return derived
    if derived.low is None or derived.high is None:
        return derived
    note = f"the nominal is a doublet: its other tone gives {other.frequency_hz / 2.0:.2f} Hz"
    return derived._replace(
        low=min(derived.low, (other.frequency_hz - _half(other)) / 2.0),
        high=max(derived.high, (other.frequency_hz + _half(other)) / 2.0),
        note=f"{derived.note}; {note}" if derived.note else note,
    )
