"""``soundbow check``: everything that is wrong with forms, before they are loaded."""

from pathlib import Path

import click

from registry.cli.options import format_option, jobs_option, registry_option
from registry.cli.progress import progress_bar
from registry.forms.report import as_json, as_text
from registry.intake import check
from registry.problems import Level


@click.command(
    epilog="\b\nExamples:\n"
    "  soundbow check north-gate-2026.yaml\n"
    "  soundbow check forms --registry bells.db --strict"
)
@click.argument("paths", nargs=-1, required=True, type=click.Path(path_type=Path))
@registry_option(required=False, text="Hold the forms against what a registry knows, too.")
@jobs_option
@click.option("--strict", is_flag=True, help="Take warnings as errors.")
@format_option("text", "json")
@click.pass_context
def command(
    context: click.Context,
    paths: tuple[Path, ...],
    registry: Path | None,
    jobs: int | None,
    strict: bool,
    answer_as: str,
) -> None:
    """Check the forms in PATHS, files or whole folders, each by itself and all against each other.

    Errors keep a form from loading; warnings need a look; notes are worth knowing.
    """
    report = check(paths, registry, jobs=jobs, progress=progress_bar())
    write = as_json if answer_as == "json" else as_text
    click.echo(write(report.problems, files_checked=report.files), nl=False)
    if report.has_errors or (strict and any(found.level is Level.WARNING for found in report.problems)):
        context.exit(1)
