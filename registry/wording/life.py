"""The life of a bell as it is shown: its stays as bars, its events as numbered signs and as a list."""

from collections.abc import Sequence
from datetime import date
from typing import NamedTuple

from registry.derive.condition.slope import decimal_year
from registry.derive.life.merging import LifeEvent, merged
from registry.drawing.life import LifeDrawing, TimeBar, TimeSign, life_drawing
from registry.model.life import days_of
from registry.model.validity import Validity
from registry.model.vocabulary import vocabulary
from registry.store.pages import Row
from registry.wording.words import date_words, day, term

GONE_FOR_GOOD = frozenset({"destroyed", "recast"})
WIDE, NARROW = 640.0, 326.0


class Told(NamedTuple):
    """An event with the number it has in the drawing; None where it has no year to stand at."""

    number: int | None
    event: LifeEvent


class Spent(NamedTuple):
    """A stay in words: where, since and until when, whether it is presumed, and the tower if there is one."""

    words: str
    tower_id: str | None
    since: str
    until: str
    presumed: bool


class LifeShown(NamedTuple):
    """The life of a bell: its events, its stays, and both drawn for wide and narrow windows."""

    events: list[Told]
    stays: list[Spent]
    wide: LifeDrawing | None
    narrow: LifeDrawing | None
    words: str


def life_shown(events: Sequence[Row], stays: Sequence[Row], cast_date: str | None, today: date) -> LifeShown:
    """Show a life.

    Parameters
    ----------
    events : sequence of Row
        Rows of ``event``, the newest survey first.
    stays : sequence of Row
        Rows of ``bell_stay`` with the names of towers, in their order.
    cast_date : str or None
        The date of casting, EDTF, shown as an event where none is told.
    today : date
        The day to which what lasts is drawn.
    """
    told = merged(events)
    if cast_date:
        told = _with_casting(told, cast_date)
    numbered: list[Told] = []
    for event in told:
        placed = event.days != Validity()
        number = sum(each.number is not None for each in numbered) + 1 if placed else None
        numbered.append(Told(number, event))
    signs = [_sign(each.number, each.event) for each in numbered if each.number is not None]
    bars = [_bar(stay) for stay in stays]
    spent = [_spent(stay) for stay in stays]
    now = decimal_year(today)
    return LifeShown(
        numbered,
        spent,
        life_drawing(bars, signs, WIDE, now),
        life_drawing(bars, signs, NARROW, now),
        " ".join(f"{each.words}: {each.since}{', ' + each.until if each.until else ''}." for each in spent),
    )


def _with_casting(told: list[LifeEvent], cast_date: str) -> list[LifeEvent]:
    """Put the date of casting before the events, unless one tells the same; mark those that exclude it."""
    days = days_of(cast_date)
    castings = [event for event in told if event.row["kind"] == "cast"]
    if any(event.days.overlaps(days) for event in castings):
        return told
    names = ("place", "tower", "actor", "other_bell", "turned_by_deg", "source", "certainty", "remarks")
    row: Row = {
        **dict.fromkeys(names),
        "survey_id": None,
        "kind": "cast",
        "date": cast_date,
        "as_written": {},
    }
    rest = [event._replace(contradicted=True) if event in castings else event for event in told]
    return [LifeEvent(row, (), contradicted=bool(castings)), *rest]


def year_of(text: str | None) -> float | None:
    """Give a day, ISO 8601, as a decimal year; None stays None."""
    return None if text is None else decimal_year(date.fromisoformat(text)) if text >= "0001" else 0.0


def _sign(number: int, event: LifeEvent) -> TimeSign:
    days = event.days
    words = f"{term('event_kind', event.row['kind'])}, {date_words(event.row['date'])}"
    return TimeSign(number, year_of(days.first), year_of(days.last), words)


def _place(stay: Row) -> str:
    if stay["state"] == "there":
        named = stay["tower_name"] or stay["tower_id"]
        return f"{named}, {stay['place']}" if stay["place"] else str(named)
    if stay["state"] == "unknown":
        return "nobody tells where"
    words: str = stay["state"]
    known = vocabulary("event_kind" if words in vocabulary("event_kind").terms else "bell_status")
    return known.terms[words].label if words in known.terms else words


def _bar(stay: Row) -> TimeBar:
    kind = "there" if stay["state"] == "there" else "gone" if stay["state"] in GONE_FOR_GOOD else "away"
    lasts = stay["until_latest"] is None and stay["until_earliest"] is None
    return TimeBar(
        _place(stay),
        "unknown" if stay["state"] == "unknown" else kind,
        year_of(stay["from_earliest"]),
        year_of(stay["from_latest"]) or 0.0,
        year_of(stay["until_earliest"]),
        year_of(stay["until_latest"]),
        lasts,
    )


def _spent(stay: Row) -> Spent:
    since = between(stay["from_earliest"], stay["from_latest"])
    ended = stay["until_latest"] is not None
    until = between(stay["until_earliest"], stay["until_latest"]) if ended else ""
    return Spent(
        _place(stay),
        stay["tower_id"],
        f"since {since}",
        f"until {until}" if until else "",
        bool(stay["presumed"]),
    )


def between(first: str | None, last: str | None) -> str:
    """Word the days between which something was: a day, a month, a year, or the two ends.

    Parameters
    ----------
    first, last : str or None
        Days, ISO 8601; None where an end is not known.
    """
    if last is None:
        return "a day nobody tells" if first is None else f"{day(first)} or later"
    if first is None:
        return f"{last[:4] if last[5:] == '12-31' else day(last)} at the latest"
    if first == last:
        return day(first)
    for length in (4, 7):
        text = first[:length]
        if days_of(text) == Validity(first, last):
            return date_words(text)
    if first[5:] == "01-01" and last[5:] == "12-31":
        return f"{int(first[:4])}–{int(last[:4])}"
    return f"between {day(first)} and {day(last)}"
