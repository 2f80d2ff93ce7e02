"""``soundbow worklist``: what is to be done across a registry, and when to look again."""

from datetime import date, datetime
from operator import itemgetter
from pathlib import Path
from typing import Any

import click

from registry.cli.entrances import Entrances
from registry.cli.options import DAY, force_option, format_option, registry_option
from registry.cli.output import output_option, write_new
from registry.cli.registry_file import opened
from registry.cli.rows import Column, as_csv, as_json, as_table
from registry.model.vocabulary import vocabulary
from registry.store.work import WorkQuery, read_inspections, read_to_do

WORK_COLUMNS = (
    Column("urgency", "urgency"),
    Column("tower_name", "tower", 24),
    Column("bell_name", "bell", 20),
    Column("component", "component", 12),
    Column("do", "do", 60),
    Column("found", "because", 60),
    Column("survey_date", "seen"),
)
INSPECTION_COLUMNS = (
    Column("due", "due"),
    Column("kind", "what", 12),
    Column("tower_name", "tower", 24),
    Column("place", "place", 20),
    Column("bell_name", "bell", 24),
    Column("why", "because", 60),
)
FIELDS = {
    False: (
        "urgency", "recommendation", "tower_id", "tower_name", "place", "region", "bell_id", "bell_name",
        "component", "do", "found", "rule", "survey_id", "survey_date", "source",
    ),
    True: (
        "due", "kind", "tower_id", "tower_name", "place", "region", "bell_id", "bell_name", "why", "source",
    ),
}  # fmt: skip
"""The fields of things to do, and of inspections (True)."""

SORTS = {
    "urgency": ("-urgency", "-recommendation"),
    "due": ("due",),
    "place": ("place", "tower_name", "bell_id"),
    "bell": ("bell_id",),
    "seen": ("survey_date",),
}
"""What each order of a list compares, in turn; a leading ``-`` puts the greatest first."""


@click.command(
    epilog="\b\nExamples:\n"
    "  soundbow worklist --registry bells.db --urgency 2\n"
    "  soundbow worklist --registry bells.db --inspections --until 2027-06-30\n"
    "  soundbow worklist --registry bells.db --format ics -o inspections.ics"
)
@registry_option()
@click.option("--inspections", is_flag=True, help="List when to look again instead.")
@click.option("--tower", "tower_id", multiple=True, metavar="ID", help="Only this tower.")
@click.option("--region", multiple=True, metavar="ID", help="Only towers of this region.")
@click.option("--component", type=click.Choice(list(vocabulary("component").terms)), multiple=True)
@click.option("--urgency", type=click.IntRange(0, 3), default=0, help="Only what is as urgent or more.")
@click.option("--until", type=DAY, metavar="DAY", help="Only inspections due by then.")
@click.option("--sort", type=click.Choice(list(SORTS)), help="By urgency, inspections by due, unless given.")
@click.option("--limit", type=click.IntRange(1), help="At most so many lines.")
@click.option("--date", "made", type=DAY, metavar="DAY", help="Day of asking; today unless given.")
@format_option("table", "csv", "json", "ics", text="ics is a calendar of inspections.")
@output_option
@force_option
@click.pass_obj
def command(
    entrances: Entrances,
    /,
    registry: Path,
    inspections: bool,
    until: datetime | None,
    sort: str | None,
    limit: int | None,
    made: datetime | None,
    answer_as: str,
    output: Path | None,
    force: bool,
    **asked: Any,
) -> None:
    """List what is to be done across a registry, the most urgent first, or when to look again.

    Every line names what was found, by which rule, and the survey. No structural or safety certificate.
    """
    inspections = inspections or answer_as == "ics"
    if inspections and (asked["component"] or asked["urgency"]):
        raise click.UsageError("--component and --urgency choose among things to do, not inspections.")
    if not inspections and until:
        raise click.UsageError("--until chooses among inspections: add --inspections.")
    order = sort or ("due" if inspections else "urgency")
    columns = INSPECTION_COLUMNS if inspections else WORK_COLUMNS
    if not {name.removeprefix("-") for name in SORTS[order]} & set(FIELDS[inspections]):
        raise click.UsageError(f"--sort {order} does not go with this list.")
    on = made.date() if made else date.today()
    query = WorkQuery(until=until.date() if until else None, **asked)
    with opened(registry) as connection:
        rows = read_inspections(connection, on, query) if inspections else read_to_do(connection, query)
    rows = _sorted(rows, order)[:limit]
    if answer_as == "ics":
        text = entrances.papers().inspection_calendar(rows, on=on)
    elif answer_as == "json":
        text = as_json(rows)
    elif answer_as == "csv":
        text = as_csv(rows, FIELDS[inspections])
    else:
        text = as_table(rows, columns) if rows else "Nothing is on record.\n"
    if output is None:
        click.echo(text.encode(), nl=False)  # a calendar has line ends of its own
    else:
        write_new(output, text.encode(), force=force)
        click.echo(f"{output} is ready.", err=True)


def _sorted(rows: list[dict[str, Any]], order: str) -> list[dict[str, Any]]:
    """Sort rows; what is not known comes last."""
    for name in reversed(SORTS[order]):
        field = name.removeprefix("-")
        known = [row for row in rows if row[field] is not None]
        known.sort(key=itemgetter(field), reverse=name.startswith("-"))
        rows = known + [row for row in rows if row[field] is None]
    return rows
