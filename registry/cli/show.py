"""``soundbow show``: all that is known of one bell, one tower or one survey."""

import sqlite3
from collections.abc import Callable
from pathlib import Path
from typing import Any

import click

from registry.cli.options import format_option, registry_option
from registry.cli.registry_file import opened
from registry.cli.rows import as_csv, as_geojson, as_json
from registry.cli.sheets import bell_sheet, survey_sheet, tower_sheet
from registry.store import pages, pages_survey
from registry.store.tables import SECTION_TABLES

Known = dict[str, Any]


def known_bell(connection: sqlite3.Connection, bell_id: str) -> Known | None:
    """Gather what is known of a bell: the newest facts, what is computed, and what each survey saw."""
    bell = pages_survey.read_bell(connection, bell_id)
    if bell is None:
        return None
    return {
        "kind": "bell",
        "current": bell,
        "facts": pages_survey.read_facts(connection, bell_id),
        "derived": pages_survey.read_derived(connection, bell_id),
        "attention": [found._asdict() for found in pages.read_findings(connection, bell_id=bell_id)],
        "assessments": pages_survey.read_assessments(connection, bell_id=bell_id, tower_id=None),
        "surveys": [line._asdict() for line in pages.read_surveys_of_bell(connection, bell_id)],
        "observations": pages_survey.read_sections_of_bell(connection, bell_id),
    }


def known_tower(connection: sqlite3.Connection, tower_id: str) -> Known | None:
    """Gather what is known of a tower and, bell by bell, of its ring."""
    tower = pages.read_tower(connection, tower_id)
    if tower is None:
        return None
    return {
        "kind": "tower",
        "current": tower,
        "bells": pages.read_bells_of_tower(connection, tower_id),
        "attention": [found._asdict() for found in pages.read_findings(connection, tower_id=tower_id)],
        "surveys": [line._asdict() for line in pages.read_surveys_of_tower(connection, tower_id)],
    }


def known_survey(connection: sqlite3.Connection, survey_id: str) -> Known | None:
    """Gather what one survey says, table by table in the order of its form."""
    tables = {
        table.name: pages_survey.read_of_survey(connection, table.name, survey_id) for table in SECTION_TABLES
    }
    if not tables["survey"]:
        return None
    (survey,) = tables.pop("survey")
    tower = pages.read_tower(connection, survey["tower_id"]) or {}
    place = {name: tower.get(name) for name in ("latitude_deg", "longitude_deg")}
    return {"kind": "survey", "current": {**survey, **place}, "tables": tables}


READERS: dict[str, Callable[[sqlite3.Connection, str], Known | None]] = {
    "bell": known_bell,
    "tower": known_tower,
    "survey": known_survey,
}
SHEETS: dict[str, Callable[[Known], str]] = {"bell": bell_sheet, "tower": tower_sheet, "survey": survey_sheet}


@click.command(epilog="\b\nExample:\n  soundbow show north-gate-3 --registry bells.db")
@click.argument("known_id", metavar="ID")
@registry_option()
@click.option(
    "--kind", type=click.Choice(list(READERS)), help="What the id is of, where a tower and a bell share it."
)
@format_option(
    "table", "csv", "json", "geojson", text="csv and geojson give the present state alone, json everything."
)
def command(known_id: str, registry: Path, kind: str | None, answer_as: str) -> None:
    """Show all that is known of the bell, tower or survey called ID."""
    with opened(registry) as connection:
        kinds = [kind] if kind else list(READERS)
        found = [known for name in kinds if (known := READERS[name](connection, known_id))]
    if not found:
        raise click.ClickException(f"{registry} has no {kind or 'bell, tower or survey'} {known_id}.")
    if len(found) > 1:
        names = " and a ".join(known["kind"] for known in found)
        raise click.UsageError(f"{known_id} is a {names}: say which with --kind.")
    (known,) = found
    current = known["current"]
    if answer_as == "json":
        text = as_json(known)
    elif answer_as == "geojson":
        text = as_geojson([current])
    elif answer_as == "csv":
        text = as_csv([current], list(current))
    else:
        text = SHEETS[known["kind"]](known)
    click.echo(text, nl=False)
