"""Time the load of many full-size forms beside what no loader can beat.

Run: ``python benchmarks/load.py --forms 2000``. All figures come from one run on one machine: trust the
ratios more than the rates.
"""

import argparse
import os
import platform
import sqlite3
import sys
import tempfile
import time
from collections.abc import Callable
from datetime import date
from pathlib import Path
from typing import Any

import yaml
from make_forms import write_forms
from yaml.cyaml import CParser

from registry.forms.check import check_file
from registry.intake import load
from registry.store.database import create_schema
from registry.store.rows import Rows, rows_of
from registry.store.tables import SECTION_TABLES

TODAY = date(2026, 1, 1)


def timed(work: Callable[[], Any]) -> tuple[float, Any]:
    """Do some work and give the seconds it took, and its result."""
    start = time.perf_counter()
    result = work()
    return time.perf_counter() - start, result


def read_all(paths: list[Path]) -> int:
    """Read the bytes of all files."""
    return sum(len(path.read_bytes()) for path in paths)


def parse_raw(paths: list[Path]) -> None:
    """Read and let libyaml parse, without making one Python object of what it finds."""
    for path in paths:
        parser = CParser(path.read_bytes())
        try:
            parser.raw_parse()
        finally:
            parser.dispose()


def parse_events(paths: list[Path]) -> None:
    """Read and take every event of libyaml: what any reader that knows lines and columns starts from."""
    for path in paths:
        parser = CParser(path.read_bytes())
        try:
            while parser.get_event() is not None:
                pass
        finally:
            parser.dispose()


def parse_with_safe_loader(paths: list[Path]) -> None:
    """Read and load as most programs do: no lines, no checks, no repeated keys noticed."""
    for path in paths:
        yaml.load(path.read_bytes(), Loader=yaml.CSafeLoader)


def rows_of_all(paths: list[Path]) -> tuple[list[Rows], int]:
    """Check all forms in one process and turn them into rows."""
    surveys = []
    for path in paths:
        read = check_file(path, path.name, today=TODAY).read
        if read is None:
            sys.exit(f"{path.name} has errors")
        surveys.append(rows_of(read, path.name).rows)
    return surveys, sum(len(rows) for survey in surveys for rows in survey.values())


def insert(surveys: list[Rows], database: Path) -> None:
    """Insert rows into empty tables of the schema in one transaction, and nothing else."""
    conn = sqlite3.connect(database, isolation_level=None)
    conn.execute("PRAGMA journal_mode = OFF")
    conn.execute("PRAGMA synchronous = OFF")
    conn.execute("BEGIN")
    create_schema(conn)
    for table in SECTION_TABLES:
        rows = [row for survey in surveys for row in survey[table.name]]
        places = ", ".join("?" * len(rows[0])) if rows else ""
        if rows:
            conn.executemany(f"INSERT INTO {table.name} VALUES ({places})", rows)  # noqa: S608
    conn.execute("COMMIT")
    conn.close()


def report(what: str, seconds: float, forms: int, floor: float | None = None) -> None:
    """Print one line."""
    ratio = "" if floor is None else f"   {seconds / floor:5.2f} x floor"
    print(f"  {what:<58} {seconds:7.2f} s  {forms / seconds:9,.0f} forms/s{ratio}")


def measure_parts(paths: list[Path], folder: Path) -> float:
    """Measure the single parts in one process, and give the seconds below which no load can come."""
    forms = len(paths)
    raw, _ = timed(lambda: parse_raw(paths))
    events, _ = timed(lambda: parse_events(paths))
    safe, _ = timed(lambda: parse_with_safe_loader(paths))
    checked, (surveys, rows) = timed(lambda: rows_of_all(paths))
    inserted, _ = timed(lambda: insert(surveys, folder / "floor.db"))
    floor = raw + inserted
    print("Floors and parts, one process")
    report("read, libyaml parse, no Python objects", raw, forms)
    report(f"insert the {rows:,} rows, checks of the tables included", inserted, forms)
    report("the two together: the floor", floor, forms)
    report("read, every event of libyaml", events, forms)
    report("yaml.load with CSafeLoader, nothing checked", safe, forms, floor)
    report("read, check, rows", checked, forms, floor)
    return floor


def measure_load(source: Path, database: Path, jobs: int, forms: int) -> float:
    """Measure a load into a new registry, or into one that has all of it."""
    seconds, told = timed(lambda: load([source], database, jobs=jobs, today=TODAY))
    if told.has_errors or len(told.loaded) + told.unchanged != forms:
        sys.exit("not all forms were loaded")
    return seconds


def main() -> None:
    """Measure and print."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--forms", type=int, default=2000)
    parser.add_argument("--jobs", type=int, default=2)
    parser.add_argument("--folder", type=Path, help="Where to work; a temporary folder unless given.")
    asked = parser.parse_args()
    with tempfile.TemporaryDirectory(dir=asked.folder) as scratch:
        folder, forms = Path(scratch), asked.forms
        paths = write_forms(folder / "forms", forms)
        size = read_all(paths)
        print(f"{forms} forms of {size / forms / 1e3:.1f} kB, ten bells each, {size / 1e6:.0f} MB in all")
        versions = f"Python {platform.python_version()}, SQLite {sqlite3.sqlite_version}"
        print(f"{versions}, {os.cpu_count()} processors\n")
        floor = measure_parts(paths, folder)
        print("\nLoad, derived values, search and current view included")
        for jobs in dict.fromkeys((1, asked.jobs)):
            database = folder / f"registry-{jobs}.db"
            seconds = measure_load(folder / "forms", database, jobs, forms)
            report(f"{jobs} process{'es' * (jobs > 1)}", seconds, forms, floor)
        seconds = measure_load(folder / "forms", database, 1, forms)
        report("the same again: nothing to do", seconds, forms, floor)
        print(f"\nRegistry: {database.stat().st_size / 1e6:.0f} MB")


if __name__ == "__main__":
    main()
