"""Whether two records can be one bell, by where and when each was seen, and what ties them already."""

from typing import NamedTuple

from registry.derive.identity.rules import rules
from registry.model.known import GONE


class Sighting(NamedTuple):
    """One survey that tells of a bell: where, of which day (``YYYY-MM-DD``), and what had become of it."""

    tower_id: str
    day: str
    visit: bool
    status: str | None
    survey_id: str


class Tie(NamedTuple):
    """An event of one bell that names another: its kind, the other, and the survey that tells."""

    kind: str
    other: str
    survey_id: str


class Life(NamedTuple):
    """What surveys tell of the life of a bell, as far as it decides whether two records can be one."""

    sightings: tuple[Sighting, ...]
    ties: tuple[Tie, ...]


class Verdict(NamedTuple):
    """What the lives of two records say of their being one bell.

    Parameters
    ----------
    possible : bool
        Whether they can be one.
    told_apart : bool
        Whether one survey tells of both, so that whoever made it knew two bells.
    tied : bool
        Whether an event of one names the other already, so that nothing need be proposed.
    ratio : float
        Factor on the odds, at most 1.
    why : str
        The reason, in words; empty where nothing speaks against it.
    """

    possible: bool = True
    told_apart: bool = False
    tied: bool = False
    ratio: float = 1.0
    why: str = ""


def verdict(one_id: str, one: Life, other_id: str, other: Life) -> Verdict:
    """Say whether two records can be one bell by their lives."""
    for life, named in ((one, other_id), (other, one_id)):
        for tie in life.ties:
            if tie.other == named:
                return Verdict(possible=False, tied=True, why=f"an event ties them already: {tie.kind}")
    shared = {seen.survey_id for seen in one.sightings} & {seen.survey_id for seen in other.sightings}
    if shared:
        return Verdict(possible=False, told_apart=True, why=f"the survey {min(shared)} tells of both")
    for visits in (True, False):
        days = _in_two_places(one, other, visits=visits)
        if days and visits:
            return Verdict(possible=False, why=f"visits saw them in two towers at one time, {days}")
        if days:
            ratio = float(rules()["twins"]["documents_overlap"])
            return Verdict(ratio=ratio, why=f"documents have them in two towers at one time, {days}")
    if _at_home(one) and _at_home(other):
        return Verdict(ratio=float(rules()["twins"]["both_at_home"]), why="visits saw each in its own tower")
    return Verdict()


def _present(life: Life, *, visits: bool) -> list[Sighting]:
    """Give the sightings of a bell in its place."""
    return [seen for seen in life.sightings if seen.status not in GONE and (seen.visit or not visits)]


def _in_two_places(one: Life, other: Life, *, visits: bool) -> str:
    """Give days that show two bells in two towers at one time: one between two sightings of the other."""
    for stays, passing in ((one, other), (other, one)):
        there = _present(stays, visits=visits)
        for seen in _present(passing, visits=visits):
            elsewhere = [each.day for each in there if each.tower_id != seen.tower_id]
            before = [day for day in elsewhere if day <= seen.day]
            after = [day for day in elsewhere if day >= seen.day]
            if before and after:
                return f"{max(before)[:4]} to {min(after)[:4]}"
    return ""


def _at_home(life: Life) -> bool:
    """Say whether the newest word of a bell is a visit that saw it in its place."""
    newest = life.sightings[-1] if life.sightings else None
    return newest is not None and newest.visit and newest.status in ("hanging", None)
