"""What recordings tell of a bell, in a report: the newest with its spectrum and decay, and what changed."""

from collections.abc import Iterator

from registry.drawing.svg import decay_svg, spectrum_svg
from registry.report.blocks import Block, Cell, Column, Columns, Heading, Item, Items, Picture, Prose, Table
from registry.report.reading import BellRecord
from registry.units import format_quantity
from registry.wording.recordings import RecordingShown, Tone, recordings_shown
from registry.wording.words import day, heading, quantity

SPECTRUM = "As high as each partial was loud at the stroke. Two stems: a doublet. Dashed: the ideal place."
DECAY = "How long each partial takes to fall by 60 dB; arrow: longer than the recording tells."


def recording_blocks(record: BellRecord) -> Iterator[Block]:
    """Print the newest recording that could be judged, and name the others.

    Parameters
    ----------
    record : BellRecord
        What the surveys say, with the analysed recordings they name.
    """
    shown = recordings_shown(record.recordings, record.value("bell_seen", "material"))
    if shown is None:
        return
    yield Heading("From recordings")
    newest = next((each for each in shown.recordings if not each.refused), None)
    if newest is not None:
        yield from _newest(newest)
    others = [each for each in shown.recordings if each is not newest]
    if others:
        yield Items(tuple(_other(each) for each in others))
    yield Prose(f"Computed from the sound, never observed. {shown.caution}", "soft")


def _newest(shown: RecordingShown) -> Iterator[Block]:
    yield Prose(_told(shown))
    pictures = tuple(_pictures(shown))
    if len(pictures) > 1:
        yield Columns((5, 4), tuple((each,) for each in pictures))
    else:
        yield from pictures
    changes = {each.name: each for each in shown.changes}
    rows = [
        (
            Cell(heading(tone.name), tone.note),
            Cell(quantity(round(tone.frequency_hz, 2), "hz"), style="computed"),
            Cell(quantity(round(tone.other_hz, 2), "hz") if tone.other_hz else "–", style="computed"),
            Cell(_t60(tone), style="computed"),
            Cell(_cents(tone.deviation_cents), style="computed"),
            Cell(_cents(changes[tone.name].cents) if tone.name in changes else "–", style="computed"),
        )
        for tone in shown.tones
    ]
    since = f"; change since {day(shown.before['as_of'])}: {shown.temperatures}" if shown.before else ""
    yield Table(
        f"Computed from {shown.row['file']}{since}",
        (
            Column("Partial", share=1.8),
            Column("Frequency", number=True, share=1.8),
            Column("Second tone", number=True, share=1.8),
            Column("T60", number=True, share=1.4),
            Column("Deviation, cents", number=True, share=1.6),
            Column("Change, cents", number=True, share=1.6),
        ),
        tuple(rows),
        f"SHA-256 of the file: {shown.row['sha256']}.",
    )
    if shown.signs:
        yield Items(
            tuple(Item(f"Worth a closer look: {sign['text']}", 2, sign["source"]) for sign in shown.signs)
        )


def _told(shown: RecordingShown) -> str:
    """Say when, how warm and what strike note."""
    warm = f", {quantity(shown.row['temperature_c'], 'c')}" if shown.row["temperature_c"] is not None else ""
    strike = f"strike note {shown.strike}" if shown.strike else "no strike note"
    told = f"{day(shown.row['as_of'])}{warm}: {strike}"
    if shown.from_size is not None:
        spread = format_quantity(round(shown.from_size.half_cents), "cents")
        told += (
            f", {_cents(shown.from_size.cents)} cents from what the size tells (nine in ten within {spread})"
        )
        told += f"; {shown.from_size.doubt}" if shown.from_size.doubt else ""
    absent = f" Not found: {', '.join(shown.absent)}." if shown.absent else ""
    return f"{told}.{absent}"


def _pictures(shown: RecordingShown) -> Iterator[Picture]:
    file = shown.row["file"]
    if shown.spectrum is not None:
        svg = spectrum_svg(shown.spectrum.narrow, f"Spectrum of {file}", shown.spectrum.words)
        yield Picture(f"Spectrum of {file}. {shown.spectrum.words}", SPECTRUM, svg=svg, tallest_mm=48)
    if shown.decay is not None:
        svg = decay_svg(shown.decay, f"Decay of the partials of {file}", shown.decay_words)
        yield Picture(f"Decay of the partials of {file}. {shown.decay_words}", DECAY, svg=svg, tallest_mm=60)


def _other(shown: RecordingShown) -> Item:
    told = f"{day(shown.row['as_of'])}, {shown.row['file']}"
    if shown.refused:
        return Item(f"{told}: not judged, {shown.refused}")
    return Item(f"{told}: {f'strike note {shown.strike}' if shown.strike else 'no strike note'}")


def _t60(tone: Tone) -> str:
    if tone.t60_s is not None:
        return quantity(round(tone.t60_s, 1), "s")
    return f"over {quantity(round(tone.t60_low_s, 1), 's')}" if tone.t60_low_s is not None else "–"


def _cents(cents: float | None) -> str:
    return "–" if cents is None else f"{cents:+.1f}".replace("-", "−")
