"""``soundbow form``: a blank form, or one prepared for a known tower."""

from datetime import date
from pathlib import Path
from typing import Literal

import click

from registry.cli.options import force_option, registry_option
from registry.cli.output import output_option, write_new
from registry.cli.registry_file import opened
from registry.cli.rows import as_json
from registry.forms.blank import blank_form
from registry.forms.blank_founders import blank_founders
from registry.forms.json_schema import SchemaKind, json_schema
from registry.store.known import known_tower


@click.command(
    epilog="\b\nExamples:\n"
    "  soundbow form -o north-gate-2026.yaml --schema\n"
    "  soundbow form --tower north-gate --registry bells.db -o north-gate-2026.yaml"
)
@click.option(
    "--kind", type=click.Choice(["visit", "document", "founders"]), default="visit", show_default=True
)
@click.option("--tower", "tower_id", metavar="ID", help="A tower it knows: last values as comments.")
@registry_option(required=False, text="The registry that knows the tower.")
@output_option
@click.option("--bells", type=click.IntRange(1, 100), default=1, show_default=True, help="Entries for bells.")
@click.option("--schema", is_flag=True, help="Write the JSON Schema beside it, for editors.")
@force_option
def command(
    kind: Literal["visit", "document", "founders"],
    tower_id: str | None,
    registry: Path | None,
    output: Path | None,
    bells: int,
    schema: bool,
    force: bool,
) -> None:
    """Write a survey form: one visit to one tower, or one document that speaks of its bells.

    With --kind founders it is a file of founders: their names in every spelling, times, places and ties.
    """
    if schema and output is None:
        raise click.UsageError("--schema needs -o: the schema is written beside the form.")
    known = None
    if kind == "founders" and tower_id is not None:
        raise click.UsageError("--tower goes with a survey form, not with a file of founders.")
    if tower_id is not None:
        if registry is None:
            raise click.UsageError("--tower needs --registry: the registry knows the tower.")
        with opened(registry) as connection:
            known = known_tower(connection, tower_id)
        if known is None:
            raise click.ClickException(f"{registry} has no tower {tower_id}.")
    of: SchemaKind = "founders" if kind == "founders" else "survey"
    schema_file = f"{of}.schema.json"
    if kind == "founders":
        text = blank_founders(schema=schema_file)
    else:
        text = blank_form(kind, known, date.today(), bells=bells, schema=schema_file)
    if output is None:
        click.echo(text, nl=False)
        return
    if schema:
        write_new(output.with_name(schema_file), as_json(json_schema(of)).encode(), force=force)
    write_new(output, text.encode(), force=force)
    click.echo(f"{output} is ready to be filled in.", err=True)
