"""Every table: what its columns mean, its rows, and the whole of it as CSV and JSON."""

import asyncio
import json
import sqlite3
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import islice
from typing import Annotated, Any, NamedTuple

from datasette.utils.asgi import Response

from registry.store.dictionary import (
    BELL_BY_BELL,
    Column,
    Table,
    count_bells,
    count_rows,
    each_row,
    read_bells_rows,
    read_rows,
    read_table,
    read_tables,
)
from registry.store.pages import Row
from registry.units import FIELD_UNITS, unit_of
from registry.web import rendering
from registry.web.asking import Ask
from registry.web.context import NotHereError
from registry.web.registry_database import RegistryDatabase
from registry.web.tabular import CSV, csv_lines

PAGE_SIZE = 100
BELLS_A_PAGE = 3
"""Bells a page holds of a view that is put together bell by bell."""
ROWS_AT_ONCE = 500


class ColumnHelp(NamedTuple):
    """One column in words."""

    name: str
    kind: str
    unit: str
    help: str


class TableLine(NamedTuple):
    """One table in the list."""

    table: Table
    rows: int | None


@dataclass(frozen=True)
class DataPage:
    """All tables."""

    title: Annotated[str, "Heading of the page."]
    tables: Annotated[list[TableLine], "Every table with the number of its rows, every view without."]


@dataclass(frozen=True)
class TablePage:
    """One table."""

    title: Annotated[str, "Name of the table."]
    table: Annotated[Table, "What it is."]
    columns: Annotated[list[ColumnHelp], "Its columns in words."]
    rows: Annotated[list[Row], "The rows of this page."]
    total: Annotated[int | None, "Rows that meet the filters; None where a page holds all of some bells."]
    filters: Annotated[dict[str, str], "Columns that were asked to hold a value."]
    at: Annotated[int, "Number of this page."]
    pages: Annotated[int, "Number of pages."]


def data_page(conn: sqlite3.Connection, ask: Ask) -> Response:
    """Make the list of tables."""
    tables = [
        TableLine(table, None if table.is_view else count_rows(conn, table, {}))
        for table in read_tables(conn)
    ]
    return rendering.page(ask, "data", DataPage("Data", tables))


def table_page(conn: sqlite3.Connection, ask: Ask) -> Response:
    """Make the page of one table.

    Raises
    ------
    NotHereError
        When no table has this name.
    """
    table = _table(conn, ask)
    filters = _filters(table, ask)
    if table.name in BELL_BY_BELL and not filters:
        total, pages = None, max(-(-count_bells(conn) // BELLS_A_PAGE), 1)
        rows = read_bells_rows(conn, table, BELLS_A_PAGE, (ask.page() - 1) * BELLS_A_PAGE)
    else:
        total = count_rows(conn, table, filters)
        pages = max(-(-total // PAGE_SIZE), 1)
        rows = read_rows(conn, table, filters, PAGE_SIZE, (ask.page() - 1) * PAGE_SIZE)
    return rendering.page(
        ask,
        "table",
        TablePage(
            title=table.name,
            table=table,
            columns=[_in_words(column) for column in table.columns],
            rows=rows,
            total=total,
            filters=filters,
            at=ask.page(),
            pages=pages,
        ),
    )


class TableStream:
    """A whole table as CSV or JSON, sent as it is read, all of one load however long it takes."""

    def __init__(self, database: RegistryDatabase, ask: Ask, kind: str) -> None:
        self.connection = database.own_connection()
        self.kind = kind
        try:
            self.table = _table(self.connection, ask)
            self.rows = each_row(self.connection, self.table, _filters(self.table, ask))
        except BaseException:
            self.connection.close()
            raise

    async def asgi_send(self, send: Any) -> None:
        """Send the answer piece by piece."""
        is_csv = self.kind == "csv"
        kind = CSV if is_csv else "application/json; charset=utf-8"
        headers = [(b"content-type", kind.encode()), (b"cache-control", b"no-cache")]
        if is_csv:
            name = f'attachment; filename="{self.table.name}.csv"'
            headers.append((b"content-disposition", name.encode()))
        pieces = self._csv() if is_csv else self._json()
        loop = asyncio.get_running_loop()
        try:
            await send({"type": "http.response.start", "status": 200, "headers": headers})
            while (piece := await loop.run_in_executor(None, next, pieces, None)) is not None:
                body = {"type": "http.response.body", "body": piece.encode(), "more_body": True}
                await send(body)
            await send({"type": "http.response.body", "body": b""})
        finally:
            self.connection.close()

    def _pieces(self) -> Iterator[list[tuple[Any, ...]]]:
        while rows := list(islice(self.rows, ROWS_AT_ONCE)):
            yield rows

    def _csv(self) -> Iterator[str]:
        yield csv_lines([[column.name for column in self.table.columns]])
        for rows in self._pieces():
            yield csv_lines(rows)

    def _json(self) -> Iterator[str]:
        names = [column.name for column in self.table.columns]
        yield "["
        before = "\n"
        for rows in self._pieces():
            texts = (json.dumps(dict(zip(names, row, strict=True)), ensure_ascii=False) for row in rows)
            yield before + ",\n".join(texts)
            before = ",\n"
        yield "\n]\n"


def _table(conn: sqlite3.Connection, ask: Ask) -> Table:
    table = read_table(conn, ask.names["name"])
    if table is None:
        raise NotHereError
    return table


def _filters(table: Table, ask: Ask) -> dict[str, str]:
    return {column.name: ask.one(column.name) for column in table.columns if ask.one(column.name)}


def _in_words(column: Column) -> ColumnHelp:
    unit = FIELD_UNITS.get(unit_of(column.name) or "")
    numeric = column.kind in ("REAL", "INTEGER")
    return ColumnHelp(column.name, column.kind.lower(), unit.symbol if unit and numeric else "", column.help)
