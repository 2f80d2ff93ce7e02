"""How much of the sound-bow a clapper has worn away at one strike point.

A loss is told against the thickness of the first survey, or, where that is not known, against the unworn wall
beside the pit at the same height. Nothing measured means nothing known: no bell is ever called good here.

References
----------
A. Bartocha and C. Baron, Materials 14 (2021) 2504. The limits stand in ``schema/rules/estimates.yaml``.
"""

from typing import NamedTuple

from registry.derive.constants import constants
from registry.derive.inputs import checked
from registry.model.derived import Derived

QUANTITY = "soundbow_loss_percent"
NOT_MEASURED = "not-measured"
METHOD_OF = {
    "thickness_at_pit_mm": "thickness",
    "pit_depth_mm": "depth",
    "first_thickness_mm": "first-survey",
    "thickness_beside_mm": "beside",
}
"""What each reading contributes to the name of the method."""


class WearBand(NamedTuple):
    """What a loss asks for.

    Parameters
    ----------
    code : str
        ``not-measured``, ``watch``, ``plan`` or ``turn-or-rebuild``.
    at_worst : str
        The band of the upper end of the interval, the same or a graver one.
    advice : str
        What to do, in one sentence.
    source : str
        Where the limit comes from.
    """

    code: str
    at_worst: str
    advice: str
    source: str


def soundbow_loss(
    *,
    thickness_at_pit_mm: float | None = None,
    thickness_beside_mm: float | None = None,
    pit_depth_mm: float | None = None,
    first_thickness_mm: float | None = None,
    tolerance_mm: float | None = None,
) -> Derived:
    """Give the share of the sound-bow's thickness that is worn away at one strike point.

    Parameters
    ----------
    thickness_at_pit_mm : float, optional
        Wall left at the deepest point [mm].
    thickness_beside_mm : float, optional
        Unworn wall beside the pit, at the same height [mm].
    pit_depth_mm : float, optional
        Depth of the pit [mm].
    first_thickness_mm : float, optional
        Thickness at this point when it was first measured [mm]; goes before ``thickness_beside_mm``.
    tolerance_mm : float, optional
        Largest error of one reading [mm].

    Returns
    -------
    Derived
        Loss [%] with hard bounds (level 1) from the largest error of each of the two readings used; or no
        value, and a note on what is missing or contradicts.

    Raises
    ------
    ValueError
        When a size lies outside the range of the form, or the tolerance is not positive.
    """
    rules = constants("wear")
    readings = {
        "thickness_at_pit_mm": thickness_at_pit_mm,
        "pit_depth_mm": pit_depth_mm,
        "first_thickness_mm": first_thickness_mm,
        "thickness_beside_mm": thickness_beside_mm,
    }
    known = {
        name: checked(name, value, "thickness_beside_mm" if name == "first_thickness_mm" else name)
        for name, value in readings.items()
        if value is not None
    }
    tolerance = float(rules["instrument_tolerance_mm"]) if tolerance_mm is None else tolerance_mm
    if not 0.0 < tolerance < 100.0:
        raise ValueError(f"tolerance_mm must be more than 0 and less than 100, not {tolerance!r}")

    unworn_name = next(
        (name for name in ("first_thickness_mm", "thickness_beside_mm") if name in known), None
    )
    worn_name = next((name for name in ("thickness_at_pit_mm", "pit_depth_mm") if name in known), None)
    if worn_name is None or unworn_name is None:
        missing = "the pit" if worn_name is None else "the unworn thickness"
        return _loss("none", known, None, f"not measured: {missing}")
    unworn, worn = known[unworn_name], known[worn_name]
    method = f"{METHOD_OF[worn_name]}-against-{METHOD_OF[unworn_name]}"
    inputs = {worn_name: worn, unworn_name: unworn, "tolerance_mm": tolerance}
    if unworn <= 2.0 * tolerance:
        return _loss(method, inputs, None, "the tolerance is as large as the wall")
    if worn_name == "thickness_at_pit_mm":
        if worn - unworn > 2.0 * tolerance:
            return _loss(method, inputs, None, "the wall at the pit is thicker than the unworn wall")
        share = 1.0 - worn / unworn
        low, high = (
            1.0 - (worn + tolerance) / (unworn - tolerance),
            1.0 - (worn - tolerance) / (unworn + tolerance),
        )
    else:
        if worn >= unworn:
            return _loss(method, inputs, None, "the pit is deeper than the wall it is in")
        share = worn / unworn
        low, high = (worn - tolerance) / (unworn + tolerance), (worn + tolerance) / (unworn - tolerance)
    return _loss(method, inputs, (share, low, high), _contradiction(known, unworn, tolerance))


def wear_band(loss: Derived) -> WearBand:
    """Tell what a loss asks for: below 5 % watch, up to 10 % plan, above it turn or rebuild.

    Parameters
    ----------
    loss : Derived
        From ``soundbow_loss``.

    Returns
    -------
    WearBand
        ``not-measured`` where the loss has no value; never a word that would call the bell good.

    Raises
    ------
    ValueError
        When ``loss`` is an estimate of something else.

    References
    ----------
    Above 10 %: A. Bartocha and C. Baron, Materials 14 (2021) 2504. Below: common practice, no source.
    """
    if loss.quantity != QUANTITY:
        raise ValueError(f"the loss must be one of {QUANTITY}, not of {loss.quantity}")
    if loss.value is None or loss.high is None:
        advice = "measure the wall at the pit, and beside it at the same height"
        return WearBand(NOT_MEASURED, NOT_MEASURED, advice, constants("wear")["source"])
    code = _band_of(loss.value)
    band = constants("wear")["bands"][code]
    return WearBand(code, _band_of(loss.high), band["advice"], band["source"])


def _band_of(percent: float) -> str:
    rules = constants("wear")
    if percent > rules["turn_above_percent"]:
        return "turn-or-rebuild"
    return "plan" if percent >= rules["plan_from_percent"] else "watch"


def _contradiction(known: dict[str, float], unworn: float, tolerance: float) -> str:
    """Say where depth and remaining wall do not add up to the unworn wall; empty where they may."""
    if not {"thickness_at_pit_mm", "pit_depth_mm"} <= known.keys():
        return ""
    missing = unworn - known["thickness_at_pit_mm"] - known["pit_depth_mm"]
    if abs(missing) <= 3.0 * tolerance:
        return ""
    return f"pit depth and wall left differ from the unworn wall by {abs(missing):.1f} mm"


def _loss(
    method: str, inputs: dict[str, float], share: tuple[float, float, float] | None, note: str
) -> Derived:
    """Make the loss of a share of the wall and its bounds, kept between nothing and all."""
    rules = constants("wear")
    value, low, high = (100.0 * min(max(each, 0.0), 1.0) for each in share) if share else (None, None, None)
    return Derived(QUANTITY, value, low, high, 1.0, method, rules["version"], inputs, rules["source"], note)
