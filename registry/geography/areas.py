"""Areas that someone asks for: polygons with holes, as GeoJSON (RFC 7946) or in the short spelling of a link.

An edge is a straight line of longitudes and latitudes, as RFC 7946 has it (3.1.1), not a geodesic. A border
belongs to its area, that of a hole as well. An area may cross the antimeridian, cut there or not, and go
round a pole; :mod:`registry.geography.rings` says how.
"""

import json
import math
import re
from collections.abc import Iterable, Iterator, Sequence
from decimal import Decimal
from typing import Any, NamedTuple

from registry.geography.distances import Box
from registry.geography.regions import RegionFault
from registry.geography.rings import BorderError, border_of

Ring = tuple[tuple[float, float], ...]
"""Corners as longitude and latitude [°]; the first is not repeated at the end."""

MOST_CORNERS = 20_000
"""Corners an area may have: the border of a district in fine detail stays below."""


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


def shapes_of(area: Area) -> list[Any]:
    """Give the polygons of an area as shapes of the world, cut at the antimeridian."""
    return [border_of([[[*ring, ring[0]] for ring in polygon]]).geometry for polygon in area.polygons]


def boxes_of(shapes: Iterable[Any]) -> list[Box]:
    """Give boxes that together hold some shapes; the antimeridian and the poles belong to both sides."""
    boxes = []
    for shape in shapes:
        for part in getattr(shape, "geoms", [shape]):
            west, south, east, north = part.bounds
            boxes.append(Box(south, west, north, east))
            boxes += [Box(south, -edge, north, -edge) for edge in (west, east) if abs(edge) == 180.0]
            boxes += [Box(edge, -180.0, edge, 180.0) for edge in (south, north) if abs(edge) == 90.0]
    return boxes


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
    return tuple(ring)


def _is_position(position: object) -> bool:
    """Say whether a value is a GeoJSON position: longitude, latitude and perhaps a height."""
    return (
        isinstance(position, list)
        and 2 <= len(position) <= 3
        and all(isinstance(number, int | float) and not isinstance(number, bool) for number in position)
        and all(math.isfinite(number) for number in position)
        and abs(position[0]) <= 180
        and abs(position[1]) <= 90
    )


def _check_shapes(polygons: Sequence[tuple[Ring, ...]], faults: list[RegionFault]) -> None:
    """Refuse rings that cross themselves or each other, for nobody could say what lies in them."""
    for place, polygon in enumerate(polygons, start=1):
        try:
            shapes_of(Area((polygon,)))
        except BorderError as error:
            wanted = "rings that neither cross nor overlap"
            faults.append(RegionFault(f"polygon {place}", str(error), wanted, "mend the border there"))
