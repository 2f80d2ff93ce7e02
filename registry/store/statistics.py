"""What statistics are made from: the bells that meet a question, with what of them is counted."""

import sqlite3
from collections import defaultdict
from typing import NamedTuple

from registry.store.pages import Row, dict_rows
from registry.store.search import Search

Span = tuple[int | None, int | None]


class TowerBells(NamedTuple):
    """The bells of one founder in one tower that has a place [°]."""

    tower_id: str
    name: str
    latitude_deg: float
    longitude_deg: float
    bells: int


class FounderBells(NamedTuple):
    """The bells of one founder: where they are, and how many stand nowhere that is known."""

    founder_id: str
    name: str
    bells: int
    towers: list[TowerBells]
    unplaced: int


def read_spans(search: Search) -> dict[str, list[Span]]:
    """Give by bell the years its date may mean; none where it is undated."""
    spans: dict[str, list[Span]] = {row[0]: [] for row in search.select("bell.id", search.conditions)}
    for bell_id, first, last in search.conn.execute(
        "SELECT bell_id, earliest_year, latest_year FROM cast_span ORDER BY bell_id, ordinal"
    ):
        if bell_id in spans:
            spans[bell_id].append((first, last))
    return spans


def read_statuses(search: Search) -> dict[str, str | None]:
    """Give by bell what has become of it."""
    return dict(search.select("bell.id, bell.status", search.conditions).fetchall())


def read_founders(search: Search) -> tuple[list[FounderBells], int]:
    """Give the founders, those with most bells first, and how many bells name none by its id."""
    bells: dict[str, int] = defaultdict(int)
    placed: dict[str, list[TowerBells]] = defaultdict(list)
    without = 0
    for founder_id, tower_id, name, latitude, longitude, count in search.select(
        "bell.founder_id, bell.tower_id, bell.tower_name, bell.latitude_deg, bell.longitude_deg, count(*)",
        search.conditions,
        "GROUP BY 1, 2 ORDER BY 1, 2",
    ):
        if founder_id is None:
            without += count
            continue
        bells[founder_id] += count
        if latitude is not None and longitude is not None:
            placed[founder_id].append(TowerBells(tower_id, name, latitude, longitude, count))
    names = dict(search.conn.execute("SELECT id, name FROM founder").fetchall())
    made = [
        FounderBells(
            founder_id,
            names.get(founder_id) or founder_id,
            count,
            placed[founder_id],
            count - sum(tower.bells for tower in placed[founder_id]),
        )
        for founder_id, count in sorted(bells.items(), key=lambda item: (-item[1], item[0]))
    ]
    return made, without


def read_weighed(search: Search) -> list[Row]:
    """Give the bells that have a diameter and a mass on record, the narrowest first."""
    where = "bell.mouth_diameter_mm IS NOT NULL AND bell.mass_kg IS NOT NULL"
    cursor = search.select(
        "bell.id, bell.name, bell.founder_id, bell.founder, bell.material, bell.mouth_diameter_mm,"
        f" bell.mass_kg, bell.mass_basis, {where} AS told",
        search.conditions,
        "ORDER BY bell.mouth_diameter_mm, bell.id",
    )
    names = [column[0] for column in cursor.description]
    rows = [dict(zip(names, row, strict=True)) for row in cursor]
    return [{name: row[name] for name in names[:-1]} for row in rows if row["told"]]


def read_workshops(conn: sqlite3.Connection) -> dict[str, tuple[float, float]]:
    """Give by founder the workshop that files of founders tell first, where it has a place."""
    rows = dict_rows(
        conn,
        "SELECT founder_id, latitude_deg, longitude_deg FROM founder_workshop"
        " WHERE latitude_deg IS NOT NULL AND longitude_deg IS NOT NULL ORDER BY founder_id, ordinal DESC",
    )
    return {row["founder_id"]: (row["latitude_deg"], row["longitude_deg"]) for row in rows}
