"""The mark of a registry: it changes when anything the registry answers from has changed."""

import hashlib
import sqlite3

from registry.store.write import state, statement

KEY = "contents"
LENGTH = 12
"""Hexadecimal digits of a mark: two registries that differ share one by chance once in 10^14."""


def sign(conn: sqlite3.Connection) -> None:
    """Let the registry carry its mark, at the end of a load."""
    state(conn, KEY, computed_mark(conn))


def mark_of(conn: sqlite3.Connection) -> str:
    """Give the mark of a registry."""
    return statement(conn, KEY) or computed_mark(conn)


def computed_mark(conn: sqlite3.Connection) -> str:
    """Compute the mark from the texts that were loaded, the recordings, and the way values are computed."""
    digest = hashlib.sha256(statement(conn, "derivation").encode())
    for table in ("source", "recording"):
        for (sha256,) in conn.execute(f"SELECT sha256 FROM {table} ORDER BY sha256"):
            digest.update(sha256.encode())
        digest.update(b"\0")
    return digest.hexdigest()[:LENGTH]
