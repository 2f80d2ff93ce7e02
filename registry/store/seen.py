"""What all surveys tell of some bells, read back from the tables as the sections of the form."""

import json
import sqlite3
from collections import defaultdict
from collections.abc import Callable, Iterator, Mapping, Sequence
from datetime import date
from functools import cache
from typing import Any

from registry.derive.condition.seen import OF_THE_TOWER, BellSeen, History
from registry.model.bell import Identity
from registry.model.survey import BellEntry
from registry.model.tower import Tower
from registry.store.rows import OF_BELL, TABLES, to_json
from registry.store.tables import SectionTable, value_fields

BATCH = 400
"""Bells that are held in memory at a time."""

Sections = dict[tuple[str, ...], list[Any]]
"""Sections by the survey, or by survey and bell, that tells them, in the order of the form."""

_OF_PLACE = ("instrument", "not_inspected", "tower_seen", "frame", "hazard", "assessment")
"""Tables of what a survey tells beside its bells, as far as a bell's history has it."""

_SURVEYS_ASKED = "SELECT survey_id FROM bell_seen WHERE bell_id IN (SELECT value FROM json_each(:bells))"


@cache
def _maker(section: type[tuple[Any, ...]]) -> Callable[..., Any]:
    """Give what makes a section from the values of its columns and the sections it holds, by their names."""
    fields = value_fields(section)
    names = tuple(field.name for field in fields)
    lists = tuple(place for place, field in enumerate(fields) if field.is_list)

    def make(values: Sequence[Any], **held: Any) -> Any:
        told = list(values)
        for place in lists:
            told[place] = tuple(json.loads(told[place])) if told[place] is not None else ()
        return section(**dict(zip(names, told, strict=True)), **held)

    return make


@cache
def _query(table: SectionTable) -> str:
    """Write the query for the rows of one table: its owners first, then the values of the section."""
    owners = [f"{table.name}.survey_id"]
    if table.of_bell:
        owners.append(f"{table.name}.bell_id")
    if table.section is Tower:
        owners.append(f"{table.name}.tower_id")
    columns = [*owners, *(f'{table.name}."{field.name}"' for field in value_fields(table.section))]
    order = [f"{table.name}.{table.counted_by}"] if table.counted_by else []
    if table.of_bell:
        # The key begins with the survey, so the way over bell_seen has an index.
        joined = "" if table.section is Identity else f" JOIN {table.name} USING (survey_id, bell_id)"
        source = f"bell_seen{joined} WHERE bell_seen.bell_id IN (SELECT value FROM json_each(:bells))"
    else:
        source = f"{table.name} WHERE survey_id IN ({_SURVEYS_ASKED})"
    ordered = f" ORDER BY {', '.join(order)}" if order else ""
    return f"SELECT {', '.join(columns)} FROM {source}{ordered}"


def _rows(conn: sqlite3.Connection, name: str, bells: str) -> Iterator[tuple[tuple[str, ...], Sequence[Any]]]:
    """Give the rows of a table, each with its owners apart from its values."""
    table = TABLES[name]
    owners = 2 if table.of_bell else 1
    cursor = conn.cursor()
    cursor.row_factory = None
    for row in cursor.execute(_query(table), {"bells": bells}):
        yield row[:owners], row[owners:]


def _read(conn: sqlite3.Connection, name: str, bells: str) -> Sections:
    make = _maker(TABLES[name].section)
    found: Sections = defaultdict(list)
    for owner, values in _rows(conn, name, bells):
        if name == "tower_seen":
            found[owner].append(make(values[1:], id=values[0]))
        else:
            found[owner].append(make(values))
    return found


def _entries(conn: sqlite3.Connection, bells: str) -> dict[tuple[str, ...], BellEntry]:
    """Read the entries of the bells by survey and bell.

    An identity that tells nothing is None: the tables do not tell it from one that was left out.
    """
    sections = {name: _read(conn, name, bells) for name, holder, _ in OF_BELL if holder}
    holders: defaultdict[str, list[tuple[str, str]]] = defaultdict(list)
    for name, holder, key in OF_BELL:
        if holder:
            holders[holder].append((name, key))

    def held(holder: str, owner: tuple[str, ...]) -> dict[str, Any]:
        return {key: tuple(sections[name].get(owner, ())) for name, key in holders[holder]}

    parts: defaultdict[tuple[str, ...], dict[str, Any]] = defaultdict(dict)
    for name, holder, key in OF_BELL:
        if holder:
            continue
        make = _maker(TABLES[name].section)
        for owner, values in _rows(conn, name, bells):
            section = make(values, **held(key, owner))
            if TABLES[name].counted_by:
                parts[owner][key] = (*parts[owner].get(key, ()), section)
            else:
                parts[owner][key] = section
    make = _maker(Identity)
    entries = {}
    for owner, values in _rows(conn, "bell_seen", bells):
        identity = make(values, **held("identity", owner))
        entries[owner] = BellEntry(owner[1], None if identity == Identity() else identity, **parts[owner])
    return entries


def read_seen(conn: sqlite3.Connection, bell_ids: Sequence[str]) -> dict[str, History]:
    """Read what all surveys tell of some bells, wherever they hung, the oldest first.

    Parameters
    ----------
    conn : Connection
        The registry.
    bell_ids : sequence of str
        The bells; those that no survey mentions are left out. All are held in memory: for a whole registry
        go by `each_history`.
    """
    bells = to_json(list(bell_ids))
    entries = _entries(conn, bells)
    of_place = {name: _read(conn, name, bells) for name in _OF_PLACE}
    surveys = conn.execute(
        f"SELECT id, as_of, kind FROM survey WHERE id IN ({_SURVEYS_ASKED})",
        {"bells": bells},
    )
    visits = {row[0]: (date.fromisoformat(row[1]), row[2]) for row in surveys}
    found: dict[str, list[BellSeen]] = {bell_id: [] for bell_id in bell_ids}
    for (survey_id, bell_id), entry in entries.items():
        day, kind = visits[survey_id]
        found[bell_id].append(_seen(survey_id, day, kind, entry, of_place))
    return {
        bell_id: tuple(sorted(history, key=lambda seen: (seen.day, seen.survey_id)))
        for bell_id, history in found.items()
        if history
    }


def _seen(
    survey_id: str, day: date, kind: str, entry: BellEntry, of_place: Mapping[str, Sections]
) -> BellSeen:
    told = {name: sections.get((survey_id,), []) for name, sections in of_place.items()}
    return BellSeen(
        survey_id,
        day,
        kind,
        entry,
        told["tower_seen"][0],
        next(iter(told["frame"]), None),
        tuple(told["hazard"]),
        tuple(
            each
            for each in told["assessment"]
            if each.bell == entry.id or (each.bell is None and each.component in OF_THE_TOWER)
        ),
        tuple(each for each in told["not_inspected"] if each.bell in (None, entry.id)),
        tuple(told["instrument"]),
    )


def each_history(
    conn: sqlite3.Connection, bell_ids: Sequence[str] | None = None
) -> Iterator[tuple[str, History]]:
    """Give bell after bell with what all surveys tell of it, a batch in memory at a time.

    Parameters
    ----------
    conn : Connection
        The registry.
    bell_ids : sequence of str, optional
        The bells, in their order; all of the registry by id unless given.
    """
    if bell_ids is None:
        bell_ids = [row[0] for row in conn.execute("SELECT DISTINCT bell_id FROM bell_seen ORDER BY bell_id")]
    for first in range(0, len(bell_ids), BATCH):
        yield from read_seen(conn, bell_ids[first : first + BATCH]).items()
