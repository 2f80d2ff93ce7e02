"""The same strike point and the same crack followed through the visits, by number and by place.

A number alone is not trusted: where bearings were told they must agree. Where all numbers are shifted by one
angle, the reference mark stands on the tower and the bell was turned, or another mark was used. Where a point
stands where another one stood, it is that one, renumbered. A pit that has become shallower, and was not built
up, is another pit. Whatever was not plain is told.
"""

from collections.abc import Callable, Iterable, Mapping, Sequence
from typing import Generic, NamedTuple, Protocol, TypeVar

from registry.derive.condition.rulebook import Rulebook, rulebook
from registry.derive.condition.seen import BellSeen, apart_deg
from registry.model.condition import Crack, StrikePoint

CROWN = frozenset({"crown", "canons"})
"""Places of cracks that belong to the crown, where a bearing says little."""


class Placed(Protocol):
    """What can be followed: it has a number and may have a bearing."""

    @property
    def number(self) -> int:
        """Its number at that visit."""

    @property
    def bearing_deg(self) -> float | None:
        """Its bearing [deg], where it was told."""


T = TypeVar("T", bound=Placed)


class Sighting(NamedTuple, Generic[T]):
    """One thing as one survey saw it; ``bearing_deg`` counts from the mark of the first survey."""

    seen: BellSeen
    item: T
    bearing_deg: float | None


class Track(NamedTuple, Generic[T]):
    """One place through the visits, the oldest sighting first."""

    sightings: tuple[Sighting[T], ...]

    @property
    def number(self) -> int:
        """Its number at the newest visit that told it."""
        return self.sightings[-1].item.number

    @property
    def newest(self) -> Sighting[T]:
        """The newest sighting."""
        return self.sightings[-1]

    @property
    def bearing_deg(self) -> float | None:
        """The newest bearing told, from the mark of the first survey [deg]."""
        told = [each.bearing_deg for each in self.sightings if each.bearing_deg is not None]
        return told[-1] if told else None


class Followed(NamedTuple, Generic[T]):
    """All places of one bell.

    Parameters
    ----------
    tracks : tuple of Track
        One for each place.
    remarks : tuple of str
        What was not plain in following them.
    shift_deg : mapping of str to float
        By survey: how far its bearings are shifted against those of the first survey [deg].
    """

    tracks: tuple[Track[T], ...]
    remarks: tuple[str, ...]
    shift_deg: Mapping[str, float]


class _Way(NamedTuple, Generic[T]):
    """How things of one kind are told apart."""

    what: str
    within_deg: float
    bearing_tells: Callable[[T, T], bool]
    may_continue: Callable[[T, T], bool]


Pairs = list[tuple[int, T]]
"""Tracks by their place in the list, each with what continues it."""


def follow_strike_points(history: Sequence[BellSeen], book: Rulebook | None = None) -> Followed[StrikePoint]:
    """Follow the strike points of a bell.

    Parameters
    ----------
    history : sequence of BellSeen
        What the surveys tell of it, the oldest first.
    book : Rulebook, optional
        Other rules than the shipped ones.
    """
    rule = (book or rulebook()).settings["same_place"]
    shallower_mm = float(rule["shallower_mm"])

    def may_continue(old: StrikePoint, new: StrikePoint) -> bool:
        if old.use == "old" and new.use == "in-use":
            return False
        if old.pit_depth_mm is None or new.pit_depth_mm is None or new.built_up == "yes":
            return True
        return new.pit_depth_mm >= old.pit_depth_mm - shallower_mm

    way = _Way[StrikePoint]("strike point", float(rule["bearing_deg"]), lambda _old, _new: True, may_continue)
    return _follow([(seen, seen.entry.strike_points) for seen in history], way, {})


def follow_cracks(history: Sequence[BellSeen], book: Rulebook | None = None) -> Followed[Crack]:
    """Follow the cracks of a bell, and the entries that say that none was found.

    Parameters
    ----------
    history : sequence of BellSeen
        What the surveys tell of it, the oldest first.
    book : Rulebook, optional
        Other rules than the shipped ones.
    """
    rules = book or rulebook()

    def may_continue(old: Crack, new: Crack) -> bool:
        return None in (old.position, new.position) or (old.position in CROWN) == (new.position in CROWN)

    way = _Way[Crack](
        "crack",
        float(rules.settings["same_place"]["bearing_deg"]),
        lambda old, new: CROWN.isdisjoint((old.position, new.position)),
        may_continue,
    )
    shift_deg = follow_strike_points(history, rules).shift_deg
    return _follow([(seen, seen.entry.cracks) for seen in history], way, shift_deg)


