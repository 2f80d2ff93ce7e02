"""The search: bells by words, facets, years and sizes, as a table and as CSV, JSON and GeoJSON."""

import sqlite3
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Annotated, Any, NamedTuple

from datasette.utils.asgi import Response

from registry.store.pages import Row
from registry.store.search import FacetValue, FoundBells, facets, find_bells
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
    ordinal,
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
    """One facet. ``more`` counts values that are not listed."""

    title: str
    choices: list[Choice]
    more: int


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
    "material": "material not told",
    "status": "status not told",
    "founder_id": "founder not told or without an id",
    "region": "region not told",
    "country": "country not told",
    "note": "no note on record",
    "crack_state": "nobody looked for cracks, or said so",
    "condition": "not assessed",
    "century": "undated",
    "year": "undated",
    "from_year": "undated",
    "to_year": "undated",
    "years": "undated",
    "date": "undated",
    "diameter_mm": "diameter not measured",
    "mass_kg": "mass neither known nor computed",
    "near": "tower without coordinates",
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
            values={name: value for name, value in question.pairs if name in FIELDS},
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
    made = []
    for name, title in TITLES.items():
        values = counted.get(COLUMNS.get(name, name), counted.get(name, []))
        choices = [_choice(name, value, pairs) for value in values if value.bells]
        first = [choice for at, choice in enumerate(choices) if at < FACET_VALUES_SHOWN or choice.chosen]
        if choices:
            made.append(Facet(title, first, len(choices) - len(first)))
    return made


def _choice(name: str, value: FacetValue, pairs: Pairs) -> Choice:
    """Word one value of a facet; what no filter can ask for has no link."""
    if value.value is None and name != "condition":
        return Choice("not told", value.bells, chosen=False, pairs=None)
    text = "not-assessed" if value.value is None else str(value.value)
    words = value.label or text
    if name == "century" and value.value is not None:
        words = f"{ordinal(int(value.value))} century"
    return Choice(words, value.bells, (name, text) in pairs, toggled(pairs, name, text))
