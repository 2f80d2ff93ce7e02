"""What this is: cautions, methods with their sources, terms, licences, the state of the registry."""

import sqlite3
from dataclasses import dataclass
from typing import Annotated

from datasette.utils.asgi import Response

from registry.model.cautions import Caution, cautions
from registry.model.vocabulary import Vocabulary, vocabulary, vocabulary_names
from registry.store import pages
from registry.store.pages import Row
from registry.web import rendering
from registry.web.asking import Ask


@dataclass(frozen=True)
class AboutPage:
    """What this is."""

    title: Annotated[str, "Heading of the page."]
    cautions: Annotated[list[Caution], "Every caution."]
    methods: Annotated[list[Row], "Methods of computation with their sources."]
    rules: Annotated[list[Row], "Rules of what needs attention."]
    vocabularies: Annotated[list[Vocabulary], "Every vocabulary with its terms."]
    meta: Annotated[dict[str, str], "What the registry says of itself."]


def about_page(conn: sqlite3.Connection, ask: Ask) -> Response:
    """Make the page on this site."""
    return rendering.page(
        ask,
        "about",
        AboutPage(
            title="About this registry",
            cautions=list(cautions().values()),
            methods=pages.read_methods(conn),
            rules=pages.read_rules(conn),
            vocabularies=[vocabulary(name) for name in vocabulary_names()],
            meta=pages.read_meta(conn),
        ),
    )
