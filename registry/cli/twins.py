"""``soundbow twins``: pairs of records that may be one bell."""

import sys
from datetime import date
from pathlib import Path

import click

from registry.cli.identify_sheet import twins_data, twins_sheet
from registry.cli.options import format_option, registry_option
from registry.cli.progress import WIDTH
from registry.cli.registry_file import opened
from registry.cli.rows import as_json
from registry.derive.identity.comparison import Register
from registry.derive.identity.twins import find_twins
from registry.store.identity import read_lives, read_named, read_records, read_transcriptions
from registry.wording.identity import Stated


@click.command(epilog="Example:  soundbow twins --registry bells.db")
@registry_option()
@format_option("table", "json")
def command(registry: Path, answer_as: str) -> None:
    """Propose pairs of records that may be one bell, each with what speaks for and against it.

    Two bells of one survey are never proposed, nor two that visits saw in two towers at one time.
    """
    with opened(registry) as connection:
        register = Register(read_records(connection), date.today().year)
        found = find_twins(
            register, lambda ids: read_lives(connection, ids), _draw if sys.stderr.isatty() else None
        )
        ids = [bell_id for pair in found for bell_id in (pair.first, pair.second)]
        named, words = read_named(connection, ids), read_transcriptions(connection, ids)
    facts = {record.bell_id: record.facts for record in register.records}
    stated = {bell_id: Stated(facts[bell_id], words.get(bell_id, "")) for bell_id in ids}
    if answer_as == "json":
        told = {"records": len(register.records), "pairs": twins_data(found, named, stated)}
        click.echo(as_json(told), nl=False)
    else:
        click.echo(twins_sheet(found, named, stated, len(register.records)), nl=False)


def _draw(done: int, total: int) -> None:
    """Draw how many pairs are compared over the last drawing, and wipe it when all are."""
    filled = WIDTH * done // max(total, 1)
    text = f"{'#' * filled}{'.' * (WIDTH - filled)} {done} of {total} pairs"
    click.echo(f"\r{text}" if done < total else f"\r{' ' * len(text)}\r", nl=False, err=True)
