"""The records of the registry laid out to be compared, kept as long as the file is the same."""

import sqlite3
import threading
from datetime import date
from pathlib import Path

from registry.derive.identity.comparison import Register
from registry.derive.identity.twins import Twins, find_twins
from registry.store.identity import read_lives, read_records

Mark = tuple[str, int, int, int, int]

SMALL = 1500
"""Bells among which pairs are looked for within a few tenths of a second."""

_KEPT = 2
_lock = threading.Lock()
_registers: dict[Mark, Register] = {}
_twins: dict[Mark, list[Twins]] = {}


def register_of(conn: sqlite3.Connection) -> Register:
    """Give the records that a connection reads; they are laid out once for each load and year."""
    mark = _mark(conn)
    with _lock:
        if mark not in _registers:
            _make_room(_registers)
            _registers[mark] = Register(read_records(conn), mark[1])
        return _registers[mark]


def twins_of(conn: sqlite3.Connection) -> list[Twins]:
    """Give the pairs of records that may be one bell; they are looked for once for each load."""
    register, mark = register_of(conn), _mark(conn)
    with _lock:
        if mark not in _twins:
            _make_room(_twins)
            _twins[mark] = find_twins(register, lambda ids: read_lives(conn, ids))
        return _twins[mark]


def twins_at_hand(conn: sqlite3.Connection) -> list[Twins]:
    """Give the same where they are known already, or a registry is small enough to look on the spot."""
    if _mark(conn) in _twins or len(register_of(conn).records) <= SMALL:
        return twins_of(conn)
    return []


def _make_room(kept: dict[Mark, object] | dict[Mark, Register] | dict[Mark, list[Twins]]) -> None:
    while len(kept) >= _KEPT:
        kept.pop(next(iter(kept)))


def _mark(conn: sqlite3.Connection) -> Mark:
    """Give what changes when the registry is loaded anew: a load replaces the file."""
    path = str(conn.execute("PRAGMA database_list").fetchone()[2])
    found = Path(path).stat()
    return path, date.today().year, found.st_ino, found.st_mtime_ns, found.st_size
