"""Where a bell was, and between which days, from what all its surveys tell.

Each survey and each event that brings or takes a bell is a mark in time: the place or state of the bell after
it. Marks that say the same make one stay. A stay begins between the last day on which the one before is
certain and the day by which its own first mark has happened. Before its first mark a bell is presumed where
that mark finds it, from its casting on, unless the mark says that it came from elsewhere, as the label of a
museum does.
"""

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from registry.model.life import Happening, Sighting, Stay, days_of
from registry.model.validity import Validity

BROUGHT = frozenset({"hung", "moved", "returned", "found", "sold"})
"""Words of ``event_kind`` after which a bell is in the tower whose survey tells them."""

TAKEN = frozenset({"requisitioned", "stolen", "lost", "hidden"})
"""Words of ``event_kind`` after which it is away, and may come back."""

ENDED = {"destroyed": "destroyed", "recast-into": "recast"}
"""Words of ``event_kind`` after which it is no more, and the word of ``bell_status`` that says so."""

DISPLAYED = "on-display"
"""Word of ``bell_status`` for a bell that is shown: it once came from somewhere."""

AWAY = frozenset({"moved", "requisitioned", "lost", "stolen", "destroyed", "recast"})
"""Words of ``bell_status`` for a bell that is not in the tower of the survey."""

CASTINGS = ("cast", "recast-from", "metal-from")
HUNG_WITHIN_YEARS = 3
"""Years after the casting within which a first hanging brings a bell from its founder.

Common practice, no source.
"""


class Mark(NamedTuple):
    """A place or state from some day on; ``origin`` is the tower it was in before, where that is told."""

    earliest: str | None
    latest: str
    state: str
    tower_id: str
    survey_id: str
    kind: str = ""
    """Word of ``event_kind``; for what the survey found on its own day empty, or ``on-display``."""
    origin: str | None = None


def casting(sightings: Sequence[Sighting]) -> Validity:
    """Give the days on which a bell can have been cast, as the newest survey that tells has it."""
    for seen in reversed(sightings):
        told = [seen.cast_date, *(each.date for each in seen.happenings if each.kind in CASTINGS)]
        date = next((text for text in told if text), None)
        if date is not None:
            return days_of(date)
    return Validity()


def stays_of(sightings: Sequence[Sighting]) -> list[Stay]:
    """Give the stays of a bell in their order.

    Parameters
    ----------
    sightings : sequence of Sighting
        All surveys that have it, the oldest state of things first.
    """
    marks = sorted(
        (mark for seen in sightings for mark in _marks(seen)),
        key=lambda mark: (mark.latest, not mark.kind, mark.earliest or ""),
    )
    if not marks:
        return []
    cast = casting(sightings)
    stays = [_first_stay(marks[0], cast)]
    certain = stays[0].from_latest
    if cast.last is None and marks[0].earliest is not None:
        certain = marks[0].earliest  # of an undated bell nothing is certain before its first event
    for mark in marks:
        last = stays[-1]
        if (mark.state, mark.tower_id) != (last.state, last.tower_id):
            begun = min(max(mark.earliest or certain, certain), mark.latest)
            stays[-1] = last._replace(until_earliest=begun, until_latest=mark.latest)
            stays.append(Stay(mark.state, mark.tower_id, begun, mark.latest, None, None, mark.survey_id))
        certain = max(certain, mark.latest)
    return [stay for stay in stays if stay.state != "unknown" or stay.from_earliest is not None]


def _first_stay(mark: Mark, cast: Validity) -> Stay:
    """Give the stay from the casting to the first mark, which the mark may end."""
    begun = min(cast.last, mark.latest) if cast.last is not None else mark.latest
    earliest = cast.first if cast.first is None or cast.first <= begun else begun
    state, tower = "there", mark.tower_id
    if mark.origin is not None:
        tower = mark.origin
    elif mark.state != "there" or _came_from_elsewhere(mark, cast):
        state, tower = "unknown", ""
    return Stay(
        state,
        tower,
        earliest,
        begun,
        None,
        None,
        mark.survey_id,
        presumed=bool(mark.kind) or mark.state != "there",
    )


def _came_from_elsewhere(mark: Mark, cast: Validity) -> bool:
    """Say whether the first that is told of a bell means that it came from a place nobody tells."""
    if mark.kind != "hung":
        return mark.kind in BROUGHT or mark.kind == DISPLAYED
    years = int((mark.earliest or mark.latest)[:4]) - int((cast.last or "9999")[:4])
    return years > HUNG_WITHIN_YEARS


def _marks(seen: Sighting) -> Iterator[Mark]:
    """Give the marks of one survey: its events, then what it found on its own day."""
    events = [mark for event in seen.happenings if (mark := _mark_of(event, seen)) is not None]
    yield from events
    last = max(events, key=lambda mark: mark.latest, default=None)
    if seen.status not in AWAY:
        kind = DISPLAYED if seen.status == DISPLAYED else ""
        yield Mark(None, seen.day, "there", seen.tower_id, seen.survey_id, kind)
    elif last is None:
        yield Mark(None, seen.day, seen.status, "", seen.survey_id, origin=seen.tower_id)
    elif last.state != seen.status and not (seen.status == "moved" and last.state == "there"):
        # What a later hand added to a document came after what it tells of.
        yield Mark(None, max(seen.told_on, last.latest), seen.status, "", seen.survey_id)


def _mark_of(event: Happening, seen: Sighting) -> Mark | None:
    """Give the mark an event makes; None where it moves nothing."""
    state, tower, origin = _effect(event, seen)
    if not state:
        return None
    days = days_of(event.date)
    latest = min(days.last, seen.told_on) if days.last is not None else seen.told_on
    earliest = days.first if days.first is None or days.first <= latest else latest
    return Mark(earliest, latest, state, tower, seen.survey_id, event.kind, origin)


def _effect(event: Happening, seen: Sighting) -> tuple[str, str, str | None]:
    """Give state and tower after an event, and the tower before it; no state where it moves nothing."""
    here = seen.tower_id
    if event.kind in ENDED:
        return ENDED[event.kind], "", here
    if event.kind in TAKEN:
        elsewhere = any(each.kind in ("found", "moved") for each in seen.happenings)
        return event.kind, "", event.tower or (None if elsewhere else here)
    if event.kind in ("moved", "sold") and seen.status == "moved":
        return ("there", event.tower, here) if event.tower else ("moved", "", here)
    if event.kind not in BROUGHT or event.kind == "sold":
        return "", "", None  # sold: another owner, and nothing says that it left
    if event.kind == "moved" and event.tower not in ("", here):
        return "there", here, event.tower
    return "there", event.tower if event.kind == "hung" and event.tower else here, None
