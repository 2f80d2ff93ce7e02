"""How much of the wall is gone at one strike point, from all readings of one visit together.

Each way of measuring gives hard bounds: the wall left against the wall beside, the depth of the pit against
the wall beside, and, with a wider reference, the depth against the greatest thickness of the sound-bow. The
loss lies where the bounds overlap; so a reading that is missing can only widen what is known. Where they do
not overlap the readings contradict each other, and the greatest loss stands.

References
----------
A. Bartocha and C. Baron, Materials 14 (2021) 2504, for the wall beside the pit as reference.
"""

from typing import NamedTuple

from registry.derive.condition.rulebook import Rulebook, rulebook
from registry.derive.condition.seen import BellSeen
from registry.derive.wear import soundbow_loss
from registry.model.condition import StrikePoint


class PointLoss(NamedTuple):
    """Loss of the wall at one strike point [%], best value and hard bounds.

    ``low`` and ``high`` hold the loss if no reading is further off than its stated error; ``ways`` names the
    readings used; ``contradiction`` says where they do not fit together.
    """

    value: float
    low: float
    high: float
    ways: tuple[str, ...]
    contradiction: str = ""


def tolerance_mm(seen: BellSeen, quantity: str, book: Rulebook | None = None) -> float:
    """Give the largest error of one reading [mm] of a survey.

    Parameters
    ----------
    seen : BellSeen
        The survey.
    quantity : str
        ``wall``, ``pit`` or ``crack``.
    book : Rulebook, optional
        Other rules than the shipped ones.

    Returns
    -------
    float
        As stated for the instruments that measure this, else as is common practice; and half the last digit
        that people write.
    """
    rule = (book or rulebook()).settings["tolerances"][quantity]
    stated = seen.tolerance_mm(rule["instruments"])
    return float(rule["default_mm"] if stated is None else stated) + float(rule["rounding_mm"])


def loss_at(
    point: StrikePoint, seen: BellSeen, soundbow_thickness_mm: float | None, book: Rulebook | None = None
) -> PointLoss | None:
    """Give the loss at a strike point from one visit.

    Parameters
    ----------
    point : StrikePoint
        The point as the visit saw it.
    seen : BellSeen
        The visit, for its instruments.
    soundbow_thickness_mm : float or None
        Greatest thickness of the sound-bow, unworn [mm].
    book : Rulebook, optional
        Other rules than the shipped ones.

    Returns
    -------
    PointLoss or None
        None where the readings tell no loss.
    """
    wall_mm, pit_mm = tolerance_mm(seen, "wall", book), tolerance_mm(seen, "pit", book)
    ways: list[tuple[str, float, float, float]] = []
    contradictions: list[str] = []
    for name, known, tolerance in (
        ("wall left against wall beside", {"thickness_at_pit_mm": point.thickness_at_pit_mm}, wall_mm),
        ("depth against wall beside", {"pit_depth_mm": point.pit_depth_mm}, max(wall_mm, pit_mm)),
    ):
        if None in known.values() or point.thickness_beside_mm is None:
            continue
        loss = soundbow_loss(**known, thickness_beside_mm=point.thickness_beside_mm, tolerance_mm=tolerance)
        if loss.value is not None and loss.low is not None and loss.high is not None:
            ways.append((name, loss.value, loss.low, loss.high))
        else:
            contradictions.append(loss.note)
    share = float((book or rulebook()).settings["thickness_at_height"]["least_share"])
    if point.pit_depth_mm is not None and soundbow_thickness_mm is not None:
        bounds = _against_thickest(point.pit_depth_mm, soundbow_thickness_mm, share, pit_mm, wall_mm)
        if bounds is not None:
            ways.append(("depth against the thickest wall", *bounds))
    return _together(ways, contradictions)


def _against_thickest(
    depth_mm: float, thickest_mm: float, share: float, pit_mm: float, wall_mm: float
) -> tuple[float, float, float] | None:
    """Give value and bounds [%] against a wall that is the thickest one, or thinner by up to ``share``."""
    thinnest_mm = share * thickest_mm - wall_mm
    if thinnest_mm <= 0.0 or depth_mm >= thinnest_mm:
        return None
    value = 100.0 * depth_mm / thickest_mm
    low = 100.0 * max(depth_mm - pit_mm, 0.0) / (thickest_mm + wall_mm)
    return value, low, min(100.0 * (depth_mm + pit_mm) / thinnest_mm, 100.0)


def _together(ways: list[tuple[str, float, float, float]], contradictions: list[str]) -> PointLoss | None:
    """Overlap the bounds; the first way gives the value, kept within them."""
    if not ways:
        return None
    names = tuple(name for name, *_ in ways)
    low, high = max(way[2] for way in ways), min(way[3] for way in ways)
    if low > high:
        worst = max(ways, key=lambda way: way[1])
        notes = [*contradictions, "the readings contradict each other; the greatest loss stands"]
        return PointLoss(worst[1], min(way[2] for way in ways), max(way[3] for way in ways), names, notes[-1])
    value = min(max(ways[0][1], low), high)
    return PointLoss(value, low, high, names, contradictions[0] if contradictions else "")
