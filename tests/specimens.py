"""Small survey forms for tests, and what a registry holds, ready to compare."""

import sqlite3
from contextlib import closing
from pathlib import Path
from textwrap import indent
from typing import Any

BELL = """\
identity: {status: hanging, material: bronze}
dimensions: {mouth_diameter_mm: 1180}
"""


def bell(id_: str, text: str = BELL) -> str:
    """Write one entry of ``bells``; ``text`` are its sections."""
    return f"  - id: {id_}\n{indent(text, '    ')}"


def visit(
    survey_id: str = "oster-gate-2020",
    *bells: str,
    tower: str = "oster-gate",
    day: str = "2020-05-04",
    extra: str = "",
    in_tower: str = "",
) -> str:
    """Write a form of a visit; ``extra`` are further sections, ``in_tower`` further fields of the tower."""
    told = bells or (bell(f"{tower}-great"),)
    return (
        "form: soundbow survey 1\n"
        "survey:\n"
        f"  id: {survey_id}\n"
        "  kind: visit\n"
        f"  date: {day}\n"
        "  surveyors: [Ada Invented]\n"
        "  not_inspected: []\n"
        "tower:\n"
        f"  id: {tower}\n"
        "  name: Invented Gate\n"
        "  place: Nowhere\n"
        f"{indent(in_tower, '  ')}"
        f"bells:\n{''.join(told)}"
        f"{extra}"
    )


def document(
    survey_id: str, *bells: str, tower: str = "oster-gate", day: str = "2021-02-03", written: str = "1890"
) -> str:
    """Write a form of a document that was written in ``written`` and read on ``day``."""
    return (
        visit(survey_id, *bells, tower=tower, day=day)
        .replace("  kind: visit\n", "  kind: document\n")
        .replace(
            "  not_inspected: []\n",
            f"  document: {{kind: inventory, title: Invented inventory, date: {written!r}}}\n",
        )
    )


def write(folder: Path, name: str, text: str | bytes) -> Path:
    """Write a file below a folder, which is made where it is missing."""
    path = folder / name
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_bytes(text if isinstance(text, bytes) else text.encode())
    return path


def rows(database: Path, query: str, *values: Any) -> list[tuple[Any, ...]]:
    """Ask a registry."""
    with closing(sqlite3.connect(f"file:{database}?mode=ro", uri=True)) as conn:
        return conn.execute(query, values).fetchall()


def logical_dump(database: Path) -> dict[str, list[tuple[Any, ...]]]:
    """Give all that a registry says, by table, but for the time of loading and the numbers of locations."""
    dump = {}
    with closing(sqlite3.connect(f"file:{database}?mode=ro", uri=True)) as conn:
        names = [
            row[0]
            for row in conn.execute(
                "SELECT name FROM pragma_table_list WHERE schema = 'main' AND type IN ('table', 'virtual')"
                " AND name NOT LIKE 'sqlite_%'"
            )
        ]
        for name in names:
            columns = [
                row[0]
                for row in conn.execute("SELECT name FROM pragma_table_info(?)", (name,))
                if row[0] not in {"loaded_at"} and (name, row[0]) != ("tower_location", "number")
            ]
            selected = ", ".join(f'"{column}"' for column in columns)
            found = conn.execute(f'SELECT {selected} FROM "{name}"').fetchall()  # noqa: S608
            dump[name] = sorted(found, key=repr)
    return dump
