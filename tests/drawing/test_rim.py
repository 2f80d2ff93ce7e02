"""Strike points and cracks on the rim."""

import pytest

from registry.drawing.rim import CENTRE, CrackSeen, StrikeSeen, at_bearing, rim_drawing


@pytest.mark.parametrize(
    ("bearing", "place"),
    [
        (0, (CENTRE, CENTRE - 100)),
        (90, (CENTRE + 100, CENTRE)),
        (180, (CENTRE, CENTRE + 100)),
        (270, (50, CENTRE)),
    ],
)
def test_bearings_run_clockwise_from_the_top(bearing: float, place: tuple[float, float]) -> None:
    """Seen from above, 90 degrees is on the right."""
    assert at_bearing(bearing, 100) == pytest.approx(place)


def test_what_has_no_bearing_is_named_not_guessed() -> None:
    """A strike point or crack without bearing is listed by number and not drawn anywhere."""
    drawing = rim_drawing(
        [StrikeSeen(1, 10.0, "in-use"), StrikeSeen(2, None, "old")],
        [CrackSeen(1, None, "confirmed", "through"), CrackSeen(2, 200.0, "suspected", None)],
    )
    assert [mark.number for mark in drawing.strikes] == [1]
    assert drawing.strikes_without_bearing == (2,)
    assert [mark.number for mark in drawing.cracks] == [2]
    assert drawing.cracks_without_bearing == (1,)


def test_a_crack_that_was_not_found_is_not_drawn() -> None:
    """The entry that none was found leaves the rim whole."""
    drawing = rim_drawing([], [CrackSeen(1, 30.0, "none", None)])
    assert drawing.cracks == drawing.cracks_without_bearing == ()


def test_a_through_crack_reaches_beyond_the_wall() -> None:
    """It is drawn longer than one that shows on one side only."""

    def reach(side: str) -> float:
        (mark,) = rim_drawing([], [CrackSeen(1, 0.0, "confirmed", side)]).cracks
        heights = [float(point.split(",")[1]) for point in mark.points.split()]
        return max(heights) - min(heights)

    assert reach("through") > reach("outside")


def test_old_strike_points_differ_from_those_in_use() -> None:
    """A point from before the bell was turned is marked as old."""
    drawing = rim_drawing([StrikeSeen(1, 0.0, "in-use"), StrikeSeen(2, 90.0, "old")], [])
    assert [mark.old for mark in drawing.strikes] == [False, True]
