"""What a load has to do: which files are new, changed, moved, gone, or as they were."""

import hashlib
import sqlite3
from collections.abc import Mapping
from pathlib import Path
from typing import NamedTuple

from registry.intake.files import Found, is_below, located, source_path
from registry.intake.preparing import Task
from registry.problems import Problem, whole_file_problem
from registry.store.database import fingerprint, schema_of
from registry.store.write import KnownSource, known_sources

KINDS = ("form", "region", "founders")
"""Kinds of file a registry is made of."""


class Plan(NamedTuple):
    """What to do.

    ``forms``, ``regions`` and ``founders`` are to be read. ``moved`` maps the old path of a file to its new
    one where the text is the same. ``known`` are the files of the registry by path. ``anew`` says that the
    registry has another schema: it is made again from its own texts, which then are to be read too.
    """

    forms: tuple[Task, ...]
    regions: tuple[Task, ...]
    founders: tuple[Task, ...]
    unchanged: int
    moved: dict[str, str]
    known: dict[str, KnownSource]
    anew: bool


def plan_load(found: Found, database: Path, conn: sqlite3.Connection | None) -> Plan:
    """Hold the files against those a registry has, by SHA-256, without reading what they say.

    ``conn`` reads the registry as it is; None where there is none yet.
    """
    known = {} if conn is None else {source.path: source for source in known_sources(conn)}
    anew = conn is not None and schema_of(conn) != fingerprint()
    gone = {
        source.sha256: source.path for source in known.values() if not located(source.path, database).exists()
    }
    to_read: dict[str, list[Task]] = {kind: [] for kind in KINDS}
    unchanged = 0
    moved: dict[str, str] = {}
    for file in found.files:
        path = source_path(file.path, database)
        before = known.get(path)
        digest = _digest(file.path) if before is not None or gone else ""
        if before is not None and before.sha256 == digest:
            unchanged += 1
        elif before is None and digest in gone:
            moved[gone.pop(digest)] = path
        else:
            to_read[file.kind].append(Task(file.path, file.shown, path))
    if anew:
        replaced = {task.source for tasks in to_read.values() for task in tasks}
        stored: dict[str, list[Task]] = {kind: [] for kind in KINDS}
        for path, source in known.items():
            if path not in replaced:
                task = Task(located(path, database), path, moved.get(path, path), stored=True)
                stored[source.kind].append(task)
        to_read = {kind: stored[kind] + to_read[kind] for kind in to_read}
    form, region, founders = (tuple(to_read[kind]) for kind in KINDS)
    return Plan(form, region, founders, unchanged, moved, known, anew)


def _digest(path: Path) -> str:
    """Give the SHA-256 of a file; empty where it cannot be read, which the check then reports."""
    try:
        with path.open("rb") as file:
            return hashlib.file_digest(file, "sha256").hexdigest()
    except OSError:
        return ""


def removed(
    found: Found, database: Path, known: Mapping[str, KnownSource], moved: Mapping[str, str]
) -> list[Problem]:
    """Name the files that were loaded from one of the folders, are no longer there, and have not moved."""
    problems = []
    for path, source in known.items():
        place = located(path, database)
        if path not in moved and is_below(place, found.folders) and not place.exists():
            problems.append(
                whole_file_problem(
                    path,
                    "source-removed",
                    "no such file",
                    f"the form of {source.survey_id}" if source.survey_id else "the file",
                    "put it back; to leave it out for good, load the other forms into a new registry",
                )
            )
    return problems
