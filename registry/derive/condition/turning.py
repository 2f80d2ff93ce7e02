"""Where a bell can be turned to, so that it is struck on fresh metal: angles clear of pits, cracks and welds.

The clapper stays where it is, so a bell turned clockwise is struck that much further back round its rim. An
angle is clear where none of the new places meets an old pit, a crack or a weld. A mark whose bearing nobody
told can lie anywhere: then no angle is called clear.
"""

import math
from collections.abc import Sequence
from typing import NamedTuple

from registry.derive.condition.cracks import CrackState, crack_states
from registry.derive.condition.following import Followed, follow_strike_points
from registry.derive.condition.rulebook import Rulebook, rulebook
from registry.derive.condition.seen import BellSeen, apart_deg, newest_told, visits_of
from registry.model.condition import StrikePoint


class Obstacle(NamedTuple):
    """A place on the rim that may not be struck; ``half_deg`` is half the angle it takes up."""

    what: str
    bearing_deg: float
    half_deg: float
    is_pit: bool


class Turn(NamedTuple):
    """One way to turn a bell.

    Parameters
    ----------
    angle_deg : float
        By how much the bell is turned, clockwise seen from above [deg]; negative the other way.
    places_deg : tuple of float
        Bearings that would then be struck, from the mark used at the newest visit [deg].
    clear_deg : float
        Least angle left free between a new place and the nearest obstacle, edge to edge [deg].
    clear_of : str
        That obstacle.
    blocked_by : tuple of str
        What stands in the way; empty where the angle is clear.
    source : str
        What the angle rests on.
    """

    angle_deg: float
    places_deg: tuple[float, ...]
    clear_deg: float
    clear_of: str
    blocked_by: tuple[str, ...]
    source: str


class Turning(NamedTuple):
    """What is known on turning a bell.

    Parameters
    ----------
    turns : tuple of Turn
        Clear angles, the best first; empty where there is none, or where nothing can be said.
    blocked : tuple of Turn
        Angles that were looked at and are not clear.
    why_not : str
        Why no angle is given; empty where one is.
    notes : tuple of str
        What must be settled first.
    """

    turns: tuple[Turn, ...]
    blocked: tuple[Turn, ...]
    why_not: str
    notes: tuple[str, ...]


def where_to_turn(history: Sequence[BellSeen], book: Rulebook | None = None) -> Turning:
    """Find the angles by which a bell can be turned to fresh metal.

    Parameters
    ----------
    history : sequence of BellSeen
        What the surveys tell of the bell, the oldest first.
    book : Rulebook, optional
        Other rules than the shipped ones.
    """
    rules = book or rulebook()
    visits = visits_of(history)
    mouth = newest_told(history, lambda seen: getattr(seen.entry.dimensions, "mouth_diameter_mm", None))
    if mouth is None:
        return _nothing("the mouth diameter is not known, so no pit can be turned into an angle")
    if not visits:
        return _nothing("nobody has looked at its strike points")
    followed = follow_strike_points(visits, rules)
    shift_deg = followed.shift_deg[visits[-1].survey_id]
    struck = [track for track in followed.tracks if track.newest.item.use != "old"]
    if not struck:
        return _nothing("no strike point in use was told")
    if any(track.bearing_deg is None for track in struck):
        return _nothing("the bearing of a strike point in use is not known")
    cracks = [crack for crack in crack_states(visits, rules) if not crack.of_the_crown]
    notes = ["a crack must be examined before anything is turned"] if any(c.open for c in cracks) else []
    obstacles, nowhere = _obstacles(followed, cracks, float(mouth[0]), shift_deg, rules)
    if nowhere:
        return _nothing(f"nobody told where {', '.join(nowhere)} lies", notes)
    now_deg = [(track.bearing_deg or 0.0) + shift_deg for track in struck]
    half_deg = max(_half_deg(track.newest.item.pit_length_mm, float(mouth[0]), rules) for track in struck)
    turns = [
        _turn(sign * angle, now_deg, obstacles, half_deg, rule["source"], rules, float(mouth[0]))
        for rule in rules.settings["turning"]
        for angle in rule["angles_deg"]
        for sign in (1.0, -1.0)
    ]
    distinct = _distinct(turns)
    clear = tuple(turn for turn in distinct if not turn.blocked_by)
    why_not = (
        "" if clear else "every angle of the rule meets an old pit, a crack or a weld: the rim is used up"
    )
    return Turning(clear, tuple(turn for turn in distinct if turn.blocked_by), why_not, tuple(notes))


