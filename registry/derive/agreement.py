"""How a mass from a scale, and the readings among themselves, agree with the law of bells."""

import math
from typing import NamedTuple

from registry.derive.constants import constants
from registry.derive.inputs import checked
from registry.derive.mass import QUANTITY
from registry.derive.slips import Readings, likely_slips, misfit
from registry.model.derived import Derived

FITTINGS_SHARE = 0.30
"""Fittings on the scale: published masses of one bell differ by 5 to 30 % with what was weighed along."""
FITTINGS = "clapper, headstock or tackle hung on the scale with the bell"


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


def mass_agreement(weighed_kg: float, estimate: Derived) -> MassAgreement | None:
    """Hold a weighed mass against an estimate.

    Parameters
    ----------
    weighed_kg : float
        The mass from the scale [kg].
    estimate : Derived
        One of ``mass_estimates``, or of ``registry.derive.sisters``.

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
    The spread of published masses as in ``schema/rules``; the slips in ``registry.derive.slips``.
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
    """Name every slip that explains the weighed mass, given what the estimate rests on; likeliest first."""
    known = {name: value for name, value in estimate.inputs.items() if name in Readings._fields}
    slips: tuple[str, ...] = ()
    if "mouth_diameter_mm" in known:
        slips = likely_slips(Readings(**known)._replace(mass_kg=weighed_kg))
    if high_kg < weighed_kg <= high_kg * (1.0 + FITTINGS_SHARE):
        return (*slips, FITTINGS)
    return slips


def contradiction(readings: Readings) -> Derived | None:
    """Tell that the readings of a bell contradict each other, and which one is the likelier mistake.

    Parameters
    ----------
    readings : Readings
        What was read of the bell.

    Returns
    -------
    Derived or None
        How far the readings lie from each other, in standard deviations, its note the likeliest slip; None
        where not one bell in a thousand would have to be stranger than this one.
    """
    found = misfit(readings)
    if found is None or not found.contradicts:
        return None
    slips = likely_slips(readings)
    rules = constants("similarity")
    if slips:
        note = f"the readings contradict each other; likeliest: {slips[0]}"
    else:
        note = "the readings contradict each other, and no simple slip explains it: measure all of them again"
    return Derived(
        "misfit_sd",
        math.sqrt(found.squares),
        None,
        None,
        rules["level"],
        "readings-against-each-other",
        rules["version"],
        {name: value for name, value in readings._asdict().items() if value not in (None, "unknown")},
        rules["source"],
        note,
    )
