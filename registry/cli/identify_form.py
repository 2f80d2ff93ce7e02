"""The facts of a bell that turned up, from a filled form of it: read, checked and computed like any other."""

import tempfile
from contextlib import closing
from pathlib import Path

import click

from registry.derive.identity.facts import Facts, Record
from registry.forms.report import as_text
from registry.intake import load
from registry.problems import InputError, Level
from registry.store.database import open_registry
from registry.store.identity import read_records

WITH_ITS_SD = {
    "mouth_diameter_mm": ("diameter_sd",),
    "strike_hz": ("strike_sd_cents",),
    "mass_kg": ("mass_sd",),
    "inscription": ("inscription_gaps",),
}
"""What goes with a fact."""


def record_of_form(form: Path, bell_id: str | None) -> Record:
    """Read a form and give the record of its bell.

    Parameters
    ----------
    form : Path
        A filled form.
    bell_id : str or None
        Which of its bells; may be left out where it has one.

    Raises
    ------
    InputError
        With every error of the form.
    click.UsageError
        When the form has no such bell, or several and none is named.
    """
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "find.db"
        report = load([form], path, jobs=1)
        if report.has_errors or not report.loaded:
            errors = [each for each in report.problems if each.level is Level.ERROR]
            raise InputError(errors or list(report.problems))
        if report.problems:
            click.echo(as_text(report.problems, files_checked=report.files), err=True)
        with closing(open_registry(path)) as connection:
            records = {record.bell_id: record for record in read_records(connection)}
    if not records:
        raise click.UsageError(f"{form} has no bell: give a survey form that has one.")
    if bell_id is None and len(records) == 1:
        return next(iter(records.values()))
    if bell_id not in records:
        known = ", ".join(records)
        raise click.UsageError(f"Name one bell of the form with --bell; it has: {known}.")
    return records[bell_id]


def joined(form: Facts, told: Facts) -> Facts:
    """Give the facts of a form with those told beside it in their place."""
    usual = Facts()
    given = [
        name
        for name in Facts._fields
        if name not in sum(WITH_ITS_SD.values(), ()) and getattr(told, name) != getattr(usual, name)
    ]
    names = [each for name in given for each in (name, *WITH_ITS_SD.get(name, ()))]
    return form._replace(**{name: getattr(told, name) for name in names})
