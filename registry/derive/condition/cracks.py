"""The state of every crack of a bell after all visits: a crack does not heal, and a suspicion stays one.

A suspicion is cleared up only by a later entry of the same crack that names the same place and was made with
more than the naked eye. A confirmed crack counts as mended only where such an entry also tells a repair. A
visit that does not mention a crack leaves it as it was.
"""

from collections.abc import Sequence
from datetime import date
from typing import NamedTuple

from registry.derive.condition.following import CROWN, Sighting, Track, follow_cracks
from registry.derive.condition.loss import tolerance_mm
from registry.derive.condition.rulebook import Rulebook, rulebook
from registry.derive.condition.seen import BellSeen, apart_deg
from registry.model.condition import Crack

WORSE = ("none", "mended", "suspected", "confirmed")
"""States of a crack, each worse than the one before."""


class CrackState(NamedTuple):
    """What is known of one crack after all visits.

    Parameters
    ----------
    number : int
        Its number at the newest visit that told it.
    state : str
        ``none``, ``mended``, ``suspected`` or ``confirmed``.
    told_by : str
        The survey that this state rests on.
    told_on : date
        Its day.
    why_not : str
        Why the newest visit does not settle the state; empty where it does.
    side, position, repair : str or None
        As told last; ``side`` is ``through`` if it ever was.
    unplaced : bool
        Whether its newest sighting did not tell where it is, so that it may be anywhere.
    grown : bool
        Whether marks on the bell or the lengths measured show that it has grown.
    track : Track
        All its sightings.
    """

    number: int
    state: str
    told_by: str
    told_on: date
    why_not: str
    side: str | None
    position: str | None
    repair: str | None
    unplaced: bool
    grown: bool
    track: Track[Crack]

    @property
    def of_the_crown(self) -> bool:
        """Whether it belongs to the crown rather than to the body."""
        return self.position in CROWN

    @property
    def open(self) -> bool:
        """Whether there is, or may be, a crack."""
        return self.state in ("suspected", "confirmed")


def crack_states(history: Sequence[BellSeen], book: Rulebook | None = None) -> tuple[CrackState, ...]:
    """Give the state of every crack that any visit of a history ever suspected, confirmed or mended.

    Parameters
    ----------
    history : sequence of BellSeen
        The visits, the oldest first; the state is that after the last of them.
    book : Rulebook, optional
        Other rules than the shipped ones.
    """
    rules = book or rulebook()
    if not any(seen.entry.cracks for seen in history):
        return ()
    states = [_state(track, history[-1], rules) for track in follow_cracks(history, rules).tracks]
    return tuple(each for each in states if each.state != "none")


def _state(track: Track[Crack], newest: BellSeen, rules: Rulebook) -> CrackState:
    state, told, why_not = "none", track.sightings[0], ""
    open_since: list[Sighting[Crack]] = []
    for sighting in track.sightings:
        crack = sighting.item
        if crack.state != "none":
            open_since.append(sighting)
            if WORSE.index(crack.state) >= WORSE.index(state) or state == "mended":
                state, told, why_not = crack.state, sighting, ""
            else:
                why_not = f"confirmed on {told.seen.day}; a crack does not heal"
            continue
        mended = crack.repaired in rules.settings["mends_a_crack"]["repairs"]
        if not open_since:
            if mended:
                state, told = "mended", sighting
            continue
        doubt = _doubt(open_since, sighting, rules, mended=mended)
        if doubt:
            why_not = f"not cleared up on {sighting.seen.day}: {doubt}"
        else:
            state, told, why_not, open_since = ("mended" if mended else "none"), sighting, "", []
    if not why_not and track.newest.seen.survey_id != newest.survey_id and state != "none":
        why_not = f"not mentioned on {newest.day}"
    cracks = [sighting.item for sighting in open_since or track.sightings]
    return CrackState(
        track.number,
        state,
        told.seen.survey_id,
        told.seen.day,
        why_not,
        _last(cracks, "side", "through"),
        _last(cracks, "position"),
        _last(cracks, "repaired"),
        cracks[-1].position is None,
        _has_grown(open_since, rules),
        track,
    )


def _doubt(
    open_since: Sequence[Sighting[Crack]], looked: Sighting[Crack], rules: Rulebook, *, mended: bool
) -> str:
    """Say why an entry without a crack does not clear up the one before; empty where it does."""
    found = looked.item
    before = [sighting.item for sighting in open_since]
    if found.method not in rules.settings["clears_a_suspicion"]["methods"]:
        return "it was not looked for with more than the naked eye"
    position = _last(before, "position")
    if position is not None and found.position != position:
        return "the entry does not name the same place"
    bearings = [each.bearing_deg for each in open_since if each.bearing_deg is not None]
    within_deg = float(rules.settings["same_place"]["bearing_deg"])
    here_deg = looked.bearing_deg
    if (
        bearings
        and position not in CROWN
        and (here_deg is None or apart_deg(here_deg, bearings[-1]) > within_deg)
    ):
        return "the entry does not name the same bearing"
    if not mended and any(crack.state == "confirmed" for crack in before):
        return "it was confirmed, and no repair is told; a crack does not heal"
    return ""


def _last(cracks: Sequence[Crack], field: str, for_good: str | None = None) -> str | None:
    """Give the last word told; ``for_good`` once told stays."""
    told = [getattr(crack, field) for crack in cracks if getattr(crack, field) is not None]
    if for_good is not None and for_good in told:
        return for_good
    return told[-1] if told else None


def _has_grown(open_since: Sequence[Sighting[Crack]], rules: Rulebook) -> bool:
    """Say whether marks show growth, or a length beyond both errors of reading."""
    if any(sighting.item.growth == "grown" for sighting in open_since):
        return True
    measured = [
        (sighting.item.length_mm, tolerance_mm(sighting.seen, "crack", rules))
        for sighting in open_since
        if sighting.item.length_mm is not None
    ]
    return any(
        later - earlier > error + other
        for place, (earlier, error) in enumerate(measured)
        for later, other in measured[place + 1 :]
    )
