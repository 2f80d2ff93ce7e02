"""Open a registry, make an empty one, and tell a registry from any other file."""

import hashlib
import sqlite3
from functools import cache
from pathlib import Path
from typing import Any
from urllib.parse import quote

import yaml

from registry.problems import InputError, whole_file_problem
from registry.resources import shipped_folder, shipped_text

APPLICATION_ID = 0x53424F57
"""The letters SBOW in the header of the file (``PRAGMA application_id``)."""


@cache
def schema_statements() -> tuple[str, ...]:
    """Give every statement that makes a registry: tables, then indexes, then views, each sorted by name."""
    schema = shipped_folder("schema")
    return tuple(
        path.read_text(encoding="utf-8")
        for kind in ("tables", "indexes", "views")
        for path in sorted((schema / kind).iterdir(), key=lambda path: path.name)
        if path.name.endswith(".sql")
    )


@cache
def attention_rules() -> tuple[tuple[str, int, int, float | None, str, str], ...]:
    """Read the rules of what needs a look: kind, rank, severity, threshold, text, source."""
    rules: dict[str, dict[str, Any]] = yaml.safe_load(shipped_text("schema", "rules", "attention.yaml"))
    return tuple(
        (kind, rank, rule["severity"], rule.get("threshold"), rule["text"], rule["source"])
        for rank, (kind, rule) in enumerate(rules.items(), start=1)
    )


@cache
def fingerprint() -> str:
    """Give the fingerprint of the schema this program writes; a registry with another is built anew."""
    digest = hashlib.sha256()
    for part in (*schema_statements(), repr(attention_rules())):
        digest.update(part.encode())
        digest.update(b"\0")
    return digest.hexdigest()


def create_schema(conn: sqlite3.Connection) -> None:
    """Make the tables of an empty registry, inside the transaction of the caller if there is one.

    ``user_version`` and ``schema_version`` follow the fingerprint: a server that remembers tables by them
    sees at once that another schema took the place of the old one.
    """
    number = int(fingerprint()[:7], 16)
    for text in schema_statements():
        for statement in _statements(text):
            conn.execute(statement)
    conn.executemany("INSERT INTO attention_rule VALUES (?, ?, ?, ?, ?, ?)", attention_rules())
    conn.execute("INSERT INTO registry_meta VALUES ('schema_fingerprint', ?)", (fingerprint(),))
    conn.execute(f"PRAGMA application_id = {APPLICATION_ID}")
    conn.execute(f"PRAGMA user_version = {number}")
    conn.execute(f"PRAGMA schema_version = {number}")


def _statements(text: str) -> list[str]:
    """Split a script into its statements; ``executescript`` would end the transaction of the caller."""
    statements, pending = [], ""
    for line in text.splitlines(keepends=True):
        pending += line
        if sqlite3.complete_statement(pending):
            statements.append(pending)
            pending = ""
    return statements


def is_registry(path: Path) -> bool:
    """Say whether a file is a registry of this program, of whatever schema."""
    try:
        with path.open("rb") as file:
            header = file.read(100)
    except OSError:
        return False
    return header[:16] == b"SQLite format 3\0" and header[68:72] == APPLICATION_ID.to_bytes(4, "big")


def open_registry(path: Path) -> sqlite3.Connection:
    """Open a registry to read from; nothing can be written through the connection.

    Raises
    ------
    InputError
        ``file-missing`` where there is none, ``not-a-registry`` where the file is something else or damaged.
    """
    if not path.exists():
        raise InputError(
            [
                whole_file_problem(
                    str(path), "file-missing", "", "a registry", "check the name, or load forms to make one"
                )
            ]
        )
    if not is_registry(path):
        raise not_a_registry(path)
    conn = sqlite3.connect(f"file:{quote(str(path.resolve()))}?mode=ro", uri=True)
    try:
        conn.execute("PRAGMA query_only = 1")
        conn.execute("SELECT value FROM registry_meta LIMIT 1")
    except sqlite3.DatabaseError as error:
        conn.close()
        raise not_a_registry(path, f"a damaged registry: {error}") from error
    return conn


def file_of(conn: sqlite3.Connection) -> Path:
    """Give the file of an open registry."""
    return Path(conn.execute("PRAGMA database_list").fetchone()[2])


def not_a_registry(path: Path, read: str = "another kind of file") -> InputError:
    """Make the error that a file is there, but is no registry that can be read."""
    return InputError(
        [
            whole_file_problem(
                str(path),
                "not-a-registry",
                read,
                "a registry written by this program",
                "give another name; the file was left as it is",
            )
        ]
    )


def schema_of(conn: sqlite3.Connection) -> str:
    """Give the fingerprint of the schema a registry was made with; empty where it carries none."""
    try:
        row = conn.execute("SELECT value FROM registry_meta WHERE key = 'schema_fingerprint'").fetchone()
    except sqlite3.DatabaseError:
        return ""
    return row[0] if row else ""
