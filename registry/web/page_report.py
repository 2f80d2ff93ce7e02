"""The report for the owner as a page: the same blocks that are set on paper, in the dress of the pages."""

import sqlite3
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from typing import Annotated, Any

from datasette.utils.asgi import Response

from registry.drawing.svg import with_own_names
from registry.judging import Settings
from registry.report.blocks import as_data
from registry.report.document import report_document
from registry.report.photos import glance, photos_of, picture_of
from registry.report.reading import subject_of
from registry.store.database import file_of
from registry.store.pages_survey import Kind
from registry.web import rendering
from registry.web.asking import Ask
from registry.web.context import NotHereError

PHOTO_TYPES = {"jpg": "image/jpeg", "png": "image/png", "gif": "image/gif", "webp": "image/webp"}
"""Kinds of pictures, by the endings of their names."""

WITH_PARTS = 1
"""Level of the headings that divide a report; the title of the whole is 0."""

Data = dict[str, Any]


@dataclass(frozen=True)
class ReportPage:
    """One report."""

    title: Annotated[str, "Its title."]
    kind: Annotated[Kind, "What it is about: bell, tower or survey."]
    id: Annotated[str, "The id of that."]
    blocks: Annotated[list[Data], "Its blocks in order, each known by ``is``."]
    parts: Annotated[list[tuple[str, str]], "Its parts: the name of the place on the page, and the heading."]
    foot: Annotated[str, "What a report is not."]


def bell_report(conn: sqlite3.Connection, ask: Ask) -> Response:
    """Make the report on a bell as a page.

    Raises
    ------
    NotHereError
        When the registry has no such bell.
    """
    return _report(conn, ask, "bell")


def tower_report(conn: sqlite3.Connection, ask: Ask) -> Response:
    """Make the report on a tower as a page.

    Raises
    ------
    NotHereError
        When the registry has no such tower.
    """
    return _report(conn, ask, "tower")


def survey_report(conn: sqlite3.Connection, ask: Ask) -> Response:
    """Make the report on a survey as a page.

    Raises
    ------
    NotHereError
        When the registry has no such survey.
    """
    return _report(conn, ask, "survey")


def _report(conn: sqlite3.Connection, ask: Ask, kind: Kind) -> Response:
    known_id = ask.names["id"]
    try:
        subject = subject_of(conn, kind, known_id)
    except LookupError as error:
        raise NotHereError from error
    photos = photos_of(conn, subject.surveys, file_of(conn), glance)
    document = report_document(conn, subject, photos, Settings(date.today()))
    blocks = as_data(document.blocks)
    parts = []
    for number, block in enumerate(_of_kind(blocks, "heading"), 1):
        block["place"] = f"part-{number}"
        if block["level"] == WITH_PARTS:
            parts.append((block["place"], block["text"]))
    for number, block in enumerate(_of_kind(blocks, "picture"), 1):
        block["svg"] = with_own_names(block["svg"], str(number))
    for number, block in enumerate(_of_kind(blocks, "table"), 1):
        block["number"] = number
    for block in _of_kind(blocks, "ring"):
        block["bells"] = [(with_own_names(svg, ""), *rest) for svg, *rest in block["bells"]]
    return rendering.page(
        ask, "report", ReportPage(document.title, kind, known_id, blocks, parts, document.foot)
    )


def _of_kind(blocks: list[Data], kind: str) -> Iterator[Data]:
    """Give the blocks of one kind, also those that stand side by side."""
    for block in blocks:
        if block["is"] == kind:
            yield block
        elif block["is"] == "columns":
            for part in block["parts"]:
                yield from _of_kind(part, kind)


def photo(conn: sqlite3.Connection, ask: Ask) -> Response:
    """Give a picture that a survey names.

    Raises
    ------
    NotHereError
        When the survey names no such picture, or it is not at hand.
    """
    try:
        seen = picture_of(conn, ask.names["id"], int(ask.names["number"]), file_of(conn))
    except LookupError as error:
        raise NotHereError from error
    if seen.why_not or seen.ending != ask.names["ending"]:
        raise NotHereError
    return Response(seen.data, 200, {"cache-control": "no-cache"}, PHOTO_TYPES[seen.ending])
