"""``soundbow report``: what a registry has on a bell, a tower or a visit, as a PDF for its owner."""

from datetime import date, datetime
from pathlib import Path
from typing import Any

import click

from registry.cli.entrances import Entrances
from registry.cli.options import DAY, force_option, registry_option
from registry.cli.output import write_new
from registry.cli.own_tables import costs_option, country_settings_option
from registry.cli.registry_file import opened
from registry.judging import Settings
from registry.store.pages_survey import kinds_of

KINDS = ("bell", "tower", "survey")


@click.command(
    epilog="\b\nExamples:\n"
    "  soundbow report north-gate --registry bells.db -o north-gate.pdf\n"
    "  soundbow report north-gate --registry bells.db --blank -o form.pdf"
)
@click.argument("known_id", metavar="ID")
@registry_option()
@click.option(
    "-o",
    "--output",
    type=click.Path(path_type=Path, dir_okay=False),
    metavar="FILE",
    help="Where to write it; ID.pdf in this folder unless given.",
)
@click.option(
    "--kind", type=click.Choice(KINDS), help="What the id is of, where a tower and a bell share it."
)
@click.option(
    "--blank", is_flag=True, help="A form to print for the tower ID: last values, drawings to mark."
)
@click.option(
    "--date",
    "made",
    type=DAY,
    metavar="DAY",
    help="Day printed and judged by; today unless given.",
)
@country_settings_option
@costs_option
@click.option(
    "--fonts",
    type=click.Path(path_type=Path, exists=True, file_okay=False),
    metavar="FOLDER",
    help="Fonts for characters that ours do not have.",
)
@force_option
@click.pass_obj
def command(
    entrances: Entrances,
    /,
    known_id: str,
    registry: Path,
    output: Path | None,
    kind: str | None,
    blank: bool,
    made: datetime | None,
    protection: Any,
    costs: Any,
    fonts: Path | None,
    force: bool,
) -> None:
    """Write a report on the bell, tower or survey called ID as a PDF.

    It can be archived (PDF/A-2a) and read aloud (PDF/UA-1); on the same day the same registry gives the same
    bytes. A survey's report holds what was known on its day.
    """
    output = output or Path(f"{'form-' if blank else ''}{known_id}.pdf")
    on = made.date() if made else date.today()
    settings = Settings(on, protection, costs)
    papers = entrances.papers()
    with opened(registry) as connection:
        found = [each for each in kinds_of(connection, known_id) if kind in (None, each)]
        if blank:
            found = [each for each in found if each == "tower"]
        if not found:
            wanted = "tower" if blank else kind or "bell, tower or survey"
            raise click.ClickException(f"{registry} has no {wanted} {known_id}.")
        if len(found) > 1:
            raise click.UsageError(f"{known_id} is a {' and a '.join(found)}: say which with --kind.")
        if blank:
            data = papers.blank_pdf(connection, known_id, made=on, font_folder=fonts)
        else:
            data = papers.report_pdf(
                connection, known_id, kind=found[0], database=registry, settings=settings, font_folder=fonts
            )
    write_new(output, data, force=force)
    click.echo(f"{output} is ready.", err=True)
