"""How many years "approximate" may mean: none in the standard, more by a visible setting.

The Extended Date/Time Format gives ``~`` no width. Bounds are widened here by whole years, at the ends that
are marked approximate and nowhere else, and whoever shows them says so.
"""

from registry.model.edtf import EdtfDate


def widened(date: EdtfDate, years: int) -> EdtfDate:
    """Move the approximate ends of a date outwards.

    Parameters
    ----------
    date : EdtfDate
        The date; one that is not marked approximate comes back as it is.
    years : int
        Years on either side, 0 for none.
    """
    if years <= 0 or not date.approximate:
        return date
    if date.members:
        members = tuple(widened(member, years) for member in date.members)
        starts = [each for each in members if each.earliest_year is not None]
        ends = [each for each in members if each.latest_year is not None]
        first = min(starts, key=lambda each: each.earliest_year or 0) if starts else date
        last = max(ends, key=lambda each: each.latest_year or 0) if ends else date
        return date._replace(
            members=members,
            earliest=first.earliest if date.earliest is not None else None,
            earliest_year=first.earliest_year if date.earliest is not None else None,
            latest=last.latest if date.latest is not None else None,
            latest_year=last.latest_year if date.latest is not None else None,
        )
    start, end = _marked_ends(date.text)
    earliest = _moved(date.earliest, date.earliest_year, -years if start else 0)
    latest = _moved(date.latest, date.latest_year, years if end else 0)
    return date._replace(
        earliest=earliest[0], earliest_year=earliest[1], latest=latest[0], latest_year=latest[1]
    )


def _marked_ends(text: str) -> tuple[bool, bool]:
    """Say which ends of a date or range are marked approximate."""
    for parting in ("/", ".."):
        if parting in text:
            start, _, end = text.partition(parting)
            return any(mark in start for mark in "~%"), any(mark in end for mark in "~%")
    return True, True


def _moved(day: str | None, year: int | None, by: int) -> tuple[str | None, int | None]:
    if day is None or year is None or by == 0:
        return day, year
    moved = year + by
    rest = day[-6:]
    if rest == "-02-29":  # not every year has it
        rest = "-02-28" if by < 0 else "-03-01"
    return (f"{moved:05d}{rest}" if moved < 0 else f"{moved:04d}{rest}"), moved
