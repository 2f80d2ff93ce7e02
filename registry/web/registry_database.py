"""A registry as one of Datasette's databases: read-only, bounded, and never a mixture of two loads.

A load publishes by replacing the file. Datasette's own class keeps the old file open in the threads that have
read it while new threads open the new file; the class here looks at the file before every page.
"""

import asyncio
import sqlite3
import threading
from collections.abc import Callable
from pathlib import Path
from typing import Any, TypeVar
from urllib.parse import quote

from datasette.database import Database
from datasette.utils import sqlite_timelimit

from registry.store.database import fingerprint, is_registry, schema_of

Answer = TypeVar("Answer")
FileMark = tuple[int, int, int, int]

PAGE_TIME_LIMIT_MS = 5000
"""Time all statements of one page may take together."""

LIMITS = (
    (sqlite3.SQLITE_LIMIT_LENGTH, 8_000_000),
    (sqlite3.SQLITE_LIMIT_SQL_LENGTH, 100_000),
    (sqlite3.SQLITE_LIMIT_EXPR_DEPTH, 200),
    (sqlite3.SQLITE_LIMIT_LIKE_PATTERN_LENGTH, 1_000),
    (sqlite3.SQLITE_LIMIT_ATTACHED, 0),
)
"""What one statement may use, so that no function call can fill the memory."""


class RegistryGoneError(Exception):
    """The file is missing, or something else than a registry has taken its place."""


class OtherSchemaError(Exception):
    """The registry was made by another version of this program, with other tables."""


class RegistryDatabase(Database):  # type: ignore[misc]  # Datasette has no types
    """A database whose connections follow the file when it is replaced."""

    def __init__(self, datasette: Any, path: str) -> None:
        super().__init__(datasette, path, is_mutable=True)
        self._local = threading.local()

    def connect(self, write: bool = False) -> sqlite3.Connection:
        """Open the file to read; nothing can be written through the connection."""
        if write:
            raise sqlite3.OperationalError("a registry is read-only here")
        address = f"file:{quote(str(Path(self.path).resolve()))}?mode=ro"
        return sqlite3.connect(address, uri=True, check_same_thread=False)

    async def execute_fn(self, fn: Callable[[sqlite3.Connection], Answer]) -> Answer:
        """Run ``fn`` on a connection to the file as it is now; all it reads is of one load.

        Raises
        ------
        RegistryGoneError, OtherSchemaError
            When there is no registry that can be read.
        sqlite3.OperationalError
            ``interrupted`` when the statements take too long together.
        """
        if self.ds.executor is None:
            return self._run(fn)
        return await asyncio.get_running_loop().run_in_executor(self.ds.executor, self._run, fn)

    def own_connection(self) -> sqlite3.Connection:
        """Open a connection for one long answer; whoever asks for it closes it.

        Raises
        ------
        RegistryGoneError, OtherSchemaError
            When there is no registry that can be read.
        """
        return self._opened()[1]

    def _run(self, fn: Callable[[sqlite3.Connection], Answer]) -> Answer:
        connection = self._current()
        with sqlite_timelimit(connection, PAGE_TIME_LIMIT_MS):
            return fn(connection)

    def _current(self) -> sqlite3.Connection:
        """Give this thread's connection, anew if the file was replaced since."""
        mark: FileMark | None = getattr(self._local, "mark", None)
        if mark is not None:
            connection: sqlite3.Connection = self._local.connection
            if mark == self._file_mark():
                return connection
            self._local.mark = None
            self._all_file_connections.remove(connection)
            connection.close()
        mark, connection = self._opened()
        self._all_file_connections.append(connection)
        self._local.mark, self._local.connection = mark, connection
        return connection

    def _opened(self) -> tuple[FileMark, sqlite3.Connection]:
        """Open the file, and make sure that it was not replaced meanwhile."""
        while True:
            mark = self._file_mark()
            if not is_registry(Path(self.path)):
                raise RegistryGoneError(self.path)
            connection = self.connect()
            if mark == self._file_mark():
                break
            connection.close()
        if schema_of(connection) != fingerprint():
            connection.close()
            raise OtherSchemaError(self.path)
        self.ds._prepare_connection(connection, self.name)
        return mark, connection

    def _file_mark(self) -> FileMark:
        try:
            found = Path(self.path).stat()
        except OSError as error:
            raise RegistryGoneError(self.path) from error
        return found.st_dev, found.st_ino, found.st_mtime_ns, found.st_size


def adopt(datasette: Any) -> RegistryDatabase | None:
    """Put our class in the place of every database that is a registry; give the one that is shown."""
    for name, database in list(datasette.databases.items()):
        is_ours = isinstance(database, RegistryDatabase)
        if database.path and not is_ours and is_registry(Path(database.path)):
            database.close()
            ours = RegistryDatabase(datasette, str(database.path))
            ours.name, ours.route = name, database.route
            datasette.databases[name] = ours
    return shown(datasette)


def shown(datasette: Any) -> RegistryDatabase | None:
    """Give the registry whose pages are shown: the first one opened."""
    databases = datasette.databases.values()
    return next((database for database in databases if isinstance(database, RegistryDatabase)), None)


def restrict(connection: sqlite3.Connection, name: str, datasette: Any) -> None:
    """Bound what a statement may use on a connection to a registry; leave every other database alone."""
    if not isinstance(datasette.databases.get(name), RegistryDatabase):
        return
    for limit, value in LIMITS:
        connection.setlimit(limit, value)
    connection.execute("PRAGMA query_only = on")
    connection.execute("PRAGMA trusted_schema = off")
