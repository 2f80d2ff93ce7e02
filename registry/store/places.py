"""Which tower lies in which region, and which region in which: computed at each load that touches either."""

import json
import sqlite3
from collections.abc import Iterable, Iterator, Mapping

from registry.geography import Place, Region, border_of, holders, in_circles, places_in_regions
from registry.model.validity import read_validity
from registry.store.rows import Row, to_json


def put_regions(conn: sqlite3.Connection, path: str, regions: Iterable[Region]) -> None:
    """Put the regions of one file in place of those it had before, and mark what changed."""
    conn.execute("INSERT OR IGNORE INTO touched_region SELECT id FROM region WHERE source_path = ?", (path,))
    conn.execute("DELETE FROM region WHERE source_path = ?", (path,))
    rows: list[Row] = []
    for region in regions:
        valid = read_validity(region.valid)
        told = (region.kind, region.valid, valid.first, valid.last, region.parent, region.version_of)
        geometry: Mapping[str, object] = region.geometry.__geo_interface__
        rows.append(
            (
                region.id,
                region.name,
                *(value or None for value in told),
                path,
                to_json(geometry),
                *region.geometry.bounds,
            )
        )
    conn.executemany(f"INSERT INTO region VALUES ({', '.join('?' * 14)})", rows)
    conn.executemany("INSERT OR IGNORE INTO touched_region VALUES (?)", ((row[0],) for row in rows))


def refresh_places(conn: sqlite3.Connection) -> None:
    """Compute anew in which regions towers lie: those touched, or all where a border changed.

    The towers must be refreshed before: see :func:`registry.store.current_towers.refresh_towers`.
    """
    borders_changed = conn.execute("SELECT 1 FROM touched_region LIMIT 1").fetchone() is not None
    regions = _regions(conn)
    if borders_changed:
        conn.execute("DELETE FROM region_within")
        conn.executemany("INSERT INTO region_within VALUES (?, ?, ?, ?)", _within_rows(regions))
        conn.execute("DELETE FROM tower_region")
        chosen = ""
    else:
        conn.execute("DELETE FROM tower_region WHERE tower_id IN (SELECT id FROM touched_tower)")
        chosen = " WHERE id IN (SELECT id FROM touched_tower)"
    towers = conn.execute(
        f"SELECT id, region, latitude_deg, longitude_deg FROM tower_current{chosen} ORDER BY id"
    ).fetchall()
    placed = [
        Place(id_, latitude, longitude)
        for id_, _, latitude, longitude in towers
        if latitude is not None and longitude is not None
    ]
    pairs = dict.fromkeys(places_in_regions(regions, placed), "inside")
    outer: dict[str, list[str]] = {}
    for region_id, outer_id in conn.execute("SELECT region_id, outer_id FROM region_within"):
        outer.setdefault(region_id, []).append(outer_id)
    for id_, stated, latitude, longitude in towers:
        if stated is None:
            continue
        if latitude is None or longitude is None:
            pairs.update(((id_, outer_id), "inside") for outer_id in outer.get(stated, ()))
        pairs[id_, stated] = "stated"
    conn.executemany(
        "INSERT INTO tower_region VALUES (?, ?, ?)", ((*pair, basis) for pair, basis in sorted(pairs.items()))
    )


def _regions(conn: sqlite3.Connection) -> list[Region]:
    """Read the regions back; their borders were judged when they came."""
    rows = conn.execute("SELECT id, name, geojson, kind, valid, parent, version_of FROM region ORDER BY id")
    return [
        Region(
            id_, name, border_of(_polygons(geojson)).geometry, kind or "", valid or "", parent or "", of or ""
        )
        for id_, name, geojson, kind, valid, parent, of in rows
    ]


def _polygons(geojson: str) -> list[list[list[list[float]]]]:
    geometry = json.loads(geojson)
    coordinates = geometry["coordinates"]
    return [coordinates] if geometry["type"] == "Polygon" else coordinates


def _within_rows(regions: list[Region]) -> Iterator[Row]:
    """Give the regions that hold a region: the stated parent, the smallest first, then the parent's own."""
    valid = {region.id: read_validity(region.valid) for region in regions}
    computed = holders(regions, lambda one, other: valid[one.id].overlaps(valid[other.id]))
    circles = in_circles(regions)
    stated = {
        region.id: region.parent for region in regions if region.parent in valid and region.id not in circles
    }
    for region_id in computed:
        outer: dict[str, str] = {}
        _gather(region_id, stated, computed, outer)
        outer.pop(region_id, None)
        yield from (
            (region_id, place, outer_id, basis) for place, (outer_id, basis) in enumerate(outer.items(), 1)
        )


def _gather(
    region_id: str, stated: Mapping[str, str], computed: Mapping[str, list[str]], outer: dict[str, str]
) -> None:
    """Add to ``outer`` what holds a region, and what holds the parent it states."""
    parent = stated.get(region_id)
    if parent is not None and parent not in outer:
        outer[parent] = "stated"
    for outer_id in computed[region_id]:
        outer.setdefault(outer_id, "inside")
    if parent is not None:
        beyond: dict[str, str] = {}
        _gather(parent, stated, computed, beyond)
        for outer_id in beyond:
            outer.setdefault(outer_id, "inside")
