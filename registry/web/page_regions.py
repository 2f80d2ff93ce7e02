"""Regions: the list of all, and the page of one, today or at a date."""

import sqlite3
from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Annotated, NamedTuple

from datasette.utils.asgi import Response

from registry.drawing.map import MapDrawing, map_drawing, view_around
from registry.drawing.map_outline import rings_of
from registry.model.edtf import EdtfError, parse_edtf
from registry.model.validity import ALWAYS, Validity, read_validity
from registry.store import pages
from registry.store import pages_regions as read
from registry.store.pages import GONE, Row
from registry.store.pages_regions import RegionRow, Standing
from registry.web import rendering
from registry.web.asking import Ask
from registry.web.context import NotHereError
from registry.web.map_reading import Border, towers_on_map, view_of
from registry.wording.words import ordinal_ending

WIDE = (560.0, 420.0)
NARROW = (330.0, 300.0)
MOST_BELLS = 400
LONGEST_DATE = 60


class Then(NamedTuple):
    """The date asked for: as typed, the days it spans, and what is wrong with it."""

    text: str
    days: Validity
    wrong: str

    @property
    def told(self) -> bool:
        """Whether a date that can be read was asked for."""
        return bool(self.text) and not self.wrong


class Branch(NamedTuple):
    """A region in its place among the others; ``level`` is 0 for the outermost."""

    region: RegionRow
    level: int
    in_force: bool


@dataclass(frozen=True)
class RegionsPage:
    """All regions."""

    title: Annotated[str, "Heading of the page."]
    then: Annotated[Then, "The date asked for."]
    branches: Annotated[list[Branch], "Regions, each after the one it lies in."]
    standing: Annotated[Mapping[str, Standing], "Bells there at the date by region; empty without a date."]
    unloaded: Annotated[list[Row], "Regions that forms name and no border is loaded for."]
    map: Annotated[MapDrawing | None, "Their borders with the towers; None without any border."]
    map_narrow: Annotated[MapDrawing | None, "The same for narrow windows."]


@dataclass(frozen=True)
class RegionPage:
    """One region."""

    title: Annotated[str, "Name of the region."]
    region: Annotated[RegionRow | None, "The region; None where only forms name it."]
    id: Annotated[str, "Its id."]
    then: Annotated[Then, "The date asked for."]
    in_force: Annotated[bool, "Whether its border was in force then; true without a date."]
    outer: Annotated[list[RegionRow], "Regions it lies in, the nearest first."]
    inner: Annotated[list[RegionRow], "Regions that lie in it and in no nearer one."]
    versions: Annotated[list[RegionRow], "Other borders of the same region."]
    towers: Annotated[list[Row], "Its towers, rows of tower_current with basis."]
    bells: Annotated[int, "Bells in it."]
    centuries: Annotated[list[tuple[str, int]], "These bells by century of casting, in words."]
    statuses: Annotated[list[tuple[str | None, int]], "The same by what has become of them."]
    standing: Annotated[list[Row], "Bells that were or may have been there at the date, the first of them."]
    certain: Annotated[int, "How many of them certainly were."]
    possible: Annotated[int, "How many nobody can judge."]
    map: Annotated[MapDrawing | None, "Its border with its towers; None where only forms name it."]
    map_narrow: Annotated[MapDrawing | None, "The same for narrow windows."]


def regions_page(conn: sqlite3.Connection, ask: Ask) -> Response:
    """Make the list of regions; ``at`` in the address is a date, EDTF."""
    rows = read.read_region_rows(conn)
    then = _then(ask)
    branches = _tree(rows, read.read_nesting(conn), then.days)
    # The outermost first, so that none covers those within it.
    borders: list[Border] = [
        (branch.region.name, rings_of(read.read_border(conn, branch.region.id)))
        for branch in sorted(branches, key=lambda branch: branch.level)
        if branch.in_force
    ]
    towers = towers_on_map(pages.read_towers(conn))
    view = view_of(towers, borders)
    return rendering.page(
        ask,
        "regions",
        RegionsPage(
            title="Regions",
            then=then,
            branches=branches,
            standing=read.count_standing(conn, then.days) if then.told else {},
            unloaded=read.read_unloaded(conn),
            map=map_drawing(towers, borders, view, *WIDE) if rows else None,
            map_narrow=map_drawing(towers, borders, view, *NARROW) if rows else None,
        ),
    )


