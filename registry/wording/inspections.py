"""Inspections as a calendar for those who climb."""

from collections.abc import Iterable
from datetime import UTC, date, datetime

from registry.store.pages import Row
from registry.wording.calendar import Entry, write_calendar
from registry.wording.judged import INSPECTIONS

CALENDAR = "Inspections of bells"


def inspection_calendar(rows: Iterable[Row], *, on: date) -> str:
    """Write inspections as an iCalendar file (RFC 5545): one whole day each.

    Parameters
    ----------
    rows : iterable of dict
        From :func:`registry.store.work.read_inspections`.
    on : date
        The day the list was made; with the same rows and day the file is the same.
    """
    entries = [
        Entry(
            f"{row['kind']} {row['bell_id']}",
            date.fromisoformat(row["due"]),
            f"{INSPECTIONS[row['kind']]}: {row['bell_name'] or row['bell_id']}, {row['tower_name']}",
            f"{row['why']}\n{row['source']}\nNo structural or safety certificate.",
            f"{row['tower_name']}, {row['place']}",
            categories=(row["kind"],),
        )
        for row in rows
    ]
    stamp = datetime(on.year, on.month, on.day, tzinfo=UTC)
    return write_calendar(entries, name=CALENDAR, stamp=stamp)
