"""Rows as CSV and JSON."""

import csv
import io
from collections.abc import Iterable, Sequence
from typing import Any

from datasette.utils.asgi import Response

from registry.store.pages import Row

CSV = "text/csv; charset=utf-8; header=present"


def as_csv(rows: Sequence[Row], name: str, columns: Sequence[str] = ("id",)) -> Response:
    """Make an answer of CSV (RFC 4180) with the column names in the first line.

    ``columns`` are those of a table without rows.
    """
    columns = list(rows[0]) if rows else list(columns)
    text = csv_lines([columns]) + csv_lines([[row[column] for column in columns] for row in rows])
    headers = {"content-disposition": f'attachment; filename="{name}"', "cache-control": "no-cache"}
    return Response(text, 200, headers, CSV)


def csv_lines(rows: Iterable[Sequence[Any]]) -> str:
    """Write rows as lines of CSV; what is not known is an empty field."""
    buffer = io.StringIO()
    csv.writer(buffer, lineterminator="\r\n").writerows(rows)
    return buffer.getvalue()
