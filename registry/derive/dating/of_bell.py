"""The readings of the dates a bell bears, as computed values beside the date that was entered."""

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from registry.derive.dating.calendars import years_meant
from registry.derive.dating.reading import Reading
from registry.derive.dating.readings import METHOD, VERSION, read_date
from registry.model.bell_facts import Computed, DatedText
from registry.model.derived import Derived

MOST_TOLD = 8
"""Readings of one text that are kept; the command ``date`` tells all."""

MOST_COST = 5.0

WITHIN_OF_BEST = 2.6
"""How much more than the best reading may have against it to be kept beside it."""

QUANTITY = "cast_reading_year"

NO_PROBABILITY = 0.0
"""Readings stand in an order; no probability is claimed for any."""

SOURCE = (
    "A. Cappelli, Lexicon abbreviaturarum (1912), pp. LIII-LVI; J. Hilton, Chronograms (1882);"
    " C. R. Cheney and M. Jones, A Handbook of Dates (2000)"
)


class Possible(NamedTuple):
    """A reading with the years of today that it can mean, as the year on the bell began."""

    reading: Reading
    first: int
    last: int


def possible_years(text: str, year_begins: str | None, latest_year: int) -> Iterator[Possible]:
    """Give the readings of what a text states, the likeliest first, in years that begin on 1 January.

    Parameters
    ----------
    text : str
        The date as cast, or a whole transcription.
    year_begins : str or None
        Word of the vocabulary ``year_begins``; None and ``unknown`` take the year as it stands.
    latest_year : int
        The year of the survey that saw it.
    """
    for reading in read_date(text, latest_year).stated():
        if reading.cost < MOST_COST:
            first = years_meant(reading.year, year_begins or "january").first
            last = years_meant(reading.last_year, year_begins or "january").last
            yield Possible(reading, first, last)


def readings_of_bell(texts: Sequence[DatedText]) -> Iterator[Computed]:
    """Compute the readings of every text of a bell that states a date."""
    for told in texts:
        found = list(possible_years(told.text, told.year_begins, told.seen_year))
        near = [each for each in found if each.reading.cost <= found[0].reading.cost + WITHIN_OF_BEST]
        for rank, (reading, first, last) in enumerate(near[:MOST_TOLD], start=1):
            inputs = {
                "text": reading.text,
                "notation": reading.notation,
                "standing": reading.standing,
                "weight": round(reading.weight, 3),
                **({"cast_year_begins": told.year_begins} if told.year_begins else {}),
            }
            yield Computed(
                told.subject,
                told.survey_id,
                rank,
                Derived(
                    QUANTITY,
                    float(first) if first == last else None,
                    float(first),
                    float(last),
                    NO_PROBABILITY,
                    METHOD,
                    VERSION,
                    inputs,
                    SOURCE,
                    "; ".join([reading.how, *reading.doubts]),
                ),
            )
