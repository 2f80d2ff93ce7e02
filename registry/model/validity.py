"""The time in which something held: a border, the work of a founder, a spelling of a name."""

from typing import NamedTuple

from registry.model.edtf import EdtfDate, EdtfError, parse_edtf

EXPECTED = "an interval such as 1815/1918, 1945/.. or ../1803"


class Validity(NamedTuple):
    """First and last day, ISO 8601; None where that end is open or not known."""

    first: str | None = None
    last: str | None = None

    def overlaps(self, other: "Validity") -> bool:
        """Say whether two times have a day in common."""
        return not (
            (self.last is not None and other.first is not None and self.last < other.first)
            or (other.last is not None and self.first is not None and other.last < self.first)
        )


ALWAYS = Validity()


def read_validity(text: str) -> Validity:
    """Read an EDTF interval, or a single date as the time it names, as a first and a last day.

    Parameters
    ----------
    text : str
        ``1815/1918``, ``1945/..``; empty for a time that is open at both ends.

    Raises
    ------
    EdtfError
        When it is no date expression, is a set, or names a year that does not sort as text.
    """
    if not text:
        return ALWAYS
    date = parse_edtf(text)
    if date.choice:
        raise EdtfError("bad-date", EXPECTED, "a time is an interval, not a set: write its two ends")
    return of_date(date)


def of_date(date: EdtfDate) -> Validity:
    """Give the days a date expression spans.

    Raises
    ------
    EdtfError
        When it names a year before 0 or after 9999, whose days do not sort as text.
    """
    for year in (date.earliest_year, date.latest_year):
        if year is not None and not 0 <= year <= 9999:
            raise EdtfError("bad-date", EXPECTED, "years here go from 0000 to 9999")
    return Validity(date.earliest, date.latest)
