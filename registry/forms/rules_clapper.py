"""Rules on clapper, hammer, crown and ringing."""

from collections.abc import Iterator

from registry.forms.finding import Finding
from registry.forms.rules_sizes import law_band
from registry.forms.ruling import Comparison, Form, Found, between, misfit, values_of
from registry.forms.thresholds import band
from registry.model.survey import BellEntry, Path

NOT_THERE = frozenset({"missing", "never-had", "not-seen"})
"""Words of ``presence`` for a part that nobody can have measured."""

AT_REST = frozenset({"chiming", "clock-only", "carillon", "silent"})
"""Words of ``ringing_style`` for bells that do not swing."""

CLAPPER_BANDS = {
    "swinging": "clapper-to-bell-swinging",
    "swinging-low": "clapper-to-bell-swinging-low",
    "full-circle": "clapper-to-bell-full-circle",
    "full-rotation": "clapper-to-bell-full-rotation",
}
"""Band of clapper to bell by ``ringing_style``; for all others the widest."""


def absent_parts_have_no_measures(_form: Form, path: Path, bell: BellEntry) -> Iterator[Found]:
    """Expect that a clapper or hammer that is not there was not measured."""
    for section, presence, measures in (
        (
            "clapper",
            "presence",
            (
                "mass_kg",
                "length_mm",
                "flight_length_mm",
                "ball_diameter_mm",
                "flat_width_mm",
                "play_vertical_mm",
                "play_sideways_mm",
                "strike_height_mm",
                "hardness_hb",
            ),
        ),
        ("fittings", "clock_hammer", ("hammer_mass_kg", "hammer_clearance_mm")),
    ):
        part = getattr(bell, section)
        if part is None or getattr(part, presence) not in NOT_THERE or not values_of(part, measures):
            continue
        named = ", ".join(name for name in measures if getattr(part, name) is not None)
        finding = Finding(
            "absent-part-measured",
            f"{getattr(part, presence)}, and {named}",
            "present or stored, or no measures",
            "correct the one or the other; measures from a document belong in a form of their own",
        )
        yield Found((*path, section), presence, finding)


def clapper_fits_the_bell(form: Form, path: Path, bell: BellEntry) -> Iterator[Found]:
    """Expect that mass, ball and length of the clapper and the height of its blow suit the bell."""
    clapper, sizes = bell.clapper, bell.dimensions
    if clapper is None:
        return
    here = (*path, "clapper")
    yield from _clapper_mass(form, path, bell)
    mouth = sizes.mouth_diameter_mm if sizes else None
    height = sizes.height_mm if sizes else None
    for field, name, base, beside in (
        ("ball_diameter_mm", "clapper-ball-to-diameter", mouth, "a mouth"),
        ("strike_height_mm", "strike-height-to-diameter", mouth, "a mouth"),
        ("length_mm", "clapper-length-to-height", height, "a height"),
    ):
        compared = Comparison(
            "clapper-against-bell", name, getattr(clapper, field), base, f"at {beside} of {base or 0:g} mm"
        )
        yield from misfit(form, here, field, compared)
    flat, ball = clapper.flat_width_mm, clapper.ball_diameter_mm
    if flat is not None and ball is not None and flat >= ball:
        finding = Finding(
            "clapper-against-bell",
            form.as_written(here, "flat_width_mm"),
            f"less than the ball, {ball:g} mm",
            "measure the flat and the ball again",
        )
        yield Found(here, "flat_width_mm", finding)


def _clapper_mass(form: Form, path: Path, bell: BellEntry) -> Iterator[Found]:
    """Hold the clapper's mass against that of the bell, or against all that a bell of its size can have."""
    mass = bell.clapper.mass_kg if bell.clapper else None
    sizes = bell.dimensions
    if mass is None or sizes is None:
        return
    style = bell.ringing.style if bell.ringing else None
    limits = band(CLAPPER_BANDS.get(style or "", "clapper-to-bell-otherwise"))
    law = law_band(bell, "mass-to-cube")
    if sizes.mass_kg is not None:
        lightest = heaviest = sizes.mass_kg
        beside = f"at a bell of {heaviest:g} kg"
    elif law is not None and sizes.mouth_diameter_mm is not None:
        cube = (sizes.mouth_diameter_mm / 1000) ** 3
        lightest, heaviest = law.low * cube, law.high * cube
        beside = f"at a mouth of {sizes.mouth_diameter_mm:g} mm"
    else:
        return
    if style is not None:
        beside += f", {style}"
    low, high = limits.low * lightest, limits.high * heaviest
    if not low <= mass <= high:
        finding = Finding(
            "clapper-against-bell",
            form.as_written((*path, "clapper"), "mass_kg"),
            f"{between(low, high, 'kg')} {beside}",
            "check the masses, their units and the way of ringing; if all are right, say so in the remarks",
        )
        yield Found((*path, "clapper"), "mass_kg", finding)


def ringing_is_of_one_kind(form: Form, path: Path, bell: BellEntry) -> Iterator[Found]:
    """Expect that the swing, the rate and the use are those of the way of ringing."""
    ringing = bell.ringing
    if ringing is None:
        return
    here = (*path, "ringing")
    style, swing = ringing.style, ringing.swing_angle_deg
    expected = None
    if swing is not None and style in AT_REST and swing > 0:
        expected = f"no swing, for {style}"
    elif swing is not None and style == "full-circle" and not band("swing-angle-full-circle").holds(swing):
        expected = f"at least {band('swing-angle-full-circle').low:g}° for full-circle"
    elif swing is not None and style == "swinging" and not band("swing-angle-swinging").holds(swing):
        expected = f"at most {band('swing-angle-swinging').high:g}° for swinging"
    if expected is not None:
        finding = Finding(
            "ringing-contradiction",
            form.as_written(here, "swing_angle_deg"),
            expected,
            "check the angle (to one side, from hanging) and the style",
        )
        yield Found(here, "swing_angle_deg", finding)
    if style == "silent" and ringing.in_use == "yes":
        finding = Finding("ringing-contradiction", "yes", "no, for silent", "correct style or in_use")
        yield Found(here, "in_use", finding)
    if ringing.strokes is not None and ringing.strokes_in_s:
        rate = 60 * ringing.strokes / ringing.strokes_in_s
        limits = band("strokes-per-minute")
        if not limits.holds(rate):
            finding = Finding(
                "ringing-contradiction",
                f"{ringing.strokes} strokes in {ringing.strokes_in_s:g} s, {rate:.3g} a minute",
                f"{limits.low:g} to {limits.high:g} strokes a minute",
                "count again; strokes_in_s is the time for all of them",
            )
            yield Found(here, "strokes_in_s", finding)


def broken_loops_are_among_the_loops(form: Form, path: Path, bell: BellEntry) -> Iterator[Found]:
    """Expect that no more canons are broken than there are."""
    crown = bell.crown
    if crown is None or crown.loops is None or crown.broken_loops is None:
        return
    if crown.broken_loops > crown.loops:
        here = (*path, "crown")
        finding = Finding(
            "crown-contradiction",
            form.as_written(here, "broken_loops"),
            f"at most {crown.loops}, the number of loops",
            "count again; loops are all canons, the broken ones too",
        )
        yield Found(here, "broken_loops", finding)
