"""``soundbow find``: bells by what is asked of them."""

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import click

from registry.cli.options import format_option, registry_option
from registry.cli.question_options import question_of, question_options, tell_if_changed, tell_unknown
from registry.cli.registry_file import opened
from registry.cli.rows import Column, as_csv, as_geojson, as_json, as_table
from registry.model.vocabulary import label_of
from registry.questions import link_of
from registry.questions.query import SORTS
from registry.store.dictionary import read_table
from registry.store.mark import mark_of
from registry.store.search import FoundBells, find_bells
from registry.store.text_hits import Hit, as_values, hits_on, words_of
from registry.store.unknown_ids import unknown_ids
from registry.wording.asked import DOUBTFUL, UNJUDGED, reasons
from registry.wording.dates import circa_note
from registry.wording.inscriptions import hits_shown

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


@click.command(
    epilog="\b\nExamples:\n"
    "  soundbow find --registry bells.db --century 15 --certain\n"
    "  soundbow find maria --registry bells.db --note E4 --format csv\n"
    "  soundbow find --registry bells.db o rex glorie --format json\n"
    "  soundbow find --registry bells.db --formula verbum-domini\n"
    "  soundbow find --registry bells.db --nearest 45.74 -7.38 20 --no-survey-since 2015\n"
    "  soundbow find --registry bells.db --within valley.geojson --from-note A3 --to-note C#5"
)
@click.argument("words", nargs=-1)
@registry_option()
@question_options
@click.option("--sort", type=click.Choice(SORTS), help="Order: place unless given, distance with --nearest.")
@click.option("--reverse", is_flag=True, help="Sort the other way round.")
@click.option("--limit", type=click.IntRange(1), help="At most so many bells.")
@format_option("table", "csv", "json", "geojson")
def command(
    words: tuple[str, ...], registry: Path, limit: int | None, answer_as: str, **options: Any
) -> None:
    """Find bells for which everything asked holds; of an option given twice, one value is enough.

    WORDS must all stand in names, places, founders or inscriptions, there in whatever spelling, also damaged
    or as a formula that they are part of; [---] and [..] in WORDS stand for lost letters. Bells that cannot
    be judged for want of data are counted, never dropped in silence, and so are bells found whose date or
    mass may not hold. The answer carries its question as a link, which the pages and --link answer alike.
    """
    question = question_of(words, options)
    query = question.query._replace(limit=limit)
    with opened(registry) as connection:
        found = find_bells(connection, query)
        hits = hits_on(connection, words_of(query), (row["id"] for row in found.rows))
        table = read_table(connection, "bell_current")
        mark = mark_of(connection)
        unknown = unknown_ids(connection, query)
    tell_if_changed(question, mark)
    tell_unknown(unknown)
    measured = query.near is not None or query.nearest is not None
    asked = {"link": link_of(query), "registry": mark}
    if answer_as == "json":
        click.echo(as_json(asked | found._asdict() | {"hits": as_values(hits)}), nl=False)
    elif answer_as == "geojson":
        counts = {"total": found.total, "unjudged": found.unjudged, "doubtful": found.doubtful}
        click.echo(as_geojson(found.rows, **asked, **counts), nl=False)
    elif answer_as == "csv":
        fields = [column.name for column in table.columns] if table else []
        click.echo(as_csv(found.rows, fields + ["distance_km"] * measured), nl=False)
        for line in [*_doubts(found), f"{asked['link']} (registry {mark})"]:
            click.echo(line, err=True)
    else:
        columns = COLUMNS + (DISTANCE,) * measured
        click.echo(as_table(found.rows, columns) if found.rows else "No bell found.\n", nl=False)
        for line in _hits(hits):
            click.echo(line)
        shown = f"{len(found.rows)} of {found.total}" if len(found.rows) < found.total else str(found.total)
        if circa_note():
            click.echo(f"\n{circa_note()}", nl=False)
        click.echo("; ".join([f"\n{shown} bell{'s' * (shown != '1')}", *_doubts(found)]))
        click.echo(f"{asked['link']} (registry {mark})")


def _hits(found: dict[str, list[Hit]]) -> Iterator[str]:
    """Show what answers in the inscriptions, between angle quotes, an empty line before the first."""
    for number, (bell_id, hits) in enumerate(found.items()):
        for shown in hits_shown({bell_id: hits})[bell_id]:
            text = "".join(f"»{part.text}«" if part.marked else part.text for part in shown.parts)
            place = label_of("inscription_place", shown.hit.place)
            field = "" if shown.hit.field == "transcription" else f", {shown.hit.field}"
            yield f"{'' if number else chr(10)}{bell_id}, {place}{field}: {' '.join(text.split())}"


def _doubts(found: FoundBells) -> list[str]:
    """Say how many bells could not be judged, and how many of those found may not hold."""
    unjudged = [
        f"{count} more cannot be judged: {words}" for words, count in reasons(found.unjudged, UNJUDGED)
    ]
    doubtful = [
        f"{count} of these may not hold: {words}" for words, count in reasons(found.doubtful, DOUBTFUL)
    ]
    return unjudged + doubtful
