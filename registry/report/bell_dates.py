"""What a bell says of its date, where that takes reading: as cast, possible readings, entered."""

from collections.abc import Iterator

from registry.report.blocks import Block, Cell, Column, Heading, Prose, Table
from registry.report.reading import BellRecord
from registry.wording.dates import dates_shown
from registry.wording.words import date_words

FITS = {None: "nothing entered", True: "possible", False: "excluded"}


def date_blocks(record: BellRecord) -> Iterator[Block]:
    """List the readings of the date as cast; nothing where plain figures bear out the date entered."""
    told = {name: record.value("bell_seen", name) for name in ("cast_text", "cast_date", "dating_basis")}
    shown = dates_shown(record.derived, told, {})
    if shown is None or (shown.plain and not shown.contradicts):
        return
    yield Heading("Date as cast")
    rows = [
        (
            Cell(text.expression if number == 0 else "", text.where if number == 0 else ""),
            Cell(reading.years, style="computed"),
            Cell(reading.how, "; ".join(reading.doubts)),
            Cell(FITS[reading.fits]),
        )
        for text in shown.texts
        for number, reading in enumerate(text.readings)
    ]
    entered = f"Entered: {date_words(shown.entered)}" if shown.entered else "Entered"
    yield Table(
        "Every year that the words on the bell can mean, likeliest first",
        (
            Column("As cast", share=3),
            Column("Can mean", share=1.6),
            Column("How", share=4),
            Column(entered, share=1.8),
        ),
        tuple(rows),
    )
    if shown.contradicts:
        yield Prose("No reading is a year of the date entered. One of the two wants another look.")
    yield Prose("Nothing is decided here, and a sum of letters is never a proof.", "soft")
