"""What one visit tells of crown, clapper, fittings, frame and way up, one reading a fact.

A reading is a value, or nothing where the visit does not tell it, or the word that the fact does not apply to
this bell. Only a word that was written can say that something does not apply: a blank says nothing.
"""

from collections.abc import Callable, Mapping
from typing import NamedTuple

from registry.derive.condition.seen import AT_REST, BellSeen
from registry.model.hanging import Clapper, Fittings

UNSEEN = frozenset({"unknown", "not-seen"})
"""Words that say that nobody could tell."""

NO_ARGENT = frozenset({"canons-removed", "flat-top", "button", "single-loop", "pierced-head", "plate"})
"""Kinds of crown without canons and argent."""

NO_IRON = frozenset({"cast-bronze", "removed", "independent", "none"})
"""Staples that leave no iron in the crown."""

NOT_FITTED = frozenset({"missing", "never-had", "stored"})
"""Words for a part that is not in its place, so that it has no state there."""

WITHOUT_BUSH = frozenset({"leather", "hook"})
"""Pivots that have no bush whose play the limits are about."""


class Reading(NamedTuple):
    """What one visit tells of one fact.

    ``applies`` is False where the visit says that there is no such thing; ``why`` then names it.
    """

    value: float | str | None
    applies: bool = True
    why: str = ""


UNTOLD = Reading(None)


def _word(word: str | None) -> Reading:
    return UNTOLD if word is None or word in UNSEEN else Reading(word)


def _without(why: str) -> Reading:
    return Reading(None, applies=False, why=why)


def _read_argent(seen: BellSeen) -> Reading:
    crown = seen.entry.crown
    if crown is None:
        return UNTOLD
    if crown.kind in NO_ARGENT:
        return _without("a crown without canons")
    return _word(crown.argent)


def _read_broken_loops(seen: BellSeen) -> Reading:
    crown = seen.entry.crown
    if crown is None:
        return UNTOLD
    if crown.kind in NO_ARGENT:
        return _without("a crown without canons")
    if crown.broken_loops is None:
        return UNTOLD
    if crown.broken_loops == 0:
        return Reading(0.0)
    if not crown.loops:
        return UNTOLD
    return Reading(100.0 * min(crown.broken_loops / crown.loops, 1.0))


def _read_staple_rust(seen: BellSeen) -> Reading:
    crown = seen.entry.crown
    if crown is None:
        return UNTOLD
    told = _word(crown.staple_rust)
    if told.value is None and crown.staple in NO_IRON:
        return _without("no iron cast into the crown")
    return told


def _read_straps(seen: BellSeen) -> Reading:
    return _word(seen.entry.crown.straps) if seen.entry.crown else UNTOLD


def _read_bolts(seen: BellSeen) -> Reading:
    return _word(seen.entry.crown.bolts_loose) if seen.entry.crown else UNTOLD


def _read_headstock(seen: BellSeen) -> Reading:
    return _word(seen.entry.fittings.headstock_state) if seen.entry.fittings else UNTOLD


def _of_clapper(read: Callable[[Clapper], Reading]) -> Callable[[BellSeen], Reading]:
    """Make a look at the clapper, which says nothing of one that does not hang there."""

    def look(seen: BellSeen) -> Reading:
        clapper = seen.entry.clapper
        if clapper is None:
            return UNTOLD
        told = read(clapper)
        if told.value is None and clapper.presence in NOT_FITTED:
            return _without("no clapper in the bell")
        return told

    return look


def _presence(clapper: Clapper) -> Reading:
    return _word(clapper.presence)


def _play(field: str) -> Callable[[Clapper], Reading]:
    def read(clapper: Clapper) -> Reading:
        if clapper.pivot in WITHOUT_BUSH:
            return _without("a pivot without a bush")
        return Reading(getattr(clapper, field))

    return read


