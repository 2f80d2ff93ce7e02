"""Problems told to people as text, and to programs as JSON."""

import json
from collections import Counter
from collections.abc import Sequence
from typing import Any

from registry.forms.shown import shown
from registry.problems import Level, Problem

_LONGEST_LINE = 400


def in_order(problems: Sequence[Problem]) -> list[Problem]:
    """Sort problems by file and place; those of one place keep their order."""
    return sorted(problems, key=lambda problem: (problem.file, problem.line, problem.column))


def as_text(problems: Sequence[Problem], *, files_checked: int) -> str:
    """Write a report for people: each problem with its place, what was read, expected, and to be done.

    Parameters
    ----------
    problems : sequence of Problem
        In any order.
    files_checked : int
        The number of forms that were looked at.
    """
    lines = [problem_text(problem) for problem in in_order(problems)]
    lines.append(_closing_line(problems, files_checked))
    return "\n".join(lines) + "\n"


def problem_text(problem: Problem) -> str:
    """Write one problem for people, without a line end."""
    place = shown(problem.file, 300)
    if problem.line:
        place += f":{problem.line}:{problem.column}"
    path = f"  {shown(problem.path, 200)}" if problem.path else ""
    lines = [f"{place}: {problem.level} {problem.code}{path}"]
    for label, text in (("read", problem.read), ("expected", problem.expected), ("do", problem.remedy)):
        if text:
            lines.append(f"    {label:<8}  {shown(text, _LONGEST_LINE)}")
    return "\n".join(lines)


def as_json(problems: Sequence[Problem], *, files_checked: int) -> str:
    """Write the same report as JSON: a list ``problems``, and ``counts`` by level and of files."""
    counts = Counter(problem.level for problem in problems)
    report: dict[str, Any] = {
        "problems": [
            {"level": problem.level.value, "code": problem.code}
            | {
                "file": shown(problem.file, 300),
                "line": problem.line,
                "column": problem.column,
                "path": problem.path,
                "read": problem.read,
                "expected": problem.expected,
                "remedy": problem.remedy,
            }
            for problem in in_order(problems)
        ],
        "counts": {"files": files_checked} | {level.value: counts[level] for level in Level},
    }
    return json.dumps(report, ensure_ascii=False, indent=2) + "\n"


def _closing_line(problems: Sequence[Problem], files_checked: int) -> str:
    """Say how many forms were checked and how many problems of each level they have."""
    counts = Counter(problem.level for problem in problems)
    told = ", ".join(_counted(counts[level], level.value) for level in Level)
    return f"{_counted(files_checked, 'form')} checked: {told}"


def _counted(number: int, noun: str) -> str:
    return f"{number} {noun}" if number == 1 else f"{number} {noun}s"
