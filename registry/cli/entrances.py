"""The other entrances as the command line knows them: given from above, for no entrance imports another."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, NamedTuple, Protocol

if TYPE_CHECKING:
    # Not needed to run: the list of commands is to be printed quickly.
    import sqlite3
    from collections.abc import Callable
    from datetime import date
    from pathlib import Path

    from registry.judging import Settings
    from registry.store.pages_survey import Kind


class Server(Protocol):
    """Serves the pages of a registry until interrupted."""

    def __call__(self, registry: Path, *, host: str, port: int) -> None:
        """Serve ``registry`` on ``host`` and ``port``; port 0 takes a free one."""


class Papers(Protocol):
    """Makes what is printed or sent."""

    def report_pdf(
        self,
        conn: sqlite3.Connection,
        known_id: str,
        *,
        kind: Kind,
        database: Path,
        settings: Settings,
        font_folder: Path | None = None,
    ) -> bytes:
        """Make the report on a bell, a tower or a survey."""

    def blank_pdf(
        self, conn: sqlite3.Connection, tower_id: str, *, made: date, font_folder: Path | None = None
    ) -> bytes:
        """Make a form to print for a tower."""

    def inspection_calendar(self, rows: list[dict[str, Any]], *, on: date) -> str:
        """Write inspections as an iCalendar file."""


class Entrances(NamedTuple):
    """What the commands may call; ``papers`` imports its room only when it is called."""

    serve: Server
    papers: Callable[[], Papers]
