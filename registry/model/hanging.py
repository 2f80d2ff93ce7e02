"""How the bell hangs and is rung: crown, clapper, fittings, ringing."""

from typing import Annotated, NamedTuple

from registry.model.fields import Quantity, Term, Text, Whole


class Crown(NamedTuple):
    """The crown: canons, argent and the staple inside."""

    kind: Annotated[str | None, Term("crown_kind"), "Canons, flat top, button."] = None
    loops: Annotated[int | None, Whole(0, 12), "Canons, counted."] = None
    broken_loops: Annotated[int | None, Whole(0, 12), "Canons broken or cut away."] = None
    argent: Annotated[str | None, Term("soundness"), "State of the argent, the central loop."] = None
    staple: Annotated[str | None, Term("staple"), "What holds the clapper."] = None
    staple_rust: Annotated[str | None, Term("rust"), "Rust of a cast-in staple: it bursts crowns."] = None
    straps: Annotated[str | None, Term("soundness"), "State of the straps and bolts that hold the bell."] = (
        None
    )
    bolts_loose: Annotated[str | None, Term("yes_no_unknown"), "Any nut or wedge loose?"] = None
    remarks: Annotated[str | None, Text(2000, block=True), "Anything else on the crown."] = None


class Clapper(NamedTuple):
    """The clapper and how it strikes."""

    presence: Annotated[str, Term("presence"), "Is there one?"]
    kind: Annotated[str | None, Term("clapper_kind"), "How it meets the bell."] = None
    material: Annotated[str | None, Term("clapper_material"), "What the ball is made of."] = None
    mass_kg: Annotated[float | None, Quantity("kg", 0.05, 4000, (0.3, 1000)), "Mass of the clapper."] = None
    mass_basis: Annotated[str | None, Term("mass_basis"), "How that mass was obtained."] = None
    length_mm: Annotated[
        float | None, Quantity("mm", 30, 5000, (100, 2500)), "Pivot to centre of the ball."
    ] = None
    flight_length_mm: Annotated[
        float | None, Quantity("mm", 0, 2000, (10, 700)), "Length of the flight below the ball."
    ] = None
    ball_diameter_mm: Annotated[
        float | None, Quantity("mm", 10, 900, (25, 400)), "Greatest diameter of the ball."
    ] = None
    flat_width_mm: Annotated[
        float | None, Quantity("mm", 0, 300, (0, 80)), "Width of the flat worn on the ball."
    ] = None
    pivot: Annotated[str | None, Term("clapper_pivot"), "What it turns on."] = None
    play_vertical_mm: Annotated[
        float | None, Quantity("mm", 0, 100, (0, 20)), "Vertical play at the pivot."
    ] = None
    play_sideways_mm: Annotated[
        float | None, Quantity("mm", 0, 500, (0, 80)), "Sideways play at the ball."
    ] = None
    strike_height_mm: Annotated[
        float | None, Quantity("mm", 0, 800, (5, 350)), "Height of the blow above the lip."
    ] = None
    shaft_touches: Annotated[str | None, Term("yes_no_unknown"), "Does the shaft touch the lip?"] = None
    hardness_hb: Annotated[
        float | None, Quantity("hb", 20, 700, (80, 300)), "Brinell hardness of the ball."
    ] = None
    remarks: Annotated[str | None, Text(2000, block=True), "Anything else on the clapper."] = None


class Fittings(NamedTuple):
    """What the bell hangs on and what moves it."""

    headstock: Annotated[
        str | None, Term("headstock"), "Straight, cranked, counterbalanced; wood or steel."
    ] = None
    headstock_state: Annotated[str | None, Term("soundness"), "State of the headstock."] = None
    bearings: Annotated[str | None, Term("bearings"), "Plain or rolling."] = None
    bearings_state: Annotated[str | None, Term("soundness"), "State of the bearings and gudgeons."] = None
    drive: Annotated[str | None, Term("drive"), "What swings the bell."] = None
    drive_state: Annotated[str | None, Term("soundness"), "State of wheel, rope, chain or motor."] = None
    isolator: Annotated[str | None, Term("yes_no_unknown"), "Can the drive be locked off at the bell?"] = None
    clock_hammer: Annotated[str | None, Term("presence"), "Is there a clock hammer?"] = None
    hammer_mass_kg: Annotated[float | None, Quantity("kg", 0.1, 500, (0.5, 120)), "Mass of the hammer."] = (
        None
    )
    hammer_clearance_mm: Annotated[
        float | None, Quantity("mm", 0, 300, (2, 60)), "Gap between hammer at rest and bell."
    ] = None
    hammer_clear_of_swing: Annotated[
        str | None, Term("yes_no_unknown"), "Is the hammer drawn off when the bell swings?"
    ] = None
    remarks: Annotated[str | None, Text(2000, block=True), "Anything else on the fittings."] = None


class Ringing(NamedTuple):
    """How the bell is rung, and how much."""

    style: Annotated[str | None, Term("ringing_style"), "How it is rung."] = None
    swing_angle_deg: Annotated[
        float | None, Quantity("deg", 0, 360, (5, 190)), "Swing to one side from hanging."
    ] = None
    strokes: Annotated[int | None, Whole(2, 10000), "Strokes counted."] = None
    strokes_in_s: Annotated[
        float | None, Quantity("s", 1, 36000, (10, 1200)), "Time in which they were counted."
    ] = None
    hours_a_year: Annotated[
        float | None, Quantity("hours", 0, 8784, (0, 1500)), "Swinging, hours a year."
    ] = None
    clock_strikes_a_day: Annotated[int | None, Whole(0, 20000), "Hammer blows of the clock a day."] = None
    in_use: Annotated[str | None, Term("yes_no_unknown"), "Is the bell rung today?"] = None
    remarks: Annotated[str | None, Text(2000, block=True), "Ringing customs, restrictions."] = None
