"""``soundbow identify``: which bell of a registry a bell without papers is, or that it is none of them."""

from collections.abc import Callable
from datetime import date
from pathlib import Path

import click

from registry.cli.identify_form import joined, record_of_form
from registry.cli.identify_sheet import as_sheet
from registry.cli.options import Command, format_option, registry_option
from registry.cli.registry_file import opened
from registry.cli.rows import as_json
from registry.derive.identity.comparison import Register, identify
from registry.derive.identity.next_measurement import open_bits, what_next
from registry.derive.identity.telling import FIELDS, WORDS, Told, read_told
from registry.model.vocabulary import vocabulary
from registry.store.identity import read_named, read_records, read_transcriptions
from registry.wording.identity import Stated
from registry.wording.identity_data import Answered, answer_data

HELP = {
    "mouth_diameter_mm": "Outer diameter at the lip, in mm or with its unit.",
    "mouth_diameter_tolerance_mm": "How far that may be off; a few mm unless given.",
    "strike_hz": "Strike note as a frequency; not the nominal.",
    "note": "Strike note as a name, e.g. C#4 or cis'.",
    "note_cents": "Deviation from that note, in cents.",
    "reference_hz": "Frequency of a' the note refers to; 440 unless given.",
    "mass_kg": "Mass, in kg or with its unit.",
    "mass_tolerance_kg": "How far that may be off.",
    "mass_basis": "How the mass was obtained.",
    "inscription": "What can be read; [---] for a gap, _ for a letter that cannot be read.",
    "cast": "Date of casting as EDTF: 15XX, 1643?, 1700/1750.",
    "material": "What it is cast from.",
    "crown": "Kind of crown.",
    "loops": "Canons, counted, stumps included.",
    "founder": "Name or id of the founder.",
    "unregistered": "Chance before comparing that it has no record: 0.2 or 20 %.",
}
"""The options, in the order of ``--help``, each with its line; a partial has an option of its own."""


def facts_options() -> Callable[[Command], Command]:
    """Make an option for each thing that a finder can tell; they are read together, to tell all faults."""

    def added(command: Command) -> Command:
        names = [*HELP, *(name for name in FIELDS if name.endswith("_hz") and name not in HELP)]
        for name in reversed(names):
            kind = click.Choice(list(vocabulary(WORDS[name]).terms)) if name in WORDS else None
            text = HELP.get(name, f"Frequency of the {name.removesuffix('_hz').replace('_', ' ')}.")
            option = click.option(f"--{name.replace('_', '-')}", name, type=kind, help=text)
            command = option(command)
        return command

    return added


@click.command(
    epilog='\b\nExamples:\n  soundbow identify --registry bells.db --mouth-diameter-mm "21 1/2 in"'
    ' --inscription "abcd [---] lmnop"\n'
    "  soundbow identify --registry bells.db --form found-bell.yaml --format json"
)
@registry_option()
@facts_options()
@click.option(
    "--form",
    type=click.Path(path_type=Path, dir_okay=False),
    help="A filled form of the bell; what options tell stands in its place.",
)
@click.option("--bell", "bell_id", metavar="ID", help="Which bell of that form, where it has several.")
@click.option("--wordless", is_flag=True, help="It was looked for an inscription, and there is none.")
@click.option(
    "--status/--no-status",
    "by_status",
    default=True,
    show_default=True,
    help="Hold a bell that hangs in its tower less likely than one stolen or lost.",
)
@click.option("--most", type=click.IntRange(1, 1000), default=5, show_default=True, help="Bells to list.")
@format_option("table", "json")
def command(
    registry: Path,
    *,
    form: Path | None,
    bell_id: str | None,
    wordless: bool,
    by_status: bool,
    most: int,
    answer_as: str,
    **written: str | None,
) -> None:
    """Rank the bells of a registry by how likely each is the bell that turned up, and say if none is.

    Tell what you know; every fact is a factor for or against, shown with its weight. What a record lacks
    counts neither way. A match is a lead, and no proof. A form of a bell that is on record already asks which
    other record it may be.
    """
    told = _told(
        {name: text for name, text in written.items() if text} | ({"wordless": "yes"} if wordless else {})
    )
    facts, own = told.facts, None
    if bell_id is not None and form is None:
        raise click.UsageError("--bell names a bell of a form: give the form with --form.")
    if form is not None:
        own = record_of_form(form, bell_id)
        facts = joined(own.facts, told.facts)
    with opened(registry) as connection:
        others = [each for each in read_records(connection) if own is None or each.bell_id != own.bell_id]
        register = Register(others, date.today().year)
        answer = identify(register, facts, unregistered=told.unregistered, by_status=by_status, most=most)
        ids = [each.bell_id for each in answer.candidates]
        named, words = read_named(connection, ids), read_transcriptions(connection, ids)
    if not answer.compared and register.records:
        raise click.UsageError(
            "Tell at least one fact that can be compared, e.g. --mouth-diameter-mm. Partials need a nominal"
            " or a strike note beside them."
        )
    further = what_next(register, facts, answer)
    stated = {
        each.bell_id: Stated(others[each.row].facts, words.get(each.bell_id, ""))
        for each in answer.candidates
    }
    answered = Answered(answer, named, stated, further, open_bits(answer), len(others))
    click.echo(as_json(answer_data(answered)) if answer_as == "json" else as_sheet(answered), nl=False)


def _told(written: dict[str, str]) -> Told:
    """Read the options; all that cannot be read is told at once."""
    told = read_told(written)
    if told.faults:
        raise click.UsageError(
            "\n".join(
                f"--{each.field.replace('_', '-')} {each.read!r}: expected {each.expected}; {each.remedy}."
                for each in told.faults
            )
        )
    return told
