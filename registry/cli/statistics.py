"""``soundbow statistics``: castings, reach of founders, masses and survival of the bells asked for."""

import textwrap
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import click

from registry.cli.options import format_option, registry_option
from registry.cli.question_options import question_of, question_options, tell_if_changed, tell_unknown
from registry.cli.registry_file import opened
from registry.cli.rows import Column, as_csv, as_json, as_table
from registry.questions import link_of
from registry.store.mark import mark_of
from registry.store.search import Search
from registry.store.unknown_ids import unknown_ids
from registry.wording.asked import UNJUDGED, reasons
from registry.wording.statistics import TABLES, Row, Statistics, Table, founders_against_law

COLUMNS = {
    "castings": ("first_year", "last_year", "certain", "expected", "low", "high", "possible"),
    "reach": ("founder", "bells", "towers", "basis", "median_km", "farthest_km", "hull_km2", "unplaced"),
    "masses": ("founder", "bells", "median_ratio", "least_ratio", "greatest_ratio"),
    "survival": (
        "first_year", "last_year", "exist", "gone", "unknown", "share_percent", "low_percent", "high_percent",
    ),
}  # fmt: skip
"""What the tables for people show; the files have every column."""


@click.command(
    epilog="\b\nExamples:\n"
    "  soundbow statistics castings --registry bells.db --region north\n"
    "  soundbow statistics reach --registry bells.db --format csv"
)
@click.argument("name", type=click.Choice(TABLES))
@registry_option()
@question_options
@format_option("table", "csv", "json")
def command(name: str, registry: Path, answer_as: str, **options: Any) -> None:
    """Make statistics of the bells for which everything asked holds.

    castings: bells per decade, with the room their dates leave; reach: how far founders' bells went; masses:
    mass against diameter, by founder and beside the law; survival: which share still exists, by half-century.
    Bells that had to be left out are counted.
    """
    question = question_of((), options)
    query = question.query
    with opened(registry) as connection:
        search = Search(connection, query)
        statistics = Statistics(search)
        table = statistics.table(name)
        in_short = founders_against_law(statistics.weighed()) if name == "masses" else table.rows
        total, unjudged = search.total, search.unjudged_counts
        link, mark = link_of(query, "/statistics"), mark_of(connection)
        unknown = unknown_ids(connection, query)
        left_out = [f"{count} more cannot be judged: {words}" for words, count in reasons(unjudged, UNJUDGED)]
    tell_if_changed(question, mark)
    tell_unknown(unknown)
    if answer_as == "json":
        told = {"link": link, "registry": mark, "bells": total, "unjudged": unjudged}
        click.echo(as_json(told | table._asdict()), nl=False)
        return
    if answer_as == "csv":
        click.echo(as_csv(table.rows, list(table.columns)), nl=False)
    else:
        click.echo(_for_people(table, in_short), nl=False)
        click.echo("\n" + textwrap.fill(table.method, 100))
    said = [*table.beside, *left_out, f"{link} (registry {mark})"]
    click.echo("\n".join(said), err=answer_as == "csv")


def _for_people(table: Table, in_short: Sequence[Row]) -> str:
    """Write the table in short; masses by founder."""
    if not in_short:
        return "Nothing to count.\n"
    return as_table(
        in_short,
        [Column(name, name.removesuffix("_percent").replace("_", " ")) for name in COLUMNS[table.name]],
    )
