"""Areas that someone asks for: polygons with holes, as GeoJSON (RFC 7946) or in the short spelling of a link.

An edge is a straight line of longitudes and latitudes, as RFC 7946 has it (3.1.1), not a geodesic. A border
belongs to its area, that of a hole as well. An area may cross the antimeridian: cut there into parts, or with
longitudes that go on beyond 180. A pole belongs to every area that reaches its latitude.
"""

import json
import math
import re
from collections.abc import Iterator, Sequence
from decimal import Decimal
from itertools import pairwise
from typing import Any, NamedTuple

from registry.geography.distances import Box
from registry.geography.regions import RegionFault

Ring = tuple[tuple[float, float], ...]
"""Corners as longitude and latitude [°]; the first is not repeated at the end."""

MOST_CORNERS = 20_000
"""Corners an area may have: the border of a district in fine detail stays below."""
FARTHEST_DEG = 360.0
"""Longitudes of an area that crosses the antimeridian in one piece may go on to here."""


class Area(NamedTuple):
    """Polygons, each its outer ring and then its holes."""

    polygons: tuple[tuple[Ring, ...], ...]

    @property
    def corners(self) -> int:
        """How many corners it has."""
        return sum(len(ring) for polygon in self.polygons for ring in polygon)


class AreaError(ValueError):
    """Everything wrong in an area, as faults with their place in it."""

    code = "bad-area"

    def __init__(self, faults: list[RegionFault]) -> None:
        first = faults[0]
        super().__init__(f"{first.path or 'the area'}: expected {first.expected}; {first.remedy}")
        self.faults = faults


def read_area(text: str) -> Area:
    """Read an area.

    Parameters
    ----------
    text : str
        GeoJSON (a Polygon or MultiPolygon, a Feature or FeatureCollection of these), or corners in the
        spelling of a link: ``lon,lat lon,lat lon,lat``, a hole behind ``;``, a further polygon behind ``|``.

    Raises
    ------
    AreaError
        Listing everything wrong.
    """
    faults: list[RegionFault] = []
    stripped = text.strip().removeprefix("\ufeff")
    read = (
        _geojson_rings(stripped, faults)
        if stripped.startswith(("{", "["))
        else _plain_rings(stripped, faults)
    )
    polygons = tuple(tuple(_ring(path, ring, faults) for path, ring in polygon) for polygon in read)
    corners = sum(len(ring) for polygon in polygons for ring in polygon)
    if not faults and corners > MOST_CORNERS:
        wanted = f"at most {MOST_CORNERS} corners"
        faults.append(RegionFault("", f"{corners} corners", wanted, "simplify the border"))
    if not faults:
        _check_shapes(polygons, faults)
    if faults:
        raise AreaError(faults)
    return Area(polygons)


def write_area(area: Area) -> str:
    """Write an area as it stands in a link; read again it is the same area, to the last digit."""
    return "|".join(
        ";".join(" ".join(f"{written(x)},{written(y)}" for x, y in ring) for ring in polygon)
        for polygon in area.polygons
    )


def written(value: float) -> str:
    """Write a number with the fewest digits that give it back, and never with an exponent."""
    text = format(Decimal(repr(float(value))), "f")
    return text.removesuffix(".0") if text != "-0.0" else "0"


def area_as_geojson(area: Area) -> dict[str, Any]:
    """Give an area as a GeoJSON geometry."""
    rings = [[[*map(list, ring), list(ring[0])] for ring in polygon] for polygon in area.polygons]
    if len(rings) == 1:
        return {"type": "Polygon", "coordinates": rings[0]}
    return {"type": "MultiPolygon", "coordinates": rings}


def boxes_of(area: Area) -> list[Box]:
    """Give boxes within ±180° that together hold the area."""
    boxes = []
    for outer, *_ in area.polygons:
        west, east = min(x for x, _ in outer), max(x for x, _ in outer)
        south, north = min(y for _, y in outer), max(y for _, y in outer)
        if abs(south) == 90.0 or abs(north) == 90.0:
            # The pole lies at every longitude.
            boxes += [Box(side, -180.0, side, 180.0) for side in (south, north) if abs(side) == 90.0]
        for turn in (-360.0, 0.0, 360.0):
            low, high = max(west + turn, -180.0), min(east + turn, 180.0)
            if low <= high:
                boxes.append(Box(south, low, north, high))
        # 180 and -180 are one meridian.
        boxes += [Box(south, -edge, north, -edge) for edge in (-180.0, 180.0) if west <= edge <= east]
    return boxes


def inside(area: Area, latitudes_deg: Sequence[float], longitudes_deg: Sequence[float]) -> list[bool]:
    """Say of each place whether it lies in the area or on its border.

    Parameters
    ----------
    area : Area
        The area.
    latitudes_deg, longitudes_deg : sequence of float
        The places [°], within 90 and 180.
    """
    import numpy as np  # noqa: PLC0415
    import shapely  # noqa: PLC0415

    y, x = np.asarray(latitudes_deg, dtype=float), np.asarray(longitudes_deg, dtype=float)
    found = np.zeros(x.shape, dtype=bool)
    for outer, *holes in area.polygons:
        polygon = shapely.Polygon(outer, holes)
        shapely.prepare(polygon)
        west, south, east, north = polygon.bounds
        found |= shapely.intersects_xy(polygon, x, y)
        for turn in (-360.0, 360.0):
            if west <= turn + 180.0 and east >= turn - 180.0:
                found |= shapely.intersects_xy(polygon, x + turn, y)
        found |= ((y == 90.0) & (north == 90.0)) | ((y == -90.0) & (south == -90.0))
    return [bool(each) for each in found]


