"""The signs on the map: towers, groups of towers too near to tell apart, and names where they fit."""

from collections.abc import Sequence
from math import sqrt
from typing import NamedTuple

NEAR = 32.0
"""Signs nearer than this [drawing units] become one group: a finger could not choose between them."""
LETTER_WIDTH = 6.6
LABEL_HEIGHT = 15.0
MOST_LABELS = 60


class TowerOnMap(NamedTuple):
    """A tower to be drawn; ``attention`` is 0 for none to 3 for grave."""

    id: str
    name: str
    latitude_deg: float
    longitude_deg: float
    bells: int
    attention: int


class PlacedTower(NamedTuple):
    """A tower in its place; ``radius`` grows with its bells, the shape follows what needs attention."""

    tower: TowerOnMap
    x: float
    y: float
    radius: float


class Group(NamedTuple):
    """Towers drawn as one, where that with most bells stands.

    ``bounds`` is west, south, east, north of the members [degrees].
    """

    x: float
    y: float
    radius: float
    towers: tuple[TowerOnMap, ...]
    bells: int
    attention: int
    bounds: tuple[float, float, float, float]


class Label(NamedTuple):
    """A name beside its sign."""

    x: float
    y: float
    anchor: str
    text: str


Point = tuple[TowerOnMap, float, float]


def grouped(points: Sequence[Point]) -> tuple[tuple[PlacedTower, ...], tuple[Group, ...]]:
    """Make groups of towers that stand too near to each other, the tower with most bells first."""
    clusters: list[list[Point]] = []
    by_cell: dict[tuple[int, int], list[int]] = {}
    for point in sorted(points, key=lambda point: (-point[0].bells, point[0].id)):
        _, x, y = point
        column, row = int(x // NEAR), int(y // NEAR)
        cells = ((column + right, row + down) for right in (-1, 0, 1) for down in (-1, 0, 1))
        near = [
            (_apart(clusters[index][0], x, y), index) for cell in cells for index in by_cell.get(cell, ())
        ]
        distance, index = min(near, default=(NEAR, -1))
        if distance < NEAR:
            clusters[index].append(point)
        else:
            by_cell.setdefault((column, row), []).append(len(clusters))
            clusters.append([point])
    singles = (cluster[0] for cluster in clusters if len(cluster) == 1)
    return (
        tuple(PlacedTower(tower, round(x, 1), round(y, 1), _radius(tower.bells)) for tower, x, y in singles),
        tuple(_group(cluster) for cluster in clusters if len(cluster) > 1),
    )


def labels_for(
    towers: Sequence[PlacedTower],
    groups: Sequence[Group],
    width: float,
    height: float,
    taken_already: Sequence[tuple[float, float, float, float]] = (),
) -> tuple[Label, ...]:
    """Set the names of single towers where they cover neither a sign nor another name.

    ``taken_already`` are places that hold something else, as left, top, right, bottom.
    """
    taken = list(taken_already)
    taken += [_box(tower.x, tower.y, tower.radius) for tower in towers]
    taken += [_box(group.x, group.y, group.radius) for group in groups]
    labels = []
    for sign in towers[:MOST_LABELS]:
        long = len(sign.tower.name) * LETTER_WIDTH
        beside = sign.radius + 5
        for anchor, x, y in (
            ("start", sign.x + beside, sign.y + 4),
            ("end", sign.x - beside, sign.y + 4),
            ("middle", sign.x, sign.y - beside - 2),
            ("middle", sign.x, sign.y + beside + 11),
        ):
            left = x - {"start": 0.0, "middle": long / 2, "end": long}[anchor]
            box = (left, y - LABEL_HEIGHT + 3, left + long, y + 3)
            fits = box[0] >= 2 and box[2] <= width - 2 and box[1] >= 2 and box[3] <= height - 22
            if fits and not any(_overlap(box, other) for other in taken):
                taken.append(box)
                labels.append(Label(round(x, 1), round(y, 1), anchor, sign.tower.name))
                break
    return tuple(labels)


def _apart(point: Point, x: float, y: float) -> float:
    return sqrt((point[1] - x) ** 2 + (point[2] - y) ** 2)


def _radius(bells: int) -> float:
    """Let the area of a sign grow with the bells, within what can be told apart and met with a finger."""
    return round(min(6.0 + 1.6 * sqrt(bells), 14.0), 1)


def _group(cluster: list[Point]) -> Group:
    towers = tuple(tower for tower, _, _ in cluster)
    longitudes = [tower.longitude_deg for tower in towers]
    latitudes = [tower.latitude_deg for tower in towers]
    return Group(
        round(cluster[0][1], 1),
        round(cluster[0][2], 1),
        round(min(10.0 + 0.8 * sqrt(len(towers)), NEAR / 2 - 1), 1),
        towers,
        sum(tower.bells for tower in towers),
        max(tower.attention for tower in towers),
        (min(longitudes), min(latitudes), max(longitudes), max(latitudes)),
    )


Box = tuple[float, float, float, float]


def _box(x: float, y: float, radius: float) -> Box:
    return x - radius, y - radius, x + radius, y + radius


def _overlap(one: Box, other: Box) -> bool:
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]
