"""Dates as an iCalendar file: one whole-day entry each, the same bytes for the same dates.

References
----------
RFC 5545, Internet Calendaring and Scheduling Core Object Specification: 3.1 (lines of at most 75 octets,
folded between characters, ended by CR and LF), 3.3.11 (escaping), 3.6.1 (event), 3.8.4.7 (UID), 3.8.7.2
(DTSTAMP). RFC 7986, 5.1 (name of a calendar).
"""

import uuid
from collections.abc import Iterable, Iterator
from datetime import UTC, date, datetime, timedelta
from typing import NamedTuple

PRODUCT = "-//soundbow//registry of bells//EN"
LONGEST_LINE = 75
"""Octets a line may have, without its end."""

NAMESPACE = uuid.UUID("b4a5bd1c-6f5f-5d0c-9a53-6f1f6d6d9a10")
"""Fixed once and for all, so that an entry keeps its UID from one file to the next."""


class Entry(NamedTuple):
    """One date.

    Parameters
    ----------
    key : str
        What makes it the same entry in the next file, e.g. ``technical st-anne-tenor``.
    day : date
        The day.
    summary, description : str
        Title and text, in any script, with line ends.
    location : str
        Where; empty for none.
    url : str
        Address of the record; empty for none.
    categories : tuple of str
        Words to sort by.
    """

    key: str
    day: date
    summary: str
    description: str = ""
    location: str = ""
    url: str = ""
    categories: tuple[str, ...] = ()


def write_calendar(entries: Iterable[Entry], *, name: str, stamp: datetime, registry: str = "") -> str:
    """Write entries as an iCalendar file.

    Parameters
    ----------
    entries : iterable of Entry
        The dates; sorted by day and key in the file.
    name : str
        Name of the calendar.
    stamp : datetime
        When the information was put together, with its time zone; nothing is read from a clock.
    registry : str
        What tells this registry from others, e.g. its address; part of every UID.

    Returns
    -------
    str
        The file, with CR and LF at the end of each line; to be written as UTF-8 without changing them.

    Raises
    ------
    ValueError
        When the stamp has no time zone, two entries have one key, or an address has a space or control
        character.
    """
    if stamp.tzinfo is None:
        raise ValueError("stamp needs its time zone")
    ordered = sorted(entries, key=lambda entry: (entry.day, entry.key))
    if len({entry.key for entry in ordered}) != len(ordered):
        raise ValueError("two entries have one key, and would have one UID")
    stamped = stamp.astimezone(UTC).strftime("%Y%m%dT%H%M%SZ")
    lines = [
        "BEGIN:VCALENDAR",
        "VERSION:2.0",
        f"PRODID:{PRODUCT}",
        "CALSCALE:GREGORIAN",
        "METHOD:PUBLISH",
        f"NAME:{escaped(name)}",
        f"X-WR-CALNAME:{escaped(name)}",
    ]
    for entry in ordered:
        lines.extend(_event(entry, stamped, registry))
    lines.append("END:VCALENDAR")
    return "".join(f"{folded(line)}\r\n" for line in lines)


def _event(entry: Entry, stamped: str, registry: str) -> Iterator[str]:
    yield "BEGIN:VEVENT"
    yield f"UID:{uuid.uuid5(NAMESPACE, f'{registry} {entry.key}')}"
    yield f"DTSTAMP:{stamped}"
    yield f"DTSTART;VALUE=DATE:{entry.day:%Y%m%d}"
    yield f"DTEND;VALUE=DATE:{entry.day + timedelta(days=1):%Y%m%d}"
    yield f"SUMMARY:{escaped(entry.summary)}"
    if entry.description:
        yield f"DESCRIPTION:{escaped(entry.description)}"
    if entry.location:
        yield f"LOCATION:{escaped(entry.location)}"
    if entry.url:
        if any(not char.isprintable() or char.isspace() for char in entry.url):
            raise ValueError(f"not an address: {entry.url!r}")
        yield f"URL:{entry.url}"
    if entry.categories:
        yield f"CATEGORIES:{','.join(escaped(each) for each in entry.categories)}"
    yield "TRANSP:TRANSPARENT"
    yield "END:VEVENT"


def escaped(text: str) -> str:
    r"""Escape a text: ``\``, ``;`` and ``,`` by a backslash, line ends as ``\n``; control characters go."""
    unified = text.replace("\r\n", "\n").replace("\r", "\n")
    kept = "".join(char for char in unified if char in "\n\t" or (char >= " " and char != "\x7f"))
    for char in "\\;,":
        kept = kept.replace(char, f"\\{char}")
    return kept.replace("\n", "\\n")


def folded(line: str) -> str:
    """Fold a line to at most 75 octets, never within a character; what follows begins with a space."""
    parts: list[str] = []
    room, current, used = LONGEST_LINE, "", 0
    for char in line:
        size = len(char.encode())
        if used + size > room:
            parts.append(current)
            room, current, used = LONGEST_LINE - 1, "", 0
        current += char
        used += size
    parts.append(current)
    return "\r\n ".join(parts)
