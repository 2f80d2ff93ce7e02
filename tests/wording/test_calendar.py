"""The calendar: read back by an independent library, and the same bytes for the same dates."""

from datetime import UTC, date, datetime, timedelta, timezone

import pytest
from hypothesis import given
from hypothesis import strategies as st
from icalendar import Calendar

from registry.wording.calendar import Entry, escaped, folded, write_calendar

STAMP = datetime(2026, 1, 2, 3, 4, 5, tzinfo=UTC)
ENTRY = Entry(
    "technical st-anne-tenor",
    date(2026, 2, 28),
    "Technical inspection: tenor, St Anne",
    "Strike point 1 may be at its limit; see the record.\nBring calipers, lamp.",
    "St Anne, Bramblethwaite",
    "https://bells.example/bell/st-anne-tenor",
    ("technical", "bells; clocks"),
)
TEXT = st.text(st.characters(exclude_categories=("Cs", "Cc")) | st.just("\n"), max_size=200)


def read_back(*entries, **options):
    """Write entries and read them with the library icalendar."""
    text = write_calendar(entries, name="Inspections", stamp=STAMP, **options)
    return text, Calendar.from_ical(text.encode())


def test_read_back():
    """Every property comes back as it was given."""
    _, calendar = read_back(ENTRY)
    (event,) = calendar.walk("VEVENT")
    assert event.decoded("dtstart") == date(2026, 2, 28)
    assert event.decoded("dtend") == date(2026, 3, 1)
    assert event.decoded("dtstamp") == STAMP
    assert str(event["summary"]) == ENTRY.summary
    assert str(event["description"]) == ENTRY.description
    assert str(event["location"]) == ENTRY.location
    assert str(event["url"]) == ENTRY.url
    assert [str(word) for word in event["categories"].cats] == list(ENTRY.categories)
    assert (str(calendar["version"]), str(calendar["x-wr-calname"])) == ("2.0", "Inspections")


@given(TEXT, TEXT, TEXT)
def test_any_text_comes_back(summary, description, location):
    """Any script, comma, semicolon, backslash and line end comes back unchanged."""
    _, calendar = read_back(Entry("key", date(2026, 1, 1), summary, description, location))
    (event,) = calendar.walk("VEVENT")
    assert str(event["summary"]) == summary
    assert str(event.get("description", "")) == description
    assert str(event.get("location", "")) == location


@given(TEXT)
def test_lines_are_short_and_unfold(text):
    """Lines have at most 75 octets, end between characters, and unfold to what they were (RFC 5545, 3.1)."""
    line = text.replace("\n", "")
    parts = folded(line).split("\r\n")
    assert all(len(part.encode()) <= 75 for part in parts)
    assert all(part.startswith(" ") for part in parts[1:])
    assert parts[0] + "".join(part[1:] for part in parts[1:]) == line


def test_line_ends():
    """Every line ends in CR and LF, and no other control character stands in the file."""
    text, _ = read_back(ENTRY)
    assert text.endswith("END:VCALENDAR\r\n")
    assert "\n" not in text.replace("\r\n", "")
    assert all(len(line.encode()) <= 75 for line in text.split("\r\n"))


def test_escaping():
    """Backslash, semicolon, comma and line end are escaped; control characters go (RFC 5545, 3.3.11)."""
    assert escaped("a\\b;c,d\r\ne\x00f") == "a\\\\b\\;c\\,d\\nef"


def test_same_bytes():
    """The same dates give the same file, in whatever order they come."""
    other = ENTRY._replace(key="by-eye st-anne-tenor", day=date(2026, 1, 1))
    assert read_back(ENTRY, other)[0] == read_back(other, ENTRY)[0]


def test_uid_stays():
    """An entry keeps its UID when its day or words change; another key or registry has another one."""

    def uid(entry, **options):
        return str(read_back(entry, **options)[1].walk("VEVENT")[0]["uid"])

    assert uid(ENTRY) == uid(ENTRY._replace(day=date(2030, 1, 1), summary="Later"))
    assert uid(ENTRY) != uid(ENTRY._replace(key="by-eye st-anne-tenor"))
    assert uid(ENTRY) != uid(ENTRY, registry="https://bells.example")


def test_stamp_in_universal_time():
    """The stamp is written in universal time, whatever zone it came in; without a zone it is refused."""
    east = datetime(2026, 1, 2, 5, 4, 5, tzinfo=timezone(timedelta(hours=2)))
    assert "DTSTAMP:20260102T030405Z" in write_calendar([ENTRY], name="x", stamp=east)
    with pytest.raises(ValueError, match="time zone"):
        write_calendar([ENTRY], name="x", stamp=datetime(2026, 1, 2))


def test_refused():
    """Two entries of one key, and an address that breaks the line, are refused."""
    with pytest.raises(ValueError, match="one key"):
        read_back(ENTRY, ENTRY)
    for url in ("https://x.example/\r\nBEGIN:VALARM", "https://x.example/a b", "https://x.example/\x00"):
        with pytest.raises(ValueError, match="not an address"):
            read_back(ENTRY._replace(url=url))


def test_empty_calendar():
    """No dates make a calendar without entries."""
    assert read_back()[1].walk("VEVENT") == []
