"""Recurrent formulas: which there are, and the bells that carry each."""

import sqlite3
from dataclasses import dataclass
from typing import Annotated

from datasette.utils.asgi import Response

from registry.inscriptions.formulas import Formula, formulas
from registry.inscriptions.matching import Part, parts_of
from registry.store import inscribed
from registry.store.inscribed import FormulaCount
from registry.store.pages import Row
from registry.web import rendering
from registry.web.asking import Ask
from registry.web.context import NotHereError
from registry.wording.inscriptions import told_how

PAGE_SIZE = 50
NONE_YET = FormulaCount(0, None, None)


@dataclass(frozen=True)
class FormulasPage:
    """All formulas."""

    title: Annotated[str, "Heading of the page."]
    formulas: Annotated[list[tuple[Formula, FormulaCount]], "Each with its bells, the most frequent first."]


@dataclass(frozen=True)
class Carrier:
    """One inscription that carries the formula."""

    row: Annotated[Row, "What is stored of it, of its bell and of its tower."]
    parts: Annotated[tuple[Part, ...], "Its diplomatic text, the formula marked."]
    how: Annotated[str, "How much of the formula stands there."]


@dataclass(frozen=True)
class FormulaPage:
    """One formula."""

    title: Annotated[str, "The formula in common spelling."]
    formula: Annotated[Formula, "What it means and where it is published."]
    count: Annotated[FormulaCount, "How many bells carry it, and from when to when."]
    carriers: Annotated[list[Carrier], "Inscriptions of this page, oldest bells first."]
    inscriptions: Annotated[int, "How many inscriptions carry it."]
    pages: Annotated[int, "Number of pages."]
    at: Annotated[int, "Number of this page."]


def formulas_page(conn: sqlite3.Connection, ask: Ask) -> Response:
    """Make the page of all formulas."""
    counts = inscribed.read_formula_counts(conn)
    counted = [(formula, counts.get(id_, NONE_YET)) for id_, formula in formulas().items()]
    counted.sort(key=lambda each: -each[1].bells)
    return rendering.page(ask, "formulas", FormulasPage("Recurrent formulas", counted))


def formula_page(conn: sqlite3.Connection, ask: Ask) -> Response:
    """Make the page of one formula.

    Raises
    ------
    NotHereError
        When no formula has this id.
    """
    formula = formulas().get(ask.names["id"])
    if formula is None:
        raise NotHereError
    total = inscribed.count_carriers(conn, formula.id)
    rows = inscribed.read_carriers(conn, formula.id, PAGE_SIZE, (ask.page() - 1) * PAGE_SIZE)
    return rendering.page(
        ask,
        "formula",
        FormulaPage(
            title=formula.text,
            formula=formula,
            count=inscribed.read_formula_counts(conn).get(formula.id, NONE_YET),
            carriers=[_carrier(row) for row in rows],
            inscriptions=total,
            pages=max(-(-total // PAGE_SIZE), 1),
            at=ask.page(),
        ),
    )


def _carrier(row: Row) -> Carrier:
    parts = parts_of(row["transcription"], [(row["begin"], row["end"])])
    return Carrier(row, parts, told_how(row["share"], row["how"], backwards=bool(row["backwards"])))
