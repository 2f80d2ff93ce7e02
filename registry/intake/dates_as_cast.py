"""Hold the dates on a bell against the date that was entered: nothing is decided, and a misfit is a warning.

Forms and computations are strangers to each other, so the check of a form gets these rules from here.
"""

from collections.abc import Iterator, Sequence

from registry.derive.dating.of_bell import WITHIN_OF_BEST, Possible, possible_years
from registry.forms.finding import Finding
from registry.forms.rules_history import years_in_figures
from registry.forms.ruling import BellRule, Form, Found
from registry.model.bell import Inscription
from registry.model.edtf import EdtfDate, parse_edtf
from registry.model.survey import BellEntry, Path

SURE_ENOUGH = 2.0
"""Numerals with more against them are no reason to doubt the date entered."""

NAMED = 3
"""Readings that a warning names."""

LATER = frozenset({"engraved", "painted", "stamped"})
"""Words of ``inscription_technique`` for what was put on the bell after it was cast."""


def date_as_cast_bears_out_the_date(form: Form, path: Path, bell: BellEntry) -> Iterator[Found]:
    """Expect that some reading of the date as cast is a year that the date entered can mean.

    Years in four figures have a rule of their own.
    """
    identity = bell.identity
    if identity is None or identity.cast_text is None or identity.cast_date is None:
        return
    if years_in_figures(identity.cast_text):
        return
    read = list(possible_years(identity.cast_text, identity.cast_year_begins, form.today.year))
    if read and not _fits(read, parse_edtf(identity.cast_date)):
        yield Found(
            (*path, "identity"),
            "cast_text",
            _finding("cast-reading-against-date", read, identity.cast_date, "text as cast"),
        )


def inscriptions_bear_out_the_date(form: Form, path: Path, bell: BellEntry) -> Iterator[Found]:
    """Expect that one of the years cast on the bell is one that the date entered can mean.

    Where the text as cast was given, it speaks for the bell, and its own rule judges it.
    """
    identity = bell.identity
    if identity is None or identity.cast_date is None:
        return
    if identity.cast_text is not None and any(possible_years(identity.cast_text, None, form.today.year)):
        return
    date = parse_edtf(identity.cast_date)
    told = [
        (number, read)
        for number, inscription in enumerate(bell.inscriptions)
        if (read := _stated(inscription, identity.cast_year_begins, form.today.year))
    ]
    if told and not any(_fits(read, date) for _, read in told):
        number, read = told[0]
        yield Found(
            (*path, "inscriptions", number),
            "transcription",
            _finding("inscription-against-date", read, identity.cast_date, "inscription"),
        )


DATE_RULES: tuple[BellRule, ...] = (date_as_cast_bears_out_the_date, inscriptions_bear_out_the_date)


def _stated(inscription: Inscription, year_begins: str | None, this_year: int) -> list[Possible]:
    """Give the years that an inscription states beyond much doubt; none for what was added later."""
    if not inscription.transcription or inscription.technique in LATER:
        return []
    found = possible_years(inscription.transcription, year_begins, this_year)
    return [each for each in found if each.reading.cost < SURE_ENOUGH]


def _fits(read: Sequence[Possible], date: EdtfDate) -> bool:
    return any(date.possibly_within(each.first, each.last) for each in read)


def _finding(code: str, read: Sequence[Possible], cast_date: str, what: str) -> Finding:
    likely = [each for each in read if each.reading.cost <= read[0].reading.cost + WITHIN_OF_BEST]
    years = ", ".join(
        f"{each.first}" if each.first == each.last else f"{each.first} to {each.last}"
        for each in likely[:NAMED]
    )
    return Finding(
        code,
        f"{years} in the {what}, by {read[0].reading.how.partition(':')[0]}",
        f"a year within {cast_date}",
        "check both; if its year began on another day say so in cast_year_begins, of a slip in the remarks",
    )
