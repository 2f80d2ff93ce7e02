"""``soundbow form``: a blank form, or one prepared for a known tower."""

from datetime import date
from pathlib import Path

import click

from registry.cli.options import force_option, registry_option
from registry.cli.output import output_option, write_new
from registry.cli.registry_file import opened
from registry.cli.rows import as_json
from registry.forms.blank import FormKind, blank_form
from registry.forms.json_schema import json_schema
from registry.store.known import known_tower

SCHEMA_FILE = "survey.schema.json"
"""The name by which the first line of a form finds its schema."""


@click.command(
    epilog="\b\nExamples:\n"
    "  soundbow form -o north-gate-2026.yaml --schema\n"
    "  soundbow form --tower north-gate --registry bells.db -o north-gate-2026.yaml"
)
@click.option("--kind", type=click.Choice(["visit", "document"]), default="visit", show_default=True)
@click.option("--tower", "tower_id", metavar="ID", help="A tower it knows: last values as comments.")
@registry_option(required=False, text="The registry that knows the tower.")
@output_option
@click.option("--bells", type=click.IntRange(1, 100), default=1, show_default=True, help="Entries for bells.")
@click.option("--schema", is_flag=True, help="Write the JSON Schema beside it, for editors.")
@force_option
def command(
    kind: FormKind,
    tower_id: str | None,
    registry: Path | None,
    output: Path | None,
    bells: int,
    schema: bool,
    force: bool,
) -> None:
    """Write a survey form: one visit to one tower, or one document that speaks of its bells."""
    if schema and output is None:
        raise click.UsageError("--schema needs -o: the schema is written beside the form.")
    known = None
    if tower_id is not None:
        if registry is None:
            raise click.UsageError("--tower needs --registry: the registry knows the tower.")
        with opened(registry) as connection:
            known = known_tower(connection, tower_id)
        if known is None:
            raise click.ClickException(f"{registry} has no tower {tower_id}.")
    text = blank_form(kind, known, date.today(), bells=bells, schema=SCHEMA_FILE)
    if output is None:
        click.echo(text, nl=False)
        return
    if schema:
        write_new(output.with_name(SCHEMA_FILE), as_json(json_schema()).encode(), force=force)
    write_new(output, text.encode(), force=force)
    click.echo(f"{output} is ready to be filled in.", err=True)
