"""``soundbow check``: everything that is wrong with forms, before they are loaded."""

from pathlib import Path

import click

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
@click.option(
    "--registry",
    type=click.Path(path_type=Path, dir_okay=False),
    envvar="SOUNDBOW_REGISTRY",
    show_envvar=True,
    metavar="FILE",
    help="Hold the forms against what a registry knows, too.",
)
@click.option("--jobs", type=click.IntRange(1, 256), help="Processes; unless given, as many as are worth it.")
@click.option("--strict", is_flag=True, help="Take warnings as errors.")
@click.option("--format", "form", type=click.Choice(["text", "json"]), default="text", show_default=True)
@click.pass_context
def command(
    context: click.Context,
    paths: tuple[Path, ...],
    registry: Path | None,
    jobs: int | None,
    strict: bool,
    form: str,
) -> None:
    """Check the forms in PATHS, files or whole folders, each by itself and all against each other.

    Errors keep a form from loading; warnings need a look; notes are worth knowing.
    """
    report = check(paths, registry, jobs=jobs, progress=progress_bar())
    write = as_json if form == "json" else as_text
    click.echo(write(report.problems, files_checked=report.files), nl=False)
    if report.has_errors or (strict and any(found.level is Level.WARNING for found in report.problems)):
        context.exit(1)
