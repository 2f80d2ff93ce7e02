"""The mass of a bell from its measured section: a solid of revolution, its density, and its crown.

The surveyor measures the outside, height by height, and the thickness of the wall square to it. A smooth
curve through the points is what a founder's strickle leaves, so that its volume counts; how far straight
lines between the points differ from it tells what too few points leave open.

References
----------
Pappus of Alexandria, second centroid theorem (``registry.derive.revolution``). Densities, shares of crowns
and their sources stand in ``schema/rules/estimates.yaml``.
"""

import math
from collections.abc import Sequence
from typing import Any, NamedTuple

from registry.derive.constants import constants
from registry.derive.inputs import checked_term
from registry.derive.mass import QUANTITY
from registry.derive.revolution import volume_m3
from registry.model.bell import ProfilePoint
from registry.model.derived import Derived

METHOD = "section"


class Allowed(NamedTuple):
    """Largest errors of the readings [mm]: of a height or a diameter, and of a thickness."""

    outside_mm: float
    thickness_mm: float

    @classmethod
    def usual(cls) -> "Allowed":
        """Give what is usual where the surveyor states nothing."""
        rules = constants("section")
        return cls(rules["outside_tolerance_mm"], rules["thickness_tolerance_mm"])


def section_mass(
    profile: Sequence[ProfilePoint],
    *,
    material: str | None = "bronze",
    head_thickness_mm: float | None = None,
    crown_kind: str | None = None,
    tolerances: Allowed | None = None,
) -> Derived | None:
    """Give the mass of a bell whose section was measured.

    Parameters
    ----------
    profile : sequence of ProfilePoint
        From the lip upwards; where the outside was followed over the shoulder, to the middle of the head.
    material : str, optional
        Word of the vocabulary ``material``; None means unknown.
    head_thickness_mm : float, optional
        Thickness of the head [mm]. Where it is not known the head is taken to be as thick as the wall that
        meets it.
    crown_kind : str, optional
        Word of the vocabulary ``crown_kind``; decides the share added for the crown.
    tolerances : Allowed, optional
        Largest errors of the readings [mm]; the usual ones where the surveyor states none.

    Returns
    -------
    Derived or None
        Mass [kg] with a 90 % interval; without a value, and with the reason, where the section does not make
        one. None where no section was measured.
    """
    if not profile:
        return None
    rules = constants("section")
    material = checked_term("material", material)
    missing = _missing(profile, material)
    if missing:
        return _told(None, 0.0, {"material": material, "profile_points": len(profile)}, f"no mass: {missing}")
    allowed = tolerances or Allowed.usual()
    density, of_density = rules["densities"][material]
    crown = checked_term("crown_kind", crown_kind)
    share, of_share = rules["crowns"].get(crown, rules["crowns"]["unknown"])

    volume = volume_m3(profile, head_thickness_mm)
    straight = volume_m3(profile, head_thickness_mm, smooth=False)
    of_readings = _of_readings(profile, head_thickness_mm, allowed, volume)
    of_shape = abs(volume - straight) / volume
    spread = math.hypot(of_density, of_share / (1.0 + share), of_readings, of_shape)
    inputs: dict[str, Any] = {
        "material": material,
        "profile_points": len(profile),
        "volume_m3": volume,
        "density_kg_m3": density,
        "crown_kind": crown,
        "outside_tolerance_mm": allowed.outside_mm,
        "thickness_tolerance_mm": allowed.thickness_mm,
    }
    notes = [f"{100.0 * share:g} % added for the crown"] if share else []
    if head_thickness_mm is not None:
        inputs["head_thickness_mm"] = head_thickness_mm
    elif profile[-1].diameter_mm:
        notes.append("the head taken to be flat, and as thick as the wall that meets it")
    return _told(volume * density * (1.0 + share), spread, inputs, "; ".join(notes))


def _missing(profile: Sequence[ProfilePoint], material: str) -> str:
    """Say what keeps a section from making a mass; empty where nothing does."""
    rules = constants("section")
    height = profile[-1].height_mm
    known = [point.height_mm for point in profile if point.thickness_mm is not None]
    fewest, walls = rules["fewest_points"], rules["fewest_thicknesses"]
    faults = {
        "the density of its material is not known": material not in rules["densities"],
        f"measure at least {fewest} points of the outside": len(profile) < fewest,
        "the points do not begin at the lip": profile[0].height_mm > rules["lip_within"] * height,
        "the width of the lip is missing; 0 where inside and outside meet in an edge": (
            profile[0].thickness_mm is None
        ),
        f"measure the wall at {walls} points at least, the lip included": len(known) < walls,
        "the thickness of the sound-bow is missing": known[1:] and known[1] > rules["bow_within"] * height,
        "the thickness of the upper waist is missing": (
            known and known[-1] < (1.0 - rules["top_within"]) * height
        ),
    }
    return next((fault for fault, there in faults.items() if there), "")


def _of_readings(
    profile: Sequence[ProfilePoint], head_mm: float | None, allowed: Allowed, volume: float
) -> float:
    """Give the spread [ln] that the readings leave open.

    Heights and diameters err each on its own; thicknesses err together, as with a gauge set to the wrong
    velocity of sound.
    """
    open_ = 0.0
    for place, point in enumerate(profile):
        changes = [{"diameter_mm": point.diameter_mm + allowed.outside_mm}]
        room = profile[place + 1].height_mm - point.height_mm if place + 1 < len(profile) else math.inf
        if place and room >= allowed.outside_mm:
            changes.append({"height_mm": point.height_mm + allowed.outside_mm})
        for change in changes:
            if point.diameter_mm:
                moved = [*profile[:place], point._replace(**change), *profile[place + 1 :]]
                open_ = math.hypot(open_, volume_m3(moved, head_mm) - volume)
    thicker = [
        point._replace(thickness_mm=point.thickness_mm + allowed.thickness_mm)
        if point.thickness_mm
        else point
        for point in profile
    ]
    head = None if head_mm is None else head_mm + allowed.thickness_mm
    return math.hypot(open_, volume_m3(thicker, head) - volume) / volume


def _told(mass_kg: float | None, spread: float, inputs: dict[str, Any], note: str) -> Derived:
    rules = constants("section")
    return Derived(
        QUANTITY,
        mass_kg,
        None if mass_kg is None else mass_kg / math.exp(spread),
        None if mass_kg is None else mass_kg * math.exp(spread),
        rules["level"],
        METHOD,
        rules["version"],
        inputs,
        rules["source"],
        note,
    )
