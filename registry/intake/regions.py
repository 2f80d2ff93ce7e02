"""Region files: borders that a tower may be said to lie in."""

import hashlib
import os
from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import NamedTuple

from registry.geography import (
    SHARE_INSIDE,
    Region,
    RegionError,
    in_circles,
    read_regions,
    share_inside,
)
from registry.intake.preparing import Task
from registry.model.edtf import EdtfError
from registry.model.validity import read_validity
from registry.problems import Level, Problem, whole_file_problem

LARGEST_BYTES = 50_000_000
"""Bytes a region file may have: the borders of a country in fine detail stay below."""


class RegionFile(NamedTuple):
    """A region file read; ``regions`` is empty where it has errors."""

    task: Task
    sha256: str
    data: bytes
    regions: tuple[Region, ...]
    problems: tuple[Problem, ...] = ()

    @property
    def refused(self) -> bool:
        """Whether it has errors, and none of its regions counts."""
        return any(problem.level is Level.ERROR for problem in self.problems)


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


def with_nesting_judged(files: Sequence[RegionFile], kept: Sequence[Region]) -> list[RegionFile]:
    """Add to region files what is doubtful in how their regions refer to each other and to those kept.

    Parameters
    ----------
    files : sequence of RegionFile
        Files as read.
    kept : sequence of Region
        Regions of other files that stay in the registry.
    """
    everywhere = [*kept, *(region for file in files for region in file.regions)]
    known = {region.id: region for region in everywhere}
    circles = in_circles(everywhere)
    return [
        file._replace(
            problems=(
                *file.problems,
                *(
                    problem
                    for place, region in enumerate(file.regions)
                    for problem in _doubts(file.task.shown, f"features[{place}]", region, known, circles)
                ),
            )
        )
        for file in files
    ]


def _doubts(
    shown: str, path: str, region: Region, known: Mapping[str, Region], circles: set[str]
) -> Iterator[Problem]:
    """Tell what is doubtful in one region."""

    def problem(code: str, field: str, read: str, expected: str, remedy: str) -> Problem:
        return Problem(shown, 0, 0, code, f"{path}.{field}", read, expected, remedy)

    if region.uncut:
        yield problem(
            "antimeridian-uncut",
            "geometry",
            "a step of more than 180°",
            "a border cut at the antimeridian (RFC 7946, section 3.1.9)",
            "nothing to do if it goes the short way, over the antimeridian; else put a corner between",
        )
    for key, other in (("parent", region.parent), ("version_of", region.version_of)):
        if other and other not in known:
            remedy = "check the id, or load the border of that region"
            yield problem(
                "unknown-region", f"properties.{key}", other, "a region whose border is loaded", remedy
            )
    later = known.get(region.version_of)
    if later is not None and later.version_of:
        remedy = f"name {later.version_of} here too: all versions of a border name the same one"
        yield problem(
            "version-of-a-version", "properties.version_of", later.id, "a region that names no other", remedy
        )
    parent = known.get(region.parent)
    if region.id in circles:
        remedy = "correct the parent; until then none of the circle counts as one"
        yield problem(
            "regions-in-circle", "properties.parent", region.parent, "a parent that is not inside it", remedy
        )
    elif parent is not None and (share := share_inside(region, parent)) < SHARE_INSIDE:
        yield problem(
            "outside-parent",
            "properties.parent",
            f"{share:.1%} of it lies in {parent.id}",
            f"at least {SHARE_INSIDE:.0%}",
            "check the parent and both borders; the parent counts as the file has it",
        )


def _validity_problems(task: Task, times: Mapping[str, str]) -> tuple[Problem, ...]:
    """Tell which times of validity, by their paths, cannot be read."""
    problems = []
    for path, valid in times.items():
        try:
            read_validity(valid)
        except EdtfError as error:
            problems.append(Problem(task.shown, 0, 0, error.code, path, valid, error.expected, error.remedy))
    return tuple(problems)


def _read(task: Task) -> RegionFile:
    data = task.data
    if not task.stored:
        if task.path.exists() and not task.path.is_file():
            return _refused(task, "file-not-a-form", "a device or pipe", "copy it into a file first")
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
            Problem(
                task.shown,
                fault.line,
                fault.column,
                error.code,
                fault.path,
                fault.read,
                fault.expected,
                fault.remedy,
            )
            for fault in error.faults
        )
        return RegionFile(task, "", b"", (), (*problems, *_validity_problems(task, error.times)))
    times = {f"features[{place}].properties.valid": region.valid for place, region in enumerate(regions)}
    problems = _validity_problems(task, times)
    kept = () if problems else tuple(regions)
    return RegionFile(task, hashlib.sha256(data).hexdigest(), data, kept, problems)


def _refused(task: Task, code: str, read: str, remedy: str) -> RegionFile:
    problem = whole_file_problem(task.shown, code, read, "regions as GeoJSON", remedy)
    return RegionFile(task, "", b"", (), (problem,))
