"""Drawings of a bell from what the rows of its surveys tell: the same on pages and on paper."""

from collections.abc import Mapping, Sequence
from typing import Any

from registry.derive.condition.growth import Growth
from registry.derive.condition.slope import decimal_year
from registry.derive.condition.turning import Turning
from registry.drawing.cracks import CrackOnWall
from registry.drawing.growth import GrowthDrawing, YearlyReading, growth_drawing
from registry.drawing.profile import ProfileDrawing, profile_drawing
from registry.drawing.rim import CrackSeen, RimDrawing, StrikeSeen, rim_drawing
from registry.drawing.section import SectionPoint
from registry.drawing.shape import Sizes, sizes_from
from registry.drawing.unrolled import StrikeOnWall, TextOnWall, UnrolledDrawing, unrolled_drawing
from registry.store.pages import Row
from registry.wording.words import quantity

SIZES = ("height_mm", "shoulder_diameter_mm", "soundbow_thickness_mm", "waist_thickness_mm")

Values = Mapping[tuple[str, str], Any]
"""The newest value of each fact, by table and field; what nobody told is absent."""


def sizes_of(values: Values) -> Sizes | None:
    """Take the newest sizes; None where nobody measured the diameter."""
    diameter = values.get(("dimensions", "mouth_diameter_mm"))
    if diameter is None:
        return None
    return sizes_from(diameter, *(values.get(("dimensions", name)) for name in SIZES))


def profile_of(values: Values, section: Sequence[Row] = ()) -> ProfileDrawing | None:
    """Draw the bell from its newest sizes and its newest measured section; None without a diameter.

    Parameters
    ----------
    values : mapping
        The newest value of each fact.
    section : sequence of Row
        Rows of ``profile_point`` of one survey.
    """
    sizes = sizes_of(values)
    if sizes is None:
        return None
    points = [SectionPoint(row["height_mm"], row["diameter_mm"], row["thickness_mm"]) for row in section]
    head_mm = values.get(("dimensions", "head_thickness_mm"))
    return profile_drawing(sizes, values.get(("crown", "kind")), points, head_mm)


def rim_of(
    values: Values,
    strikes: Sequence[Row],
    cracks: Sequence[Row],
    free_deg: Sequence[tuple[float, float]] = (),
) -> RimDrawing | None:
    """Draw the rim from above; None where there is nothing to draw on it.

    Parameters
    ----------
    values : mapping
        For the scale.
    strikes, cracks : sequence of Row
        Rows of their tables.
    free_deg : sequence of (float, float)
        Parts of the rim proposed for the next strike points.
    """
    if not strikes and not any(crack["state"] != "none" for crack in cracks):
        return None
    return rim_drawing(
        [_strike_seen(row) for row in strikes],
        [CrackSeen(row["number"], row["bearing_deg"], row["state"], row["side"]) for row in cracks],
        mouth_diameter_mm=values.get(("dimensions", "mouth_diameter_mm")),
        wall_mm=values.get(("dimensions", "soundbow_thickness_mm")),
        free_deg=free_deg,
    )


def _strike_seen(row: Row) -> StrikeSeen:
    """Take a strike point; of one in use, depth and wall stand beside it."""
    words = []
    if row["pit_depth_mm"] is not None:
        words.append(f"{quantity(row['pit_depth_mm'], 'mm')} deep")
    if row["thickness_at_pit_mm"] is not None:
        beside = row["thickness_beside_mm"]
        of = f" of {quantity(beside, 'mm')}" if beside is not None else ""
        words.append(f"{quantity(row['thickness_at_pit_mm'], 'mm')}{of}")
    return StrikeSeen(
        row["number"],
        row["bearing_deg"],
        row["use"],
        row["struck_by"],
        row["pit_depth_mm"],
        row["pit_length_mm"],
        row["turned_by_deg"],
        tuple(words) if row["use"] != "old" else (),
    )


FREE_HALF_DEG = 6.0
"""Half of the arc that marks a free place on the rim. Of the drawing only."""


