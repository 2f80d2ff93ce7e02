"""``soundbow design``: first sizes for a bell that is to have a wanted note, alone or in a ring."""

import json
import re
from collections.abc import Callable, Sequence
from typing import Any, NamedTuple

import click

from registry.cli.design_sheet import OnTheWay, Wanted, as_data, as_lines
from registry.cli.options import format_option, read_in
from registry.derive.constants import constants
from registry.derive.design import Design, designs
from registry.derive.ring import RingNote, RingTuning, missing_notes, ring_tunings, wanted_hz
from registry.derive.scales import SCALES
from registry.model.known_bell import KnownBell
from registry.model.pitch import NoteError, Pitch, frequency_of, note_of, read_note
from registry.model.vocabulary import vocabulary

BELL_OF_RING = re.compile(r"(?P<note>[^@/]+)(?:@(?P<diameter>[^/]+))?(?:/(?P<mass>.+))?")
"""One bell of a ring: its note or strike frequency, then @ its diameter, then / its mass."""


ONE_TIME = 2000
"""Stands for the year of a ring: that of its casting is not asked for, but its bells are of one time."""


class OfRing(NamedTuple):
    """One bell of a ring, as the user gives it."""

    name: str
    strike_hz: float
    mouth_diameter_mm: float | None
    mass_kg: float | None

    def known(self, number: int) -> KnownBell | None:
        """Give it as a bell that can speak for others; None without its diameter. All are of one casting."""
        if self.mouth_diameter_mm is None:
            return None
        return KnownBell(
            str(number), "ring", "ring", ONE_TIME, self.mouth_diameter_mm, self.strike_hz, self.mass_kg
        )


def read_ring(_context: click.Context, _option: click.Parameter, text: str | None) -> list[OfRing]:
    """Read the bells of a ring: ``C4 E4@1220 392.5@1030/640``, diameters in mm and masses in kg."""
    bells = []
    for word in (text or "").replace(",", " ").split():
        match = BELL_OF_RING.fullmatch(word)
        if match is None:
            raise click.BadParameter(
                f"{word!r}: write NOTE, NOTE@DIAMETER or NOTE@DIAMETER/KG, e.g. C4@1540/2180."
            )
        diameter_mm, mass_kg = (_number(word, match[part]) for part in ("diameter", "mass"))
        bells.append(OfRing(match["note"], _strike_hz(match["note"]), diameter_mm, mass_kg))
    return bells


def _number(word: str, text: str | None) -> float | None:
    try:
        return None if text is None else float(text)
    except ValueError:
        raise click.BadParameter(f"{word!r}: diameter in mm and mass in kg are plain numbers.") from None


def _strike_hz(text: str) -> float:
    """Read a note (a' = 440 Hz) or a frequency."""
    try:
        return float(text)
    except ValueError:
        pass
    try:
        return frequency_of(read_note(text).scientific)
    except NoteError as error:
        raise click.BadParameter(f"{text!r}: {error.remedy}.") from error


def read_wanted(_context: click.Context, _option: click.Parameter, text: str | None) -> Pitch | None:
    """Read a note by its name."""
    try:
        return None if text is None else read_note(text)
    except NoteError as error:
        raise click.BadParameter(f"{text!r}: {error.remedy}.") from error


def _set_by_user(name: str, text: str) -> Callable[[Any], Any]:
    return click.option(name, type=click.FloatRange(min=0.0), help=text)


