"""What every table and column of a registry means, read from the comments of the schema."""

import re
import sqlite3
from collections.abc import Iterator
from functools import cache
from typing import Any, NamedTuple

from registry.resources import shipped_folder
from registry.store.ddl import quoted
from registry.store.pages import Row, dict_rows

KEPT_BACK = {"source": frozenset({"text"})}
"""Columns that no table shows: the bytes of the forms are given form by form."""

VIEW_ORDER = ("rank", "bell_id", "section", "field")
"""Columns by which the rows of a view are ordered, where it has them."""

VIEW_HELP = {
    "what": "The finding in words.",
    "section": "Table of the fact.",
    "field": "Column of the fact.",
    "value": "The newest value.",
    "disagrees": "1 where another survey contradicts it.",
    "other_value": "The value that contradicts it.",
    "survey_date": "Day whose state that survey tells.",
}
"""Help of columns that only views have, or that mean something of their own there."""

_COLUMN = re.compile(r'^    "?([a-z_0-9]+)"? (TEXT|INTEGER|REAL|BLOB|ANY)\b.*?,?  -- (.+)$', re.MULTILINE)
_LEADING_COMMENT = re.compile(r"^-- (.+)$", re.MULTILINE)
_WRITTEN_FROM = "Written from registry/model"


class Column(NamedTuple):
    """One column with its help."""

    name: str
    kind: str
    help: str


class Table(NamedTuple):
    """One table or view with its help."""

    name: str
    is_view: bool
    help: str
    columns: tuple[Column, ...]


@cache
def _shipped_help() -> dict[str, tuple[str, dict[str, str]]]:
    """Read the help of every table and view, and of the columns of the tables, from the schema."""
    told: dict[str, tuple[str, dict[str, str]]] = {}
    for kind in ("tables", "views"):
        for path in (shipped_folder("schema") / kind).iterdir():
            if path.name.endswith(".sql"):
                sql = path.read_text(encoding="utf-8")
                before = sql.partition("CREATE ")[0]
                lines = _LEADING_COMMENT.findall(before)
                text = " ".join(line for line in lines if not line.startswith(_WRITTEN_FROM))
                columns = {found[0]: found[2] for found in _COLUMN.findall(sql)}
                told[path.name.removesuffix(".sql")] = text, columns
    return told


@cache
def _anywhere() -> dict[str, str]:
    """Give the help of a column name from the first table that has it, for the columns of views."""
    found: dict[str, str] = {}
    for name in sorted(_shipped_help()):
        for column, text in _shipped_help()[name][1].items():
            found.setdefault(column, text)
    return found


_TABLES = """
    SELECT name, type = 'view' FROM pragma_table_list
    WHERE schema = 'main' AND type IN ('table', 'view') AND name NOT GLOB 'sqlite_*'
"""


def read_tables(conn: sqlite3.Connection) -> list[Table]:
    """List the tables and views of a registry, without those that only serve to search."""
    names = conn.execute(f"{_TABLES} ORDER BY name").fetchall()
    return [_table(conn, name, bool(is_view)) for name, is_view in names]


def read_table(conn: sqlite3.Connection, name: str) -> Table | None:
    """Give one table with its columns; None where a registry has none of this name to show."""
    found = conn.execute(f"{_TABLES} AND name = ?", (name,)).fetchone()
    return _table(conn, found[0], bool(found[1])) if found else None


def _table(conn: sqlite3.Connection, name: str, is_view: bool) -> Table:
    text, helps = _shipped_help().get(name, ("", {}))
    if is_view:
        helps = {**_anywhere(), **VIEW_HELP}
    columns = tuple(
        Column(row[1], row[2] or "ANY", helps.get(row[1], ""))
        for row in conn.execute(f"PRAGMA table_info({name})")
        if row[1] not in KEPT_BACK.get(name, ())
    )
    return Table(name, is_view, text, columns)


def count_rows(conn: sqlite3.Connection, table: Table, filters: dict[str, str]) -> int:
    """Count the rows of a table whose columns hold these values."""
    where, values = _where(table, filters)
    return int(conn.execute(f"SELECT count(*) FROM {table.name}{where}", values).fetchone()[0])


def read_rows(
    conn: sqlite3.Connection, table: Table, filters: dict[str, str], limit: int, offset: int
) -> list[Row]:
    """Read rows of a table whose columns hold these values, in the order of its key."""
    where, values = _where(table, filters)
    sql = f"SELECT {_columns(table)} FROM {table.name}{where}{_order(conn, table)} LIMIT ? OFFSET ?"
    return dict_rows(conn, sql, (*values, limit, offset))


BELL_BY_BELL = frozenset({"current_fact"})
"""Views that are put together for every bell: read whole they would take seconds, some bells are quick."""
BELLS_AT_ONCE = 200


def read_bells_rows(conn: sqlite3.Connection, table: Table, bells: int, offset: int) -> list[Row]:
    """Read all rows of some bells, by their ids, of a view that has a bell in every row."""
    ids = conn.execute("SELECT id FROM bell ORDER BY id LIMIT ? OFFSET ?", (bells, offset)).fetchall()
    if not ids:
        return []
    # A range reaches into every part of the view; a list of ids would not.
    sql = f"SELECT {_columns(table)} FROM {table.name} WHERE bell_id BETWEEN ? AND ?{_order(conn, table)}"
    return dict_rows(conn, sql, (ids[0][0], ids[-1][0]))


def count_bells(conn: sqlite3.Connection) -> int:
    """Count the bells that have an id."""
    return int(conn.execute("SELECT count(*) FROM bell").fetchone()[0])


def each_row(conn: sqlite3.Connection, table: Table, filters: dict[str, str]) -> Iterator[tuple[Any, ...]]:
    """Read all rows of a table one after the other, however many there are."""
    where, values = _where(table, filters)
    if table.name in BELL_BY_BELL and not where:
        for offset in range(0, count_bells(conn), BELLS_AT_ONCE):
            for found in read_bells_rows(conn, table, BELLS_AT_ONCE, offset):
                yield tuple(found.values())
        return
    cursor = conn.execute(
        f"SELECT {_columns(table)} FROM {table.name}{where}{_order(conn, table)}",
        values,
    )
    for row in cursor:
        yield tuple(row)


def _columns(table: Table) -> str:
    return ", ".join(quoted(column.name) for column in table.columns)


def _where(table: Table, filters: dict[str, str]) -> tuple[str, tuple[str, ...]]:
    """Write the condition; only columns that the table has are asked for.

    Values come as text from an address; the affinity of the column turns them into its type.
    """
    chosen = {column.name: filters[column.name] for column in table.columns if column.name in filters}
    if not chosen:
        return "", ()
    condition = " AND ".join(f"{quoted(name)} = ?" for name in chosen)
    return f" WHERE {condition}", tuple(chosen.values())


def _order(conn: sqlite3.Connection, table: Table) -> str:
    keys = [row for row in conn.execute(f"PRAGMA table_info({table.name})") if row[5]]
    names = [row[1] for row in sorted(keys, key=lambda row: row[5])]
    if table.is_view:
        names = [column.name for column in table.columns if column.name in VIEW_ORDER]
    return " ORDER BY " + ", ".join(quoted(name) for name in names) if names else ""
