"""The search: bells by words, facets, years and sizes, as a table and as CSV, JSON and GeoJSON."""

import sqlite3
from collections.abc import Mapping
from dataclasses import dataclass
from math import inf
from typing import Annotated, Any, NamedTuple

from datasette.utils.asgi import Response

from registry.model.pitch import read_note
from registry.questions import link_of
from registry.questions.link import Pairs
from registry.questions.parameters import BY_NAME
from registry.store.dictionary import read_table
from registry.store.facets import FacetValue, facets
from registry.store.mark import mark_of
from registry.store.pages import Row
from registry.store.search import Search, find_bells
from registry.store.search_filters import UNGRADED
from registry.store.text_hits import as_values, hits_on, words_of
from registry.web import rendering
from registry.web.asking import Ask
from registry.web.bell_questions import FACETS, PAGE_SIZE, Question, asked, asked_plainly, shown, toggled
from registry.web.tabular import as_csv
from registry.wording.asked import SORTS, graded
from registry.wording.inscriptions import HitShown, hits_shown
from registry.wording.words import heading

FACET_VALUES_SHOWN = 12


class Choice(NamedTuple):
    """One value of a facet: its words, how many bells it gives, and the question with or without it."""

    words: str
    bells: int
    chosen: bool
    pairs: Pairs | None


class Facet(NamedTuple):
    """One facet. ``more`` are the values that are listed on demand."""

    title: str
    choices: list[Choice]
    more: list[Choice]


@dataclass(frozen=True)
class BellsPage:
    """The search."""

    title: Annotated[str, "Heading of the page."]
    question: Annotated[Question, "What was asked."]
    rows: Annotated[list[Row], "The bells of this page."]
    hits: Annotated[Mapping[str, list[HitShown]], "Inscriptions that answer, by bell."]
    led_by: Annotated[Pairs, "What the pages of the bells are told, so that they mark it too."]
    facets: Annotated[list[Facet], "Values to narrow or widen the search by."]
    first: Annotated[int, "Number of the first bell of this page."]
    pages: Annotated[int, "Number of pages."]
    at: Annotated[int, "Number of this page."]
    sorts: Annotated[Mapping[str, str], "Orders to choose from."]
    values: Annotated[Mapping[str, str], "What stands in the fields of the form."]
    more: Annotated[bool, "Whether a field of the rarer questions is filled in."]
    kept: Annotated[Pairs, "What the form carries along unseen."]


FIELDS = (
    "text",
    "exact",
    "from",
    "to",
    "certain",
    "diameter_from",
    "diameter_to",
    "mass_from",
    "mass_to",
    "sort",
)
"""What the form shows as fields; the facets are carried along."""

MORE_FIELDS = (
    "founder_name",
    "note_from",
    "note_to",
    "recording",
    "no_survey_since",
    "at",
    "near",
    "nearest",
    "area",
)
"""What it shows on demand."""


def bells_page(conn: sqlite3.Connection, ask: Ask) -> Response:
    """Make the page of the search."""
    read = asked(ask)
    search = Search(conn, read.query)
    values = dict(read.pairs)
    rows = search.rows()
    found = hits_on(conn, words_of(read.query), (row["id"] for row in rows))
    return rendering.page(
        ask,
        "bells",
        BellsPage(
            title="Bells",
            question=shown(conn, ask, read, search),
            rows=rows,
            hits=hits_shown(found),
            led_by=[pair for pair in read.pairs if pair[0] in ("text", "exact", "formula")],
            facets=_facets(facets(search), read.pairs),
            first=read.query.offset + 1,
            pages=max(-(-search.total // PAGE_SIZE), 1),
            at=ask.page(),
            sorts={
                code: words
                for code, words in SORTS.items()
                if "distance" not in code or read.query.near or read.query.nearest
            },
            values={name: values.get(name, "") for name in (*FIELDS, *MORE_FIELDS)},
            more=any(name in values for name in MORE_FIELDS),
            kept=[pair for pair in read.pairs if pair[0] not in (*FIELDS, *MORE_FIELDS)],
        ),
    )


def bells_csv(conn: sqlite3.Connection, ask: Ask) -> Response:
    """Give all bells found as CSV."""
    query = asked_plainly(ask).query
    table = read_table(conn, "bell_current")
    columns = [column.name for column in table.columns] if table else []
    measured = query.near is not None or query.nearest is not None
    return as_csv(find_bells(conn, query).rows, "bells.csv", columns + ["distance_km"] * measured)


def bells_json(conn: sqlite3.Connection, ask: Ask) -> Response:
    """Give all bells found as JSON, with the question and the mark of the registry."""
    read = asked_plainly(ask)
    found = find_bells(conn, read.query)
    return rendering.as_json(
        {
            "link": link_of(read.query),
            "registry": mark_of(conn),
            "total": found.total,
            "not_judged": found.unjudged,
            "may_not_hold": found.doubtful,
            "bells": found.rows,
            "hits": as_values(hits_on(conn, words_of(read.query), (row["id"] for row in found.rows))),
        }
    )


def bells_geojson(conn: sqlite3.Connection, ask: Ask) -> Response:
    """Give all bells found as GeoJSON (RFC 7946); a bell without coordinates has a null geometry."""
    features = [_feature(row) for row in find_bells(conn, asked_plainly(ask).query).rows]
    answer = rendering.as_json({"type": "FeatureCollection", "features": features})
    answer.content_type = "application/geo+json; charset=utf-8"
    return answer


def _feature(row: Row) -> dict[str, Any]:
    latitude, longitude = row["latitude_deg"], row["longitude_deg"]
    placed = latitude is not None and longitude is not None
    return {
        "type": "Feature",
        "id": row["id"],
        "geometry": {"type": "Point", "coordinates": [longitude, latitude]} if placed else None,
        "properties": {
            key: value for key, value in row.items() if key not in ("latitude_deg", "longitude_deg")
        },
    }


def _facets(counted: Mapping[str, list[FacetValue]], pairs: Pairs) -> list[Facet]:
    """Word the facets; one that leaves no choice is left out."""
    made = []
    for name in FACETS:
        parameter = BY_NAME[name]
        values = counted[parameter.field]
        if name == "note":
            values = sorted(values, key=_pitch)
        choices = [_choice(name, value, pairs) for value in values if value.bells]
        first = [choice for at, choice in enumerate(choices) if at < FACET_VALUES_SHOWN or choice.chosen]
        if any(choice.pairs is not None for choice in choices):
            made.append(
                Facet(heading(parameter.title), first, [choice for choice in choices if choice not in first])
            )
    return made


def _pitch(value: FacetValue) -> float:
    """Sort notes by their pitch, the lowest first, bells without one last."""
    return inf if value.value is None else read_note(str(value.value)).number


def _choice(name: str, value: FacetValue, pairs: Pairs) -> Choice:
    """Word one value of a facet; what no filter can ask for has no link."""
    if value.value is None:
        return Choice(value.label, value.bells, chosen=False, pairs=None)
    text = str(value.value)
    has_grade = name in UNGRADED and isinstance(value.value, int)
    words = graded(name, int(value.value)) if has_grade else value.label
    return Choice(words, value.bells, (name, text) in pairs, toggled(pairs, name, text))
