"""``soundbow find``: bells by what is asked of them."""

from pathlib import Path
from typing import Any

import click

from registry.cli.options import format_option, read_in, registry_option
from registry.cli.registry_file import opened
from registry.cli.rows import Column, as_csv, as_geojson, as_json, as_table
from registry.model.pitch import NoteError, read_note
from registry.model.vocabulary import vocabulary
from registry.store.dictionary import read_table
from registry.store.search import BellQuery, find_bells

SORTS = ("name", "place", "date", "diameter", "mass", "condition", "distance")

COLUMNS = (
    Column("id", "bell", 40),
    Column("name", "name", 24),
    Column("tower_name", "tower", 24),
    Column("place", "place", 20),
    Column("cast_date", "cast", 18),
    Column("mouth_diameter_mm", "diameter"),
    Column("mass_kg", "mass"),
    Column("mass_estimate_kg", "estimated"),
    Column("note_name", "note"),
    Column("material", "material"),
    Column("status", "status"),
)
DISTANCE = Column("distance_km", "distance")


def _terms(name: str) -> click.Choice[str]:
    return click.Choice(list(vocabulary(name).terms))


def _notes(_context: click.Context, _option: click.Parameter, texts: tuple[str, ...]) -> tuple[str, ...]:
    """Read notes as surveyors write them, into their names in scientific pitch."""
    try:
        return tuple(read_note(text).scientific for text in texts)
    except NoteError as error:
        raise click.BadParameter(str(error)) from error


def _grades(
    _context: click.Context, _option: click.Parameter, words: tuple[str, ...]
) -> tuple[int | str, ...]:
    return tuple(int(word) if word.isdigit() else word for word in words)


@click.command(
    epilog="\b\nExamples:\n"
    "  soundbow find --registry bells.db --century 15 --certain\n"
    "  soundbow find maria --registry bells.db --note E4 --format csv"
)
@click.argument("words", nargs=-1)
@registry_option()
@click.option("--tower", "tower_id", metavar="ID", help="Bells of one tower.")
@click.option("--founder", "founder_id", multiple=True, metavar="ID", help="Founder, by id.")
@click.option("--material", type=_terms("material"), multiple=True)
@click.option("--status", type=_terms("bell_status"), multiple=True)
@click.option("--region", multiple=True, metavar="ID", help="Region of the tower.")
@click.option("--country", multiple=True, metavar="CC", help="Country of the tower, two letters.")
@click.option("--note", multiple=True, callback=_notes, help="Strike note, e.g. C#4 or cis'.")
@click.option("--crack", "crack_state", type=_terms("crack_state"), multiple=True, help="As last told.")
@click.option(
    "--condition",
    type=click.Choice(["0", "1", "2", "3", "not-assessed"]),
    multiple=True,
    callback=_grades,
    help="The surveyors' newest grade.",
)
@click.option(
    "--grade",
    type=click.Choice(["0", "1", "2", "3", "not-graded"]),
    multiple=True,
    callback=_grades,
    help="Computed by the rules, each as a lower bound: the worst part that safety hangs on.",
)
@click.option("--century", type=click.IntRange(1, 30), help="Century of casting: 15 is 1401 to 1500.")
@click.option("--from-year", type=int, help="Cast in this year or later.")
@click.option("--to-year", type=int, help="Cast in this year or earlier.")
@click.option("--certain", is_flag=True, help="Only bells that cannot be of other years.")
@click.option("--from-diameter-mm", callback=read_in("mm"), help="Least mouth diameter.")
@click.option("--to-diameter-mm", callback=read_in("mm"), help="Greatest mouth diameter.")
@click.option("--from-mass-kg", callback=read_in("kg"), help="Least mass, stated or else estimated.")
@click.option("--to-mass-kg", callback=read_in("kg"), help="Greatest mass, stated or else estimated.")
@click.option(
    "--near",
    type=(click.FloatRange(-90, 90), click.FloatRange(-180, 180), click.FloatRange(0, min_open=True)),
    metavar="LAT LON KM",
    help="Within so many kilometres.",
)
@click.option("--sort", type=click.Choice(SORTS), default="place", show_default=True)
@click.option("--reverse", is_flag=True, help="Sort the other way round.")
@click.option("--limit", type=click.IntRange(1), help="At most so many bells.")
@format_option("table", "csv", "json", "geojson")
def command(words: tuple[str, ...], registry: Path, answer_as: str, **asked: Any) -> None:
    """Find bells for which everything asked holds; of an option given twice, one value is enough.

    WORDS must all stand in names, places, founders or inscriptions. Bells that cannot be judged for want of
    data are counted, never dropped in silence.
    """
    if asked["sort"] == "distance" and asked["near"] is None:
        raise click.UsageError("--sort distance needs --near.")
    with opened(registry) as connection:
        found = find_bells(connection, _query(" ".join(words), **asked))
        table = read_table(connection, "bell_current")
    unjudged = [f"{count} more cannot be judged by {name}" for name, count in found.unjudged.items() if count]
    if answer_as == "json":
        click.echo(as_json(found._asdict()), nl=False)
    elif answer_as == "geojson":
        click.echo(as_geojson(found.rows, total=found.total, unjudged=found.unjudged), nl=False)
    elif answer_as == "csv":
        fields = [column.name for column in table.columns] if table else []
        click.echo(as_csv(found.rows, fields + ["distance_km"] * bool(asked["near"])), nl=False)
        for line in unjudged:
            click.echo(line, err=True)
    else:
        columns = COLUMNS + (DISTANCE,) * bool(asked["near"])
        click.echo(as_table(found.rows, columns) if found.rows else "No bell found.\n", nl=False)
        shown = f"{len(found.rows)} of {found.total}" if len(found.rows) < found.total else str(found.total)
        click.echo("; ".join([f"\n{shown} bell{'s' * (shown != '1')}", *unjudged]))


def _query(text: str, **asked: Any) -> BellQuery:
    """Turn the options into the question."""
    diameter_mm = asked.pop("from_diameter_mm"), asked.pop("to_diameter_mm")
    mass_kg = asked.pop("from_mass_kg"), asked.pop("to_mass_kg")
    sort = ("-" if asked.pop("reverse") else "") + asked.pop("sort")
    return BellQuery(text=text, diameter_mm=diameter_mm, mass_kg=mass_kg, sort=sort, **asked)
