"""How far the strike note of a recording stands from what the size of the bell leads one to expect."""

from registry.derive.strike import strike_estimate
from registry.model.derived import Derived
from registry.model.pitch import cents_between

OCTAVE_CENTS = 1200.0


def strike_from_size(
    strike_hz: float, mouth_diameter_mm: float, material: str | None, profile_class: str | None = None
) -> Derived | None:
    """Hold a strike note against the size of the bell.

    Parameters
    ----------
    strike_hz : float
        The strike note of the recording [Hz].
    mouth_diameter_mm : float
        Outer diameter at the lip [mm].
    material, profile_class : str, optional
        Words of their vocabularies.

    Returns
    -------
    Derived or None
        Cents above what the size leads one to expect; the interval holds nine bells in ten of this size about
        it, so that where it leaves out 0 the bell, or a reading, is out of the common. None where nothing
        published bears an estimate for the material.

    Raises
    ------
    ValueError
        When a value lies outside the range of the form or a word is not in its vocabulary.
    """
    expected = strike_estimate(mouth_diameter_mm, profile_class, material)
    if expected is None or expected.value is None or expected.low is None or expected.high is None:
        return None
    cents = cents_between(strike_hz, expected.value)
    low, high = cents_between(strike_hz, expected.high), cents_between(strike_hz, expected.low)
    return expected._replace(
        quantity="strike_from_size_cents",
        value=cents,
        low=low,
        high=high,
        inputs={**expected.inputs, "strike_hz": strike_hz},
        note="; ".join(filter(None, (_doubt(cents, low, high), expected.note))),
    )


def _doubt(cents: float, low: float, high: float) -> str:
    """Say what may be wrong where nine bells in ten of this size lie elsewhere; empty where they do not."""
    if low <= 0.0 <= high:
        return ""
    half = 0.5 * (high - low)
    if abs(cents - OCTAVE_CENTS) <= half:
        return "an octave above what the size tells: another bell, or a diameter of twice its size?"
    if abs(cents + OCTAVE_CENTS) <= half:
        return "an octave below what the size tells: another bell, or the radius for the diameter?"
    return "out of the common for its size: an unusual profile, another material, or a wrong diameter"