Rings = list[list[tuple[str, list[Any]]]]

_PLAIN_POSITION = re.compile(r"(-?[0-9]{1,3}(?:\.[0-9]{0,20})?),(-?[0-9]{1,2}(?:\.[0-9]{0,20})?)").fullmatch
_POSITION = "a longitude and a latitude in degrees"
_LONGITUDE_FIRST = "longitude stands first, then latitude, in degrees of WGS 84"


def _plain_rings(text: str, faults: list[RegionFault]) -> Rings:
    """Read the spelling of a link."""
    polygons: Rings = []
    for at, polygon in enumerate(text.split("|"), start=1):
        rings = []
        for number, ring in enumerate(polygon.split(";")):
            path = f"polygon {at}, {f'hole {number}' if number else 'border'}"
            corners = []
            for place, position in enumerate(ring.split(), start=1):
                match = _PLAIN_POSITION(position)
                if match is None:
                    remedy = "write lon,lat with points and a space between corners"
                    faults.append(RegionFault(f"{path}, corner {place}", position[:40], _POSITION, remedy))
                    break
                corners.append([float(match[1]), float(match[2])])
            else:
                rings.append((path, corners))
        polygons.append(rings)
    return polygons


def _geojson_rings(text: str, faults: list[RegionFault]) -> Rings:
    """Take the rings of every polygon in a GeoJSON text."""
    try:
        data = json.loads(text, parse_constant=_refuse_constant)
    except (ValueError, RecursionError) as error:
        why = "it is nested too deep" if isinstance(error, RecursionError) else str(error)
        faults.append(RegionFault("", text[:20], "GeoJSON (RFC 7946)", f"mend the text: {why}"))
        return []
    polygons: Rings = []
    for path, geometry in _geometries(data):
        kind = geometry.get("type") if isinstance(geometry, dict) else None
        coordinates = geometry.get("coordinates") if isinstance(geometry, dict) else None
        parts = {"Polygon": [coordinates], "MultiPolygon": coordinates}.get(str(kind))
        if not isinstance(parts, list) or not parts:
            remedy = "draw the area as a closed border"
            faults.append(RegionFault(path, str(kind), "a Polygon or MultiPolygon", remedy))
            continue
        for place, part in enumerate(parts):
            where = f"{path}.coordinates" + (f"[{place}]" if kind == "MultiPolygon" else "")
            if not isinstance(part, list) or not part or not all(isinstance(ring, list) for ring in part):
                faults.append(RegionFault(where, str(part)[:40], "a list of rings", "add the outer ring"))
                continue
            polygons.append([(f"{where}[{number}]", ring) for number, ring in enumerate(part)])
    return polygons


def _refuse_constant(name: str) -> float:
    raise ValueError(f"{name} is no number in JSON")


def _geometries(data: Any) -> Iterator[tuple[str, Any]]:
    """Give every geometry of a text, with its path."""
    kind = data.get("type") if isinstance(data, dict) else None
    if kind == "FeatureCollection" and isinstance(data.get("features"), list) and data["features"]:
        for place, feature in enumerate(data["features"]):
            yield (
                f"features[{place}].geometry",
                feature.get("geometry") if isinstance(feature, dict) else None,
            )
    elif kind == "Feature":
        yield "geometry", data.get("geometry")
    else:
        yield "", data


def _ring(path: str, corners: list[Any], faults: list[RegionFault]) -> Ring:
    """Check one ring, and drop the corner that closes it."""
    ring = []
    for place, position in enumerate(corners):
        if not _is_position(position):
            faults.append(RegionFault(f"{path}[{place}]", str(position)[:40], _POSITION, _LONGITUDE_FIRST))
            return ()
        ring.append((position[0] + 0.0, position[1] + 0.0))
    if len(ring) > 1 and ring[0] == ring[-1]:
        ring.pop()
    if len(set(ring)) < 3:
        faults.append(
            RegionFault(path, f"{len(set(ring))} corners", "at least three corners", "add the others")
        )
    elif any(180.0 < abs(a[0] - b[0]) != 360.0 for a, b in pairwise([*ring, ring[0]])):
        remedy = (
            "go on beyond 180 (190 in the place of -170), or cut the area at the antimeridian; an edge"
            " that is meant to be so long needs a corner in its middle"
        )
        faults.append(RegionFault(path, "a step of more than 180°", "steps of at most 180°", remedy))
    return tuple(ring)


def _is_position(position: object) -> bool:
    """Say whether a value is a GeoJSON position: longitude, latitude and perhaps a height."""
    return (
        isinstance(position, list)
        and 2 <= len(position) <= 3
        and all(isinstance(number, int | float) and not isinstance(number, bool) for number in position)
        and all(math.isfinite(number) for number in position)
        and abs(position[0]) <= FARTHEST_DEG
        and abs(position[1]) <= 90
    )


def _check_shapes(polygons: Sequence[Sequence[Ring]], faults: list[RegionFault]) -> None:
    """Refuse rings that cross themselves or each other, for nobody could say what lies in them."""
    import shapely  # noqa: PLC0415

    for place, (outer, *holes) in enumerate(polygons, start=1):
        polygon = shapely.Polygon(outer, holes)
        if not shapely.is_valid(polygon):
            reason = shapely.is_valid_reason(polygon)
            wanted = "rings that neither cross nor overlap"
            faults.append(RegionFault(f"polygon {place}", reason, wanted, "mend the border there"))
