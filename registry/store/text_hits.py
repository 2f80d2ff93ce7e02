"""Where on the bells found the words stand that were asked for."""

import sqlite3
from collections import defaultdict
from collections.abc import Iterable
from typing import Any, NamedTuple

from registry.inscriptions.answers import AskedWords
from registry.inscriptions.matching import Span
from registry.questions.query import BellQuery
from registry.store.pages import Row, dict_rows
from registry.store.rows import to_json

MOST_HITS = 3
"""Inscriptions of one bell that are told."""


class Hit(NamedTuple):
    """One inscription that answers: its number and place on the bell, the survey that has it so.

    ``field`` says which text answers (``transcription``, else ``expansion`` or ``translation``), ``marks``
    where in it, each from and to, counted from 0. ``language`` and ``script`` are those of the inscription.
    """

    number: int
    place: str
    survey_id: str
    field: str
    text: str
    marks: tuple[Span, ...]
    language: str | None
    script: str | None


def hits_on(conn: sqlite3.Connection, asked: AskedWords, bell_ids: Iterable[str]) -> dict[str, list[Hit]]:
    """Find the inscriptions of some bells that answer; bells that are found by their names have none.

    Of an inscription that several surveys tell, the newest text that answers counts.
    """
    if not asked.is_anything:
        return {}
    rows = dict_rows(
        conn,
        "SELECT told.bell_id, told.number, told.place, told.survey_id, told.direction, told.transcription,"
        " told.expansion, told.translation, told.language, told.script FROM inscription AS told"
        " JOIN survey ON survey.id = told.survey_id WHERE told.bell_id IN (SELECT value FROM json_each(?))"
        " ORDER BY told.bell_id, told.number, survey.as_of DESC, survey.id DESC",
        (to_json(list(bell_ids)),),
    )
    found: defaultdict[str, list[Hit]] = defaultdict(list)
    for row in rows:
        of_bell = found[row["bell_id"]]
        if len(of_bell) < MOST_HITS and not any(hit.number == row["number"] for hit in of_bell):
            hit = _hit(asked, row)
            if hit is not None:
                of_bell.append(hit)
    return {bell_id: of_bell for bell_id, of_bell in found.items() if of_bell}


def words_of(query: BellQuery) -> AskedWords:
    """Take the words out of a question."""
    return AskedWords(query.text, query.exact, query.formula)


def as_values(found: dict[str, list[Hit]]) -> dict[str, list[dict[str, Any]]]:
    """Give hits as plain values, by bell, as files for other programs tell them."""
    return {bell_id: [hit._asdict() for hit in of_bell] for bell_id, of_bell in found.items()}


def _hit(asked: AskedWords, row: Row) -> Hit | None:
    """Find what answers in one inscription: in what stands there before what it is read as."""
    for field in ("transcription", "expansion", "translation"):
        text: Any = row[field]
        if text is None or (asked.exact and field != "transcription"):
            continue
        marks = (
            asked.places_in_translation(text)
            if field == "translation"
            else asked.places(text, row["direction"] if field == "transcription" else None)
        )
        if marks:
            told = row["number"], row["place"], row["survey_id"]
            return Hit(*told, field, text, marks, row["language"], row["script"])
    return None
