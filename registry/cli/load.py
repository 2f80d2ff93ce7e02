"""``soundbow load``: forms into a registry."""

import json
from pathlib import Path
from typing import Any

import click

from registry.cli.options import format_option, jobs_option, registry_option
from registry.cli.progress import progress_bar
from registry.cli.rows import as_json
from registry.forms.report import as_json as problems_as_json
from registry.forms.report import as_text
from registry.intake import LoadReport, load


@click.command(
    epilog="\b\nExamples:\n"
    "  soundbow load forms --registry bells.db\n"
    "  soundbow load --registry bells.db          (bring it up to date with this version)"
)
@click.argument("paths", nargs=-1, type=click.Path(path_type=Path))
@registry_option()
@jobs_option
@click.option("--all-or-nothing", is_flag=True, help="Load nothing if any form has an error.")
@format_option("text", "json")
@click.pass_context
def command(
    context: click.Context,
    paths: tuple[Path, ...],
    registry: Path,
    jobs: int | None,
    all_or_nothing: bool,
    answer_as: str,
) -> None:
    """Load the forms in PATHS, files or whole folders, into a registry; one that is not there is made.

    A form with errors is left out and named, the others load. What was loaded before and has not changed
    stays as it is; a corrected form replaces its own rows only.
    """
    if not paths and not registry.exists():
        raise click.UsageError("Name forms to load: there is no registry to bring up to date.")
    report = load(paths, registry, jobs=jobs, all_or_nothing=all_or_nothing, progress=progress_bar())
    if answer_as == "json":
        click.echo(as_json(as_data(report)), nl=False)
    else:
        if report.problems:
            click.echo(as_text(report.problems, files_checked=report.files))
        click.echo("\n".join(summary(report, registry)))
    if report.has_errors:
        context.exit(1)


def as_data(report: LoadReport) -> dict[str, Any]:
    """Give a report as data: what was done with which file, and the problems as in a check."""
    told = json.loads(problems_as_json(report.problems, files_checked=report.files))
    done = {name: value for name, value in report._asdict().items() if name != "problems"}
    return {**done, "database": str(report.database), **told}


def summary(report: LoadReport, registry: Path) -> list[str]:
    """Say in a few lines what was done, and name each file that is not as one would expect."""
    counts = {
        "loaded": len(report.loaded),
        "replaced": len(report.replaced),
        "moved": len(report.moved),
        "unchanged": report.unchanged,
        "left out": len(report.left_out),
    }
    told = ", ".join(f"{count} {name}" for name, count in counts.items() if count) or "no forms"
    if report.changed:
        lines = [f"{registry}: {told}; values of {report.bells} bells computed."]
    else:
        lines = [f"{registry} is as it was: {told}."]
    if report.rebuilt:
        lines.append("It was written by another version, and made again from the forms it holds.")
    for name, files in (
        ("replaced", report.replaced),
        ("moved", report.moved),
        ("left out", report.left_out),
    ):
        lines += [f"  {name}: {file}" for file in files]
    return lines
