"""The search: bells by words, facets, years and sizes, as a table and as CSV, JSON and GeoJSON."""

import sqlite3
from collections.abc import Mapping
from dataclasses import dataclass
from math import inf
from typing import Annotated, Any, NamedTuple

from datasette.utils.asgi import Response

from registry.model.pitch import read_note
from registry.store.pages import Row
from registry.store.search import UNGRADED, FacetValue, FoundBells, facets, find_bells
from registry.web import rendering
from registry.web.asking import Ask
from registry.web.bell_questions import (
    COLUMNS,
    PAGE_SIZE,
    SORTS,
    TITLES,
    Asked,
    Pairs,
    asked,
    graded,
    toggled,
)
from registry.web.tabular import as_csv

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
    asked: Annotated[Asked, "What was asked."]
    found: Annotated[FoundBells, "The bells of this page."]
    facets: Annotated[list[Facet], "Values to narrow or widen the search by."]
    unjudged: Annotated[list[tuple[str, int]], "Bells that lack what a filter asks for, by filter."]
    first: Annotated[int, "Number of the first bell of this page."]
    pages: Annotated[int, "Number of pages."]
    at: Annotated[int, "Number of this page."]
    sorts: Annotated[Mapping[str, str], "Orders to choose from."]
    values: Annotated[Mapping[str, str], "What stands in the fields of the form."]
    kept: Annotated[Pairs, "What the form carries along unseen."]


FIELDS = ("text", "from", "to", "certain", "diameter_from", "diameter_to", "mass_from", "mass_to", "sort")
"""What the form shows as fields; the facets are carried along."""

UNJUDGED = {
    "material": "material not known",
    "status": "status not known",
    "founder_id": "founder not known",
    "region": "region not known",
    "country": "country not known",
    "note": "no note on record",
    "crack_state": "no survey tells of cracks",
    "condition": "not assessed",
    "grade": "may be graver: not all was inspected",
    "year": "undated",
    "diameter_mm": "diameter not measured",
    "mass_kg": "mass neither known nor computed",
}
"""Why a bell could not be judged, by the filter that asks."""


def bells_page(conn: sqlite3.Connection, ask: Ask) -> Response:
    """Make the page of the search."""
    question = asked(ask)
    found = find_bells(conn, question.query)
    pages = max(-(-found.total // PAGE_SIZE), 1)
    return rendering.page(
        ask,
        "bells",
        BellsPage(
            title="Bells",
            asked=question,
            found=found,
            facets=_facets(facets(conn, question.query), question.pairs),
            unjudged=[(UNJUDGED.get(name, name), count) for name, count in found.unjudged.items() if count],
            first=question.query.offset + 1,
            pages=pages,
            at=ask.page(),
            sorts=SORTS,
            values={name: dict(question.pairs).get(name, "") for name in FIELDS},
            kept=[(name, value) for name, value in question.pairs if name not in FIELDS],
        ),
    )


def bells_csv(conn: sqlite3.Connection, ask: Ask) -> Response:
    """Give all bells found as CSV."""
    return as_csv(_all_found(conn, ask).rows, "bells.csv")


def bells_json(conn: sqlite3.Connection, ask: Ask) -> Response:
    """Give all bells found as JSON."""
    found = _all_found(conn, ask)
    return rendering.as_json({"total": found.total, "not_judged": found.unjudged, "bells": found.rows})


def bells_geojson(conn: sqlite3.Connection, ask: Ask) -> Response:
    """Give all bells found as GeoJSON (RFC 7946); a bell without coordinates has a null geometry."""
    features = [_feature(row) for row in _all_found(conn, ask).rows]
    answer = rendering.as_json({"type": "FeatureCollection", "features": features})
    answer.content_type = "application/geo+json; charset=utf-8"
    return answer


def _all_found(conn: sqlite3.Connection, ask: Ask) -> FoundBells:
    return find_bells(conn, asked(ask).query._replace(limit=None, offset=0))


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
    for name, title in TITLES.items():
        values = counted[COLUMNS.get(name, name)]
        if name == "note":
            values = sorted(values, key=_pitch)
        choices = [_choice(name, value, pairs) for value in values if value.bells]
        shown = [choice for at, choice in enumerate(choices) if at < FACET_VALUES_SHOWN or choice.chosen]
        if any(choice.pairs is not None for choice in choices):
            made.append(Facet(title, shown, [choice for choice in choices if choice not in shown]))
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