def region_page(conn: sqlite3.Connection, ask: Ask) -> Response:
    """Make the page of one region; ``at`` in the address is a date, EDTF.

    Raises
    ------
    NotHereError
        When no border of this id is loaded and no form names it.
    """
    region_id = ask.names["id"]
    region = read.read_region(conn, region_id)
    towers = read.read_towers_in(conn, region_id)
    if region is None and not towers:
        raise NotHereError
    then = _then(ask)
    rows = {row.id: row for row in read.read_region_rows(conn)}
    nesting = read.read_nesting(conn)
    bells = read.read_bells_in(conn, region_id)
    standing = read.read_standing(conn, region_id, then.days) if then.told else []
    by_bell: dict[str, bool] = {}
    for row in standing:
        by_bell[row["bell_id"]] = by_bell.get(row["bell_id"], False) or bool(row["certain"])
    wide, narrow = _maps(conn, region, towers)
    first = region.version_of or region.id if region else ""
    return rendering.page(
        ask,
        "region",
        RegionPage(
            title=region.name if region else region_id,
            region=region,
            id=region_id,
            then=then,
            in_force=region is None or region.validity.overlaps(then.days),
            outer=[rows[outer] for outer in nesting.get(region_id, ())],
            inner=[row for row in rows.values() if nesting.get(row.id, [""])[0] == region_id],
            versions=[
                row for row in rows.values() if row.id != region_id and (row.version_of or row.id) == first
            ],
            towers=towers,
            bells=len(bells),
            centuries=_centuries(bells),
            statuses=_statuses(bells),
            standing=standing[:MOST_BELLS],
            certain=sum(by_bell.values()),
            possible=len(by_bell) - sum(by_bell.values()),
            map=wide,
            map_narrow=narrow,
        ),
    )


def _then(ask: Ask) -> Then:
    """Read the date asked for."""
    text = ask.one("at")[:LONGEST_DATE]
    if not text:
        return Then("", ALWAYS, "")
    try:
        parse_edtf(text)
        return Then(text, read_validity(text), "")
    except EdtfError as error:
        return Then(text, ALWAYS, error.remedy)


def _tree(rows: Sequence[RegionRow], nesting: Mapping[str, Sequence[str]], then: Validity) -> list[Branch]:
    """Put every region after the nearest one that it lies in and that was in force at the date."""
    in_force = {row.id for row in rows if row.validity.overlaps(then)}
    parents = {
        row.id: next(
            (outer for outer in nesting.get(row.id, ()) if outer in in_force or row.id not in in_force), None
        )
        for row in rows
    }
    branches: list[Branch] = []

    def grow(parent: str | None, level: int) -> None:
        for row in rows:
            if parents[row.id] == parent:
                branches.append(Branch(row, level, row.id in in_force))
                grow(row.id, level + 1)

    grow(None, 0)
    return branches


def _centuries(bells: Sequence[Row]) -> list[tuple[str, int]]:
    """Count bells by century of casting: those of one for certain, those that may be of several, the rest."""
    counted: Counter[int] = Counter()
    across = 0
    for bell in bells:
        first, last = bell["cast_earliest_year"], bell["cast_latest_year"]
        if first is None or last is None:
            continue
        if (first - 1) // 100 == (last - 1) // 100:
            counted[(first - 1) // 100 + 1] += 1
        else:
            across += 1
    told = [(f"{century}{ordinal_ending(century)} century", counted[century]) for century in sorted(counted)]
    undated = len(bells) - sum(counted.values()) - across
    more = [("dated across centuries", across), ("undated, or with an open end", undated)]
    return told + [(words, number) for words, number in more if number]


def _statuses(bells: Sequence[Row]) -> list[tuple[str | None, int]]:
    counted = Counter(bell["status"] for bell in bells)
    return sorted(
        counted.items(), key=lambda item: (item[0] in GONE, item[0] is None, -item[1], item[0] or "")
    )


def _maps(
    conn: sqlite3.Connection, region: RegionRow | None, towers: Sequence[Row]
) -> tuple[MapDrawing, MapDrawing] | tuple[None, None]:
    """Draw a region with its towers; one over the antimeridian is drawn in one piece, eastwards."""
    if region is None:
        return None, None
    attention = {row["id"]: row["attention"] for row in pages.read_towers(conn)}
    rings = rings_of(read.read_border(conn, region.id))
    placed = towers_on_map([{**tower, "attention": attention[tower["id"]]} for tower in towers])
    if _crosses(rings):
        rings = [[(east + 360.0 if east < 0 else east, north) for east, north in ring] for ring in rings]
        placed = [
            tower._replace(longitude_deg=tower.longitude_deg + 360.0) if tower.longitude_deg < 0 else tower
            for tower in placed
        ]
    view = view_around([point for ring in rings for point in ring], 0.06)
    borders = [(region.name, rings)]
    return map_drawing(placed, borders, view, *WIDE), map_drawing(placed, borders, view, *NARROW)


def _crosses(rings: Sequence[Sequence[tuple[float, float]]]) -> bool:
    """Say whether a region was cut at the antimeridian, with every ring on one side of Greenwich."""
    ends = [(min(ring)[0], max(ring)[0]) for ring in rings]
    if min(west for west, _ in ends) > -180.0 or max(east for _, east in ends) < 180.0:
        return False
    return all(east <= 0.0 or west >= 0.0 for west, east in ends)
