"""Check forms without loading them: everything wrong, in one pass."""

from collections.abc import Sequence
from contextlib import ExitStack, closing
from datetime import UTC, date, datetime
from pathlib import Path
from typing import NamedTuple

from registry.intake.files import Progress, find_files, located, source_path
from registry.intake.founders import read_founders_files
from registry.intake.judging import judge
from registry.intake.planning import KINDS
from registry.intake.preparing import Rules, Task, crew, jobs_for
from registry.intake.regions import read_region_files, with_nesting_judged
from registry.model.footprint import Footprint
from registry.problems import Level, Problem
from registry.store.database import fingerprint, not_a_registry, open_registry, schema_of
from registry.store.founders import known_names
from registry.store.known import footprints, known_regions


class CheckReport(NamedTuple):
    """What is wrong with some forms; ``files`` counts forms, region files and files of founders."""

    files: int
    problems: tuple[Problem, ...]

    @property
    def has_errors(self) -> bool:
        """Whether anything would not load."""
        return any(problem.level is Level.ERROR for problem in self.problems)


def check(
    paths: Sequence[Path],
    against: Path | None = None,
    *,
    jobs: int | None = None,
    progress: Progress | None = None,
    today: date | None = None,
) -> CheckReport:
    """Check forms, region files and files of founders, each by itself and all against each other.

    Parameters
    ----------
    paths : sequence of Path
        Files, and folders that are gone through.
    against : Path, optional
        A registry: forms are also held against what it knows, and its regions count.
    jobs, progress, today
        As for :func:`registry.intake.loading.load`.

    Raises
    ------
    InputError
        Where ``against`` is missing, is no registry, or is one of another version of the program.
    """
    found = find_files(paths)
    with ExitStack() as stack:
        known = stack.enter_context(closing(open_registry(against))) if against is not None else None
        if against is not None and known is not None and schema_of(known) != fingerprint():
            raise not_a_registry(against, "a registry of another version; load brings it up to date")
        base = against if against is not None else Path("registry")
        tasks = {
            kind: [
                Task(file.path, file.shown, source_path(file.path, base))
                for file in found.files
                if file.kind == kind
            ]
            for kind in KINDS
        }
        shown = {task.source: task.shown for of_kind in tasks.values() for task in of_kind}
        kept = [each for each in known_regions(known) if each.source not in shown] if known else []
        borders = with_nesting_judged(
            read_region_files(tasks["region"], {each.region.id: each.source for each in kept}),
            [each.region for each in kept],
        )
        names = [name for name in known_names(known) if name.file not in shown] if known else []
        people = read_founders_files(tasks["founders"], names)
        problems = [*found.problems, *(problem for file in borders for problem in file.problems)]
        problems += [problem for file in people for problem in file.problems]
        regions = (*(each.region for each in kept), *(region for file in borders for region in file.regions))
        prints: list[Footprint] = []
        rules = Rules(today or datetime.now(UTC).astimezone().date(), regions)
        with crew(rules, jobs_for(len(tasks["form"]), jobs)) as workers:
            done = 0
            for chunk in workers.prepared(tasks["form"], with_rows=False):
                problems += [problem for form in chunk for problem in form.problems]
                prints += [form.footprint for form in chunk if form.footprint is not None]
                done += len(chunk)
                if progress is not None:
                    progress(done, len(tasks["form"]))
        around = footprints(known, prints) if known else []
        ids = {each.survey_id for each in prints}
        there = [each for each in around if each.survey_id not in ids or located(each.file, base).exists()]
        problems += [problem.moved_to(shown[problem.file]) for problem in judge(prints, there).problems]
    problems.sort(key=lambda problem: (problem.file, problem.line, problem.column))
    return CheckReport(len(found.files), tuple(problems))