def free_places(turning: Turning) -> list[tuple[float, float]]:
    """Give the parts of the rim where the bell would be struck after the best turn [deg, deg]."""
    return [
        (place - FREE_HALF_DEG, place + FREE_HALF_DEG)
        for turn in turning.turns[:1]
        for place in turn.places_deg
    ]


def growth_of(growth: Growth) -> GrowthDrawing | None:
    """Draw how a pit or crack grows; None with fewer than three readings."""
    return growth_drawing(
        [YearlyReading(decimal_year(each.day), each.value, each.error) for each in growth.readings],
        growth.per_year.value if growth.per_year else None,
        growth.limit.limit_mm if growth.limit else None,
    )


def unrolled_of(
    values: Values, strikes: Sequence[Row], cracks: Sequence[Row], inscriptions: Sequence[Row]
) -> UnrolledDrawing | None:
    """Lay the surface flat; None without a diameter, or where there is nothing to show on it."""
    sizes = sizes_of(values)
    if sizes is None:
        return None
    blow_mm = values.get(("clapper", "strike_height_mm"))
    drawing = unrolled_drawing(
        sizes,
        [CrackOnWall(**{field: row[field] for field in CrackOnWall._fields}) for row in cracks],
        [
            StrikeOnWall(
                row["number"],
                row["bearing_deg"],
                blow_mm if row["struck_by"] == "clapper" else None,
                row["pit_length_mm"],
                row["pit_width_mm"],
                row["use"],
                row["struck_by"],
                row["built_up"] == "yes",
            )
            for row in strikes
        ],
        [
            TextOnWall(
                row["number"], row["place"], lines_as_cast(row["transcription"]), row["letter_height_mm"]
            )
            for row in inscriptions
        ],
    )
    return drawing if drawing.strikes or drawing.cracks or drawing.texts else None


def lines_as_cast(transcription: str | None) -> tuple[str, ...]:
    """Split a transcription at the signs for the end of a line."""
    parts = (transcription or "").replace("\n", " ").split("|")
    return tuple(" ".join(part.split()) for part in parts if part.strip())


def rim_caption(drawing: RimDrawing) -> str:
    """Explain the signs of the rim, and name what could not be placed."""
    said = "● strike point in use, ○ one from before the bell was turned."
    if drawing.to_scale:
        said += " Wall to scale, pits three times as deep as they are."
    if drawing.free:
        said += " Outer arcs: where it would be struck if it were turned to the freest place."
    if drawing.cracks:
        said += " Jagged line: crack, dotted where it is only suspected."
    for name, numbers in (
        ("strike point", drawing.strikes_without_bearing),
        ("crack", drawing.cracks_without_bearing),
    ):
        if numbers:
            said += f" Without bearing, not drawn: {name} {', '.join(map(str, numbers))}."
    return said


def unrolled_caption(drawing: UnrolledDrawing) -> str:
    """Explain the unrolled surface, and name what could not be placed."""
    said = "The surface laid flat, seen from outside; girth and height to scale, the contour a general one."
    if drawing.texts:
        said += " Where round the bell an inscription stands is not surveyed, only its height zone."
    if drawing.strikes:
        said += " Ellipses: pits, dashed where they lie inside."
    if drawing.assumed_heights:
        said += " Some heights are not measured and follow the zone named."
    missing = [
        *(f"C{number}" for number in drawing.cracks_not_drawn),
        *(f"S{number}" for number in drawing.strikes_not_drawn),
    ]
    return said + (f" Not drawn for want of a bearing or height: {', '.join(missing)}." if missing else "")


def profile_caption(drawing: ProfileDrawing) -> str:
    """Say what of the drawn bell was measured."""
    said = "The contour is a general one, fitted to the sizes; it is not this bell's own."
    if drawing.section_points:
        said = "The contour is this bell's own, measured at the points marked and drawn smooth between them."
    if drawing.assumed:
        assumed = ", ".join(drawing.assumed)
        said = f"Dashed and marked ≈: not measured, assumed for the drawing alone ({assumed}). {said}"
    return said + (" The crown is a sign, not to scale." if drawing.crown else "")


GLOBALS = {
    "profile_caption": profile_caption,
    "rim_caption": rim_caption,
    "unrolled_caption": unrolled_caption,
}
"""What explains drawings, by name, for templates."""
