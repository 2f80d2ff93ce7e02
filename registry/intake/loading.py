"""Load forms into a registry: all of a run or nothing, and never the same thing twice."""

import sqlite3
from collections.abc import Iterable, Iterator, Sequence
from contextlib import ExitStack, closing, suppress
from datetime import UTC, date, datetime
from pathlib import Path
from typing import NamedTuple

from registry.geography import Region
from registry.intake.files import Found, Progress, find_files, located
from registry.intake.founders import FoundersFile, read_founders_files
from registry.intake.judging import judge
from registry.intake.planning import plan_load, removed
from registry.intake.preparing import Crew, Prepared, Rules, Task, crew, jobs_for
from registry.intake.recordings import analyse_recordings, stale_recordings
from registry.intake.regions import RegionFile, read_region_files, with_nesting_judged
from registry.intake.writing import Writer, derivation
from registry.model.footprint import Footprint
from registry.problems import InputError, Level, Problem, whole_file_problem
from registry.store.database import open_registry
from registry.store.founders import known_names
from registry.store.known import footprints, known_regions
from registry.store.mark import sign
from registry.store.publish import writing
from registry.store.write import loaded_at, statement, stored_text


class LoadReport(NamedTuple):
    """What a load did.

    The names are those of the files as they were given. ``left_out`` have errors; ``unchanged`` counts files
    that the registry had already; ``changed`` says whether the registry was written, ``rebuilt`` whether it
    was made again from its own texts because this version of the program has another schema. ``bells``
    counts the bells that were computed. With ``all_or_nothing`` and an error nothing is loaded or replaced.
    """

    database: Path
    files: int
    loaded: tuple[str, ...]
    replaced: tuple[str, ...]
    moved: tuple[str, ...]
    left_out: tuple[str, ...]
    unchanged: int
    bells: int
    changed: bool
    rebuilt: bool
    problems: tuple[Problem, ...]

    @property
    def has_errors(self) -> bool:
        """Whether anything was left out for an error."""
        return any(problem.level is Level.ERROR for problem in self.problems)


def load(  # noqa: PLR0913 - each a choice of the user
    paths: Sequence[Path],
    database: Path,
    *,
    jobs: int | None = None,
    all_or_nothing: bool = False,
    progress: Progress | None = None,
    today: date | None = None,
) -> LoadReport:
    """Load forms, region files and files of founders into a registry, which is made if there is none.

    Parameters
    ----------
    paths : sequence of Path
        Files, and folders that are gone through. None at all brings a registry up to date with this version
        of the program.
    database : Path
        The registry.
    jobs : int, optional
        Processes that check forms; None leaves it to the machine.
    all_or_nothing : bool
        Load nothing if any file has an error.
    progress : callable, optional
        Called with the forms done and the forms there are to check.
    today : datetime.date, optional
        The day no survey can be later than.

    Raises
    ------
    InputError
        Where the registry is busy, is something else or cannot be written, and where a form it holds no
        longer passes the check of this version; it is then as it was.
    """
    found = find_files(paths)
    with writing(database) as path, ExitStack() as stack:
        known = stack.enter_context(closing(open_registry(path))) if path.exists() else None
        run = _Run(found, path, known)
        rules = Rules(today or datetime.now(UTC).astimezone().date(), run.borders())
        with crew(rules, jobs_for(len(run.plan.forms), jobs)) as workers:
            return run.load(workers, progress, all_or_nothing=all_or_nothing)


class _AbandonedError(Exception):
    """The private copy is not to be published."""


