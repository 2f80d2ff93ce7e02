"""Surveys of one bell laid side by side: each field that any of them told, and how it changed."""

from collections.abc import Sequence
from typing import Any, NamedTuple

from registry.derive.condition.seen import BellSeen
from registry.model.fields import section_fields

SECTIONS = ("identity", "dimensions", "sound", "crown", "clapper", "fittings", "ringing")
NUMBERED = ("strike_points", "cracks", "inscriptions")


class Compared(NamedTuple):
    """One field through the surveys.

    Parameters
    ----------
    section : str
        Its section in the form; ``frame`` for that of the tower.
    number : int or None
        The number of the strike point, crack or inscription.
    field : str
        The field.
    values : tuple
        What each survey told, in the order of the history; None where it told nothing.
    changed : bool
        Whether two surveys that told it differ.
    """

    section: str
    number: int | None
    field: str
    values: tuple[Any, ...]
    changed: bool


def side_by_side(history: Sequence[BellSeen]) -> tuple[Compared, ...]:
    """Lay the surveys of a bell side by side, field by field in the order of the form.

    Parameters
    ----------
    history : sequence of BellSeen
        What the surveys tell of the bell, the oldest first. Strike points and cracks stand by the number they
        were given; which of them is the same place is for ``following`` to say.
    """
    found: list[Compared] = []
    for section in SECTIONS:
        found.extend(_fields(section, None, [getattr(seen.entry, section) for seen in history]))
    found.extend(_fields("frame", None, [seen.frame for seen in history]))
    for section in NUMBERED:
        items = [{item.number: item for item in getattr(seen.entry, section)} for seen in history]
        for number in sorted(set().union(*items)):
            found.extend(_fields(section, number, [each.get(number) for each in items]))
    return tuple(found)


def _fields(section: str, number: int | None, told: Sequence[Any]) -> list[Compared]:
    kind = next((type(each) for each in told if each is not None), None)
    if kind is None:
        return []
    rows = []
    for field in section_fields(kind):
        if field.name == "number" or field.section is not None:
            continue
        values = tuple(_value(each, field.name) for each in told)
        known = [value for value in values if value is not None]
        if known:
            rows.append(
                Compared(section, number, field.name, values, any(value != known[0] for value in known))
            )
    return rows


def _value(section: Any, field: str) -> Any:
    value = getattr(section, field, None)
    return None if value == () else value
