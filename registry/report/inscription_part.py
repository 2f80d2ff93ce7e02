"""The inscriptions of a bell in its report: as they stand, and apart from that what follows from them."""

from collections.abc import Iterator

from registry.report.blocks import Block, FactLine, Facts, Heading, Prose, Voice
from registry.report.reading import BellRecord, where_of
from registry.store.pages import Row
from registry.wording.choosing import newest_readings
from registry.wording.inscriptions import InscriptionShown, inscription_shown, signs_in
from registry.wording.words import heading, quantity, term
from registry.wording.writing import is_right_to_left, language_name, script_name


def inscription_part(record: BellRecord) -> Iterator[Block]:
    """Give the inscriptions of a bell; nothing where none is on record."""
    rows = newest_readings(record.sections["inscription"])
    if not rows:
        return
    yield Heading("Inscriptions")
    for row in rows:
        title = f"{row['number']}. {heading(term('inscription_place', row['place']))}"
        yield Heading(title, 3, row["survey_date"][:4])
        rtl = is_right_to_left(row["script"], row["language"])
        language = (row["language"] or "").partition("-")[0]
        if row["transcription"]:
            as_cast = tuple(row["transcription"].rstrip("\n").split("\n"))
            yield Voice(as_cast, language if language.isalpha() else "", rtl, where_of(row, "transcription"))
        else:
            yield Prose("No words recorded.", "soft")
        lines = [
            FactLine(name, row[field].rstrip("\n"), "", where_of(row, field))
            for name, field in (
                ("Read out", "expansion"),
                ("Translation", "translation"),
                ("Ornament", "ornament"),
                ("Remarks", "remarks"),
            )
            if row[field]
        ]
        yield Facts((*lines, FactLine("Writing", _writing(row), "", where_of(row, "script"))))
        follows = tuple(_follows(inscription_shown(row)))
        if follows:
            yield Facts(follows, computed=True)
    signs = [f"{sign.sign} {sign.meaning}" for sign in signs_in(row["transcription"] for row in rows)]
    if signs:
        yield Prose(f"Signs: {', '.join(signs)}.", "soft")


def _follows(shown: InscriptionShown) -> Iterator[FactLine]:
    """Give what follows from the transcription: how it is read, and the formulas in it."""
    if shown.reading:
        yield FactLine("Read from its end" if shown.backwards else "Reading text", shown.reading)
    for found in shown.formulas:
        said = f"{found.formula.text} – {found.formula.meaning} ({found.how}). {found.formula.source}"
        yield FactLine("Recurrent formula", said)


def _writing(row: Row) -> str:
    told = [
        language_name(row["language"]),
        script_name(row["script"]),
        term("lettering", row["lettering"]),
        term("writing_direction", row["direction"]),
        term("inscription_technique", row["technique"]),
        f"letters {quantity(row['letter_height_mm'], 'mm')}" if row["letter_height_mm"] is not None else "",
        term("legibility", row["legibility"]),
    ]
    return ", ".join(filter(None, told)) or "not told"
