"""The work on single forms, by one process or by several: read, check, turn into rows."""

import multiprocessing
import os
import signal
from collections import deque
from collections.abc import Iterable, Iterator, Sequence
from concurrent.futures import Future, ProcessPoolExecutor
from contextlib import contextmanager
from datetime import date
from itertools import islice
from pathlib import Path
from typing import NamedTuple, TypeVar

from registry.forms.across import footprint
from registry.forms.check import check_bytes, check_file
from registry.geography import Region
from registry.intake.collector import collector_paused
from registry.intake.dates_as_cast import DATE_RULES
from registry.model.footprint import Footprint
from registry.problems import Problem
from registry.store.rows import SurveyRows, rows_of

CHUNK = 50
"""Forms that travel to a worker at a time."""

WORTH_A_WORKER = 60
"""Forms below which one more process costs more time than it saves."""

Item = TypeVar("Item")


class Task(NamedTuple):
    """A file to read.

    ``source`` is the path under which the registry keeps it. ``stored`` says that the text comes from a
    registry and not from ``path``; it then stands in ``data`` when the work begins.
    """

    path: Path
    shown: str
    source: str
    stored: bool = False
    data: bytes = b""


class Prepared(NamedTuple):
    """A form read and checked; ``footprint`` and ``rows`` are None where it has errors."""

    task: Task
    sha256: str
    data: bytes
    problems: tuple[Problem, ...]
    footprint: Footprint | None
    rows: SurveyRows | None


class Rules(NamedTuple):
    """What a check needs besides the form."""

    today: date
    regions: tuple[Region, ...] = ()


@collector_paused()
def prepare(tasks: Sequence[Task], rules: Rules, *, with_rows: bool) -> list[Prepared]:
    """Read and check some forms, and turn those without errors into rows if they are wanted."""
    prepared = []
    for task in tasks:
        if task.stored:
            checked = check_bytes(
                task.data, task.shown, today=rules.today, regions=rules.regions, bell_rules=DATE_RULES
            )
        else:
            checked = check_file(
                task.path, task.shown, today=rules.today, regions=rules.regions, bell_rules=DATE_RULES
            )
        read = checked.read
        prepared.append(
            Prepared(
                task._replace(data=b""),
                checked.sha256,
                checked.data if with_rows else b"",
                checked.problems,
                None if read is None else footprint(read, task.source),
                None if read is None or not with_rows else rows_of(read, task.source),
            )
        )
    return prepared


_rules: Rules


def _start_worker(rules: Rules) -> None:
    global _rules  # noqa: PLW0603 - a worker gets the borders once, not with each chunk
    _rules = rules
    # Ctrl-C reaches every process of the terminal; the first one ends the others, in silence.
    signal.signal(signal.SIGINT, signal.SIG_IGN)


def _prepare_in_worker(tasks: list[Task], with_rows: bool) -> list[Prepared]:
    return prepare(tasks, _rules, with_rows=with_rows)


class Crew:
    """Does work in this process (``jobs`` 1) or in several, and gives the results in order."""

    def __init__(self, rules: Rules, pool: ProcessPoolExecutor | None, jobs: int) -> None:
        self._rules = rules
        self._pool = pool
        self._jobs = jobs

    def prepared(self, tasks: Iterable[Task], *, with_rows: bool) -> Iterator[list[Prepared]]:
        """Prepare forms chunk by chunk, never with more results waiting than a few for each process."""
        if self._pool is None:
            for chunk in chunks(tasks, CHUNK):
                yield prepare(chunk, self._rules, with_rows=with_rows)
            return
        waiting: deque[Future[list[Prepared]]] = deque()
        for chunk in chunks(tasks, CHUNK):
            waiting.append(self._pool.submit(_prepare_in_worker, chunk, with_rows))
            if len(waiting) > 2 * self._jobs:
                yield waiting.popleft().result()
        while waiting:
            yield waiting.popleft().result()


def chunks(items: Iterable[Item], size: int) -> Iterator[list[Item]]:
    """Cut a sequence into lists of at most ``size``."""
    rest = iter(items)
    while chunk := list(islice(rest, size)):
        yield chunk


def jobs_for(forms: int, jobs: int | None) -> int:
    """Say how many processes are worth their start; ``jobs`` None leaves it to the machine."""
    if jobs is not None:
        return max(1, jobs)
    return max(1, min(os.cpu_count() or 1, forms // WORTH_A_WORKER))


@contextmanager
def crew(rules: Rules, jobs: int) -> Iterator[Crew]:
    """Give a crew of ``jobs`` processes; they end with the block, whatever happens in it."""
    if jobs <= 1:
        yield Crew(rules, None, 1)
        return
    # Forking a process that has threads or an open database can hang or corrupt: start clean ones.
    method = "forkserver" if "forkserver" in multiprocessing.get_all_start_methods() else "spawn"
    context = multiprocessing.get_context(method)
    if method == "forkserver":
        context.set_forkserver_preload([__name__])
    pool = ProcessPoolExecutor(jobs, context, _start_worker, (rules,))
    try:
        yield Crew(rules, pool, jobs)
    finally:
        pool.shutdown(wait=True, cancel_futures=True)
