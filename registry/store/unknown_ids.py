"""Ids in a question that nothing in the registry has: a slip answers with no bell at all."""

import sqlite3
from difflib import get_close_matches
from typing import NamedTuple

from registry.questions.query import BellQuery

_KNOWN = {
    "tower": "SELECT id FROM tower",
    "founder": "SELECT id FROM founder UNION SELECT founder_id FROM attribution",
    "region": "SELECT id FROM region UNION SELECT region_id FROM tower_region",
}
"""Where the ids of each kind stand."""


class UnknownId(NamedTuple):
    """An id that nothing has; ``near`` is the one that looks most like it, None where none does."""

    kind: str
    id: str
    near: str | None


def unknown_ids(conn: sqlite3.Connection, query: BellQuery) -> list[UnknownId]:
    """List the ids asked for that the registry does not know, in the order of towers, founders, regions."""
    asked = {
        "tower": (query.tower_id,) if query.tower_id is not None else (),
        "founder": query.founder_id,
        "region": query.region,
    }
    found: list[UnknownId] = []
    for kind, ids in asked.items():
        known = {row[0] for row in conn.execute(_KNOWN[kind])} if ids else set()
        found += (
            UnknownId(kind, id_, next(iter(get_close_matches(id_, known, 1)), None))
            for id_ in ids
            if id_ not in known
        )
    return found
