"""``soundbow worklist``: what is to be done across a registry, and when to look again."""

from datetime import date, datetime
from pathlib import Path
from typing import Any

import click

from registry.cli.entrances import Entrances
from registry.cli.options import format_option, registry_option
from registry.cli.registry_file import opened
from registry.cli.rows import Column, as_csv, as_json, as_table
from registry.model.vocabulary import vocabulary

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
SORTS = {
    "urgency": ("-urgency", "-recommendation"),
    "place": ("place", "tower_name", "bell_id"),
    "bell": ("bell_id", "-urgency"),
    "seen": ("survey_date",),
    "due": ("due",),
}
"""What each order of the list compares, in turn; a leading ``-`` puts the greatest first."""


@click.command(
    epilog="\b\nExamples:\n"
    "  soundbow worklist --registry bells.db --urgency 2\n"
    "  soundbow worklist --registry bells.db --inspections --until 2027-06-30\n"
    "  soundbow worklist --registry bells.db --format ics -o inspections.ics"
)
@registry_option()
@click.option("--inspections", is_flag=True, help="List when to look again instead.")
@click.option("--tower", "tower_ids", multiple=True, metavar="ID", help="Only this tower.")
@click.option("--region", multiple=True, metavar="ID", help="Only towers of this region.")
@click.option("--component", type=click.Choice(list(vocabulary("component").terms)), multiple=True)
@click.option("--urgency", type=click.IntRange(0, 3), default=0, help="Only what is as urgent or more.")
@click.option(
    "--until", type=click.DateTime(["%Y-%m-%d"]), metavar="DAY", help="Only inspections due by then."
)
@click.option("--sort", type=click.Choice(list(SORTS)), help="By urgency, inspections by due, unless given.")
@click.option("--limit", type=click.IntRange(1), help="At most so many lines.")
@click.option(
    "--date",
    "made",
    type=click.DateTime(["%Y-%m-%d"]),
    metavar="DAY",
    help="Day judged by; today unless given.",
)
@format_option("table", "csv", "json", "ics", text="ics is a calendar of inspections.")
@click.option(
    "-o",
    "--output",
    type=click.Path(path_type=Path, dir_okay=False),
    metavar="FILE",
    help="Where to write it; it is printed unless given.",
)
@click.pass_obj
def command(
    entrances: Entrances,
    registry: Path,
    inspections: bool,
    tower_ids: tuple[str, ...],
    region: tuple[str, ...],
    component: tuple[str, ...],
    urgency: int,
    until: datetime | None,
    sort: str | None,
    limit: int | None,
    made: datetime | None,
    answer_as: str,
    output: Path | None,
) -> None:
    """List what is to be done across a registry, the most urgent first, or when to look again.

    Every line names what was found, by which rule, and the survey. No structural or safety certificate.
    """
    inspections = inspections or answer_as == "ics"
    if inspections and (component or urgency):
        raise click.UsageError("--component and --urgency choose among things to do, not inspections.")
    if not inspections and until:
        raise click.UsageError("--until chooses among inspections: add --inspections.")
    on = made.date() if made else date.today()
    papers = entrances.papers()
    with opened(registry) as connection:
        read = papers.inspection_rows if inspections else papers.work_rows
        rows = read(connection, on=on, tower_ids=tower_ids)
    kept = [
        row
        for row in rows
        if (not region or row["region"] in region)
        and (inspections or ((not component or row["component"] in component) and row["urgency"] >= urgency))
        and (until is None or row["due"] <= until.date().isoformat())
    ]
    kept = _sorted(kept, sort or ("due" if inspections else "urgency"))[:limit]
    if answer_as == "ics":
        _write(papers.inspection_calendar(kept, on=on), output)
    elif answer_as == "json":
        _write(as_json(kept), output)
    elif answer_as == "csv":
        _write(as_csv(kept, list(kept[0]) if kept else []), output)
    else:
        columns = INSPECTION_COLUMNS if inspections else WORK_COLUMNS
        _write(as_table(kept, columns) if kept else "Nothing to do is on record.\n", output)


def _sorted(rows: list[dict[str, Any]], order: str) -> list[dict[str, Any]]:
    """Sort rows; a field that the list has not is passed over, and what is not known comes last."""
    for name in reversed(SORTS[order]):
        field = name.removeprefix("-")
        if rows and field in rows[0]:
            known = [row for row in rows if row[field] is not None]
            known.sort(key=lambda row: row[field], reverse=name.startswith("-"))
            rows = known + [row for row in rows if row[field] is None]
    return rows


def _write(text: str, output: Path | None) -> None:
    """Print a text, or write it to a file as it is: a calendar has its own line ends."""
    if output is None:
        click.echo(text.encode(), nl=False)
        return
    output.parent.mkdir(parents=True, exist_ok=True)
    output.write_bytes(text.encode())
    click.echo(f"{output} is ready.", err=True)
