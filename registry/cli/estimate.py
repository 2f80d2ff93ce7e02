"""``soundbow estimate``: mass and note of a bell from its size, for a question on the spot."""

import json
import re
from textwrap import fill
from typing import Any

import click

from registry.cli.options import format_option, read_in
from registry.derive.agreement import contradiction
from registry.derive.mass import mass_estimates
from registry.derive.profile_class import class_of
from registry.derive.slips import Readings
from registry.derive.strike import strike_estimate
from registry.model.derived import Derived
from registry.model.pitch import note_of
from registry.model.vocabulary import label_of, vocabulary
from registry.units import format_estimate, format_quantity

SOURCE_END = re.compile(r"; (?![^()]*\))")
"""Parts one source from the next; a semicolon between brackets belongs to its source."""

JUDGED = {"profile_step_semitones": "Class", "misfit_sd": "Doubt"}
"""Values that are told in words, with their labels."""

CAUTION = (
    "An estimate is no weighing: never choose lifting gear, or judge a frame or a tower, by the best value.\n"
    "Take the upper end or weigh the bell, and leave the judgement to licensed practice."
)


@click.command(
    epilog='\b\nExample:\n  soundbow estimate --mouth-diameter-mm "46 1/2 in" --profile-class medium'
)
@click.option(
    "--mouth-diameter-mm",
    callback=read_in("mm"),
    required=True,
    help="Outer diameter at the lip, in mm or with its unit.",
)
@click.option(
    "--profile-class",
    type=click.Choice(list(vocabulary("profile_class").terms)),
    help="Weight class for its note, where the founder stated one.",
)
@click.option("--strike-hz", callback=read_in("hz"), help="Strike note, where it is known; not the nominal.")
@click.option(
    "--soundbow-thickness-mm",
    callback=read_in("mm"),
    help="Greatest thickness of the sound-bow, unworn, in mm or with its unit.",
)
@click.option("--cast-year", type=click.IntRange(1, 2200), help="Year of casting, to a few decades.")
@click.option(
    "--material", type=click.Choice(list(vocabulary("material").terms)), default="bronze", show_default=True
)
@format_option("table", "json")
def command(
    mouth_diameter_mm: float,
    profile_class: str | None,
    strike_hz: float | None,
    soundbow_thickness_mm: float | None,
    cast_year: int | None,
    material: str,
    answer_as: str,
) -> None:
    """Estimate mass and note of a bell from its size, with 90 % intervals.

    A value that is given is not estimated: with --strike-hz only the mass is, and the weight class.
    """
    bow = soundbow_thickness_mm
    try:
        masses = mass_estimates(
            mouth_diameter_mm,
            strike_hz,
            profile_class,
            material,
            cast_year=cast_year,
            soundbow_thickness_mm=bow,
        )
        strike = (
            None
            if strike_hz
            else strike_estimate(mouth_diameter_mm, profile_class, material, soundbow_thickness_mm=bow)
        )
        judged = None if profile_class else class_of(mouth_diameter_mm, strike_hz, material=material)
        known = Readings(material, mouth_diameter_mm, strike_hz, bow, None, profile_class or "unknown")
        doubt = contradiction(known)
    except ValueError as error:
        raise click.UsageError(str(error)) from error
    step = None if judged is None else judged.step
    if answer_as == "json":
        data = as_data(masses, strike, strike_hz)
        if judged is not None:
            data["profile_class"] = {word: round(share, 3) for word, share in judged.probabilities.items()}
        if doubt is not None:
            data["contradiction"] = doubt.note
        click.echo(json.dumps(data, ensure_ascii=False, indent=2))
    else:
        click.echo(as_table(mouth_diameter_mm, material, (*masses, step, doubt), strike, strike_hz))


def as_data(masses: tuple[Derived, ...], strike: Derived | None, strike_hz: float | None) -> dict[str, Any]:
    """Give the estimates as data: the best of each quantity, the nearest note, the other ways to the mass."""
    best, *others = masses
    data: dict[str, Any] = {"mass_kg": _estimate(best)}
    if strike_hz is None:
        data["strike_hz"] = _estimate(strike) if strike else None
    data["note"] = note_name(strike, strike_hz)
    data["other_estimates"] = [{"quantity": each.quantity, **_estimate(each)} for each in others]
    data["inputs"] = best.inputs
    data["caution"] = CAUTION.replace("\n", " ")
    return data


def note_name(strike: Derived | None, strike_hz: float | None) -> str | None:
    """Name the nearest note of equal temperament (a' = 440 Hz); None where no strike note is known."""
    hz = strike_hz or (strike.value if strike else None)
    return note_of(hz).scientific if hz else None


def _estimate(derived: Derived) -> dict[str, Any]:
    """Give one estimate as data, rounded to four figures: more would claim a certainty that is not there."""
    numbers = {name: getattr(derived, name) for name in ("value", "low", "high")}
    return {
        **{name: None if number is None else float(f"{number:.4g}") for name, number in numbers.items()},
        "level": derived.level,
        "method": derived.method,
        "caveat": derived.note,
        "source": derived.source,
    }


def as_table(
    mouth_diameter_mm: float,
    material: str,
    estimates: tuple[Derived | None, ...],
    strike: Derived | None,
    strike_hz: float | None,
) -> str:
    """Write the estimates for people, with what they rest on."""
    best, *others = [each for each in estimates if each is not None]
    shown = [best, *([strike] if strike else []), *others]
    sources = dict.fromkeys(part for each in shown for part in SOURCE_END.split(each.source))
    lines = [
        f"Mouth diameter {format_quantity(mouth_diameter_mm, 'mm')}, {label_of('material', material)}"
        + (
            f", strike note {format_quantity(strike_hz, 'hz')} ({note_name(None, strike_hz)})"
            if strike_hz
            else ""
        ),
        "",
        *(line for number, each in enumerate(shown) for line in _lines(each, again=number > 0)),
        "",
        "Sources",
        *dict.fromkeys(
            fill(source, 100, initial_indent="  ", subsequent_indent="    ") for source in sources
        ),
        "",
        CAUTION,
    ]
    return "\n".join(lines)


def _lines(derived: Derived, *, again: bool) -> list[str]:
    """Write one estimate, and its caveat below it."""
    if derived.quantity in JUDGED:
        return [fill(f"{JUDGED[derived.quantity]:13}{derived.note}", 100, subsequent_indent=" " * 13)]
    label = "Strike note" if derived.quantity == "strike_hz" else "Mass, also" if again else "Mass"
    if derived.value is None or derived.low is None or derived.high is None:
        return [f"{label:13}{derived.note}"]
    value, low, high = (_number(number, derived) for number in (derived.value, derived.low, derived.high))
    lines = [f"{label:13}{value:16}{derived.level * 100:g} % from {low} to {high}, by {derived.method}"]
    if derived.note:
        lines.append(fill(derived.note, 100, initial_indent=" " * 13, subsequent_indent=" " * 13))
    return lines


def _number(value: float, derived: Derived) -> str:
    """Write a value as its interval bears, and for a frequency the nearest note."""
    text = format_estimate(value, derived.unit, derived.low, derived.high)
    return f"{text} ({note_of(value).scientific})" if derived.unit == "hz" else text
