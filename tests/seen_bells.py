"""A bell as surveys saw it, sound and wholly inspected, and changes to it, for the tests of condition."""

from datetime import date
from typing import Any

from registry.derive.condition.seen import BellSeen
from registry.model.bell import Dimensions, Identity
from registry.model.condition import Crack, StrikePoint
from registry.model.hanging import Clapper, Crown, Fittings, Ringing
from registry.model.survey import BellEntry
from registry.model.tower import Frame, Tower
from registry.model.visit import Instrument

TOWER = Tower("tower", "Tower", "Place", country="AT", protection="not-protected")
FRAME = Frame(material="oak", moves_when_ringing="yes", movement_mm=1.0, loose_joints="no", decay="none")
INSTRUMENTS = (
    Instrument("ultrasonic", tolerance_mm=0.1),
    Instrument("depth-gauge", tolerance_mm=0.1),
    Instrument("rule", tolerance_mm=0.5),
)
SECTIONS: dict[str, Any] = {
    "identity": Identity(
        status="hanging", material="bronze", cast_date="2001", dating_basis="inscribed", protected="no"
    ),
    "dimensions": Dimensions(
        mouth_diameter_mm=1200.0, soundbow_thickness_mm=100.0, mass_kg=1000.0, mass_basis="weighed"
    ),
    "crown": Crown(
        kind="canons", loops=12, broken_loops=0, argent="sound", staple="independent", straps="sound",
        bolts_loose="no",
    ),
    "clapper": Clapper(
        presence="present", kind="flying", mass_kg=45.0, ball_diameter_mm=200.0, flat_width_mm=10.0,
        pivot="plain-bush", play_vertical_mm=1.0, play_sideways_mm=5.0, strike_height_mm=100.0,
        shaft_touches="no", hardness_hb=120.0,
    ),
    "strike_points": tuple(
        StrikePoint(
            number, bearing_deg=bearing, struck_by="clapper", use="in-use", pit_depth_mm=1.0,
            pit_length_mm=30.0, thickness_at_pit_mm=98.0, thickness_beside_mm=99.0, burr="no",
        )
        for number, bearing in ((1, 90.0), (2, 270.0))
    ),
    "cracks": (Crack(1, "none", method="eye"),),
    "fittings": Fittings(
        headstock="straight-steel", headstock_state="sound", bearings="rolling", bearings_state="sound",
        drive="chain-motor", drive_state="sound", isolator="yes", clock_hammer="present",
        hammer_clearance_mm=10.0, hammer_clear_of_swing="yes",
    ),
    "ringing": Ringing(
        style="swinging", swing_angle_deg=50.0, strokes=60, strokes_in_s=60.0, hours_a_year=100.0,
        in_use="yes",
    ),
}  # fmt: skip
"""Everything told, nothing amiss."""


def seen(day: str = "2025-05-01", **changes: Any) -> BellSeen:
    """Make a visit that inspected everything and found nothing amiss, but for the changes.

    A change names a section of the bell's entry and gives the section itself, or a dictionary of the fields
    that differ; anything else names a field of ``BellSeen``.
    """
    sections = {
        name: _changed(section, changes.pop(name)) if name in changes else section
        for name, section in SECTIONS.items()
    }
    entry = BellEntry("bell", **sections, events=changes.pop("events", ()))
    whole = BellSeen(
        f"tower-{day}", date.fromisoformat(day), "visit", entry, TOWER, FRAME, instruments=INSTRUMENTS
    )
    for name in ("tower", "frame"):
        if name in changes:
            whole = whole._replace(**{name: _changed(getattr(whole, name), changes.pop(name))})
    return whole._replace(**changes)


def _changed(section: Any, change: Any) -> Any:
    """Change fields of a section, or of each item of a list of sections."""
    if not isinstance(change, dict):
        return change
    if isinstance(section, tuple) and not hasattr(section, "_fields"):
        return tuple(item._replace(**change) for item in section)
    return section._replace(**change)
