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
"""A picture larger than this is named and not printed: the report goes by post."""

MAGIC = {b"\xff\xd8\xff": "jpg", b"\x89PNG\r\n": "png", b"GIF8": "gif"}
"""First bytes of the pictures that can be set, and the ending of their names."""


WhyNot = Callable[[bytes, str], str]
"""Says why a picture with this ending cannot be shown; empty where it can."""


class Photos(NamedTuple):
    """What is beside the forms: pictures by bell (None for the tower), their bytes, what is not printed."""

    pictures: dict[str | None, list[Picture]]
    files: dict[str, bytes]
    missing: dict[str | None, list[Item]]

    def of(self, bell_id: str | None) -> tuple[list[Picture], list[Item]]:
        """Give pictures of a bell or of the tower, and what of it is not printed."""
        return self.pictures.get(bell_id, []), self.missing.get(bell_id, [])


def photos_of(
    conn: sqlite3.Connection, surveys: Iterable[SurveyLine], database: Path, why_not: WhyNot
) -> Photos:
    """Gather the pictures of some surveys, the newest first.

    Parameters
    ----------
    conn : Connection
        The registry.
    surveys : iterable of SurveyLine
        The surveys.
    database : Path
        Its file: forms lie where it says, and their pictures beside them.
    why_not : function
        Says of a picture why it cannot stand in the report.
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
            data, reason = _read(_folder_of(source.path, database) / row["file"], why_not)
            if reason:
                item = Item(f"{shows} ({row['file']}): {reason}", 0, caption, f"{line.id}, attachments")
                found.missing.setdefault(row["bell"], []).append(item)
                continue
            name = f"picture-{len(found.files) + 1}.{_ending(data)}"
            found.files[name] = data
            picture = Picture(shows, caption, file=name, width=1.0, tallest_mm=120)
            found.pictures.setdefault(row["bell"], []).append(picture)
    return found


def _folder_of(source: str, database: Path) -> Path:
    """Find the folder of a form on this disk."""
    from registry.intake.files import located  # noqa: PLC0415 - the conductor of loads, for few reports alone

    return located(source, database).parent


def _ending(data: bytes) -> str:
    if data[:4] == b"RIFF" and data[8:12] == b"WEBP":
        return "webp"
    return next((ending for magic, ending in MAGIC.items() if data.startswith(magic)), "")


def _read(path: Path, why_not: WhyNot) -> tuple[bytes, str]:
    """Read a picture, or say why it is not printed."""
    try:
        if path.stat().st_size > LARGEST_BYTES:
            return b"", f"larger than {LARGEST_BYTES // 10**6} MB, not printed"
        data = path.read_bytes()
    except OSError:
        return b"", "not at hand"
    ending = _ending(data)
    if not ending:
        return b"", "no JPEG, PNG, GIF or WebP picture"
    reason = why_not(data, ending)
    return (b"", f"cannot be printed: {reason}") if reason else (data, "")
