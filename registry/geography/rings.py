"""Rings of GeoJSON as areas of the world: over the antimeridian, round a pole, with holes.

Edges are straight in longitude and latitude (RFC 7946, section 3.1.1). A border that crosses the antimeridian
should come cut there (section 3.1.9); one that does not is cut here. A step of more than 180° and less than
360° from one position to the next goes the short way, over the antimeridian. A step of 360° is an edge along
the whole width of the map, as at the foot of a cut ring round a pole; where rings make sense only without it,
it is the same place written with both signs. A ring that goes once round the earth holds the pole of the
hemisphere in which more of it runs.
"""

from collections.abc import Iterable, Sequence
from functools import partial
from itertools import pairwise
from math import copysign
from typing import Any, NamedTuple

Ring = Sequence[Sequence[float]]
"""Positions, longitude first, the last the same as the first."""

SAME_AREA = 1e-9
"""Part of an area below which a difference is rounding."""


class BorderError(ValueError):
    """Rings that make no area; the message says why, and where if that is known."""


class Border(NamedTuple):
    """An area of the world, cut at the antimeridian; ``uncut`` says that it came otherwise."""

    geometry: Any
    uncut: bool


def border_of(polygons: Sequence[Sequence[Ring]]) -> Border:
    """Make one area of polygons, each an outer ring and the rings of its holes.

    Parameters
    ----------
    polygons : sequence
        Closed rings of longitude and latitude [°], within 180 and 90.

    Returns
    -------
    Border
        With a valid shapely polygon or multipolygon within 180 and 90, prepared for many questions.

    Raises
    ------
    BorderError
        Where rings cross themselves or each other, polygons overlap, or a hole lies outside.
    """
    import shapely  # noqa: PLC0415

    flat = [[[(float(at[0]), float(at[1])) for at in ring] for ring in rings] for rings in polygons]
    steps = [abs(b[0] - a[0]) for rings in flat for ring in rings for a, b in pairwise(ring)]
    uncut = any(180.0 < step < 360.0 for step in steps)
    try:
        geometry = _joined([_cut_polygon(rings, seam=False) for rings in flat])
    except BorderError:
        if 360.0 not in steps:
            raise
        geometry, uncut = _joined([_cut_polygon(rings, seam=True) for rings in flat]), True
    shapely.prepare(geometry)
    return Border(geometry, uncut)


def _joined(parts: list[Any]) -> Any:
    """Put polygons together that must not overlap."""
    import shapely  # noqa: PLC0415

    simple = [polygon for part in parts for polygon in shapely.get_parts(part)]
    return _valid(simple[0] if len(simple) == 1 else shapely.MultiPolygon(simple))


def _valid(geometry: Any) -> Any:
    import shapely  # noqa: PLC0415

    if not shapely.is_valid(geometry):
        raise BorderError(str(shapely.is_valid_reason(geometry)))
    if geometry.is_empty:
        raise BorderError("a ring without an area")
    return geometry


def _cut_polygon(rings: list[list[tuple[float, float]]], *, seam: bool) -> Any:
    """Make the area of one outer ring without its holes."""
    import shapely  # noqa: PLC0415

    unrolled = [_unrolled(ring, seam=seam) for ring in rings]
    if all(each.along == ring for each, ring in zip(unrolled, rings, strict=True)):
        return _valid(shapely.Polygon(rings[0], rings[1:]))
    outer, *holes = [_area(each) for each in unrolled]
    for hole in holes:
        if not outer.covers(hole):
            raise BorderError("Hole lies outside shell")
        outer = shapely.difference(outer, hole)
    return _valid(_polygons_of(outer))


class _Unrolled(NamedTuple):
    """A ring without jumps: its longitudes go on beyond 180; ``turn`` is 0, or 360 once round the earth."""

    along: list[tuple[float, float]]
    turn: float
    written: dict[tuple[float, float], float]
    """The longitudes as they were, by the position along the ring."""


def _unrolled(ring: list[tuple[float, float]], *, seam: bool) -> _Unrolled:
    turn = 0.0
    along = [ring[0]]
    written = {ring[0]: ring[0][0]}
    for (before, _), (longitude, latitude) in pairwise(ring):
        step = longitude - before
        if 180.0 < abs(step) < 360.0 or (seam and abs(step) == 360.0):
            turn -= copysign(360.0, step)
        along.append((longitude + turn, latitude))
        written[along[-1]] = longitude
    return _Unrolled(along, turn, written)


def _area(ring: _Unrolled) -> Any:
    """Give the area in a ring, cut at the antimeridian."""
    import shapely  # noqa: PLC0415

    if abs(ring.turn) > 360.0:
        raise BorderError("a ring that goes round the earth more than once")
    along = list(ring.along)
    if ring.turn:
        north = sum((b[0] - a[0]) * (a[1] + b[1]) for a, b in pairwise(along)) * copysign(1.0, ring.turn)
        if north == 0.0:
            raise BorderError("a ring round the earth, as near to one pole as to the other: cut it")
        pole = copysign(90.0, north)
        # Steps of a quarter turn: the area stays the same when it is written and read again.
        along += [(along[-1][0] - ring.turn * quarters / 4, pole) for quarters in range(5)]
    whole = shapely.Polygon(along)
    pieces = list(_pieces(_valid(whole), ring.written))
    area = shapely.union_all(pieces)
    if sum(piece.area for piece in pieces) > area.area * (1 + SAME_AREA):
        raise BorderError("a ring that overlaps itself beyond the antimeridian")
    return _polygons_of(area)


def _pieces(whole: Any, written: dict[tuple[float, float], float]) -> Iterable[Any]:
    """Cut an area at each antimeridian it crosses, and bring the pieces back within 180.

    Positions keep the longitude they were written with, so that a place on a corner stays there.
    """
    import shapely  # noqa: PLC0415

    west, _, east, _ = whole.bounds
    first, last = int((west + 180.0) // 360.0), int((east + 180.0) // 360.0)
    for turns in range(first, last + 1):
        edge = 360.0 * turns
        part = _polygons_of(shapely.intersection(whole, shapely.box(edge - 180.0, -90.0, edge + 180.0, 90.0)))
        if not part.is_empty:
            yield shapely.transform(part, partial(_back, edge=edge, written=written))


def _back(points: Any, edge: float, written: dict[tuple[float, float], float]) -> Any:
    back = points.copy()
    for row in back:
        longitude, latitude = float(row[0]), float(row[1])
        before = written.get((longitude, latitude))
        shifted = longitude - edge
        # A corner on the antimeridian itself lies at either end of the map, by the side it is seen from.
        row[0] = before if before is not None and abs(before - shifted) < 1.0 else shifted
    return back


def _polygons_of(geometry: Any) -> Any:
    """Leave out the lines and points in which areas only touch."""
    import shapely  # noqa: PLC0415

    polygons = [part for part in _flat(geometry) if part.geom_type == "Polygon" and part.area > 0.0]
    return polygons[0] if len(polygons) == 1 else shapely.MultiPolygon(polygons)


def _flat(geometry: Any) -> list[Any]:
    if not hasattr(geometry, "geoms"):
        return [geometry]
    return [inner for part in geometry.geoms for inner in _flat(part)]
