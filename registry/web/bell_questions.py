"""From the address of a search to its question, and back to addresses."""

from typing import Any, NamedTuple

from registry.model.vocabulary import vocabulary
from registry.store.search import UNGRADED, BellQuery
from registry.web.asking import Ask
from registry.wording.words import grade

PAGE_SIZE = 50
SORTS = {
    "place": "place",
    "name": "name",
    "date": "oldest first",
    "-date": "youngest first",
    "-diameter": "widest first",
    "diameter": "narrowest first",
    "-mass": "heaviest first",
    "mass": "lightest first",
    "-condition": "worst condition first",
}
"""Orders a visitor can choose, and how each is called."""

TERMS = {"material": "material", "status": "bell_status", "crack": "crack_state"}
"""Filters that take terms of a vocabulary."""

TITLES = {
    "founder": "Founder",
    "century": "Century",
    "material": "Material",
    "status": "Status",
    "condition": "Condition, surveyor",
    "grade": "By the rules, at least",
    "crack": "Crack",
    "region": "Region",
    "country": "Country",
    "note": "Note",
}
"""Facets, in the order of the page."""

COLUMNS = {"founder": "founder_id", "crack": "crack_state"}
"""Facets whose name in the address is shorter than the field of the question."""

Pairs = list[tuple[str, str]]


class Chosen(NamedTuple):
    """One filter in words, and the question without it."""

    words: str
    without: Pairs


class Asked(NamedTuple):
    """A question read from an address. ``pairs`` is the address again, without page and view."""

    query: BellQuery
    pairs: Pairs
    filters: list[Chosen]
    ignored: list[str]


class _Reading:
    """The address as it is read: what was understood, in pairs and in words, and what was not."""

    def __init__(self, ask: Ask) -> None:
        self.ask = ask
        self.pairs: Pairs = []
        self.words: list[str] = []
        self.ignored: list[str] = []

    def keep(self, name: str, value: str, words: str) -> None:
        self.pairs.append((name, value))
        self.words.append(words)

    def terms(self, name: str) -> tuple[str, ...]:
        """Read values of a facet; those that no vocabulary has are ignored."""
        known = vocabulary(TERMS[name]).terms if name in TERMS else None
        kept = []
        for value in self.ask.many(name):
            if known is not None and value not in known:
                self.ignored.append(name)
                continue
            kept.append(value[:80])
            words = known[value].label if known else value
            self.keep(name, value, f"{TITLES[name].lower()}: {words}")
        return tuple(kept)

    def grades(self, name: str) -> tuple[Any, ...]:
        """Read grades, and the wish for bells without any."""
        made: list[int | str] = []
        title = TITLES[name].lower()
        for value in self.ask.many(name):
            if value == UNGRADED[name]:
                made.append(value)
                self.keep(name, value, f"{title}: {value.replace('-', ' ')}")
            elif value in ("0", "1", "2", "3"):
                made.append(int(value))
                self.keep(name, value, f"{title}: {graded(name, int(value))}")
            else:
                self.ignored.append(name)
        return tuple(made)

    def whole(self, name: str, low: int, high: int, words: str) -> int | None:
        """Read a whole number within limits; ``words`` takes it."""
        value = self.ask.whole(name)
        if value is not None and low <= value <= high:
            self.keep(name, str(value), words.format(value, ordinal(value)))
            return value
        if self.ask.one(name):
            self.ignored.append(name)
        return None

    def limits(self, what: str, unit: str) -> tuple[float | None, float | None]:
        """Read the least and greatest value of a size."""
        found = []
        for end in ("from", "to"):
            name = f"{what}_{end}"
            value = self.ask.number(name)
            if value is not None and value >= 0:
                self.keep(name, f"{value:g}", f"{what} {end} {value:g} {unit}")
            elif self.ask.one(name):
                self.ignored.append(name)
                value = None
            found.append(value)
        return found[0], found[1]


def asked(ask: Ask) -> Asked:
    """Read the question; values that make no sense are left out and named in ``ignored``."""
    read = _Reading(ask)
    text = ask.one("text")[:200]
    if text:
        read.keep("text", text, f"“{text}”")
    query = BellQuery(
        text=text,
        founder_id=read.terms("founder"),
        material=read.terms("material"),
        status=read.terms("status"),
        crack_state=read.terms("crack"),
        region=read.terms("region"),
        country=read.terms("country"),
        note=read.terms("note"),
        condition=read.grades("condition"),
        grade=read.grades("grade"),
        century=read.whole("century", 1, 30, "{1} century"),
        from_year=read.whole("from", -9999, 9999, "cast from {0}"),
        to_year=read.whole("to", -9999, 9999, "cast to {0}"),
        diameter_mm=read.limits("diameter", "mm"),
        mass_kg=read.limits("mass", "kg"),
        limit=PAGE_SIZE,
        offset=(ask.page() - 1) * PAGE_SIZE,
    )
    years = (query.century, query.from_year, query.to_year)
    if ask.one("certain") == "yes" and any(year is not None for year in years):
        read.keep("certain", "yes", "certainly within these years")
        query = query._replace(certain=True)
    order: Pairs = []
    if ask.one("sort") in SORTS:
        query = query._replace(sort=ask.one("sort"))
        order = [("sort", query.sort)] if query.sort != "place" else []
    elif ask.one("sort"):
        read.ignored.append("sort")
    filters = [
        Chosen(words, [pair for at, pair in enumerate(read.pairs) if at != index] + order)
        for index, words in enumerate(read.words)
    ]
    return Asked(query, read.pairs + order, filters, read.ignored)


def graded(name: str, value: int) -> str:
    """Word a grade; a computed one is a lower bound, so that nothing found is never called good."""
    if name == "grade" and value == 0:
        return "0 – nothing found, or not inspected"
    return grade("condition", value)


def toggled(pairs: Pairs, name: str, value: str) -> Pairs:
    """Add a value to a question, or take it away where it is there."""
    pair = (name, value)
    if pair in pairs:
        return [other for other in pairs if other != pair]
    # Only one century can be asked for.
    kept = [other for other in pairs if other[0] != name] if name == "century" else pairs
    return [*kept, pair]


def ordinal(number: int) -> str:
    """Write 15 as ``15th``."""
    teen = 10 <= number % 100 <= 20
    return f"{number}{'th' if teen else {1: 'st', 2: 'nd', 3: 'rd'}.get(number % 10, 'th')}"
