"""Write a registry so that readers see all of a run or nothing of it.

A run works on a private copy beside the registry and puts it in its place at the end, in one step. Whatever
happens before that step leaves the old registry as it was.
"""

import os
import shutil
import sqlite3
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from registry.problems import InputError, whole_file_problem
from registry.store.database import create_schema, is_registry, not_a_registry


class BrokenRegistryError(RuntimeError):
    """What was written contradicts itself: a fault of the program, and nothing was published."""


def draft_path(path: Path) -> Path:
    """Give the path of the private copy; there is at most one, and what a crash left is overwritten."""
    return path.with_name(f".{path.name}.draft")


def lock_path(path: Path) -> Path:
    """Give the path of the file whose lock one writer at a time holds."""
    return path.with_name(f".{path.name}.lock")


@contextmanager
def writing(path: Path) -> Iterator[Path]:
    """Hold the registry for one writer; gives its path without links.

    Raises
    ------
    InputError
        ``registry-busy`` while another process writes it, ``not-a-registry`` where another file stands in its
        place, ``registry-unwritable`` where its folder cannot be written.
    """
    path = path.resolve()
    if path.exists() and not is_registry(path):
        raise not_a_registry(path)
    lock = lock_path(path)
    try:
        descriptor = _locked(lock)
    except OSError as error:
        raise _unwritable(path, error) from error
    if descriptor is None:
        raise InputError(
            [
                whole_file_problem(
                    str(path),
                    "registry-busy",
                    "in use",
                    "no other load at the same time",
                    "wait for the other load to end, then try again",
                )
            ]
        )
    try:
        yield path
    finally:
        lock.unlink(missing_ok=True)
        os.close(descriptor)


def _locked(lock: Path) -> int | None:
    """Open and lock a file; None where another process holds it."""
    if sys.platform == "win32":  # pragma: no cover - no flock there: one writer is up to the user
        return os.open(lock, os.O_CREAT | os.O_RDWR)
    import fcntl  # noqa: PLC0415 - absent on Windows

    while True:
        descriptor = os.open(lock, os.O_CREAT | os.O_RDWR, 0o666)
        try:
            fcntl.flock(descriptor, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            os.close(descriptor)
            return None
        # The writer before may have removed the file after we opened it: then this lock guards nothing.
        if _same(lock, descriptor):
            return descriptor
        os.close(descriptor)


def _same(lock: Path, descriptor: int) -> bool:
    try:
        return os.path.samestat(lock.stat(), os.fstat(descriptor))
    except FileNotFoundError:
        return False


@contextmanager
def draft(path: Path, *, anew: bool = False) -> Iterator[sqlite3.Connection]:
    """Give a connection to a private copy, inside one transaction; publish it when the block ends well.

    Parameters
    ----------
    path : pathlib.Path
        The registry, held by :func:`writing`.
    anew : bool
        Start from an empty registry although there is one.

    Raises
    ------
    InputError
        ``registry-unwritable`` where the disk refuses.
    BrokenRegistryError
        When the new content contradicts itself.
    """
    copy = draft_path(path)
    try:
        try:
            copy.unlink(missing_ok=True)
            if path.exists():
                shutil.copyfile(os.devnull if anew else path, copy)
                shutil.copymode(path, copy)
            conn = sqlite3.connect(copy, isolation_level=None)
        except (OSError, sqlite3.OperationalError) as error:
            raise _unwritable(path, error) from error
        try:
            _prepare(conn)
            conn.execute("BEGIN IMMEDIATE")
            if conn.execute("PRAGMA schema_version").fetchone()[0] == 0:
                create_schema(conn)
            yield conn
            _check(conn)
            conn.execute("COMMIT")
        finally:
            conn.close()
        _put_in_place(copy, path)
    except sqlite3.OperationalError as error:
        if "disk" in str(error) or "readonly" in str(error) or "full" in str(error):
            raise _unwritable(path, error) from error
        raise
    finally:
        copy.unlink(missing_ok=True)


def _prepare(conn: sqlite3.Connection) -> None:
    """Set what a private file allows: no journal, no waiting for the disk before the end."""
    conn.execute("PRAGMA journal_mode = OFF")
    conn.execute("PRAGMA synchronous = OFF")
    conn.execute("PRAGMA locking_mode = EXCLUSIVE")
    conn.execute("PRAGMA cache_size = -200000")
    conn.execute("PRAGMA temp_store = MEMORY")
    # Rows come in any order; all references are checked at the end.
    conn.execute("PRAGMA foreign_keys = OFF")


def _check(conn: sqlite3.Connection) -> None:
    broken = conn.execute("PRAGMA foreign_key_check").fetchall()
    if broken:
        raise BrokenRegistryError(f"{len(broken)} row(s) refer to nothing, first in {broken[0][0]}")
    verdict = conn.execute("PRAGMA quick_check(1)").fetchone()[0]
    if verdict != "ok":
        raise BrokenRegistryError(verdict)


def _put_in_place(copy: Path, path: Path) -> None:
    """Let the disk have the copy, then give it the name of the registry."""
    try:
        with copy.open("rb+") as file:
            os.fsync(file.fileno())
        os.replace(copy, path)  # noqa: PTH105 - the point of the module, named as such
        if sys.platform != "win32":
            folder = os.open(path.parent, os.O_RDONLY)
            try:
                os.fsync(folder)
            finally:
                os.close(folder)
    except OSError as error:
        raise _unwritable(path, error) from error


def _unwritable(path: Path, error: Exception) -> InputError:
    reason = os.strerror(error.errno) if isinstance(error, OSError) and error.errno else str(error)
    return InputError(
        [
            whole_file_problem(
                str(path),
                "registry-unwritable",
                reason,
                "a folder that can be written and has room",
                "check the folder, its permissions and the room on the disk",
            )
        ]
    )
