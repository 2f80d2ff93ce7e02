"""Rules on strike points, cracks, and what the surveyor made of them."""

from collections.abc import Iterator

from registry.forms.finding import Finding
from registry.forms.rules_entries import MEASURED
from registry.forms.ruling import Comparison, Form, Found, misfit, values_of
from registry.forms.thresholds import band
from registry.model.condition import Crack
from registry.model.survey import BellEntry, Path
from registry.model.visit import NotInspected

ABOVE_THE_SHOULDER = frozenset({"crown", "canons", "whole-height"})
"""Words of ``crack_position`` for cracks that may reach above the height of the bell."""

MENDED = frozenset({"welded", "soldered", "cut-out"})
"""Words of ``crack_repair`` after which a bell may be found without symptoms."""

CROWN_CRACKS = frozenset({"crown", "canons"})


def pits_are_in_the_wall(form: Form, path: Path, bell: BellEntry) -> Iterator[Found]:
    """Expect that a pit is less deep than the wall, which is thinner there than beside it."""
    bow = bell.dimensions.soundbow_thickness_mm if bell.dimensions else None
    for index, point in enumerate(bell.strike_points):
        here = (*path, "strike_points", index)
        depth, at_pit, beside = point.pit_depth_mm, point.thickness_at_pit_mm, point.thickness_beside_mm
        wall = beside if beside is not None else bow
        if depth is not None and wall is not None and depth >= wall:
            finding = Finding(
                "pit-against-thickness",
                form.as_written(here, "pit_depth_mm"),
                f"less than the wall, {wall:g} mm",
                "measure again: the depth is from the old surface to the bottom of the pit",
            )
            yield Found(here, "pit_depth_mm", finding)
        elif at_pit is not None and beside is not None and at_pit >= beside and depth != 0:
            finding = Finding(
                "thickness-at-pit",
                form.as_written(here, "thickness_at_pit_mm"),
                f"less than beside the pit, {beside:g} mm",
                "measure both again, at the same height; perhaps they have changed places",
            )
            yield Found(here, "thickness_at_pit_mm", finding)
        elif depth is not None and at_pit is not None and beside is not None:
            yield from _pit_misfit(form, here, depth, beside - at_pit)
        yield from misfit(
            form,
            here,
            "thickness_beside_mm",
            Comparison(
                "thickness-beside-pit",
                "beside-pit-to-soundbow",
                beside,
                bow,
                f"at a sound-bow of {bow or 0:g} mm at its thickest",
            ),
        )
        if point.use == "in-use" and point.turned is not None:
            finding = Finding(
                "strike-point-contradiction",
                f"in-use, and turned {point.turned}",
                "old for a point the bell was turned away from",
                "correct use, or move the turning to the point that is now old",
            )
            yield Found(here, "use", finding)


def _pit_misfit(form: Form, path: Path, depth: float, worn: float) -> Iterator[Found]:
    """Hold the depth of a pit against the thicknesses at and beside it."""
    if not band("pit-depth-misfit-mm").holds(depth - worn):
        finding = Finding(
            "pit-depth-misfit",
            form.as_written(path, "pit_depth_mm"),
            f"about {worn:g} mm, the thickness beside less that at the pit",
            "measure all three again",
        )
        yield Found(path, "pit_depth_mm", finding)


def cracks_lie_on_the_bell(form: Form, path: Path, bell: BellEntry) -> Iterator[Found]:
    """Expect that a crack ends on the bell, start below end, and is no shorter than these are apart."""
    height = bell.dimensions.height_mm if bell.dimensions else None
    for index, crack in enumerate(bell.cracks):
        here = (*path, "cracks", index)
        start, end = crack.start_height_mm, crack.end_height_mm
        if height is not None and crack.position not in ABOVE_THE_SHOULDER:
            for field in ("start_height_mm", "end_height_mm"):
                value = getattr(crack, field)
                if value is not None and value > band("crack-beyond-height").high * height:
                    finding = Finding(
                        "crack-against-height",
                        form.as_written(here, field),
                        f"at most {height:g} mm, the height of the bell",
                        "measure both again, from the lip upwards",
                    )
                    yield Found(here, field, finding)
        if start is None or end is None:
            continue
        if start > end:
            finding = Finding(
                "crack-contradiction",
                f"{form.as_written(here, 'start_height_mm')}, above its end at {end:g} mm",
                "the lower end as start, the upper as end",
                "exchange start_height_mm and end_height_mm",
            )
            yield Found(here, "start_height_mm", finding)
        else:
            yield from misfit(
                form,
                here,
                "length_mm",
                Comparison(
                    "crack-contradiction",
                    "crack-length-to-heights",
                    crack.length_mm,
                    end - start,
                    f"from {start:g} to {end:g} mm above the lip",
                    "measure along the crack, or correct the heights of its ends",
                ),
            )


