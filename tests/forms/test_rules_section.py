"""Rules on the measured section of a bell."""

import pytest

NONE = "[{number: 1, state: none}]"
SIZES = "mouth_diameter_mm: 1000, shoulder_diameter_mm: 520, height_mm: 800"


def point(height, diameter, thickness=None):
    """Write one point of a section."""
    wall = "" if thickness is None else f", thickness_mm: {thickness}"
    return f"{{height_mm: {height}, diameter_mm: {diameter}{wall}}}"


def told(bell, codes, *points):
    """Check a bell with these points of its section, and give the codes of the rules across fields."""
    profile = ", ".join(points)
    checked = bell(
        identity="{material: bronze}", dimensions=f"{{{SIZES}, profile: [{profile}]}}", cracks=NONE
    )
    return [code for code in codes(checked) if code != "unusual-value"]


LIP, BOW, WAIST, SHOULDER = (
    point(0, 1000, 6),
    point(70, 950, 78),
    point(400, 620, 26),
    point(800, 520, 28),
)


def test_good_sections_pass(bell, codes) -> None:
    """A section from the lip to the shoulder, or over the head to its middle, has nothing to tell."""
    assert told(bell, codes, LIP, BOW, WAIST, SHOULDER) == []
    assert told(bell, codes, LIP, BOW, WAIST, SHOULDER, point(800, 0, 40)) == []
    assert told(bell, codes, LIP, BOW, WAIST, SHOULDER, point(830, 300, 40), point(845, 0, 40)) == []


@pytest.mark.parametrize(
    "points",
    [
        (LIP, WAIST, BOW, SHOULDER),
        (SHOULDER, WAIST),
        (LIP, BOW, BOW, SHOULDER),
        (LIP, point(70, 950), point(70, 960), SHOULDER),
    ],
)
def test_points_go_upwards(bell, codes, points) -> None:
    """A point below the one before it, or level with it without drawing in, is refused."""
    assert "profile-out-of-order" in told(bell, codes, *points)


@pytest.mark.parametrize(
    ("points", "expected"),
    [
        ((point(0, 1004, 6), BOW), []),
        ((point(0, 1006, 6), BOW), ["profile-contradiction"]),
        ((LIP, BOW, point(824, 520)), []),
        ((LIP, BOW, point(825, 520)), ["profile-contradiction"]),
        ((LIP, BOW, WAIST, SHOULDER, point(860, 500)), []),
        ((LIP, point(70, 950, 475)), []),
        ((LIP, point(70, 950, 476)), ["profile-contradiction"]),
    ],
)
def test_points_fit_the_sizes(bell, codes, points, expected) -> None:
    """No point lies beyond mouth or height but over the head; no wall is thicker than the bell is wide."""
    assert told(bell, codes, *points) == expected


def test_required_values_may_be_missing(bell, codes) -> None:
    """A point without its height is told as such, and breaks no rule across fields."""
    assert told(bell, codes, LIP, "{diameter_mm: 900}", SHOULDER) == ["missing-required"]
