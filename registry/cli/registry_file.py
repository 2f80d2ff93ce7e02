"""How a command opens a registry to read from."""

import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path

import click

from registry.store.database import fingerprint, open_registry, schema_of


@contextmanager
def opened(registry: Path, *, any_version: bool = False) -> Iterator[sqlite3.Connection]:
    """Open a registry to read from, by default only one whose tables are those of this program.

    Raises
    ------
    InputError
        When there is none, or the file is something else.
    click.ClickException
        When another version of the program wrote it.
    """
    with closing(open_registry(registry)) as connection:
        if not any_version and schema_of(connection) != fingerprint():
            raise click.ClickException(
                f"{registry} was written by another version of this program. Bring it up to date from its own"
                f" forms: soundbow load --registry {registry}"
            )
        try:
            yield connection
        except sqlite3.DatabaseError as error:
            if error.sqlite_errorcode not in (sqlite3.SQLITE_CORRUPT, sqlite3.SQLITE_NOTADB):
                raise
            raise click.ClickException(
                f"{registry} is damaged ({error}). Take a copy, or load the forms anew into another file."
            ) from error
