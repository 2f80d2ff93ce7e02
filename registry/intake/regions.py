"""Region files: borders that a tower may be said to lie in."""

import hashlib
import os
from collections.abc import Iterable, Mapping
from typing import NamedTuple

from registry.geography import Region, RegionError, read_regions
from registry.intake.preparing import Task
from registry.problems import Problem, whole_file_problem

LARGEST_BYTES = 50_000_000
"""Bytes a region file may have: the borders of a country in fine detail stay below."""


class RegionFile(NamedTuple):
    """A region file read; ``regions`` is empty where it has problems."""

    task: Task
    sha256: str
    data: bytes
    regions: tuple[Region, ...]
    problems: tuple[Problem, ...] = ()


def read_region_files(tasks: Iterable[Task], known: Mapping[str, str]) -> list[RegionFile]:
    """Read region files and report everything wrong with them.

    Parameters
    ----------
    tasks : iterable of Task
        The files in the order of reading.
    known : mapping
        Where each region that stays in the registry comes from, by its id: no id may come from two files.
    """
    owner = dict(known)
    files = []
    for task in tasks:
        read = _read(task)
        repeated = [region.id for region in read.regions if region.id in owner]
        if repeated:
            problems = tuple(
                Problem(
                    task.shown,
                    0,
                    0,
                    "bad-region",
                    id_,
                    id_,
                    f"an id that {owner[id_]} has not",
                    "give the region an id of its own, or leave out one of the two files",
                )
                for id_ in repeated
            )
            read = read._replace(regions=(), problems=problems)
        owner.update((region.id, task.shown) for region in read.regions)
        files.append(read)
    return files


def _read(task: Task) -> RegionFile:
    data = task.data
    if not task.stored:
        try:
            with task.path.open("rb") as stream:
                data = stream.read(LARGEST_BYTES + 1)
        except OSError as error:
            code = "file-missing" if isinstance(error, FileNotFoundError) else "file-unreadable"
            reason = os.strerror(error.errno) if error.errno else str(error)
            return _refused(task, code, reason, "check the name, and that it may be read")
    if len(data) > LARGEST_BYTES:
        read = f"over {LARGEST_BYTES // 10**6} MB"
        return _refused(task, "file-too-large", read, "simplify the borders, then try again")
    try:
        regions = read_regions(data.removeprefix(b"\xef\xbb\xbf").decode("utf-8"))
    except UnicodeDecodeError:
        return _refused(task, "text-encoding", "bytes that are not UTF-8", "save it as UTF-8")
    except RegionError as error:
        problems = tuple(
            Problem(task.shown, 0, 0, error.code, fault.path, fault.read, fault.expected, fault.remedy)
            for fault in error.faults
        )
        return RegionFile(task, "", b"", (), problems)
    return RegionFile(task, hashlib.sha256(data).hexdigest(), data, tuple(regions))


def _refused(task: Task, code: str, read: str, remedy: str) -> RegionFile:
    problem = whole_file_problem(task.shown, code, read, "regions as GeoJSON", remedy)
    return RegionFile(task, "", b"", (), (problem,))