def _follow(
    visits: Iterable[tuple[BellSeen, Sequence[T]]], way: _Way[T], known_shift_deg: Mapping[str, float]
) -> Followed[T]:
    tracks: list[list[Sighting[T]]] = []
    remarks: list[str] = []
    shifts_deg: dict[str, float] = {}
    shift_deg = 0.0
    for seen, items in visits:
        shift_deg = known_shift_deg.get(seen.survey_id, shift_deg)
        left = sorted(items, key=lambda item: item.number)
        extra_deg = _shift(tracks, left, shift_deg, way, _told_turns(seen))
        if extra_deg:
            shift_deg = (shift_deg + extra_deg) % 360.0
            remarks.append(
                f"the {way.what}s of {seen.day} stand about {extra_deg:.0f}° on from before: another"
                " reference mark, or a mark on the tower and a bell that was turned"
            )
        shifts_deg[seen.survey_id] = shift_deg
        pairs = _by_number(tracks, left, shift_deg, way)
        renumbered = _by_place(tracks, left, pairs, shift_deg, way)
        for track, item in sorted(renumbered, key=lambda each: each[1].number):
            remarks.append(
                f"{way.what} {item.number} of {seen.day} stands where {way.what}"
                f" {tracks[track][-1].item.number} stood before: taken for that one, renumbered"
            )
        pairs += renumbered
        matched = {item.number for _, item in pairs}
        fresh = [item for item in left if item.number not in matched]
        numbers_before = {track[-1].item.number for track in tracks}
        remarks.extend(
            f"{way.what} {item.number} of {seen.day} is not where, or not what, it was before: taken for"
            " another one"
            for item in fresh
            if item.number in numbers_before
        )
        for track, item in pairs:
            tracks[track].append(Sighting(seen, item, _unshifted(item, shift_deg)))
        tracks.extend([Sighting(seen, item, _unshifted(item, shift_deg))] for item in fresh)
    return Followed(tuple(Track(tuple(track)) for track in tracks), tuple(remarks), shifts_deg)


def _unshifted(item: Placed, shift_deg: float) -> float | None:
    return None if item.bearing_deg is None else (item.bearing_deg - shift_deg) % 360.0


def _told_turns(seen: BellSeen) -> list[float]:
    """Give the angles [deg] by which the survey says the bell was turned, in both directions."""
    told = [event.turned_by_deg for event in seen.entry.events if event.kind == "turned"]
    told += [point.turned_by_deg for point in seen.entry.strike_points]
    return [turn for angle in told if angle for turn in (angle, 360.0 - angle)]


def _agrees(track: Sequence[Sighting[T]], item: T, shift_deg: float, way: _Way[T]) -> bool | None:
    """Say whether a thing stands where a track stood; None where no bearing tells."""
    before_deg, now_deg = Track(tuple(track)).bearing_deg, _unshifted(item, shift_deg)
    if before_deg is None or now_deg is None or not way.bearing_tells(track[-1].item, item):
        return None
    return apart_deg(before_deg, now_deg) <= way.within_deg


def _shift(
    tracks: Sequence[Sequence[Sighting[T]]],
    left: Sequence[T],
    shift_deg: float,
    way: _Way[T],
    told_turns: Sequence[float],
) -> float:
    """Find the angle [deg] by which all numbered places are shifted together; 0 where they are not.

    Two places are needed, or one where the survey tells a turn by that angle. Two places that merely changed
    their numbers are no shift.
    """
    turns_deg = []
    for item in left:
        for track in tracks:
            before_deg, now_deg = Track(tuple(track)).bearing_deg, _unshifted(item, shift_deg)
            if track[-1].item.number != item.number or before_deg is None or now_deg is None:
                continue
            if way.bearing_tells(track[-1].item, item) and way.may_continue(track[-1].item, item):
                turns_deg.append((now_deg - before_deg) % 360.0)
    if not turns_deg or any(apart_deg(turn, turns_deg[0]) > way.within_deg for turn in turns_deg):
        return 0.0
    turn_deg = turns_deg[0]
    told = any(apart_deg(turn_deg, angle) <= way.within_deg for angle in told_turns)
    if apart_deg(turn_deg, 0.0) <= way.within_deg or (len(turns_deg) < 2 and not told):
        return 0.0
    if not told and len(_by_place(tracks, left, [], shift_deg, way)) == len(left):
        return 0.0
    return turn_deg


def _by_number(
    tracks: Sequence[Sequence[Sighting[T]]], left: Sequence[T], shift_deg: float, way: _Way[T]
) -> Pairs[T]:
    """Match what has one number and nothing that contradicts it, places that agree first."""
    pairs: Pairs[T] = []
    for sure in (True, None):
        for item in left:
            taken = {track for track, _ in pairs}
            fitting = [
                place
                for place, track in enumerate(tracks)
                if place not in taken
                and track[-1].item.number == item.number
                and way.may_continue(track[-1].item, item)
                and _agrees(track, item, shift_deg, way) is sure
            ]
            if fitting and all(item.number != other.number for _, other in pairs):
                pairs.append((max(fitting, key=lambda place: tracks[place][-1].seen.day), item))
    return pairs


def _by_place(
    tracks: Sequence[Sequence[Sighting[T]]],
    left: Sequence[T],
    pairs: Sequence[tuple[int, T]],
    shift_deg: float,
    way: _Way[T],
) -> Pairs[T]:
    """Match what stands at one bearing under different numbers, nearest first, each once."""
    taken, matched = {track for track, _ in pairs}, {item.number for _, item in pairs}
    near = []
    for place, track in enumerate(tracks):
        before_deg = Track(tuple(track)).bearing_deg
        for item in left:
            now_deg = _unshifted(item, shift_deg)
            if before_deg is None or now_deg is None or place in taken or item.number in matched:
                continue
            if way.may_continue(track[-1].item, item) and _agrees(track, item, shift_deg, way):
                near.append((apart_deg(before_deg, now_deg), place, item.number, item))
    found: Pairs[T] = []
    for _, place, _, item in sorted(near, key=lambda each: each[:3]):
        if all(place != other and item.number != there.number for other, there in found):
            found.append((place, item))
    return found
