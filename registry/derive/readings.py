"""How far a reading can be trusted where the form says nothing more of it."""

import math

from registry.derive.constants import constants


def note_tolerance_cents(*, with_deviation: bool, with_reference: bool) -> float:
    """Give what a strike note written as a note leaves open.

    Parameters
    ----------
    with_deviation : bool
        The note is given with its deviation, in cents or sixteenths.
    with_reference : bool
        The frequency of a' is given too; without it, 435 and 440 Hz may be mixed up.

    Returns
    -------
    float
        Half-width of the 90 % interval [cents].
    """
    rules = constants("readings")
    rounding = rules["with_deviation_cents"] if with_deviation else rules["without_deviation_cents"]
    return math.hypot(rounding, 0.0 if with_reference else rules["without_reference_cents"])


def hertz_tolerance_cents(frequency_hz: float, tolerance_hz: float | None) -> float:
    """Give what the reading of a frequency leaves open [cents]; the usual where no tolerance [Hz] is told."""
    if tolerance_hz is None or tolerance_hz <= 0.0:
        return float(constants("ring")["reading_uncertainty_cents"])
    return 1200.0 * math.log2(1.0 + tolerance_hz / frequency_hz)
