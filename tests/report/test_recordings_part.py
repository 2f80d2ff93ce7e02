"""What recordings tell stands in the report of their bell, with both pictures, and what changed."""

import sqlite3
from typing import Any

from registry.report.blocks import Columns, Heading, Items, Picture, Prose, Table
from registry.report.reading import BellRecord, read_records, subject_of
from registry.report.recordings_part import recording_blocks


def record(conn: sqlite3.Connection, bell_id: str) -> BellRecord:
    """Read what is known of one bell."""
    return read_records(conn, subject_of(conn, "bell", bell_id))[0]


def of_kind(blocks: list[Any], kind: type) -> list[Any]:
    """Give the blocks of one kind."""
    return [block for block in blocks if isinstance(block, kind)]


def test_the_newest_recording_is_printed_with_its_pictures(conn: sqlite3.Connection) -> None:
    """Spectrum and decay stand side by side, each with words; the earlier recording is named."""
    blocks = list(recording_blocks(record(conn, "vellhaven-minster-angelus")))
    assert of_kind(blocks, Heading)[0].text == "From recordings"
    (columns,) = of_kind(blocks, Columns)
    pictures = [block for column in columns.parts for block in column]
    assert all(isinstance(picture, Picture) and picture.alt and "<svg" in picture.svg for picture in pictures)
    (table,) = of_kind(blocks, Table)
    assert [row[0].text for row in table.rows][:3] == ["Hum", "Prime", "Tierce"]
    assert "16 September 2014" in table.caption
    assert all(row[-1].text != "–" for row in table.rows)
    (others,) = of_kind(blocks, Items)
    assert "angelus-2014.flac" in others.items[0].text
    assert "Sound alone does not clear a bell" in of_kind(blocks, Prose)[-1].text


def test_a_recording_that_was_refused_is_named_with_the_reason(conn: sqlite3.Connection) -> None:
    """Nothing is measured of it, and nothing else is invented."""
    told = record(conn, "vellhaven-minster-gloria")
    refused = [
        ({**row, "refused": "recording-clipped", "refused_because": "cut off nine times"}, {})
        for row, _ in told.recordings
    ]
    blocks = list(recording_blocks(told._replace(recordings=refused)))
    assert of_kind(blocks, Table) == []
    assert "cut off nine times" in of_kind(blocks, Items)[0].items[0].text


def test_without_recordings_there_is_no_part(conn: sqlite3.Connection) -> None:
    """A bell that nobody recorded has no such heading."""
    assert list(recording_blocks(record(conn, "vellhaven-minster-noon"))) == []
