"""Files of founders, each checked by itself and all against each other."""

from collections.abc import Iterable, Mapping, Sequence
from typing import NamedTuple

from registry.forms.check_founders import Reference, check_founders_bytes, check_founders_file, names_shared
from registry.forms.finding import Finding
from registry.intake.preparing import Task
from registry.model.founders import Founder
from registry.model.names import OwnedName
from registry.problems import Level, Problem


class FoundersFile(NamedTuple):
    """A file of founders read; ``founders`` is empty where it has errors."""

    task: Task
    sha256: str
    data: bytes
    founders: tuple[Founder, ...]
    names: tuple[OwnedName, ...]
    references: tuple[Reference, ...]
    problems: tuple[Problem, ...] = ()

    @property
    def refused(self) -> bool:
        """Whether it has errors, and none of its founders counts."""
        return any(problem.level is Level.ERROR for problem in self.problems)


def read_founders_files(tasks: Iterable[Task], kept: Sequence[OwnedName]) -> list[FoundersFile]:
    """Read files of founders and report everything wrong with them.

    Parameters
    ----------
    tasks : iterable of Task
        The files in the order of reading.
    kept : sequence of OwnedName
        Names that stay in the registry, with the files they come from: no id may come from two files, and no
        spelling belong to two founders unless time or place tells them apart.
    """
    owner = {name.founder_id: name.file for name in kept}
    known = list(kept)
    files = []
    for task in tasks:
        read = _read(task)
        problems = [*read.problems, *_owned_already(read, owner), *names_shared(read.names, known)]
        read = read._replace(problems=tuple(sorted(problems, key=lambda each: (each.line, each.column))))
        if read.refused:
            read = read._replace(founders=(), names=(), references=())
        owner.update((founder.id, task.shown) for founder in read.founders)
        known += read.names
        files.append(read)
    return with_ties_judged(files, owner)


def _read(task: Task) -> FoundersFile:
    read = (
        check_founders_bytes(task.data, task.shown)
        if task.stored
        else check_founders_file(task.path, task.shown)
    )
    return FoundersFile(task, read.sha256, read.data, read.founders or (), *read[4:])


def _owned_already(read: FoundersFile, owner: Mapping[str, str]) -> Iterable[Problem]:
    """Report ids that another file has."""
    at = {name.founder_id: name for name in reversed(read.names)}
    for place, founder in enumerate(read.founders, start=1):
        if founder.id in owner:
            remedy = "give the founder an id of its own, or leave out one of the two entries"
            finding = Finding(
                "duplicate-identifier", founder.id, f"an id that {owner[founder.id]} has not", remedy
            )
            yield finding.at(read.task.shown, at[founder.id], f"founders[{place}].id")


def with_ties_judged(files: Sequence[FoundersFile], owner: Mapping[str, str]) -> list[FoundersFile]:
    """Add to files the founders that their ties name and no file has."""
    return [
        file._replace(
            problems=(
                *file.problems,
                *(
                    Finding(
                        "unknown-founder",
                        each.founder_id,
                        "a founder that a file of founders has",
                        "check the id, or make an entry for that founder",
                    ).at(file.task.shown, each, each.path)
                    for each in file.references
                    if each.founder_id not in owner
                ),
            )
        )
        for file in files
    ]
