"""What is to be done and when to look again, as worked out at the load, for lists of a whole registry."""

import json
import sqlite3
from collections.abc import Sequence
from datetime import date
from typing import Any, NamedTuple

from registry.derive.condition.seen import OF_THE_TOWER
from registry.model.derived import Derived
from registry.store.pages import Row, dict_rows
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


class WorkQuery(NamedTuple):
    """What to list. Every filter that is set must hold; within a list of values one is enough.

    Parameters
    ----------
    tower_id, region, component : tuple of str
        Wanted towers, regions of towers, and components (of things to do alone).
    urgency : int
        Things to do as urgent as this or more.
    until : date or None
        Inspections due by this day.
    """

    tower_id: tuple[str, ...] = ()
    region: tuple[str, ...] = ()
    component: tuple[str, ...] = ()
    urgency: int = 0
    until: date | None = None


_OF_TOWER = ", ".join(f"'{name}'" for name in sorted(OF_THE_TOWER))

_TO_DO = f"""
    SELECT to_do.urgency, to_do.recommendation, bell.tower_id, bell.tower_name, bell.place, bell.region,
        iif(to_do.component IN ({_OF_TOWER}), NULL, bell.id) AS bell_id,
        iif(to_do.component IN ({_OF_TOWER}), NULL, bell.name) AS bell_name,
        to_do.component, to_do.do, to_do.found, to_do.rule, to_do.survey_id, max(survey.as_of) AS survey_date,
        to_do.source
    FROM to_do
    JOIN bell_current AS bell ON bell.id = to_do.bell_id
    LEFT JOIN survey ON survey.id = to_do.survey_id
    WHERE to_do.urgency >= :urgency AND (to_do.urgency > 0 OR to_do.recommendation > 0){{filters}}
    GROUP BY bell.tower_id, iif(to_do.component IN ({_OF_TOWER}), NULL, bell.id), to_do.rule, to_do.found
    ORDER BY to_do.urgency DESC, to_do.recommendation DESC, bell.tower_id, bell_id, to_do.rule, to_do.found
"""
"""What belongs to a tower stands once, as the newest survey found it, however many bells hang there."""

_INSPECTIONS = """
    SELECT coalesce(inspection_due.due, :on) AS due, inspection_due.kind, bell.tower_id, bell.tower_name,
        bell.place, bell.region, bell.id AS bell_id, bell.name AS bell_name, inspection_due.why,
        inspection_due.source
    FROM inspection_due
    JOIN bell_current AS bell ON bell.id = inspection_due.bell_id
    WHERE (:until IS NULL OR coalesce(inspection_due.due, :on) <= :until){filters}
    ORDER BY 1, bell.tower_id, bell.id, inspection_due.kind
"""


class WorkCounts(NamedTuple):
    """How much there is to do, how much of it at once, and how many inspections are to come."""

    to_do: int
    at_once: int
    inspections: int


def _chosen(query: WorkQuery, columns: dict[str, str]) -> tuple[str, dict[str, str]]:
    """Write the conditions on columns that take one of several values."""
    asked = {name: values for name in columns if (values := getattr(query, name))}
    filters = "".join(f" AND {columns[name]} IN (SELECT value FROM json_each(:{name}))" for name in asked)
    return filters, {name: to_json(values) for name, values in asked.items()}


def read_to_do(
    conn: sqlite3.Connection, query: WorkQuery | None = None, *, limit: int = -1, offset: int = 0
) -> list[Row]:
    """List what is to be done across a registry, the most urgent first; what is only told beside is left out.

    Parameters
    ----------
    conn : Connection
        The registry.
    query : WorkQuery, optional
        What to list; everything unless given.
    limit, offset : int
        How many lines to give, and how many to leave out before them; a negative limit gives all.

    Returns
    -------
    list of dict
        ``urgency`` and ``recommendation`` 0 to 3, tower, place and region, bell (None for what belongs to the
        tower), component, what to do, what was found, the rule, the survey that found it with its day, and
        the source of the rule.
    """
    sql, values = _to_do(query or WorkQuery())
    return dict_rows(conn, f"{sql} LIMIT :limit OFFSET :offset", {**values, "limit": limit, "offset": offset})


def _to_do(query: WorkQuery) -> tuple[str, dict[str, Any]]:
    filters, values = _chosen(
        query, {"tower_id": "bell.tower_id", "region": "bell.region", "component": "to_do.component"}
    )
    return _TO_DO.format(filters=filters), {"urgency": query.urgency, **values}


def read_inspections(
    conn: sqlite3.Connection,
    on: date,
    query: WorkQuery | None = None,
    *,
    limit: int = -1,
    offset: int = 0,
) -> list[Row]:
    """List the inspections that come next, the first one first; they may lie in the past.

    Parameters
    ----------
    conn : Connection
        The registry.
    on : date
        The day of asking: what is due at once is due then.
    query : WorkQuery, optional
        What to list; everything unless given.
    limit, offset : int
        How many lines to give, and how many to leave out before them; a negative limit gives all.
    """
    sql, values = _inspections(on, query or WorkQuery())
    return dict_rows(conn, f"{sql} LIMIT :limit OFFSET :offset", {**values, "limit": limit, "offset": offset})


def _inspections(on: date, query: WorkQuery) -> tuple[str, dict[str, Any]]:
    filters, values = _chosen(query, {"tower_id": "bell.tower_id", "region": "bell.region"})
    until = query.until.isoformat() if query.until else None
    return _INSPECTIONS.format(filters=filters), {"on": on.isoformat(), "until": until, **values}


def count_work(conn: sqlite3.Connection, on: date, query: WorkQuery | None = None) -> WorkCounts:
    """Count what `read_to_do` and `read_inspections` would list."""
    asked = query or WorkQuery()
    sql, values = _to_do(asked)
    to_do, at_once = conn.execute(
        f"SELECT count(*), count(*) FILTER (WHERE urgency = 3) FROM ({sql})", values
    ).fetchone()
    sql, values = _inspections(on, asked)
    (inspections,) = conn.execute(f"SELECT count(*) FROM ({sql})", values).fetchone()
    return WorkCounts(to_do, at_once, inspections)
