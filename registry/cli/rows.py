"""Rows as a table for people, and as CSV, JSON and GeoJSON for programs."""

import csv
import io
import json
import unicodedata
from collections.abc import Iterable, Mapping, Sequence
from functools import cache
from typing import Any, NamedTuple

from registry.model.fields import section_fields
from registry.store.tables import SECTION_TABLES
from registry.units import format_estimate, format_quantity, unit_of

Row = Mapping[str, Any]


class Column(NamedTuple):
    """One column of a table: the field shown, its heading, and the most characters it takes."""

    field: str
    heading: str
    widest: int = 28


def as_table(rows: Sequence[Row], columns: Sequence[Column]) -> str:
    """Write rows as a table of aligned columns; numbers stand to the right, with their unit."""
    cells = [[column.heading for column in columns]]
    cells += [
        [_shortened(shown(row[column.field], column.field), column.widest) for column in columns]
        for row in rows
    ]
    widths = [max(map(display_width, column)) for column in zip(*cells, strict=True)]
    numbers = [any(isinstance(row[column.field], (int, float)) for row in rows) for column in columns]
    lines = []
    for line in cells:
        padded = []
        for text, width, is_number in zip(line, widths, numbers, strict=True):
            gap = " " * (width - display_width(text))
            padded.append(gap + text if is_number else text + gap)
        lines.append("  ".join(padded).rstrip())
    return "\n".join([lines[0], "  ".join("-" * width for width in widths), *lines[1:]]) + "\n"


def shown(value: Any, field: str) -> str:
    """Write one value for people: a quantity with its unit, a list without brackets, nothing as a dash."""
    if isinstance(value, str) and value and field in list_fields():
        return ", ".join(_one(item, field) for item in json.loads(value)) or "none"
    return _one(value, field)


def _one(value: Any, field: str) -> str:
    if value is None or value == "":
        return "–"
    if isinstance(value, (int, float)):
        unit = unit_of(field)
        if unit is None:
            return f"{value:g}"
        return format_estimate(value, unit) if "estimate" in field else format_quantity(value, unit)
    return str(value).replace("\n", " | ")


@cache
def list_fields() -> frozenset[str]:
    """Name the fields of a form that hold several values, which tables keep as JSON."""
    fields = (field for table in SECTION_TABLES for field in section_fields(table.section))
    return frozenset(field.name for field in fields if field.is_list and field.kind is not None)


def display_width(text: str) -> int:
    """Count the columns a terminal needs: none for combining marks, two for wide characters."""
    return sum(
        0 if unicodedata.combining(character) else 1 + (unicodedata.east_asian_width(character) in "WF")
        for character in text
    )


def _shortened(text: str, widest: int) -> str:
    while display_width(text) > widest:
        text = text[:-2].rstrip() + "…"
    return text


def as_csv(rows: Iterable[Row], fields: Sequence[str]) -> str:
    """Write rows as CSV with a first line of field names; what is not known stays empty."""
    out = io.StringIO()
    writer = csv.DictWriter(out, fields, extrasaction="ignore", lineterminator="\n")
    writer.writeheader()
    writer.writerows(rows)
    return out.getvalue()


def as_json(data: Any) -> str:
    """Write data as JSON in the order given."""
    return json.dumps(data, ensure_ascii=False, indent=2) + "\n"


def as_geojson(rows: Iterable[Row], **members: Any) -> str:
    """Write rows as a GeoJSON collection (RFC 7946): longitude first, and null where no place is known."""
    features = []
    for row in rows:
        longitude, latitude = row["longitude_deg"], row["latitude_deg"]
        point = None if longitude is None else {"type": "Point", "coordinates": [longitude, latitude]}
        features.append({"type": "Feature", "id": row["id"], "geometry": point, "properties": dict(row)})
    return as_json({"type": "FeatureCollection", **members, "features": features})