class _Run:
    """One load: what is done with each file, and what there is to say about it."""

    def __init__(self, found: Found, database: Path, known: sqlite3.Connection | None) -> None:
        self.found = found
        self.database = database
        self.known = known
        self.plan = plan_load(found, database, known)
        self.survivors = {} if self.plan.anew else self.plan.known
        """The files whose rows stand in the registry before this run, by path."""
        self.moved = dict(self.plan.moved)
        self.new: dict[str, str] = {}
        """Survey ids of new forms, written as they came, by path."""
        self.waiting: list[Prepared] = []
        """Forms that may take the place of rows, written when all are judged."""
        self.prints: list[Footprint] = []
        self.shown = {
            task.source: task.shown for task in (*self.plan.regions, *self.plan.founders, *self.plan.forms)
        }
        self.failed: set[str] = set()
        """Paths of files with errors."""
        self.problems: list[Problem] = list(found.problems)
        kept = known_regions(known) if known is not None and not self.plan.anew else []
        self.kept_regions = [each for each in kept if each.source not in self.shown]
        files = read_region_files(
            self._with_texts(self.plan.regions), {each.region.id: each.source for each in self.kept_regions}
        )
        self.region_files = with_nesting_judged(files, [each.region for each in self.kept_regions])
        names = known_names(known) if known is not None and not self.plan.anew else []
        self.founders_files = read_founders_files(
            self._with_texts(self.plan.founders), [name for name in names if name.file not in self.shown]
        )

    def borders(self) -> tuple[Region, ...]:
        """Give the regions that forms are checked against: those kept and those that come."""
        new = (region for file in self.region_files for region in file.regions)
        return (*(each.region for each in self.kept_regions), *new)

    def load(self, workers: Crew, progress: Progress | None, *, all_or_nothing: bool) -> LoadReport:
        """Do it all; the registry is published when the block ends."""
        bells, changed = 0, False
        times = loaded_at(self.known) if self.known is not None and self.plan.anew else {}
        times.update({new: times[old] for old, new in self.moved.items() if old in times})
        now = datetime.now(UTC).isoformat(timespec="seconds")
        with suppress(_AbandonedError), ExitStack() as stack:
            writer = Writer(stack, self.database, anew=self.plan.anew, now=now, times=times)
            self._take_places_and_people(writer)
            self._take_forms(writer, workers, progress)
            self._judge(writer)
            if self.plan.anew:
                self._need_all_stored()
            if (all_or_nothing and self._has_errors()) or not self._is_anything_new():
                raise _AbandonedError
            self._replace(writer)
            bells, changed = writer.finish(), True
            self.problems += analyse_recordings(writer.conn, self.database, self.shown)
            sign(writer.conn)
        return self._report(bells=bells, changed=changed)

    # Reading

    def _with_texts(self, tasks: Iterable[Task]) -> Iterator[Task]:
        """Give tasks their text where it comes from the registry."""
        for task in tasks:
            if task.stored and self.known is not None:
                yield task._replace(data=stored_text(self.known, task.shown))
            else:
                yield task

    def _take_places_and_people(self, writer: Writer) -> None:
        for borders in self.region_files:
            if self._is_taken(borders):
                writer.add_regions(borders)
        for people in self.founders_files:
            if self._is_taken(people):
                writer.add_founders(people)

    def _places_and_people(self) -> list[RegionFile | FoundersFile]:
        return [*self.region_files, *self.founders_files]

    def _is_taken(self, file: RegionFile | FoundersFile) -> bool:
        """Say whether a file is written; tell what is wrong with it."""
        if file.refused or not file.task.stored:
            self.problems += file.problems
        if file.refused:
            self._fail(file.task.source)
        return not file.refused

    def _take_forms(self, writer: Writer, workers: Crew, progress: Progress | None) -> None:
        """Read and check all forms; write those at once that can take no one's place."""
        survey_ids = {source.survey_id for source in self.survivors.values()}
        done, total = 0, len(self.plan.forms)
        for chunk in workers.prepared(self._with_texts(self.plan.forms), with_rows=True):
            new = []
            for form in chunk:
                if not form.task.stored:
                    self.problems += form.problems
                if form.footprint is None:
                    self._fail(form.task.source)
                    if form.task.stored:
                        self.problems += form.problems
                    continue
                self.prints.append(form.footprint)
                survey_id = form.footprint.survey_id
                if survey_id in survey_ids or form.task.source in self.survivors:
                    self.waiting.append(form)
                else:
                    survey_ids.add(survey_id)
                    self.new[form.task.source] = survey_id
                    new.append(form)
            if new:
                writer.add(new)
            done += len(chunk)
            if progress is not None:
                progress(done, total)

    # Judging

    def _judge(self, writer: Writer) -> None:
        """Hold the surveys against each other and the registry, and take out again what does not fit."""
        known = footprints(self.known, self.prints) if self.known is not None and self.survivors else []
        by_id = {each.survey_id: each.file for each in self.prints}
        left = {
            each.file: by_id[each.survey_id]
            for each in known
            if each.survey_id in by_id
            and each.file not in self.plan.moved
            and not located(each.file, self.database).exists()
        }
        verdict = judge(self.prints, [each for each in known if each.file not in left])
        self.problems += [problem.moved_to(self.shown[problem.file]) for problem in verdict.problems]
        self.moved.update({old: new for old, new in left.items() if new not in verdict.refused})
        for path in verdict.refused:
            self._fail(path)
            if path in self.new:
                writer.take_out(self.new.pop(path), path)
        self.waiting = [form for form in self.waiting if form.task.source not in verdict.refused]

    def _fail(self, path: str) -> None:
        self.failed.add(path)
        before = self.survivors.get(path)
        if before is not None:
            self.problems.append(
                whole_file_problem(
                    self.shown[path],
                    "earlier-text-kept",
                    "errors in the new text",
                    "a form without errors",
                    "correct it and load it again; until then the registry tells what the earlier text told",
                )
            )

    def _need_all_stored(self) -> None:
        """Refuse to make a registry anew where that would lose a form it holds."""
        tasks = (*self.plan.regions, *self.plan.founders, *self.plan.forms)
        stored = {task.source for task in tasks if task.stored}
        lost = stored & self.failed
        if lost:
            shown = {self.shown[path] for path in lost}
            raise InputError([problem for problem in self.problems if problem.file in shown])

    def _has_errors(self) -> bool:
        return any(problem.level is Level.ERROR for problem in self.problems)

    def _is_anything_new(self) -> bool:
        if self.new or self.waiting or self.moved or self.plan.anew:
            return True
        if any(not file.refused for file in self._places_and_people()):
            return True
        if self.known is None:
            return False
        if statement(self.known, "derivation") != derivation():
            return True
        return any(stale_recordings(self.known, self.database))

    # Writing what takes the place of something

    def _replace(self, writer: Writer) -> None:
        """Take out the earlier rows of corrected and moved forms, then write the new ones."""
        for old, new in () if self.plan.anew else self.plan.moved.items():
            writer.move(old, new)
        for old in self.moved.keys() - self.plan.moved.keys():
            writer.take_out(self.survivors[old].survey_id, old)
        for form in self.waiting:
            before = self.survivors.get(form.task.source)
            if before is not None:
                writer.take_out(before.survey_id, before.path)
        writer.add(self.waiting)

    # Telling

    def _report(self, *, bells: int, changed: bool) -> LoadReport:
        """Sum up what was done."""
        replaced = [form.task.source for form in self.waiting if form.task.source in self.survivors]
        if changed:
            self.problems += [self._note(path) for path in replaced]
            self.problems += [self._move_note(old, new) for old, new in self.moved.items()]
        self.problems += removed(self.found, self.database, self.plan.known, self.moved)
        stored = {task.source for task in self.plan.forms if task.stored}
        others = self._places_and_people()
        taken = [file.task.source for file in others if not file.refused and not file.task.stored]
        fresh = [path for path in (*self.new, *taken) if path not in stored]
        fresh += [form.task.source for form in self.waiting if form.task.source not in self.survivors]
        return LoadReport(
            self.database,
            len(self.found.files),
            self._shown(fresh) if changed else (),
            self._shown(replaced) if changed else (),
            tuple(sorted(self.moved.values())) if changed else (),
            self._shown(self.failed),
            self.plan.unchanged,
            bells,
            changed,
            changed and self.plan.anew,
            tuple(sorted(self.problems, key=lambda problem: (problem.file, problem.line, problem.column))),
        )

    def _shown(self, paths: Iterable[str]) -> tuple[str, ...]:
        return tuple(sorted(self.shown[path] for path in paths))

    def _note(self, path: str) -> Problem:
        return whole_file_problem(
            self.shown[path],
            "survey-replaced",
            "another text than before",
            "",
            "nothing to do if the correction was meant",
        )

    def _move_note(self, old: str, new: str) -> Problem:
        return whole_file_problem(
            self.shown.get(new, new),
            "source-moved",
            f"loaded before as {old}",
            "",
            "nothing to do if the new name was meant",
        )