@click.command(
    epilog="\b\nExamples:\n"
    "  soundbow design --note D4 --profile-class medium\n"
    '  soundbow design --ring "C4@1540/2180 E4@1220/1090 F4@1150 G4@1030"\n'
    "  soundbow design --note A3 --allowance-percent 8 --price-per-kg 32"
)
@click.option("--note", callback=read_wanted, help="The wanted note, e.g. D4 or d'.")
@click.option("--strike-hz", callback=read_in("hz"), help="The wanted strike note as a frequency.")
@click.option(
    "--ring",
    callback=read_ring,
    metavar="NOTES",
    help="The bells it is to match: notes or frequencies, each with @diameter in mm and /mass in kg if known."
    " Without --note the notes it lacks are designed.",
)
@click.option(
    "--scale",
    type=click.Choice([scale.name for scale in SCALES]),
    help="How the ring is tuned; the scale that fits it best unless given.",
)
@click.option(
    "--profile-class",
    "profiles",
    multiple=True,
    type=click.Choice([*constants("similarity")["profile_classes"]["half_semitones"]]),
    help="Weight class; all seven unless given, and as the ring where its diameters are known. Repeatable.",
)
@click.option(
    "--material", type=click.Choice(list(vocabulary("material").terms)), default="bronze", show_default=True
)
@_set_by_user("--allowance-percent", "Your metal for gates, feeders and melting loss, per cent.")
@_set_by_user("--price-per-kg", "Your price for a kilogram of finished bell.")
@_set_by_user("--days", "Your days for a bell of whatever size.")
@_set_by_user("--days-per-100-kg", "Your days for every 100 kg beside them.")
@format_option("table", "json")
def command(
    note: Pitch | None,
    strike_hz: float | None,
    ring: list[OfRing],
    scale: str | None,
    profiles: tuple[str, ...],
    material: str,
    allowance_percent: float | None,
    price_per_kg: float | None,
    days: float | None,
    days_per_100_kg: float | None,
    answer_as: str,
) -> None:
    """Give first sizes for a bell that is to have a wanted note, alone or in a ring.

    Metal, price and time are worked out only from numbers of your own.
    """
    way = OnTheWay(allowance_percent, price_per_kg, days or 0.0, days_per_100_kg)
    try:
        tuning = _tuning(ring, scale)
        wanted = _wanted(note, strike_hz, tuning)
        sized = [bell for number, each in enumerate(ring) if (bell := each.known(number))]
        found = [(each, _designs(each, material, profiles, sized)) for each in wanted]
    except ValueError as error:
        raise click.UsageError(str(error)) from error
    if answer_as == "json":
        click.echo(json.dumps(as_data(tuning, found, way), ensure_ascii=False, indent=2))
    else:
        click.echo("\n".join(as_lines(tuning, found, way, material)))


def _tuning(ring: Sequence[OfRing], scale: str | None) -> RingTuning | None:
    """Find the pitch of a ring; None where there is none, or one bell alone."""
    if len(ring) < len("ab"):
        return None
    doubt = float(constants("ring")["reading_uncertainty_cents"])
    tunings = ring_tunings([RingNote(bell.name, bell.strike_hz, doubt) for bell in ring])
    return next((each for each in tunings if scale in (None, each.scale)), None)


def _wanted(note: Pitch | None, strike_hz: float | None, tuning: RingTuning | None) -> list[Wanted]:
    """Say which notes are wanted: the one asked for, else all that the ring lacks.

    Raises
    ------
    ValueError
        When nothing is asked for, or the ring lacks nothing.
    """
    if strike_hz is not None:
        return [Wanted(read_note(note_of(strike_hz).scientific), strike_hz)]
    if note is not None:
        return [Wanted(note, frequency_of(note.scientific) if tuning is None else wanted_hz(tuning, note))]
    if tuning is None:
        raise ValueError("Say what is wanted: --note, --strike-hz, or --ring with two bells at least.")
    lacking = missing_notes(tuning)
    if not lacking:
        raise ValueError(
            "The ring lacks no note of its mode between its lowest and its highest: give --note."
        )
    return [Wanted(each, wanted_hz(tuning, each)) for each in lacking]


def _designs(
    wanted: Wanted, material: str, profiles: tuple[str, ...], ring: Sequence[KnownBell]
) -> tuple[Design, ...]:
    found = designs(wanted.strike_hz, material, profiles=profiles, ring=ring)
    return found[:1] if ring and not profiles else found
