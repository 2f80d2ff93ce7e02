"""A map that needs no internet and no script: outlines, towers, graticule and scale, drawn by the server.

The projection is equirectangular, true to scale at the middle latitude of the view. A view may reach beyond
the 180th meridian: everything is drawn as often as the view holds it.
"""

from collections.abc import Iterator, Sequence
from math import ceil, cos, floor, log10, radians
from typing import NamedTuple

from registry.drawing.map_outline import outline_path
from registry.drawing.map_symbols import (
    LETTER_WIDTH,
    Group,
    Label,
    PlacedTower,
    TowerOnMap,
    grouped,
    labels_for,
)

KM_PER_DEGREE = 111.195
"""Of a great circle on a sphere of radius 6371.0088 km, the mean radius of the earth (IUGG)."""
SMALLEST_SPAN_DEG = 0.004
WIDEST_SPAN_DEG = 360.0


class View(NamedTuple):
    """The part of the world that is shown [degrees]."""

    west: float
    south: float
    east: float
    north: float

    def as_text(self) -> str:
        """Write the view as it stands in an address: ``west,south,east,north``."""
        return ",".join(f"{edge:.5f}".rstrip("0").rstrip(".") for edge in self)

    def holds(self, longitude: float, latitude: float) -> bool:
        """Say whether a point is shown."""
        return self.south <= latitude <= self.north and self.nearby(longitude) is not None

    def nearby(self, longitude: float) -> float | None:
        """Give a longitude as the view has it, perhaps beyond 180; None where it lies outside."""
        east = longitude + 360.0 * ceil((self.west - longitude) / 360.0)
        return east if east <= self.east else None

    @property
    def centre(self) -> tuple[float, float]:
        """Longitude and latitude of the middle."""
        return (self.west + self.east) / 2, (self.south + self.north) / 2


class Frame(NamedTuple):
    """How degrees become drawing units."""

    view: View
    width: float
    height: float

    def at(self, longitude: float, latitude: float) -> tuple[float, float]:
        """Give the place of a point in the drawing."""
        x = (longitude - self.view.west) / (self.view.east - self.view.west) * self.width
        y = (self.view.north - latitude) / (self.view.north - self.view.south) * self.height
        return x, y


class GridLine(NamedTuple):
    """One meridian or parallel."""

    at: float
    label: str
    upright: bool

    def label_box(self) -> tuple[float, float, float, float]:
        """Give the place of its label: left, top, right, bottom."""
        half = len(self.label) * LETTER_WIDTH / 2
        if self.upright:
            return self.at - half, 0.0, self.at + half, 18.0
        return 0.0, self.at - 16, 2 * half + 6, self.at + 2


class MapDrawing(NamedTuple):
    """What the template needs to draw the map."""

    width: float
    height: float
    view: View
    outlines: tuple[tuple[str, str], ...]
    grid: tuple[GridLine, ...]
    towers: tuple[PlacedTower, ...]
    groups: tuple[Group, ...]
    labels: tuple[Label, ...]
    scale_km: float
    scale_width: float
    asked: tuple[tuple[str, str], ...] = ()


def view_around(points: Sequence[tuple[float, float]], margin: float = 0.12) -> View:
    """Give the smallest view that holds all points (longitude, latitude), with a margin in parts of it."""
    if not points:
        return View(-180.0, -90.0, 180.0, 90.0)
    every, latitudes = zip(*points, strict=True)
    longitudes = together(every)
    wide = max(max(longitudes) - min(longitudes), SMALLEST_SPAN_DEG)
    tall = max(max(latitudes) - min(latitudes), SMALLEST_SPAN_DEG)
    east_west, north_south = (
        (min(longitudes) + max(longitudes)) / 2,
        (min(latitudes) + max(latitudes)) / 2,
    )
    return View(
        east_west - wide * (0.5 + margin),
        north_south - tall * (0.5 + margin),
        east_west + wide * (0.5 + margin),
        north_south + tall * (0.5 + margin),
    )


def together(longitudes: Sequence[float]) -> list[float]:
    """Give longitudes so that they lie closest together: cut in their widest gap, perhaps beyond 180."""
    around = sorted({longitude % 360.0 for longitude in longitudes})
    gaps = [
        (after - before, after)
        for before, after in zip(around, [*around[1:], around[0] + 360.0], strict=True)
    ]
    straight = max(longitudes) - min(longitudes)
    widest, start = max(gaps)
    if 360.0 - widest >= straight:
        return list(longitudes)
    west = (start + 180.0) % 360.0 - 180.0
    return [west + (longitude - west) % 360.0 for longitude in longitudes]


def fitted(view: View, width: float, height: float) -> View:
    """Widen a view to the shape of the drawing, true to scale at its middle latitude."""
    longitude, latitude = view.centre
    shrink = max(cos(radians(latitude)), 0.05)
    wide = max(view.east - view.west, SMALLEST_SPAN_DEG)
    tall = max(view.north - view.south, SMALLEST_SPAN_DEG * shrink)
    wide = min(max(wide, tall / shrink * width / height), WIDEST_SPAN_DEG)
    tall = wide * shrink * height / width
    return View(longitude - wide / 2, latitude - tall / 2, longitude + wide / 2, latitude + tall / 2)


