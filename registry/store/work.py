"""What is to be done and when to look again, as worked out at the load, for lists of a whole registry."""

import json
import sqlite3
from collections.abc import Sequence

from registry.model.derived import Derived
from registry.store.pages import dict_rows
from registry.store.rows import to_json


def read_masses(conn: sqlite3.Connection, bell_ids: Sequence[str]) -> dict[str, Derived]:
    """Read the preferred estimate of the mass [kg] of some bells; those without one are left out."""
    rows = dict_rows(
        conn,
        "SELECT * FROM derived WHERE quantity = 'mass_kg' AND rank = 1"
        " AND bell_id IN (SELECT value FROM json_each(?))",
        (to_json(list(bell_ids)),),
    )
    names = Derived._fields
    return {
        row["bell_id"]: Derived(
            **{**{name: row[name] for name in names}, "inputs": json.loads(row["inputs"])}
        )
        for row in rows
    }
