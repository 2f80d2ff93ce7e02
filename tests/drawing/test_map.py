"""The map: true to scale at its middle, nothing lost, everything linked."""

from math import cos, radians

import pytest

from registry.drawing.map import Frame, View, fitted, map_drawing, moved, together, view_around
from registry.drawing.map_outline import outline_path, rings_of
from registry.drawing.map_symbols import TowerOnMap
from registry.geography import distance_m


def tower(number: int, longitude: float, latitude: float, bells: int = 3, attention: int = 0) -> TowerOnMap:
    """Make a tower."""
    return TowerOnMap(f"tower-{number}", f"Tower {number}", latitude, longitude, bells, attention)


def test_view_is_true_to_scale_at_its_middle() -> None:
    """A degree of longitude is as much shorter than one of latitude as the middle parallel asks."""
    view = fitted(View(7.0, 45.0, 8.0, 46.0), 600.0, 400.0)
    frame = Frame(view, 600.0, 400.0)
    (x0, y0), (x1, y1) = frame.at(7.4, 45.4), frame.at(7.5, 45.5)
    assert (x1 - x0) / (y0 - y1) == pytest.approx(cos(radians(45.5)))
    assert view.west <= 7.0
    assert view.north >= 46.0


def test_scale_bar_has_the_length_it_says() -> None:
    """The bar is checked against the geodesic on the ellipsoid; the sphere of the map may be off by 0.5 %."""
    drawing = map_drawing([tower(1, 7.0, 45.0), tower(2, 8.0, 46.0)], [], View(7, 45, 8, 46), 700.0, 500.0)
    longitude, latitude = drawing.view.centre
    span = drawing.scale_width / drawing.width * (drawing.view.east - drawing.view.west)
    metres = distance_m((latitude, longitude), (latitude, longitude + span))
    assert metres / 1000 == pytest.approx(drawing.scale_km, rel=0.005)


def test_no_tower_in_view_is_lost() -> None:
    """Towers stand alone or in a group, each once, those outside the view nowhere."""
    towers = [tower(n, 7.0 + n * 0.013, 45.0 + n % 7 * 0.02) for n in range(60)]
    towers.append(tower(99, 20.0, 45.0))
    drawing = map_drawing(towers, [], View(7.0, 45.0, 7.8, 45.2), 400.0, 300.0)
    shown = [sign.tower.id for sign in drawing.towers]
    shown += [member.id for group in drawing.groups for member in group.towers]
    assert sorted(shown) == sorted(each.id for each in towers[:60])
    assert drawing.groups


def test_a_group_carries_the_gravest_attention_and_all_bells() -> None:
    """What is hidden in a group is told by it."""
    towers = [tower(1, 7.5, 45.5, bells=6), tower(2, 7.5001, 45.5, bells=2, attention=3)]
    (group,) = map_drawing(towers, [], View(7, 45, 8, 46), 400.0, 300.0).groups
    assert (group.bells, group.attention) == (8, 3)
    assert group.bounds == (7.5, 45.5, 7.5001, 45.5)


def test_labels_cover_neither_signs_nor_each_other() -> None:
    """Names are set only where there is room."""
    towers = [tower(n, 7.0 + n * 0.05, 45.3 + n % 5 * 0.03) for n in range(20)]
    drawing = map_drawing(towers, [], View(7.0, 45.2, 8.0, 45.6), 500.0, 350.0)
    boxes = []
    for label in drawing.labels:
        long = len(label.text) * 6.6
        left = label.x - {"start": 0.0, "middle": long / 2, "end": long}[label.anchor]
        boxes.append((left, label.y - 12, left + long, label.y + 3))
    for index, one in enumerate(boxes):
        assert one[0] >= 0
        assert one[2] <= drawing.width
        for other in boxes[index + 1 :]:
            assert one[0] >= other[2] or other[0] >= one[2] or one[1] >= other[3] or other[1] >= one[3]


def test_moving_and_zooming_keep_the_shape() -> None:
    """Zooming by two halves both sides, moving east shifts by parts of the width, the poles are the end."""
    view = View(6.0, 44.0, 8.0, 45.0)
    closer = moved(view, zoom=2)
    assert (closer.east - closer.west, closer.north - closer.south) == pytest.approx((1.0, 0.5))
    assert moved(view, east=0.5).west == pytest.approx(7.0)
    assert moved(View(-180, -90, 180, 90), zoom=0.5, north=5.0).centre == (0.0, 85.0)


def test_a_view_survives_its_address() -> None:
    """Written into an address and read back, a view is the same within a metre."""
    view = View(-7.512345, 45.1, -6.0, 46.25)
    again = [float(part) for part in view.as_text().split(",")]
    assert again == pytest.approx(list(view), abs=1e-5)