def moved(view: View, *, zoom: float = 1.0, east: float = 0.0, north: float = 0.0) -> View:
    """Give a neighbouring view: ``zoom`` 2 shows half of it, ``east`` and ``north`` shift by parts of it."""
    longitude, latitude = view.centre
    wide = min(max((view.east - view.west) / zoom, SMALLEST_SPAN_DEG), WIDEST_SPAN_DEG)
    tall = (view.north - view.south) * wide / (view.east - view.west)
    longitude = (longitude + east * wide + 180.0) % 360.0 - 180.0
    latitude = min(max(latitude + north * tall, -85.0), 85.0)
    return View(longitude - wide / 2, latitude - tall / 2, longitude + wide / 2, latitude + tall / 2)


def map_drawing(  # noqa: PLR0913 - what is drawn, where, and how large
    towers: Sequence[TowerOnMap],
    regions: Sequence[tuple[str, Sequence[Sequence[tuple[float, float]]]]],
    view: View,
    width: float,
    height: float,
    *,
    asked: Sequence[tuple[str, Sequence[Sequence[tuple[float, float]]]]] = (),
) -> MapDrawing:
    """Draw the map.

    Parameters
    ----------
    towers : sequence of TowerOnMap
        All towers; those outside the view are left out.
    regions : sequence of (name, rings)
        Borders as rings of (longitude, latitude) [degrees].
    view : View
        What to show; it is widened to the shape of the drawing.
    width, height : float
        Size of the drawing in drawing units (CSS pixels).
    asked : sequence of (name, rings)
        What a question asked for: an area, a circle.
    """
    frame = Frame(fitted(view, width, height), width, height)
    shown = frame.view
    inside = [
        tower._replace(longitude_deg=east)
        for tower in towers
        if shown.south <= tower.latitude_deg <= shown.north
        and (east := shown.nearby(tower.longitude_deg)) is not None
    ]
    singles, groups = grouped(
        [(tower, *frame.at(tower.longitude_deg, tower.latitude_deg)) for tower in inside]
    )
    grid = tuple(_grid(frame))
    km, bar = _scale_bar(frame)
    return MapDrawing(
        width,
        height,
        shown,
        tuple(_outlines(frame, regions)),
        grid,
        singles,
        groups,
        labels_for(singles, groups, width, height, [line.label_box() for line in grid]),
        km,
        bar,
        tuple(_outlines(frame, asked)),
    )


def _outlines(
    frame: Frame, shapes: Sequence[tuple[str, Sequence[Sequence[tuple[float, float]]]]]
) -> Iterator[tuple[str, str]]:
    """Draw shapes as often as the view holds them."""
    for name, rings in shapes:
        turned = ([[(x + turn, y) for x, y in ring] for ring in rings] for turn in (-360.0, 0.0, 360.0))
        paths = (outline_path(each, frame.at, frame.width, frame.height) for each in turned)
        if path := " ".join(each for each in paths if each):
            yield name, path


def _scale_bar(frame: Frame) -> tuple[float, float]:
    """Give a round length [km] of about a quarter of the width, and how wide it is drawn."""
    across = (frame.view.east - frame.view.west) * KM_PER_DEGREE * cos(radians(frame.view.centre[1]))
    power = 10 ** floor(log10(across / 4))
    length = max(step * power for step in (1, 2, 5) if step * power <= across / 4)
    return length, round(length / across * frame.width, 1)


def _grid(frame: Frame) -> list[GridLine]:
    """Draw meridians and parallels at round degrees."""
    view = frame.view
    lines = []
    for low, high, upright in ((view.west, view.east, True), (view.south, view.north, False)):
        step = _grid_step(high - low)
        first = floor(low / step) + 1
        for index in range(first, first + 12):
            degrees = index * step
            if degrees >= high:
                break
            at = frame.at(degrees, view.north)[0] if upright else frame.at(view.west, degrees)[1]
            lines.append(GridLine(round(at, 1), _degrees(degrees, "EW" if upright else "NS"), upright))
    return lines


def _grid_step(span: float) -> float:
    """Choose a round step that gives about four lines."""
    power = 10.0 ** floor(log10(span / 4))
    return next((step * power for step in (1, 2, 5) if span / (step * power) <= 5), 10 * power)


def _degrees(value: float, hemispheres: str) -> str:
    if hemispheres == "EW" and abs(value) > 180.0:
        value = (value + 180.0) % 360.0 - 180.0
    if hemispheres == "EW":
        value = (value + 180.0) % 360.0 - 180.0 or 0.0
    text = f"{abs(value):.3f}".rstrip("0").rstrip(".")
    side = hemispheres[value < 0] if 0 < abs(value) < 180 else ""
    return f"{text}°{side}"
