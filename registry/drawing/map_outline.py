"""Borders as SVG paths: thinned to what can be seen."""

from collections.abc import Callable, Sequence

LEAST_STEP = 0.7
"""Points nearer to the last one than this [drawing units] cannot be told apart."""

Ring = Sequence[tuple[float, float]]


def outline_path(
    rings: Sequence[Ring],
    at: Callable[[float, float], tuple[float, float]],
    width: float,
    height: float,
) -> str:
    """Draw rings of (longitude, latitude) as one path; empty where nothing of them crosses the view."""
    parts = []
    for ring in rings:
        points = _thinned([at(longitude, latitude) for longitude, latitude in ring], width, height)
        if len(points) > 2 and _reaches_view(points, width, height):
            parts.append("M" + " ".join(f"{x:.1f},{y:.1f}" for x, y in points) + "Z")
    return " ".join(parts)


def rings_of(geometry: object) -> list[list[tuple[float, float]]]:
    """Take the rings from a GeoJSON geometry: Polygon or MultiPolygon, as RFC 7946 has them."""
    if not isinstance(geometry, dict):
        return []
    coordinates = geometry.get("coordinates", [])
    polygons = {"Polygon": [coordinates], "MultiPolygon": coordinates}.get(str(geometry.get("type")), [])
    return [
        [(float(point[0]), float(point[1])) for point in ring] for polygon in polygons for ring in polygon
    ]


def _zone(x: float, y: float, width: float, height: float) -> int:
    """Say on which sides of the view a point lies, as bits (Cohen and Sutherland)."""
    return (x < 0) | (x > width) << 1 | (y < 0) << 2 | (y > height) << 3


def _thinned(points: list[tuple[float, float]], width: float, height: float) -> list[tuple[float, float]]:
    """Drop points that are too near to the last, or between two others beyond the same side of the view."""
    kept: list[tuple[float, float]] = []
    zones: list[int] = []
    for x, y in points:
        zone = _zone(x, y, width, height)
        if kept and zone == 0 and abs(x - kept[-1][0]) + abs(y - kept[-1][1]) < LEAST_STEP:
            continue
        if len(kept) > 1 and zone & zones[-1] & zones[-2]:
            kept.pop()
            zones.pop()
        kept.append((x, y))
        zones.append(zone)
    return kept


def _reaches_view(points: list[tuple[float, float]], width: float, height: float) -> bool:
    shared = 15
    for x, y in points:
        shared &= _zone(x, y, width, height)
    return shared == 0
