"""What the rim shows beyond places: pits, turnings, and where a bell could be struck next."""

import re

import pytest

from registry.drawing.rim import DEEPER, RIM, CrackSeen, StrikeSeen, rim_drawing


def distances(path: str) -> list[float]:
    """Give how far the points of a path lie from the middle."""
    points = re.findall(r"(-?[0-9.]+),(-?[0-9.]+)", path)
    return [((float(x) - 150) ** 2 + (float(y) - 150) ** 2) ** 0.5 for x, y in points]


def test_the_wall_is_to_scale_where_it_was_measured() -> None:
    """A wall of 80 mm in a mouth of 1000 mm takes 16 % of the radius."""
    drawing = rim_drawing([], [], mouth_diameter_mm=1000.0, wall_mm=80.0)
    assert drawing.to_scale
    assert (RIM - drawing.inner) / RIM == pytest.approx(0.16, abs=0.001)
    assert not rim_drawing([], []).to_scale


def test_a_pit_bites_from_inside_and_a_hammer_from_outside() -> None:
    """The pit of a clapper lies on the inner edge, that of a hammer on the outer, three times as deep."""
    strikes = [
        StrikeSeen(1, 90.0, "in-use", "clapper", 5.0, 70.0),
        StrikeSeen(2, 200.0, "in-use", "hammer", 5.0, 70.0),
        StrikeSeen(3, 270.0, "in-use", "clapper", None, 70.0),
    ]
    drawing = rim_drawing(strikes, [], mouth_diameter_mm=1000.0, wall_mm=80.0)
    inside, outside, unknown = drawing.strikes
    depth = 5.0 * DEEPER * 2 * RIM / 1000.0
    assert max(distances(inside.pit)) - drawing.inner - depth < 0.2
    assert abs(RIM - depth - min(distances(outside.pit))) < 0.2
    assert unknown.pit == ""


def test_a_pit_never_leaves_the_wall() -> None:
    """However deep a pit is told to be, some wall is left in the drawing."""
    drawing = rim_drawing(
        [StrikeSeen(1, 0.0, "in-use", "clapper", 150.0, 900.0)], [], mouth_diameter_mm=1000.0, wall_mm=80.0
    )
    assert max(distances(drawing.strikes[0].pit)) < RIM


def test_a_turning_leads_from_the_old_point_to_the_new_one() -> None:
    """The arc ends at the point in use that lies as far away as the bell was turned."""
    drawing = rim_drawing(
        [
            StrikeSeen(1, 0.0, "old", turned_by_deg=90.0),
            StrikeSeen(2, 88.0, "in-use"),
            StrikeSeen(3, 268.0, "in-use"),
        ],
        [],
    )
    (turn,) = drawing.turns
    assert turn.words == "90°"
    assert rim_drawing([StrikeSeen(1, 0.0, "old", turned_by_deg=90.0)], []).turns == ()


def test_words_that_would_meet_are_left_to_the_table() -> None:
    """Of two points close together only the first keeps its words; both keep their marks."""
    words = ("3 mm deep",)
    drawing = rim_drawing(
        [StrikeSeen(1, 90.0, "in-use", words=words), StrikeSeen(2, 97.0, "in-use", words=words)], []
    )
    assert [mark.words for mark in drawing.strikes] == [words, ()]


def test_room_beside_the_rim_only_where_there_are_words() -> None:
    """A rim without words is a square."""
    assert rim_drawing([StrikeSeen(1, 90.0, None)], []).beside == 0
    assert rim_drawing([StrikeSeen(1, 90.0, None, words=("x",))], []).beside > 0


def test_free_places_are_arcs_outside_the_rim() -> None:
    """A part of the rim proposed for striking is drawn from bearing to bearing."""
    (free,) = rim_drawing([], [], free_deg=[(84.0, 96.0)]).free
    assert (free.first_deg, free.last_deg) == (84.0, 96.0)
    assert free.path.startswith("M")


def test_the_label_of_a_crack_keeps_clear_of_words() -> None:
    """Where depth and wall stand beside the rim the label of a crack stands inside, else outside."""
    strike = StrikeSeen(1, 90.0, "in-use", words=("3 mm deep",))
    near, far = rim_drawing(
        [strike], [CrackSeen(1, 95.0, "confirmed", "outside"), CrackSeen(2, 200.0, "confirmed", "outside")]
    ).cracks
    assert distances(f"{near.label_x},{near.label_y}")[0] < RIM < distances(f"{far.label_x},{far.label_y}")[0]
