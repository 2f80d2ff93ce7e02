"""From the address of a page to the question in it, and back to addresses."""

from dataclasses import dataclass
from datetime import UTC, datetime
from sqlite3 import Connection
from typing import Annotated

from registry.questions import Asked, Ignored, read_link
from registry.questions.link import Pairs, encoded
from registry.store.mark import mark_of
from registry.store.search import Search
from registry.web.asking import Ask
from registry.web.context import SenselessError
from registry.wording.asked import DOUBTFUL, UNJUDGED, Chosen, chosen, reasons

PAGE_SIZE = 50

BESIDE = ("page", "registry", "bbox")
"""Names in an address that ask nothing of bells: page, mark of the registry cited, view of the map."""

FACETS = (
    "founder", "century", "material", "status", "condition", "grade", "crack", "profile", "wartime", "region",
    "country", "note", "formula",
)  # fmt: skip
"""Parts of a question that are offered with their values, in the order of the page."""


@dataclass(frozen=True)
class Question:
    """A question as every page shows it that answers one."""

    pairs: Annotated[Pairs, "The question as a link spells it."]
    filters: Annotated[list[Chosen], "Every filter in words, and the question without it."]
    ignored: Annotated[list[Ignored], "What in the address asks nothing of bells, and why."]
    total: Annotated[int, "How many bells were found."]
    unjudged: Annotated[list[tuple[str, int]], "Bells that lack what a filter asks for, by reason."]
    doubtful: Annotated[list[tuple[str, int]], "Bells found that may not hold, by reason."]
    link: Annotated[str, "The question to cite below the address of the site, with the mark of the registry."]
    mark: Annotated[str, "The mark of the registry."]
    cited: Annotated[str, "The mark in the address that was followed; empty without one."]
    today: Annotated[str, "The day of this answer, ISO 8601."]


def asked(ask: Ask) -> Asked:
    """Read the question; what makes no sense is left out and named in ``ignored``."""
    given = [(name, value) for name, values in ask.args.items() for value in values]
    read = read_link(given, BESIDE)
    query = read.query._replace(limit=PAGE_SIZE, offset=(ask.page() - 1) * PAGE_SIZE)
    return read._replace(query=query)


def asked_plainly(ask: Ask) -> Asked:
    """Read the question of a file to download, which has no room to say that a part of it was left out.

    Raises
    ------
    SenselessError
        Where a part of it makes no sense.
    """
    read = asked(ask)
    if read.ignored:
        raise SenselessError([f"{each.name} “{each.value}”: {each.why}" for each in read.ignored])
    return read._replace(query=read.query._replace(limit=None, offset=0))


def shown(conn: Connection, ask: Ask, read: Asked, search: Search) -> Question:
    """Gather what a page shows of its question."""
    mark = mark_of(conn)
    path = ask.path or "/bells"
    text = encoded([*read.pairs, ("registry", mark)])
    return Question(
        pairs=read.pairs,
        filters=chosen(read.pairs),
        ignored=read.ignored,
        total=search.total,
        unjudged=reasons(search.unjudged_counts, UNJUDGED),
        doubtful=reasons(search.doubtful(), DOUBTFUL),
        link=f"{ask.prefix}{path.lstrip('/')}?{text}",
        mark=mark,
        cited=ask.one("registry")[:40],
        today=datetime.now(UTC).date().isoformat(),
    )


def toggled(pairs: Pairs, name: str, value: str) -> Pairs:
    """Add a value to a question, or take it away where it is there; the spelling stays that of every link."""
    pair = (name, value)
    if pair in pairs:
        return [other for other in pairs if other != pair]
    # Only one century can be asked for: the last one counts.
    return read_link([*pairs, pair]).pairs
