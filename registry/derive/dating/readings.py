"""Every year that a date as cast can mean, the likeliest first; nothing is decided."""

import re
from collections.abc import Iterator
from functools import lru_cache
from typing import NamedTuple

from registry.derive.dating.alphabets import alphabet_readings
from registry.derive.dating.chronogram import Chronogram, chronogram, chronogram_readings
from registry.derive.dating.edtf_reading import edtf_of, edtf_readings
from registry.derive.dating.expressions import expression_readings
from registry.derive.dating.numerals import alternatives
from registry.derive.dating.reading import OLDEST_YEAR, Reading, in_order, year_cost
from registry.derive.dating.signs import tokens_of
from registry.derive.dating.sums import grouped, sums_of
from registry.model.edtf import EdtfDate

LONGEST = 4000
"""Characters a text may have, as on the form."""

METHOD, VERSION = "date-as-cast", 1

_REPUBLIC = re.compile(r"\ban(?:n[ée]e)?\s+(\w+)\s+(?:de\s+la\s+)?r[ée]p", re.IGNORECASE)

SURE_ENOUGH = 2.0
"""Beside a date with less than this against it, sums of letters that nothing marks are not told."""


class DateRead(NamedTuple):
    """What a text can mean as a date.

    ``readings`` stand in their order; ``earliest`` and ``latest`` are the ends over all of them, None
    without any and where an expression leaves that end open; ``letters`` are the sums of its numeral
    letters, None where there are hardly any; ``edtf`` is the text as an expression, None where it is none.
    """

    text: str
    readings: tuple[Reading, ...]
    letters: Chronogram | None
    edtf: EdtfDate | None = None

    @property
    def earliest(self) -> int | None:
        """The first year of any reading."""
        if self.edtf is not None and self.edtf.earliest is None:
            return None
        return min((each.year for each in self.readings), default=None)

    @property
    def latest(self) -> int | None:
        """The last year of any reading."""
        if self.edtf is not None and self.edtf.latest is None:
            return None
        return max((each.last_year for each in self.readings), default=None)

    def stated(self) -> tuple[Reading, ...]:
        """Give the readings of what the text states, without sums that nothing marks."""
        return tuple(each for each in self.readings if each.standing != "unmarked")


@lru_cache(maxsize=4096)
def read_date(text: str, this_year: int, circa_years: int = 0) -> DateRead:
    """Read a date as cast, alone or in the midst of an inscription.

    Parameters
    ----------
    text : str
        Letter for letter, with Leiden signs if need be.
    this_year : int
        The year after which no bell can have been cast.
    circa_years : int
        Years on either side by which an EDTF expression marked approximate is widened.
    """
    text = text[:LONGEST]
    edtf = edtf_of(text, circa_years)
    found = [*expression_readings(text, this_year), *alphabet_readings(text, this_year), *_republican(text)]
    stated = any(each.cost < SURE_ENOUGH for each in found)
    sums = list(chronogram_readings(text, this_year))
    if edtf is not None:
        # The figures of an expression are not what stands on the bell.
        found = [*edtf_readings(edtf, circa_years), *(each for each in found if each.notation != "figures")]
    found += [each for each in sums if each.standing == "marked" or not stated]
    # Years of which no bell can be are told only where the text can mean no other.
    likely = [each for each in found if each.last_year >= OLDEST_YEAR and each.year <= this_year]
    return DateRead(text, tuple(in_order(likely or found)), chronogram(text), edtf)


@lru_cache(maxsize=4096)
def _republican(text: str) -> tuple[Reading, ...]:
    """Give the years of the French Republic that a text names, whatever the year of the survey."""
    return tuple(_years_of_the_republic(text))


def _years_of_the_republic(text: str) -> Iterator[Reading]:
    """Read years of the French Republic, which began on 22 to 24 September 1792.

    Source: decree of the Convention of 5 October 1793, from memory.
    """
    for match in _REPUBLIC.finditer(text):
        token = tokens_of(match[1])
        for way in alternatives(token[0].plain, apart=True) if token else ():
            for each in sums_of(grouped(way.signs)):
                if 1 <= each.value <= 14 and each.cost < 1.0:
                    first = 1791 + each.value
                    how = f"year {each.value} of the French Republic, autumn {first} to autumn {first + 1}"
                    cost = 0.2 + each.cost + year_cost(first, first)[0]
                    yield Reading(first, first + 1, how, "republican", cost, match[0])