OF_A_CRACK = ("orientation", "side", "start_height_mm", "end_height_mm", "length_mm", "opening_mm")
"""Fields that only a crack can have."""


def no_crack_has_no_measures(_form: Form, path: Path, bell: BellEntry) -> Iterator[Found]:
    """Expect that where no crack was found there is none to measure."""
    for index, crack in enumerate(bell.cracks):
        if crack.state == "none" and (values_of(crack, OF_A_CRACK) or crack.growth == "grown"):
            named = [name for name in OF_A_CRACK if getattr(crack, name) is not None]
            finding = Finding(
                "crack-contradiction",
                "none, and " + ", ".join([*named, *(["growth"] if crack.growth == "grown" else [])]),
                "suspected or confirmed, or none of these",
                "correct the state, or delete what belongs to no crack",
            )
            yield Found((*path, "cracks", index), "state", finding)


def cracked_bells_are_not_sound(form: Form) -> Iterator[Found]:
    """Expect that a bell with a confirmed crack that was not mended is not without symptoms."""
    bells = {bell.id: bell for bell in form.survey.bells}
    for index, item in enumerate(form.survey.assessments):
        bell = bells.get(item.bell) if item.bell else None
        if item.condition != 0 or bell is None or item.component not in ("bell", "crown"):
            continue
        cracks = [crack for crack in bell.cracks if _counts_against(crack, item.component)]
        if cracks:
            worst = next((crack for crack in cracks if crack.side == "through"), cracks[0])
            through = ", through the wall" if worst.side == "through" else ""
            finding = Finding(
                "crack-marked-sound",
                f"0, with crack {worst.number} confirmed{through}",
                "1 to 3 for a cracked bell",
                "correct the condition; stop ringing a cracked bell until an expert has seen it",
            )
            yield Found(("assessments", index), "condition", finding)


def _counts_against(crack: Crack, component: str) -> bool:
    """Say whether a crack speaks against calling the bell, or its crown, sound."""
    if crack.state != "confirmed" or crack.repaired in MENDED:
        return False
    return component == "bell" or crack.position in CROWN_CRACKS


PART_OF = {
    "whole-bell": ("bell", ("dimensions", "sound", "clapper")),
    "crown": ("crown", ()),
    "clapper": ("clapper", ("clapper",)),
    "fittings": ("fittings", ()),
    "sound": (None, ("sound",)),
    "frame": ("frame", ()),
    "tower": ("tower", ()),
    "access": ("access", ()),
}
"""By word of ``part``: the component that cannot be assessed, and the sections that cannot hold measures."""


def parts_not_inspected_are_not_judged(form: Form) -> Iterator[Found]:
    """Expect that a part that could not be inspected was neither assessed nor measured."""
    for index, skipped in enumerate(form.survey.survey.not_inspected):
        component, sections = PART_OF.get(skipped.part or "", (None, ()))
        path: Path = ("survey", "not_inspected", index)
        for place, item in enumerate(form.survey.assessments):
            if component is None or item.component != component or item.condition is None:
                continue
            if skipped.bell in (None, item.bell):
                yield _judged(path, skipped, f"assessments[{place + 1}] judges it")
        for bell_path, bell in form.bells():
            if skipped.bell not in (None, bell.id):
                continue
            for section in sections:
                if values_of(getattr(bell, section), MEASURED[section]):
                    where = f"bells[{int(bell_path[1]) + 1}].{section}"
                    yield _judged(path, skipped, f"{where} has measures of it")


def _judged(path: Path, skipped: NotInspected, contradiction: str) -> Found:
    finding = Finding(
        "not-inspected-contradiction",
        f"{skipped.part} not inspected, and {contradiction}",
        "one or the other",
        "say in the reason what could not be inspected, and name a smaller part or the bell concerned",
    )
    return Found(path, "part", finding)
