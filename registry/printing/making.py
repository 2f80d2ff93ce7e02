"""Reports and blank forms as the bytes of a PDF: what the command line asks for."""

import sqlite3
from datetime import date
from pathlib import Path

from registry.judging import Settings
from registry.printing.typesetting import as_pdf, printable
from registry.report.blank import blank_document
from registry.report.document import report_document
from registry.report.photos import photos_of
from registry.report.reading import subject_of
from registry.store.pages_survey import Kind
from registry.wording.inspections import inspection_calendar

__all__ = ["blank_pdf", "inspection_calendar", "report_pdf"]


def report_pdf(  # noqa: PLR0913 - each part of the question is an argument
    conn: sqlite3.Connection,
    known_id: str,
    *,
    kind: Kind,
    database: Path,
    settings: Settings,
    font_folder: Path | None = None,
) -> bytes:
    """Make the report on a bell, a tower or a survey.

    Parameters
    ----------
    conn : Connection
        The registry.
    known_id, kind
        What it is about; the registry knows it.
    database : Path
        The registry's file: photos are looked for where it says that the forms lie.
    settings : Settings
        The day printed as that of its making, and the user's own tables; the same registry and settings give
        the same bytes.
    font_folder : Path, optional
        Fonts besides those that ship.

    Raises
    ------
    LookupError
        When the registry has no such bell, tower or survey.
    InputError
        When no font has one of the characters: each is named with where it stands.
    """
    subject = subject_of(conn, kind, known_id)
    photos = photos_of(conn, subject.surveys, database, printable)
    return as_pdf(report_document(conn, subject, photos, settings), photos.files, font_folder)


def blank_pdf(
    conn: sqlite3.Connection, tower_id: str, *, made: date, font_folder: Path | None = None
) -> bytes:
    """Make a form to print and fill in by hand for a known tower, with the last values and drawings to mark.

    Raises
    ------
    LookupError
        When the registry has no such tower.
    InputError
        When no font has one of the characters.
    """
    return as_pdf(blank_document(conn, tower_id, made), {}, font_folder)
