"""The events that several surveys tell of one bell, each once, with the dates that contradict each other."""

from collections.abc import Mapping, Sequence
from typing import Any, NamedTuple

from registry.model.life import days_of
from registry.model.validity import Validity

ONCE = frozenset({"cast", "recast-into", "destroyed"})
"""Words of ``event_kind`` for what happens to a bell only once."""

Row = Mapping[str, Any]


class LifeEvent(NamedTuple):
    """An event: as told best, by whom else, and whether the dates of some exclude each other.

    ``row`` is that with the narrowest date, of several the newest; ``others`` tell the same.
    """

    row: Row
    others: tuple[Row, ...]
    contradicted: bool

    @property
    def days(self) -> Validity:
        """The days it can have happened on."""
        return days_of(self.row["date"] or "")


def merged(events: Sequence[Row]) -> list[LifeEvent]:
    """Put events that surveys tell of one bell together.

    Two are the same where kind, other bell and tower do not contradict and one date lies within the other.
    Of what happens only once an undated event is the same as the dated one, and dates that exclude each
    other are marked.

    Parameters
    ----------
    events : sequence of mapping
        Rows with ``kind``, ``date``, ``tower``, ``other_bell``, the newest survey first.

    Returns
    -------
    list of LifeEvent
        In the order of their dates, the undated ones last.
    """
    groups: list[list[Row]] = []
    for row in sorted(events, key=lambda each: each["date"] is None):
        home = next((group for group in groups if _is_same(row, group[0])), None)
        if home is None:
            groups.append([row])
        else:
            home.append(row)
            home.sort(key=lambda each: _width(each["date"]))
    found = []
    for group in groups:
        rivals = [other for other in groups if other is not group and _exclude(group[0], other[0])]
        found.append(LifeEvent(group[0], tuple(group[1:]), bool(rivals)))
    return sorted(found, key=_order)


def _is_same(row: Row, other: Row) -> bool:
    if row["kind"] != other["kind"]:
        return False
    for key in ("other_bell", "tower", "turned_by_deg"):
        if row.get(key) is not None and other.get(key) is not None and row[key] != other[key]:
            return False
    if row["date"] == other["date"]:
        return True
    if row["date"] is None or other["date"] is None:
        return row["kind"] in ONCE
    one, two = days_of(row["date"]), days_of(other["date"])
    return _within(one, two) or _within(two, one)


def _within(inner: Validity, outer: Validity) -> bool:
    starts = outer.first is None or (inner.first is not None and inner.first >= outer.first)
    return starts and (outer.last is None or (inner.last is not None and inner.last <= outer.last))


def _width(date: str | None) -> tuple[bool, int]:
    days = days_of(date or "")
    if days.first is None or days.last is None:
        return True, 0
    return False, int(days.last.replace("-", "")) - int(days.first.replace("-", ""))


def _exclude(row: Row, other: Row) -> bool:
    if (
        row["kind"] != other["kind"]
        or row["kind"] not in ONCE
        or row["date"] is None
        or other["date"] is None
    ):
        return False
    return not days_of(row["date"]).overlaps(days_of(other["date"]))


def _order(event: LifeEvent) -> tuple[bool, str, str]:
    days = event.days
    return days == Validity(), days.first or days.last or "", days.last or "9999"
