"""How many bells each further choice would leave."""

import sqlite3
from collections import Counter
from typing import Any, NamedTuple

from registry.inscriptions.formulas import formulas
from registry.model.vocabulary import vocabulary
from registry.store.search import Search
from registry.store.search_filters import UNGRADED, Condition


class FacetValue(NamedTuple):
    """One value of a facet: ``value`` is what the filter takes, None for bells without any."""

    value: str | int | None
    label: str
    bells: int


FACETS = {
    "founder_id": "bell.founder_id",
    "century": "(coalesce(bell.cast_earliest_year, bell.cast_latest_year) + 99) / 100",
    "material": "bell.material",
    "status": "bell.status",
    "condition": "bell.condition",
    "grade": "bell.grade_at_least",
    "crack_state": "bell.crack_state",
    "region": "",
    "country": "bell.country",
    "note": "bell.note_name",
    "profile_class": "bell.profile_class",
    "wartime_class": "bell.wartime_class",
    "formula": "(SELECT group_concat(DISTINCT formula) FROM inscription_formula WHERE bell_id = bell.id)",
}
"""Each facet with what it counts by, regions apart; the names are those of the filters."""

SEVERAL = frozenset({"formula"})
"""Facets of which a bell can have several values; they come with commas between them."""

WITHOUT = {"formula": "none recognised"}
"""What a facet calls bells without a value, where that is not that nobody knows."""

VOCABULARIES = {
    "material": "material",
    "status": "bell_status",
    "crack_state": "crack_state",
    "profile_class": "profile_class",
    "wartime_class": "wartime_class",
}


def facets(search: Search) -> dict[str, list[FacetValue]]:
    """Count the bells by each of the facets.

    Each facet is counted under all filters but its own, so that a choice can be widened. A bell that can be
    of two centuries counts in the one its dates begin in. Bells without a value come last.
    """
    query = search.query
    counted = {
        name: _counted(search, (name,), search.without(name))[0]
        for name in FACETS
        if name != "century" and len(search.without(name)) < len(search.conditions)
    }
    if query.century is not None:
        widened = Search(search.conn, query._replace(century=None))
        counted["century"] = _counted(widened, ("century",), widened.conditions)[0]
    if "region" not in counted:
        counted["region"] = _by_region(search, search.conditions)
    # Those that nothing was asked of share their bells, and one look at these.
    rest = tuple(name for name in FACETS if name not in counted)
    counted |= dict(zip(rest, _counted(search, rest, search.conditions), strict=True))
    return {name: _facet(search.conn, name, counted[name]) for name in FACETS}


def _counted(search: Search, names: tuple[str, ...], asked: list[Condition]) -> list[Counter[Any]]:
    """Count the bells that meet conditions by each of some facets."""
    if names == ("region",):
        return [_by_region(search, asked)]
    rows = search.select(", ".join(FACETS[name] for name in names), asked).fetchall()
    return [Counter(column) for column in zip(*rows, strict=True)] or [Counter() for _ in names]


def _by_region(search: Search, asked: list[Condition]) -> Counter[Any]:
    """Count by region; a tower lies in several where regions hold each other."""
    counted: Counter[Any] = Counter()
    bells = search.count_by_tower(asked)
    placed: set[str] = set()
    for tower_id, region_id in search.conn.execute("SELECT tower_id, region_id FROM tower_region"):
        if tower_id in bells:
            counted[region_id] += bells[tower_id]
            placed.add(tower_id)
    if nowhere := sum(count for tower, count in bells.items() if tower not in placed):
        counted[None] = nowhere
    return counted


def _facet(conn: sqlite3.Connection, name: str, counted: Counter[Any]) -> list[FacetValue]:
    labels = _labels(conn, name)
    if name in SEVERAL:
        counted = _apart(counted)
    values = sorted(value for value in counted if value is not None)
    made = [FacetValue(value, labels.get(value, str(value)), counted[value]) for value in values]
    if None in counted:
        word = UNGRADED.get(name)
        label = word.replace("-", " ") if word else WITHOUT.get(name, "not known")
        made.append(FacetValue(word, label, counted[None]))
    return made


def _apart(counted: Counter[Any]) -> Counter[Any]:
    """Count each of several values by itself."""
    made: Counter[Any] = Counter()
    for values, bells in counted.items():
        for value in (None,) if values is None else values.split(","):
            made[value] += bells
    return made


def _labels(conn: sqlite3.Connection, name: str) -> dict[Any, str]:
    """Give the words for people for the values of a facet, where these are codes."""
    if name == "founder_id":
        return dict(conn.execute("SELECT id, name FROM founder WHERE name IS NOT NULL"))
    if name == "formula":
        return {id_: formula.text for id_, formula in formulas().items()}
    if name == "region":
        return dict(conn.execute("SELECT id, name FROM region"))
    if name == "century":
        return {number: f"{number}{_ENDINGS.get(number, 'th')} century" for number in range(31)}
    terms = VOCABULARIES.get(name)
    return {code: term.label for code, term in vocabulary(terms).terms.items()} if terms else {}


_ENDINGS = {1: "st", 2: "nd", 3: "rd", 21: "st", 22: "nd", 23: "rd"}
