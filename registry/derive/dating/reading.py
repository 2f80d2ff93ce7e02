"""One possible reading of a date, and how likely years and notations are before anything else is known.

The weight of a reading only puts readings in order. It is no probability: it is ``exp(-cost)``, and the
cost is the sum of what speaks against a reading: an irregular notation, letters left out, a year from which
hardly any bells are known. Each such cost has its name and its reason here. Common practice, no source, but
for the range of years: the oldest bell dated in its inscription that the published tables hold is of 1144
(Christelijke Encyclopedie, 1926, Iggensbach).
"""

import math
from typing import Literal, NamedTuple

Standing = Literal["written", "marked", "unmarked"]

OLDEST_YEAR = 800
"""First year a reading may give without the remark that no bell is that old."""

MOST_COST = 9.0
"""Readings that have more against them are not told."""


class Reading(NamedTuple):
    """A year that a text can mean.

    Parameters
    ----------
    year, last_year : int
        The year, and the last one where the text leaves it open (``14[--]``, a year of another era).
    how : str
        How it was got, in words.
    notation : str
        ``figures``, ``roman``, ``words``, ``mixed``, ``greek``, ``hebrew``, ``slavonic``, ``republican``,
        ``chronogram`` or ``edtf``.
    cost : float
        What speaks against it; 0 is a regular notation of a likely year.
    text : str
        The words it was read from.
    doubts : tuple of str
        What a scholar must know before using it; empty where nothing is to be said.
    standing : str
        ``written`` as a year, ``marked`` as the sum of letters that stand out as numerals, or ``unmarked``: a
        sum of letters that nothing marks, which dates nothing.
    """

    year: int
    last_year: int
    how: str
    notation: str
    cost: float
    text: str
    doubts: tuple[str, ...] = ()
    standing: Standing = "written"

    @property
    def weight(self) -> float:
        """The place in the order: 1 for a regular notation of a likely year, less for all others."""
        return math.exp(-self.cost)


def year_cost(year: int, this_year: int) -> tuple[float, str]:
    """Give what speaks against a year by itself, and the remark it deserves."""
    if year > this_year:
        return 5.0, f"{year} has not come yet"
    for limit, cost in ((OLDEST_YEAR, 4.0), (1000, 3.0), (1144, 2.0), (1250, 0.7)):
        if year < limit:
            return cost, "earlier than any dated bell known" if year < OLDEST_YEAR else ""
    return 0.0, ""


def in_order(readings: list[Reading]) -> list[Reading]:
    """Keep of each year and expression the best reading, the likeliest first."""
    best: dict[tuple[int, int], Reading] = {}
    for reading in sorted(readings, key=lambda each: (each.cost, each.year)):
        if reading.cost <= MOST_COST:
            best.setdefault((reading.year, reading.last_year), reading)
    return list(best.values())
