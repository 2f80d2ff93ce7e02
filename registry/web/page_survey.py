"""One survey as written: the text of its form, line by line."""

import re
import sqlite3
from dataclasses import dataclass
from typing import Annotated, NamedTuple

from datasette.utils.asgi import Response
from markupsafe import Markup, escape

from registry.model.cautions import Caution, cautions
from registry.store import pages_survey
from registry.store.pages import Row
from registry.store.pages_survey import SourceText
from registry.web import rendering
from registry.web.asking import Ask
from registry.web.context import NotHereError
from registry.wording.observed import Fact, facts_of_row

LINE_END = re.compile("\r\n|\r|\n")
"""What ends a line for the reader of forms, so that numbers agree with those of its reports."""

_KEY = re.compile(r"( *(?:- )*)([A-Za-z_][A-Za-z0-9_]*)(:)(?= |$)")
_COMMENT = re.compile(r"(^|\s)#.*$")


class BellInForm(NamedTuple):
    """A bell and the line at which its entry starts."""

    id: str
    name: str | None
    line: int | None


@dataclass(frozen=True)
class SurveyPage:
    """One survey."""

    title: Annotated[str, "Id of the survey."]
    survey: Annotated[Row, "Its row of survey."]
    tower: Annotated[Row, "The tower as this survey has it."]
    document: Annotated[list[Fact], "What the document is, where the survey is one."]
    instruments: Annotated[list[Row], "Instruments used."]
    not_inspected: Annotated[list[Row], "Parts not inspected, with the reason."]
    bells: Annotated[list[BellInForm], "Bells of the form, in its order."]
    attachments: Annotated[list[Row], "Files beside the form."]
    source: Annotated[SourceText, "The form."]
    lines: Annotated[list[Markup], "Its lines, keys and comments set apart."]
    caution: Annotated[Caution, "What a survey is not."]


def survey_page(conn: sqlite3.Connection, ask: Ask) -> Response:
    """Make the page of one survey.

    Raises
    ------
    NotHereError
        When no survey has this id.
    """
    survey_id = ask.names["id"]
    source = pages_survey.read_survey_source(conn, survey_id)
    if source is None:
        raise NotHereError

    def rows(table: str) -> list[Row]:
        return pages_survey.read_of_survey(conn, table, survey_id)

    document = rows("document")
    seen = sorted(rows("bell_seen"), key=lambda row: row["ordinal"])
    names = pages_survey.read_bell_names(conn, [row["bell_id"] for row in seen])
    return rendering.page(
        ask,
        "survey",
        SurveyPage(
            title=survey_id,
            survey=rows("survey")[0],
            tower=rows("tower_seen")[0],
            document=facts_of_row("document", document[0]) if document else [],
            instruments=rows("instrument"),
            not_inspected=rows("not_inspected"),
            bells=[
                BellInForm(row["bell_id"], row["name"] or names[row["bell_id"]], _line_of(row))
                for row in seen
            ],
            attachments=rows("attachment"),
            source=source,
            lines=lines_of(source.text),
            caution=cautions()["no-certificate"],
        ),
    )


def survey_form(conn: sqlite3.Connection, ask: Ask) -> Response:
    """Give the form of a survey, byte for byte.

    Raises
    ------
    NotHereError
        When no survey has this id.
    """
    survey_id = ask.names["id"]
    source = pages_survey.read_survey_source(conn, survey_id)
    if source is None:
        raise NotHereError
    headers = {
        "content-disposition": f'attachment; filename="{survey_id}.yaml"',
        "cache-control": "no-cache",
    }
    return Response(source.text, 200, headers, "application/yaml; charset=utf-8")


def lines_of(data: bytes) -> list[Markup]:
    """Split a form into its lines; every character of it is escaped."""
    text = data.decode("utf-8", "replace").removeprefix("\ufeff")
    lines = LINE_END.split(text)
    if lines and not lines[-1]:
        lines.pop()
    return [_dressed(line) for line in lines]


def _dressed(line: str) -> Markup:
    """Set the key and the comment of a line apart from its value."""
    comment = _COMMENT.search(line) if '"' not in line and "'" not in line else None
    body, rest = (line[: comment.start()], line[comment.start() :]) if comment else (line, "")
    key = _KEY.match(body)
    start = Markup("")
    if key:
        start = escape(key[1]) + Markup("<b>") + escape(key[2]) + Markup("</b>:")
        body = body[key.end() :]
    return start + escape(body) + (Markup("<i>") + escape(rest) + Markup("</i>") if rest else "")


def _line_of(row: Row) -> int | None:
    """Find the line at which an entry starts."""
    written = row["as_written"]
    place = written.get("id") or written.get("") or min(written.values(), default=None)
    return int(place[0]) if place else None
