"""The place: the tower, the frame the bells hang in, and what can hurt people there."""

from typing import Annotated, NamedTuple

from registry.model.fields import Coordinate, Country, Identifier, Quantity, Term, Text, Whole


class Tower(NamedTuple):
    """The tower and who answers for it."""

    id: Annotated[str, Identifier(), "Permanent id of the tower."]
    name: Annotated[str, Text(200), "Name of the tower or its church, hall, gate."]
    place: Annotated[str, Text(200), "Town, village or quarter."]
    latitude_deg: Annotated[float | None, Coordinate("latitude"), "WGS 84, north positive."] = None
    longitude_deg: Annotated[float | None, Coordinate("longitude"), "WGS 84, east positive."] = None
    accuracy_m: Annotated[
        float | None, Quantity("m", 0.1, 100000, (1, 5000)), "How far the coordinates may be off."
    ] = None
    region: Annotated[str | None, Identifier(), "Id of the region, as in the region file."] = None
    country: Annotated[str | None, Country(), "Two letters, ISO 3166-1."] = None
    owner: Annotated[str | None, Text(300), "Who owns the bells or answers for them."] = None
    contact: Annotated[
        str | None, Text(300), "Office to ask for access. No private data: it is published."
    ] = None
    protection: Annotated[
        str | None, Term("protection"), "Is the tower or its bells a protected monument?"
    ] = None
    protection_source: Annotated[
        str | None, Text(300), "The list or decision that says so, with its number."
    ] = None
    natural_frequency_hz: Annotated[
        float | None, Quantity("hz", 0.05, 30, (0.3, 8)), "Measured lowest sway frequency of the tower."
    ] = None
    access: Annotated[
        str | None, Text(2000, block=True), "Way up: keys, ladders, trapdoors, openings in mm."
    ] = None
    remarks: Annotated[str | None, Text(4000, block=True), "Anything else on the tower."] = None


class Frame(NamedTuple):
    """The bell frame and how the tower carries it."""

    material: Annotated[str | None, Term("frame_material"), "What it is made of."] = None
    built: Annotated[str | None, Text(200), "When and by whom, as far as known."] = None
    places: Annotated[int | None, Whole(1, 200), "Places for bells in the frame."] = None
    bearings_on: Annotated[
        str | None, Text(300), "What the frame rests on: beams, corbels, walls, dampers."
    ] = None
    moves_when_ringing: Annotated[str | None, Term("yes_no_unknown"), "Is movement seen or felt?"] = None
    movement_mm: Annotated[
        float | None, Quantity("mm", 0, 200, (0, 15)), "Movement of the frame head, measured."
    ] = None
    loose_joints: Annotated[str | None, Term("yes_no_unknown"), "Loose bolts, wedges or joints?"] = None
    decay: Annotated[str | None, Term("decay"), "Rot, beetle, rust."] = None
    remarks: Annotated[str | None, Text(4000, block=True), "Anything else on the frame."] = None


class Hazard(NamedTuple):
    """Something that can hurt whoever goes up next."""

    kind: Annotated[str, Term("hazard_kind"), "What sort of hazard."]
    where: Annotated[str | None, Text(300), "Where it is met."] = None
    remark: Annotated[str | None, Text(1000), "How grave, and what was done or should be."] = None
