"""Which files are meant by the names on a command line."""

import os
from collections.abc import Callable, Iterable, Iterator, Sequence
from pathlib import Path
from typing import NamedTuple

from registry.forms.check_founders import is_founders_file
from registry.problems import Problem, whole_file_problem

FORM_ENDINGS = (".yaml", ".yml")
REGION_ENDINGS = (".geojson",)

Progress = Callable[[int, int], None]
"""Called with the forms done and the forms there are."""


class FoundFile(NamedTuple):
    """A file to read: where it is, what it is called for people, ``form``, ``region`` or ``founders``."""

    path: Path
    shown: str
    kind: str


class Found(NamedTuple):
    """All files meant, in the order of reading, each once; the folders among the names; what is wrong."""

    files: tuple[FoundFile, ...]
    folders: tuple[Path, ...]
    problems: tuple[Problem, ...]


def find_files(paths: Sequence[Path]) -> Found:
    """Find the forms, region files and files of founders that some names mean.

    A folder is gone through with all folders in it, in the order of the alphabet; files and folders whose
    name begins with a dot are left out, and so is every other kind of file. A file that is named by itself is
    taken whatever its ending. Files that are not there are for the check to report.
    """
    files: dict[Path, FoundFile] = {}
    folders: list[Path] = []
    problems: list[Problem] = []
    for path in paths:
        if not path.is_dir():
            _add(files, path, _kind(path) or "form")
            continue
        folders.append(path.resolve())
        before = len(files)
        for inner in _walk(path, problems):
            kind = _kind(inner)
            if kind:
                _add(files, inner, kind)
        if len(files) == before and not any(path.resolve() in known.parents for known in files):
            problems.append(
                whole_file_problem(
                    str(path), "no-forms", "no .yaml file", "survey forms", "check the name of the folder"
                )
            )
    return Found(tuple(files.values()), tuple(folders), tuple(problems))


def _kind(path: Path) -> str | None:
    lower = path.name.lower()
    if lower.endswith(FORM_ENDINGS):
        return "founders" if is_founders_file(path) else "form"
    return "region" if lower.endswith(REGION_ENDINGS) else None


def _add(files: dict[Path, FoundFile], path: Path, kind: str) -> None:
    files.setdefault(path.resolve(), FoundFile(path, str(path), kind))


def _walk(folder: Path, problems: list[Problem]) -> Iterator[Path]:
    """Give every file below a folder in the order of the alphabet, hidden ones left out."""

    def unreadable(error: OSError) -> None:
        problems.append(
            whole_file_problem(
                str(error.filename),
                "file-unreadable",
                os.strerror(error.errno) if error.errno else str(error),
                "a folder that may be read",
                "ask its owner for permission to read it",
            )
        )

    for here, inner, names in os.walk(folder, onerror=unreadable):
        inner[:] = sorted(name for name in inner if not name.startswith("."))
        for name in sorted(names):
            if not name.startswith("."):
                yield Path(here) / name


def source_path(path: Path, database: Path) -> str:
    """Give the path under which a registry keeps a file: seen from the registry's own folder.

    So a folder with its registry and its forms can be moved or copied as a whole.
    """
    resolved, folder = path.resolve(), database.resolve().parent
    try:
        return Path(os.path.relpath(resolved, folder)).as_posix()
    except ValueError:  # pragma: no cover - another drive, on Windows
        return resolved.as_posix()


def located(source: str, database: Path) -> Path:
    """Give the place on this disk of a file that a registry keeps; the inverse of :func:`source_path`."""
    return Path(os.path.normpath(database.resolve().parent / source))


def is_below(path: Path, folders: Iterable[Path]) -> bool:
    """Say whether a path lies in one of some folders."""
    return any(folder in path.parents for folder in folders)
