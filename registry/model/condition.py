"""What is wrong with the bell: strike points, cracks, and the surveyor's own assessment."""

from typing import Annotated, NamedTuple

from registry.model.fields import Edtf, Identifier, Quantity, Term, Text, Whole


class StrikePoint(NamedTuple):
    """A place where clapper or hammer strikes or struck. Most bells have two or more."""

    number: Annotated[int, Whole(1, 40), "Running number on this bell, the same at every visit."]
    bearing_deg: Annotated[
        float | None,
        Quantity("deg", 0, 360),
        "Clockwise seen from above, from the mark named in the remarks.",
    ] = None
    struck_by: Annotated[str | None, Term("striker"), "Clapper or hammer."] = None
    use: Annotated[str | None, Term("strike_use"), "In use, or from before the bell was turned."] = None
    pit_depth_mm: Annotated[float | None, Quantity("mm", 0, 150, (0, 25)), "Depth of the pit worn in."] = None
    pit_length_mm: Annotated[float | None, Quantity("mm", 0, 900, (5, 250)), "Along the rim."] = None
    pit_width_mm: Annotated[float | None, Quantity("mm", 0, 600, (5, 200)), "Up and down the bell."] = None
    thickness_at_pit_mm: Annotated[
        float | None, Quantity("mm", 1, 650, (8, 300)), "Wall left at the deepest point."
    ] = None
    thickness_beside_mm: Annotated[
        float | None, Quantity("mm", 3, 650, (10, 300)), "Unworn wall beside the pit, same height."
    ] = None
    turned: Annotated[str | None, Edtf(), "When the bell was turned away from this point."] = None
    turned_by_deg: Annotated[float | None, Quantity("deg", 0, 360), "By how much it was turned."] = None
    built_up: Annotated[str | None, Term("yes_no_unknown"), "Built up by welding?"] = None
    burr: Annotated[str | None, Term("yes_no_unknown"), "A burr or chipped lip below it?"] = None
    remarks: Annotated[str | None, Text(1000), "Anything else on this point."] = None


class Crack(NamedTuple):
    """A crack, or the statement that one was looked for."""

    number: Annotated[int, Whole(1, 99), "Running number on this bell, the same at every visit."]
    state: Annotated[str, Term("crack_state"), "None found, suspected, confirmed."]
    position: Annotated[str | None, Term("crack_position"), "Where on the bell."] = None
    orientation: Annotated[str | None, Term("crack_orientation"), "How it runs."] = None
    bearing_deg: Annotated[float | None, Quantity("deg", 0, 360), "As for strike points."] = None
    side: Annotated[str | None, Term("crack_side"), "Outside, inside, or through the wall."] = None
    start_height_mm: Annotated[
        float | None, Quantity("mm", 0, 6500, (0, 3000)), "Height of its lower end above the lip."
    ] = None
    end_height_mm: Annotated[
        float | None, Quantity("mm", 0, 6500, (0, 3000)), "Height of its upper end above the lip."
    ] = None
    length_mm: Annotated[float | None, Quantity("mm", 0, 9000, (2, 2500)), "Length along the crack."] = None
    opening_mm: Annotated[float | None, Quantity("mm", 0, 60, (0, 6)), "Widest opening."] = None
    growth: Annotated[str | None, Term("crack_growth"), "Has it grown, as far as marks on the bell show?"] = (
        None
    )
    method: Annotated[str | None, Term("crack_method"), "How it was looked for."] = None
    repaired: Annotated[str | None, Term("crack_repair"), "What was done about it, if anything."] = None
    remarks: Annotated[str | None, Text(1000), "Anything else on this crack."] = None


class Assessment(NamedTuple):
    """The surveyor's own judgement of one component, in four steps each."""

    component: Annotated[str, Term("component"), "What is judged."]
    condition: Annotated[int | None, Whole(0, 3), "0 no symptoms, 1 slight, 2 marked, 3 grave."] = None
    urgency: Annotated[int | None, Whole(0, 3), "0 can wait, 1 within years, 2 soon, 3 at once."] = None
    recommendation: Annotated[
        int | None, Whole(0, 3), "0 nothing, 1 upkeep, 2 repair or closer look, 3 major work after diagnosis."
    ] = None
    bell: Annotated[str | None, Identifier(), "The bell, where the component is not the whole tower's."] = (
        None
    )
    reasons: Annotated[str | None, Text(2000, block=True), "What the judgement rests on."] = None
