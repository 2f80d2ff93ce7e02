"""The private copy a load works on, opened only when there is something to write."""

import hashlib
import sqlite3
from collections.abc import Callable, Iterable, Mapping, Sequence
from contextlib import ExitStack
from pathlib import Path

from registry import __version__
from registry.derive.bell import derive_bell
from registry.derive.condition.listing import judged_in_short
from registry.derive.size_and_note import kindred_of
from registry.intake.collector import collector_paused
from registry.intake.founders import FoundersFile
from registry.intake.preparing import Prepared
from registry.intake.regions import RegionFile
from registry.model.bell_facts import BellFacts, Computed
from registry.model.known_bell import KnownBell
from registry.resources import shipped_folder
from registry.store import write
from registry.store.founders import put_founders
from registry.store.places import put_regions
from registry.store.publish import draft
from registry.store.refresh import refresh


def derivation() -> str:
    """Give the fingerprint of the way values are computed; under another one all values are stale."""
    digest = hashlib.sha256(__version__.encode())
    rules = shipped_folder("schema") / "rules"
    for file in sorted(rules.iterdir(), key=lambda file: file.name):
        digest.update(file.read_bytes())
    return digest.hexdigest()


def computing(known: Iterable[tuple[str, KnownBell]]) -> Callable[[BellFacts], list[Computed]]:
    """Make what computes the values of a bell, with the known bells of its registry beside it."""
    kindred = kindred_of(known)
    return lambda facts: derive_bell(facts, kindred)


class Writer:
    """Writes to the private copy of a registry; leaving ``stack`` well publishes it.

    Parameters
    ----------
    stack : ExitStack
        What the copy lives in.
    database : Path
        The registry, held for writing.
    anew : bool
        Begin with an empty registry although there is one.
    now : str
        The time of this load, UTC, ISO 8601.
    times : mapping
        When a text was loaded that is not new to the registry, by path.
    """

    def __init__(
        self, stack: ExitStack, database: Path, *, anew: bool, now: str, times: Mapping[str, str]
    ) -> None:
        self._stack = stack
        self._database = database
        self._anew = anew
        self._now = now
        self._times = times
        self._conn: sqlite3.Connection | None = None

    @property
    def conn(self) -> sqlite3.Connection:
        """The private copy."""
        if self._conn is None:
            self._conn = self._stack.enter_context(draft(self._database, anew=self._anew))
            write.begin_changes(self._conn)
        return self._conn

    def add(self, forms: Sequence[Prepared]) -> None:
        """Write forms whose survey ids are free."""
        for form in forms:
            self._keep(write.SourceFile(form.task.source, "form", form.sha256, form.data))
        write.put_surveys(self.conn, [form.rows for form in forms if form.rows is not None])

    def add_regions(self, file: RegionFile) -> None:
        """Write the regions of a file in place of those it had before."""
        self._keep(write.SourceFile(file.task.source, "region", file.sha256, file.data))
        put_regions(self.conn, file.task.source, file.regions)

    def add_founders(self, file: FoundersFile) -> None:
        """Write the founders of a file in place of those it had before."""
        self._keep(write.SourceFile(file.task.source, "founders", file.sha256, file.data))
        put_founders(self.conn, file.task.source, file.founders)

    def _keep(self, source: write.SourceFile) -> None:
        write.put_source(self.conn, source, self._times.get(source.path, self._now))

    def take_out(self, survey_id: str, path: str) -> None:
        """Take out a survey and its text."""
        write.take_out_survey(self.conn, survey_id)
        write.drop_source(self.conn, path)

    def move(self, old: str, new: str) -> None:
        """Give a text its new path."""
        write.move_source(self.conn, old, new)

    def finish(self) -> int:
        """Compute what follows from the surveys that changed, or from all if the way to compute did."""
        if write.statement(self.conn, "derivation") != derivation():
            write.touch_all(self.conn)
            write.state(self.conn, "derivation", derivation())
            write.state(self.conn, "program_version", __version__)
        with collector_paused():
            return refresh(self.conn, computing, judged_in_short)
