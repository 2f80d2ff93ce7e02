"""``soundbow sound``: partials, strike note and signs from recordings of bells, and the ring they make."""

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any, NamedTuple

import click

from registry.cli.options import format_option, read_in
from registry.cli.progress import progress_bar
from registry.model.vocabulary import vocabulary
from registry.problems import InputError, Problem, whole_file_problem

if TYPE_CHECKING:
    from registry.derive.sound import SoundAnalysis
    from registry.recordings import Recording


COLDEST_C, HOTTEST_C = -50, 60
"""Temperatures a bell can have when it is heard, as in the form."""


class Heard(NamedTuple):
    """What came of one file: the recording and its analysis as far as it got, and what is wrong with it."""

    file: str
    recording: "Recording | None"
    analysis: "SoundAnalysis | None"
    problems: tuple[Problem, ...]


@click.command(
    epilog="\b\nExamples:\n"
    '  soundbow sound tenor.wav --mouth-diameter-mm "46 1/2 in" --temperature-c 12\n'
    "  soundbow sound treble.wav second.wav tenor.wav"
)
@click.argument("files", type=click.Path(path_type=Path), nargs=-1, required=True)
@click.option(
    "--mouth-diameter-mm",
    callback=read_in("mm"),
    help="Outer diameter at the lip, in mm or with its unit, to judge note and ring; of one bell.",
)
@click.option(
    "--material", type=click.Choice(list(vocabulary("material").terms)), default="bronze", show_default=True
)
@click.option(
    "--temperature-c",
    callback=read_in("c"),
    help="Temperature of the bell, in °C or with its unit; kept with the result.",
)
@format_option("text", "json")
@click.pass_context
def command(
    context: click.Context,
    files: tuple[Path, ...],
    mouth_diameter_mm: float | None,
    material: str,
    temperature_c: float | None,
    answer_as: str,
) -> None:
    """Measure the partials of a bell from a recording, WAV, FLAC or OGG, of one or several strokes.

    Record the bell at rest, alone, and let it ring out. What cannot be judged is refused with the reason.
    Recordings of several bells, one each, are held against each other as a ring. Sound alone does not clear a
    bell.
    """
    if mouth_diameter_mm is not None and len(files) > 1:
        raise click.UsageError("--mouth-diameter-mm is the size of one bell: give one recording with it.")
    if temperature_c is not None and not COLDEST_C <= temperature_c <= HOTTEST_C:
        raise click.UsageError(
            f"--temperature-c {temperature_c:g} °C: expected {COLDEST_C} to {HOTTEST_C} °C; check the unit."
        )
    given = {"mouth_diameter_mm": mouth_diameter_mm, "material": material, "temperature_c": temperature_c}
    progress = progress_bar("recordings") if len(files) > 1 else None
    heard = []
    for number, file in enumerate(files):
        heard.append(_heard(file, given))
        if progress is not None:
            progress(number + 1, len(files))
    if answer_as == "json":
        from registry.cli.sound_data import json_of  # noqa: PLC0415

        click.echo(json_of(_as_data(heard)))
    else:
        _tell(heard)
    if any(each.problems for each in heard):
        context.exit(1)


def _heard(file: Path, given: dict[str, Any]) -> Heard:
    """Read and analyse one file."""
    # Numbers and sound are slow to load, and the other commands do without.
    from registry.derive.sound import analyse  # noqa: PLC0415
    from registry.recordings import read_recording  # noqa: PLC0415

    try:
        recording = read_recording(file)
    except InputError as error:
        return Heard(str(file), None, None, tuple(error.problems))
    try:
        analysis = analyse(recording.samples, recording.rate_hz, **given)
    except ValueError as error:
        raise click.UsageError(str(error)) from error
    refusals = (
        whole_file_problem(str(file), each.code, each.read, each.expected, each.remedy)
        for each in analysis.refusals
    )
    return Heard(str(file), recording, analysis, tuple(refusals))


def _as_data(heard: Sequence[Heard]) -> dict[str, Any]:
    """Give one recording as it is, several as a list and the ring they make."""
    from registry.cli.sound_data import as_data, refused  # noqa: PLC0415
    from registry.cli.sound_ring import ring_data, ring_of  # noqa: PLC0415

    found: list[dict[str, Any]] = []
    for each in heard:
        told: dict[str, Any] = {"file": each.file}
        if each.recording is not None and each.analysis is not None:
            told |= as_data(each.recording, each.analysis)
        found.append(told | (refused(list(each.problems)) if each.problems else {}))
    if len(found) == 1:
        return found[0]
    return {"recordings": found, "ring": ring_data(ring_of([(each.file, each.analysis) for each in heard]))}


def _tell(heard: Sequence[Heard]) -> None:
    """Write what was heard; what is wrong with files comes last."""
    from registry.cli.sound_ring import ring_lines, ring_of  # noqa: PLC0415
    from registry.cli.sound_sheet import as_text, caution_text  # noqa: PLC0415

    judged = [each for each in heard if not each.problems]
    for each in judged:
        if each.recording is not None and each.analysis is not None:
            click.echo(f"{each.file}\n" if len(heard) > 1 else "", nl=False)
            click.echo(as_text(each.recording, each.analysis) + "\n")
    if len(heard) > 1:
        ring = ring_of([(each.file, each.analysis) for each in judged])
        click.echo("".join(f"{line}\n" for line in ring_lines(ring)), nl=False)
    if judged:
        click.echo(caution_text())
    problems = [problem for each in heard for problem in each.problems]
    if problems:
        raise InputError(problems)