def _nothing(why: str, notes: Sequence[str] = ()) -> Turning:
    return Turning((), (), why, tuple(notes))


def _half_deg(length_mm: float | None, mouth_mm: float, rules: Rulebook) -> float:
    """Give half the angle [deg] that a pit takes up along the rim."""
    default = float(rules.settings["turning_clearance"]["pit_length_mm"])
    return math.degrees((default if length_mm is None else length_mm) / mouth_mm)


def _obstacles(
    followed: Followed[StrikePoint],
    cracks: Sequence[CrackState],
    mouth_mm: float,
    shift_deg: float,
    rules: Rulebook,
) -> tuple[list[Obstacle], list[str]]:
    """Give all obstacles with bearings as of the newest visit, and those that nobody placed."""
    clearance = rules.settings["turning_clearance"]
    found: list[Obstacle] = []
    nowhere: list[str] = []
    for track in followed.tracks:
        name = f"the pit of strike point {track.number}"
        if track.bearing_deg is None:
            nowhere.append(name)
            continue
        bearing_deg = track.bearing_deg + shift_deg
        lengths = [each.item.pit_length_mm for each in track.sightings if each.item.pit_length_mm]
        found.append(
            Obstacle(name, bearing_deg, _half_deg(max(lengths, default=None), mouth_mm, rules), is_pit=True)
        )
        if any(each.item.built_up == "yes" for each in track.sightings):
            weld = f"the weld at strike point {track.number}"
            found.append(Obstacle(weld, bearing_deg, float(clearance["weld_deg"]), is_pit=False))
    for crack in cracks:
        what = "mended crack" if crack.state == "mended" else "crack"
        name = f"the {what} {crack.number}"
        bearing_deg_told = crack.track.bearing_deg
        if bearing_deg_told is None:
            nowhere.append(name)
            continue
        half_deg = float(clearance["weld_deg" if crack.state == "mended" else "crack_deg"])
        found.append(Obstacle(name, bearing_deg_told + shift_deg, half_deg, is_pit=False))
    return found, nowhere


def _turn(  # noqa: PLR0913, PLR0917 - the parts of one angle
    angle_deg: float,
    now_deg: Sequence[float],
    obstacles: Sequence[Obstacle],
    half_deg: float,
    source: str,
    rules: Rulebook,
    mouth_mm: float,
) -> Turn:
    margin_mm = float(rules.settings["turning_clearance"]["pit_margin_mm"])
    margin_deg = math.degrees(2.0 * margin_mm / mouth_mm)
    places = tuple(round((bearing - angle_deg) % 360.0, 1) for bearing in now_deg)
    blocked: list[str] = []
    least, nearest = math.inf, ""
    for obstacle in obstacles:
        apart = min(apart_deg(place, obstacle.bearing_deg) for place in places)
        free_deg = apart - obstacle.half_deg - (half_deg if obstacle.is_pit else 0.0)
        if free_deg < (margin_deg if obstacle.is_pit else 0.0):
            blocked.append(obstacle.what)
        if free_deg < least:
            least, nearest = free_deg, obstacle.what
    return Turn(angle_deg, places, least, nearest, tuple(blocked), source)


def _distinct(turns: Sequence[Turn]) -> list[Turn]:
    """Leave out turns that lead to the same places; within one rule the freest goes first."""
    kept: list[Turn] = []
    for turn in turns:
        same = [
            other
            for other in kept
            if len(other.places_deg) == len(turn.places_deg)
            and all(
                min(apart_deg(place, there) for there in other.places_deg) < 3.0 for place in turn.places_deg
            )
        ]
        if not same:
            kept.append(turn)
    order = list(dict.fromkeys(turn.source for turn in turns))
    return sorted(kept, key=lambda turn: (order.index(turn.source), -turn.clear_deg))
