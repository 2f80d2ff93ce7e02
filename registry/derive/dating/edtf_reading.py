"""A date written as an EDTF expression, as readings beside those of what founders wrote."""

import re
from collections.abc import Iterator

from registry.derive.dating.reading import Reading
from registry.derive.dating.settings import circa_words
from registry.model.edtf import EdtfDate, EdtfError, parse_edtf
from registry.model.edtf_circa import widened

_LIKE_EDTF = re.compile(r"[-0-9XYES.,/~?%\[\]{}T:Z+ ]*[0-9X]{2}[-0-9XYES.,/~?%\[\]{}T:Z+ ]*").fullmatch
_TEN = re.compile(r"[0-9]{2}X[0-9]").fullmatch
_FIGURES = re.compile(r"[0-9]{4}").fullmatch


def edtf_of(text: str, circa_years: int = 0) -> EdtfDate | None:
    """Read a text as an EDTF expression; None where it is none, or nothing but four figures."""
    text = text.strip()
    if not _LIKE_EDTF(text) or _FIGURES(text):
        return None
    try:
        return widened(parse_edtf(text), circa_years)
    except EdtfError:
        return None


def edtf_readings(date: EdtfDate, circa_years: int = 0) -> Iterator[Reading]:
    """Give the years of an expression: of a set each member, of a range with one open end the other end."""
    wide = (circa_words(circa_years),) if circa_years and date.approximate else ()
    for member in date.members or (date,):
        first, last = member.earliest_year, member.latest_year
        doubts = [*wide]
        if date.choice == "one-of":
            doubts.append("one of several")
        if date.uncertain:
            doubts.append("marked uncertain")
        if date.approximate and not wide:
            doubts.append("marked approximate, which has no width in the standard")
        for bound, said in ((member.start_is, "start"), (member.end_is, "end")):
            if bound != "known":
                doubts.append(f"its {said} is {bound}")
        start = first if first is not None else last
        end = last if last is not None else first
        if start is None or end is None:  # pragma: no cover - an expression has one end at least
            continue
        # On a bell, an X among figures stood for ten before it stood for a figure that is not known.
        cost = 1.2 if _TEN(date.text) else 0.0
        how = f"EDTF expression {member.text}: {member.earliest or '..'} to {member.latest or '..'}"
        yield Reading(start, end, how, "edtf", cost, date.text, tuple(doubts))
