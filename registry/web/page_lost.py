"""Bells that are missed: stolen, lost, requisitioned, destroyed, and those that came back."""

import sqlite3
from dataclasses import dataclass
from typing import Annotated, NamedTuple

from datasette.utils.asgi import Response

from registry.model.cautions import Caution, cautions
from registry.store import pages_lost as read
from registry.store.pages import Row
from registry.web import rendering
from registry.web.asking import Ask
from registry.wording.life import between


class Missed(NamedTuple):
    """A bell that is gone: its row, where it was last and until when, its words, and who tells of it."""

    bell: Row
    last: Row | None
    until: str
    inscriptions: list[str]
    told_by: list[tuple[str, str]]


@dataclass(frozen=True)
class LostPage:
    """Bells that are missed."""

    title: Annotated[str, "Heading of the page."]
    caution: Annotated[Caution, "What to do when a bell turns up."]
    fates: Annotated[list[tuple[str, list[Missed]]], "Bells by what became of them, word of bell_status."]
    back: Annotated[list[Row], "Bells that returned or were found."]
    total: Annotated[int, "Bells that are missed."]


def lost_page(conn: sqlite3.Connection, ask: Ask) -> Response:
    """Make the page of bells that are missed."""
    last, words, told = read.read_last_places(conn), read.read_inscriptions(conn), read.read_documents(conn)
    by_fate: dict[str, list[Missed]] = {fate: [] for fate in read.FATES}
    for bell in read.read_gone(conn):
        place = last.get(bell["id"])
        until = between(place["until_earliest"], place["until_latest"]) if place else ""
        missed = Missed(bell, place, until, words.get(bell["id"], []), told.get(bell["id"], []))
        by_fate[bell["status"]].append(missed)
    page = LostPage(
        title="Bells that are missed",
        caution=cautions()["found-bell"],
        fates=[(fate, bells) for fate, bells in by_fate.items() if bells],
        back=read.read_come_back(conn),
        total=sum(map(len, by_fate.values())),
    )
    return rendering.page(ask, "lost", page)
