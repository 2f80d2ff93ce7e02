"""What statistics are made from: the bells that meet a question, with what of them is counted."""

import sqlite3
from collections import defaultdict
from collections.abc import Sequence
from typing import NamedTuple

from registry.store.pages import dict_rows
from registry.store.rows import to_json
from registry.store.search import Search
from registry.store.search_filters import Condition

Span = tuple[int | None, int | None]


class TowerBells(NamedTuple):
    """The bells of one founder in one tower that has a place [°]."""

    tower_id: str
    name: str
    latitude_deg: float
    longitude_deg: float
    bells: int


class FounderBells(NamedTuple):
    """A founder with the number of bells found, and of those among them whose tower has no place."""

    founder_id: str
    name: str
    bells: int
    unplaced: int


class WeighedRow(NamedTuple):
    """A bell with a diameter and a mass on record."""

    bell_id: str
    name: str | None
    founder_id: str | None
    founder: str | None
    material: str | None
    mouth_diameter_mm: float
    mass_kg: float
    mass_basis: str | None


class DatedBells(NamedTuple):
    """By bell the spans of years its date may mean, none where it is undated, and what has become of it."""

    spans: dict[str, tuple[Span, ...]]
    statuses: dict[str, str | None]


def read_dated(search: Search) -> DatedBells:
    """Give dates and fates of the bells that meet a question."""
    spans: dict[str, tuple[Span, ...]] = {}
    statuses: dict[str, str | None] = {}
    of_sets: list[str] = []
    for bell_id, status, cast_date, first, last in search.select(
        "bell.id, bell.status, bell.cast_date, bell.cast_earliest_year, bell.cast_latest_year",
        search.conditions,
    ):
        statuses[bell_id] = status
        spans[bell_id] = ((first, last),) if cast_date else ()
        if cast_date and cast_date[0] in "[{":
            of_sets.append(bell_id)
            spans[bell_id] = ()
    for bell_id, first, last in search.conn.execute(
        "SELECT bell_id, earliest_year, latest_year FROM cast_span"
        " WHERE bell_id IN (SELECT value FROM json_each(?)) ORDER BY bell_id, ordinal",
        (to_json(of_sets),),
    ):
        spans[bell_id] += ((first, last),)
    return DatedBells(spans, statuses)


def read_founders(search: Search) -> tuple[list[FounderBells], int]:
    """Give the founders, those with most bells first, and how many bells name none by its id."""
    names = dict(search.conn.execute("SELECT id, name FROM founder").fetchall())
    counted = search.select(
        "bell.founder_id, count(*), count(*) FILTER"
        " (WHERE bell.latitude_deg IS NULL OR bell.longitude_deg IS NULL)",
        search.conditions,
        "GROUP BY bell.founder_id ORDER BY count(*) DESC, bell.founder_id",
    ).fetchall()
    made = [
        FounderBells(founder_id, names.get(founder_id) or founder_id, bells, unplaced)
        for founder_id, bells, unplaced in counted
        if founder_id is not None
    ]
    return made, sum(bells for founder_id, bells, _ in counted if founder_id is None)


def read_towers_of(search: Search, founder_ids: Sequence[str]) -> dict[str, list[TowerBells]]:
    """Give by founder the towers with a place that have bells of theirs."""
    chosen = Condition(
        "founders", "bell.founder_id IN (SELECT value FROM json_each(?))", (to_json(list(founder_ids)),)
    )
    placed = Condition("placed", "bell.latitude_deg IS NOT NULL AND bell.longitude_deg IS NOT NULL")
    towers: dict[str, list[TowerBells]] = defaultdict(list)
    for founder_id, *tower in search.select(
        "bell.founder_id, bell.tower_id, bell.tower_name, bell.latitude_deg, bell.longitude_deg, count(*)",
        [*search.conditions, chosen, placed],
        "GROUP BY 1, 2 ORDER BY 1, 2",
    ):
        towers[founder_id].append(TowerBells(*tower))
    return towers


def read_weighed(search: Search) -> list[WeighedRow]:
    """Give the bells that have a diameter and a mass on record, the narrowest first."""
    told = Condition("told", "bell.mouth_diameter_mm IS NOT NULL AND bell.mass_kg IS NOT NULL")
    cursor = search.select(
        "bell.id, bell.name, bell.founder_id, bell.founder, bell.material, bell.mouth_diameter_mm,"
        " bell.mass_kg, bell.mass_basis",
        [*search.conditions, told],
        "ORDER BY bell.mouth_diameter_mm, bell.id",
    )
    return [WeighedRow(*row) for row in cursor]


def read_workshops(conn: sqlite3.Connection) -> dict[str, tuple[float, float]]:
    """Give by founder the workshop that files of founders tell first, where it has a place."""
    rows = dict_rows(
        conn,
        "SELECT founder_id, latitude_deg, longitude_deg FROM founder_workshop"
        " WHERE latitude_deg IS NOT NULL AND longitude_deg IS NOT NULL ORDER BY founder_id, ordinal DESC",
    )
    return {row["founder_id"]: (row["latitude_deg"], row["longitude_deg"]) for row in rows}
