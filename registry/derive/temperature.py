"""How the pitch of a bell goes with its temperature.

A warmer bell is softer and sounds flatter: f ~ √E, while its growth in size hardly counts. The coefficient is
small, but recordings of one bell in summer and winter differ by more than a tuner would leave.
"""

from registry.derive.constants import constants
from registry.derive.inputs import checked_term


def cents_warmer(temperature_c: float, reference_c: float, material: str | None = "bronze") -> float | None:
    """Give by how much a bell sounds sharper at one temperature than at another.

    Parameters
    ----------
    temperature_c : float
        Temperature of the bell [°C].
    reference_c : float
        The temperature it is compared with [°C].
    material : str, optional
        Word of the vocabulary ``material``; None means unknown.

    Returns
    -------
    float or None
        Interval [cents], negative for a warmer bell; None for a material whose coefficient is not known.

    References
    ----------
    The coefficient and what it rests on stand in ``schema/rules/estimates.yaml``.
    """
    coefficient = constants("temperature")["cents_per_k"].get(checked_term("material", material))
    return None if coefficient is None else coefficient * (temperature_c - reference_c)


def at_temperature(
    frequency_hz: float, measured_c: float, wanted_c: float, material: str | None = "bronze"
) -> float | None:
    """Give a frequency [Hz] as it would be at another temperature [°C]; None where that is not known."""
    cents = cents_warmer(wanted_c, measured_c, material)
    return None if cents is None else frequency_hz * 2.0 ** (cents / 1200.0)