def _flat(clapper: Clapper) -> Reading:
    if clapper.flat_width_mm is None or clapper.ball_diameter_mm is None:
        return UNTOLD
    return Reading(100.0 * clapper.flat_width_mm / clapper.ball_diameter_mm)


def _shaft(clapper: Clapper) -> Reading:
    return _word(clapper.shaft_touches)


def _hardness(clapper: Clapper) -> Reading:
    return Reading(clapper.hardness_hb)


def _of_fittings(read: Callable[[Fittings], Reading]) -> Callable[[BellSeen], Reading]:
    return lambda seen: UNTOLD if seen.entry.fittings is None else read(seen.entry.fittings)


def _bearings(fittings: Fittings) -> Reading:
    told = _word(fittings.bearings_state)
    if told.value is None and (fittings.bearings == "none" or fittings.headstock == "fixed"):
        return _without("hung dead")
    return told


def _drive(fittings: Fittings) -> Reading:
    told = _word(fittings.drive_state)
    return _without("nothing swings the bell") if told.value is None and fittings.drive == "none" else told


def _clearance(fittings: Fittings) -> Reading:
    if fittings.hammer_clearance_mm is None and fittings.clock_hammer in NOT_FITTED:
        return _without("no hammer")
    return Reading(fittings.hammer_clearance_mm)


def _isolator(fittings: Fittings) -> Reading:
    return _word(fittings.isolator)


def _read_clear_of_swing(seen: BellSeen) -> Reading:
    fittings = seen.entry.fittings
    if fittings is None:
        return UNTOLD
    if fittings.clock_hammer in NOT_FITTED:
        return _without("no hammer")
    ringing = seen.entry.ringing
    if fittings.headstock == "fixed" or (ringing is not None and ringing.style in AT_REST):
        return _without("the bell does not swing")
    return _word(fittings.hammer_clear_of_swing)


def _of_frame(field: str) -> Callable[[BellSeen], Reading]:
    def look(seen: BellSeen) -> Reading:
        frame = seen.frame
        if frame is None:
            return UNTOLD
        told = _word(getattr(frame, field))
        return _without("no frame") if told.value is None and frame.material == "none" else told

    return look


def _read_movement(seen: BellSeen) -> Reading:
    frame = seen.frame
    if frame is None:
        return UNTOLD
    if frame.movement_mm is not None:
        return Reading(frame.movement_mm)
    if frame.material == "none":
        return _without("no frame")
    return Reading(0.0) if frame.moves_when_ringing == "no" else UNTOLD


def _read_style(seen: BellSeen) -> Reading:
    return _word(seen.entry.ringing.style) if seen.entry.ringing else UNTOLD


LOOKS: Mapping[str, Callable[[BellSeen], Reading]] = {
    "argent": _read_argent,
    "broken_loops_percent": _read_broken_loops,
    "staple_rust": _read_staple_rust,
    "straps": _read_straps,
    "bolts_loose": _read_bolts,
    "headstock_state": _read_headstock,
    "clapper_presence": lambda seen: _presence(seen.entry.clapper) if seen.entry.clapper else UNTOLD,
    "play_vertical_mm": _of_clapper(_play("play_vertical_mm")),
    "play_sideways_mm": _of_clapper(_play("play_sideways_mm")),
    "clapper_flat_percent": _of_clapper(_flat),
    "shaft_touches": _of_clapper(_shaft),
    "clapper_hardness_hb": _of_clapper(_hardness),
    "ringing_style": _read_style,
    "bearings_state": _of_fittings(_bearings),
    "drive_state": _of_fittings(_drive),
    "hammer_clearance_mm": _of_fittings(_clearance),
    "hammer_clear_of_swing": _read_clear_of_swing,
    "isolator": _of_fittings(_isolator),
    "frame_loose_joints": _of_frame("loose_joints"),
    "frame_decay": _of_frame("decay"),
    "frame_movement_mm": _read_movement,
}
"""By fact: how one visit is read for it."""
