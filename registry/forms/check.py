"""One form checked: its bytes in, a typed survey or everything that is wrong with it out."""

import hashlib
import os
from collections.abc import Sequence
from datetime import date
from pathlib import Path
from stat import S_ISDIR, S_ISREG
from typing import NamedTuple

from registry.forms.finding import Finding
from registry.forms.reader import read_tree
from registry.forms.rules import rule_problems
from registry.forms.ruling import BellRule
from registry.forms.shape import shape_survey
from registry.forms.source import LARGEST_BYTES, too_large
from registry.geography import Region
from registry.model.survey import ReadSurvey
from registry.problems import Level, Problem, whole_file_problem

MOST_PROBLEMS = 500
"""Problems of one form that are named one by one; a form filled in by a person has a tenth of it."""


class Checked(NamedTuple):
    """A form with what was found in it.

    ``read`` is None when any of the problems is an error. ``sha256`` is empty and ``data`` too where the
    file could not be read at all.
    """

    file: str
    sha256: str
    data: bytes
    read: ReadSurvey | None
    problems: tuple[Problem, ...]


def check_bytes(
    data: bytes,
    file: str,
    *,
    today: date,
    regions: Sequence[Region] = (),
    bell_rules: Sequence[BellRule] = (),
) -> Checked:
    """Check a form.

    Parameters
    ----------
    data : bytes
        The form, as it stands in its file.
    file : str
        Its name for the problems.
    today : datetime.date
        The day no survey can be later than.
    regions : sequence of Region
        The regions a tower may be said to lie in; none if no borders are loaded.
    bell_rules : sequence of BellRule
        Rules on each bell beside those of the forms: what needs to compute comes from outside.
    """
    tree = read_tree(data, file)
    shaped = shape_survey(tree, file)
    problems = tree.problems + shaped.problems
    if tree.complete and shaped.is_form:
        problems += rule_problems(shaped.read, file, today=today, regions=regions, bell_rules=bell_rules)
    failed = not (tree.complete and shaped.is_form) or any(
        problem.level is Level.ERROR for problem in problems
    )
    digest = hashlib.sha256(data).hexdigest()
    return Checked(file, digest, data, None if failed else shaped.read, first_of(problems, file))


def check_file(
    path: Path,
    file: str,
    *,
    today: date,
    regions: Sequence[Region] = (),
    bell_rules: Sequence[BellRule] = (),
) -> Checked:
    """Check the form in a file, and that the photos and recordings it names are there.

    Parameters
    ----------
    path : pathlib.Path
        The file.
    file, today, regions, bell_rules
        As for `check_bytes`.
    """
    try:
        data = bytes_of(path, file)
    except UnreadableError as refused:
        return Checked(file, "", b"", None, (refused.problem,))
    checked = check_bytes(data, file, today=today, regions=regions, bell_rules=bell_rules)
    if checked.read is None or not checked.read.survey.attachments:
        return checked
    missing = _missing_attachments(checked.read, path.parent, file)
    return checked._replace(problems=tuple(sorted((*checked.problems, *missing), key=_place)))


class UnreadableError(Exception):
    """The file cannot be read; says why."""

    def __init__(self, problem: Problem) -> None:
        super().__init__(problem.code)
        self.problem = problem


def bytes_of(path: Path, file: str) -> bytes:
    """Read a file, refusing what is no file, too large, or not to be had.

    Raises
    ------
    UnreadableError
        With the problem that says why.
    """

    def refuse(code: str, read: str, expected: str, remedy: str) -> UnreadableError:
        return UnreadableError(whole_file_problem(file, code, read, expected, remedy))

    try:
        kind = path.stat()
        if S_ISDIR(kind.st_mode):
            raise refuse(
                "file-not-a-form", "a folder", "a survey form", "name the forms in it, or check the folder"
            )
        if not S_ISREG(kind.st_mode):
            raise refuse("file-not-a-form", "a device or pipe", "a survey form", "copy it into a file first")
        if kind.st_size > LARGEST_BYTES:
            raise UnreadableError(too_large(file, kind.st_size))
        with path.open("rb") as stream:
            return stream.read(LARGEST_BYTES + 1)
    except (FileNotFoundError, NotADirectoryError):
        raise refuse(
            "file-missing", "no such file", "a survey form", "check the name and the folder"
        ) from None
    except PermissionError:
        raise refuse(
            "file-unreadable",
            "no permission to read",
            "a survey form",
            "ask its owner for permission to read it",
        ) from None
    except (OSError, ValueError) as error:
        reason = os.strerror(error.errno) if isinstance(error, OSError) and error.errno else str(error)
        raise refuse(
            "file-unreadable", reason, "a survey form", "check the name, the link or the disk"
        ) from None


def _missing_attachments(read: ReadSurvey, folder: Path, file: str) -> list[Problem]:
    """List the attachments that are not where the form says."""
    problems = []
    for index, attachment in enumerate(read.survey.attachments):
        try:
            there = (folder / attachment.file).is_file()
        except (OSError, ValueError):
            there = False
        if not there:
            place = read.written["attachments", index]["file"]
            problems.append(
                Problem(
                    file,
                    place.line,
                    place.column,
                    "attachment-missing",
                    f"attachments[{index + 1}].file",
                    attachment.file,
                    "a file at this path, seen from the form",
                    "put the file there, or correct the path; capitals count",
                )
            )
    return problems


def first_of(problems: list[Problem], file: str) -> tuple[Problem, ...]:
    """Put problems in the order of the file; of very many, keep the first and say how many there are."""
    problems.sort(key=_place)
    rest = len(problems) - MOST_PROBLEMS
    if rest <= 0:
        return tuple(problems)
    finding = Finding(
        "too-many-problems",
        f"{len(problems)} problems, {rest} of them not named here",
        "a survey form with fewer",
        "mend those named above and check again; perhaps this is another kind of file",
    )
    last = problems[MOST_PROBLEMS - 1]
    return (*problems[:MOST_PROBLEMS], finding.at(file, last))


def _place(problem: Problem) -> tuple[int, int]:
    return problem.line, problem.column
