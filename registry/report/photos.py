"""Photos and drawings that surveyors put beside their forms, as far as they are at hand and printable."""

import sqlite3
from collections.abc import Callable, Iterable
from pathlib import Path
from typing import NamedTuple

from registry.report.blocks import Item, Picture
from registry.store import pages_survey
from registry.store.pages import SurveyLine
from registry.wording.words import date_words, heading, term

PRINTED = ("photo", "drawing", "scan")
"""Kinds of attachment that are pictures."""

LARGEST_BYTES = 20_000_000
"""A picture larger than this is named and not shown: the report goes by post."""

LONGEST_MAGIC = 12
MAGIC = {b"\xff\xd8\xff": "jpg", b"\x89PNG\r\n": "png", b"GIF8": "gif"}
"""First bytes of the pictures that can be shown, and the ending of their names."""


class Seen(NamedTuple):
    """A file looked at: its bytes as far as they are wanted, its ending, or why it cannot be shown."""

    data: bytes
    ending: str
    why_not: str = ""


Look = Callable[[Path], Seen]
"""Looks at a file."""


class Photos(NamedTuple):
    """What is beside the forms: pictures by bell (None for the tower), their bytes, what is not shown."""

    pictures: dict[str | None, list[Picture]]
    files: dict[str, bytes]
    missing: dict[str | None, list[Item]]

    def of(self, bell_id: str | None) -> tuple[list[Picture], list[Item]]:
        """Give pictures of a bell or of the tower, and what of it is not shown."""
        return self.pictures.get(bell_id, []), self.missing.get(bell_id, [])


def photos_of(conn: sqlite3.Connection, surveys: Iterable[SurveyLine], database: Path, look: Look) -> Photos:
    """Gather the pictures of some surveys, the newest first.

    Parameters
    ----------
    conn : Connection
        The registry.
    surveys : iterable of SurveyLine
        The surveys.
    database : Path
        Its file: forms lie where it says, and their pictures beside them.
    look : function
        Looks at a file: ``glance`` where its first bytes are enough.
    """
    found = Photos({}, {}, {})
    for line in surveys:
        source = pages_survey.read_survey_source(conn, line.id)
        for row in pages_survey.read_of_survey(conn, "attachment", line.id):
            if row["kind"] not in PRINTED or source is None:
                continue
            shows = row["shows"] or heading(term("attachment_kind", row["kind"]))
            credit = f" {row['credit']}." if row["credit"] else ""
            caption = f"{shows.rstrip('.')}. {date_words(line.date)}.{credit}"
            seen = look(_folder_of(source.path, database) / row["file"])
            if seen.why_not:
                item = Item(f"{shows} ({row['file']}): {seen.why_not}", 0, caption, f"{line.id}, attachments")
                found.missing.setdefault(row["bell"], []).append(item)
                continue
            name = f"{line.id}.{row['ordinal']}.{seen.ending}"
            found.files[name] = seen.data
            picture = Picture(shows, caption, file=name, width=1.0, tallest_mm=120)
            found.pictures.setdefault(row["bell"], []).append(picture)
    return found


def picture_of(conn: sqlite3.Connection, survey_id: str, ordinal: int, database: Path) -> Seen:
    """Read the picture that a survey names at one place among its attachments.

    Raises
    ------
    LookupError
        When it names none there.
    """
    source = pages_survey.read_survey_source(conn, survey_id)
    for row in pages_survey.read_of_survey(conn, "attachment", survey_id):
        if row["ordinal"] == ordinal and row["kind"] in PRINTED and source is not None:
            return whole(_folder_of(source.path, database) / row["file"])
    raise LookupError(f"no picture {ordinal} of {survey_id}")


def _folder_of(source: str, database: Path) -> Path:
    """Find the folder of a form on this disk."""
    from registry.intake.files import located  # noqa: PLC0415 - the conductor of loads, for few reports alone

    return located(source, database).parent


def glance(path: Path) -> Seen:
    """Tell by size and first bytes whether a file is a picture that can be shown."""
    return _seen(path, LONGEST_MAGIC)


def whole(path: Path) -> Seen:
    """Read a picture."""
    return _seen(path, LARGEST_BYTES)


def _seen(path: Path, most_bytes: int) -> Seen:
    try:
        if path.stat().st_size > LARGEST_BYTES:
            return Seen(b"", "", f"larger than {LARGEST_BYTES // 10**6} MB, not shown")
        with path.open("rb") as file:
            data = file.read(most_bytes)
    except OSError:
        return Seen(b"", "", "not at hand")
    ending = _ending(data)
    return Seen(data, ending, "" if ending else "no JPEG, PNG, GIF or WebP picture")


def _ending(data: bytes) -> str:
    if data[:4] == b"RIFF" and data[8:12] == b"WEBP":
        return "webp"
    return next((ending for magic, ending in MAGIC.items() if data.startswith(magic)), "")