@pytest.mark.parametrize(
    "points", [[], [(7.5, 45.5)], [(7.5, 45.5), (7.5, 45.5)], [(179.9, 80.0), (-179.9, -80.0)]]
)
def test_any_towers_give_a_view(points: list[tuple[float, float]]) -> None:
    """No tower, one tower, two in one place and two at the ends of the world can all be drawn."""
    view = view_around(points)
    drawing = map_drawing([tower(n, *point) for n, point in enumerate(points)], [], view, 330.0, 300.0)
    found = len(drawing.towers) + sum(len(group.towers) for group in drawing.groups)
    assert found == len(points)
    assert drawing.scale_width <= 330.0


def test_outlines_keep_what_shows_and_drop_what_does_not() -> None:
    """A ring round the view stays, one beside it goes, and near points are thinned."""

    def same(longitude: float, latitude: float) -> tuple[float, float]:
        return longitude, latitude

    around = [(-50.0, -50.0), (150.0, -50.0), (150.0, 150.0), (-50.0, 150.0), (-50.0, -50.0)]
    beside = [(200.0, 0.0), (300.0, 0.0), (300.0, 90.0), (200.0, 0.0)]
    fine = [(10 + n * 0.01, 10.0) for n in range(1000)] + [(20.0, 50.0), (10.0, 10.0)]
    assert outline_path([around], same, 100.0, 100.0).startswith("M-50.0,-50.0")
    assert outline_path([beside], same, 100.0, 100.0) == ""
    assert outline_path([fine], same, 100.0, 100.0).count(",") < 30


def test_rings_are_read_from_polygons_alone() -> None:
    """Polygon and MultiPolygon give their rings, anything else gives none."""
    square = [[0, 0], [1, 0], [1, 1], [0, 0]]
    assert len(rings_of({"type": "Polygon", "coordinates": [square, square]})) == 2
    assert len(rings_of({"type": "MultiPolygon", "coordinates": [[square], [square]]})) == 2
    assert rings_of({"type": "Point", "coordinates": [0, 0]}) == []
    assert rings_of(None) == []


def test_the_map_crosses_the_antimeridian() -> None:
    """Towers on both sides of the 180th meridian stand side by side, with the border between them whole."""
    towers = [tower(1, 179.5, -17.0), tower(2, -179.5, -17.2)]
    view = view_around([(each.longitude_deg, each.latitude_deg) for each in towers])
    assert view.east - view.west < 2.0
    border = [[(179.0, -18.0), (180.0, -18.0), (180.0, -16.0), (179.0, -16.0), (179.0, -18.0)]]
    beyond = [[(-180.0, -18.0), (-179.0, -18.0), (-179.0, -16.0), (-180.0, -16.0), (-180.0, -18.0)]]
    drawing = map_drawing(towers, [("Isles", border + beyond)], view, 600.0, 400.0)
    signs = {sign.tower.id: sign for sign in drawing.towers}
    assert signs.keys() == {"tower-1", "tower-2"}
    assert signs["tower-1"].x < signs["tower-2"].x
    assert len(drawing.outlines) == 1
    assert drawing.outlines[0][1].count("M") == 2
    labels = {line.label for line in drawing.grid if line.upright}
    assert {"179.5°E", "180°", "179.5°W"} <= labels


def test_steps_go_round_the_world() -> None:
    """East of the antimeridian comes the west, and a group there leads to a view of its members."""
    view = View(170.0, -10.0, 180.0, 0.0)
    for _ in range(40):
        view = moved(view, east=1.0)
        assert -185.0 <= view.centre[0] <= 185.0
    towers = [tower(1, 179.9999, 0.0), tower(2, -179.9999, 0.0)]
    (group,) = map_drawing(towers, [], View(170.0, -10.0, 190.0, 10.0), 400.0, 300.0).groups
    west, _, east, _ = group.bounds
    assert east - west == pytest.approx(0.0002)


@pytest.mark.parametrize(
    ("longitudes", "span"),
    [
        ([179.0, -179.0], 2.0),
        ([-10.0, 10.0], 20.0),
        ([0.0, 120.0, -120.0], 240.0),
        ([5.0], 0.0),
        ([-180.0, 180.0], 0),
    ],
)
def test_longitudes_stand_together(longitudes: list[float], span: float) -> None:
    """The narrowest view that holds all is found wherever it lies; the same places, whole turns apart."""
    found = together(longitudes)
    assert max(found) - min(found) == pytest.approx(span)
    assert [(a - b) % 360.0 for a, b in zip(found, longitudes, strict=True)] == pytest.approx(
        [0.0] * len(found)
    )


def test_what_was_asked_is_drawn() -> None:
    """An area or a circle of a question stands on the map, over the antimeridian too."""
    ring = [[(175.0, 0.0), (185.0, 0.0), (180.0, 5.0)]]
    drawing = map_drawing([], [], View(-185.0, -5.0, -170.0, 8.0), 400.0, 300.0, asked=[("asked", ring)])
    assert [name for name, _ in drawing.asked] == ["asked"]
