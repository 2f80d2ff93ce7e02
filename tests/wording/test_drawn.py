"""Drawings from rows: what is missing is left out or named."""

from typing import Any

from registry.drawing.cracks import CrackOnWall
from registry.wording.drawn import (
    lines_as_cast,
    profile_caption,
    profile_of,
    rim_caption,
    rim_of,
    sizes_of,
    unrolled_caption,
    unrolled_of,
)

VALUES = {("dimensions", "mouth_diameter_mm"): 1000.0, ("dimensions", "soundbow_thickness_mm"): 76.0}


def strike(**told: Any) -> dict[str, Any]:
    """Give the row of a strike point."""
    fields = (
        "bearing_deg", "use", "struck_by", "pit_depth_mm", "pit_length_mm", "pit_width_mm",
        "thickness_at_pit_mm",
        "thickness_beside_mm", "turned_by_deg", "built_up",
    )  # fmt: skip
    return {**dict.fromkeys(fields), "number": 1, **told}


def crack(**told: Any) -> dict[str, Any]:
    """Give the row of a crack."""
    return {**dict.fromkeys(CrackOnWall._fields), "number": 1, "state": "confirmed", **told}


def test_nothing_is_drawn_of_a_bell_without_diameter() -> None:
    """A form without scale would look like a measured one."""
    assert sizes_of({}) is None
    assert profile_of({}) is None
    assert unrolled_of({}, [strike(bearing_deg=1.0)], [], []) is None


def test_nothing_to_show_makes_no_drawing() -> None:
    """An empty rim or surface says nothing."""
    assert rim_of(VALUES, [], [crack(state="none")]) is None
    assert unrolled_of(VALUES, [], [crack(state="none")], []) is None


def test_depth_and_wall_stand_beside_points_in_use() -> None:
    """An old point keeps its mark only; its depth stands in the table."""
    told = {
        "bearing_deg": 90.0,
        "pit_depth_mm": 3.0,
        "thickness_at_pit_mm": 70.0,
        "thickness_beside_mm": 73.0,
    }
    drawing = rim_of(VALUES, [strike(use="in-use", **told), strike(use="old", **told)], [])
    assert drawing is not None
    assert drawing.strikes[0].words == ("3\u00a0mm deep", "70\u00a0mm of 73\u00a0mm")
    assert drawing.strikes[1].words == ()
    assert "three times as deep" in rim_caption(drawing)


def test_captions_name_what_could_not_be_placed() -> None:
    """A part without bearing is not drawn and not forgotten."""
    rim = rim_of(VALUES, [strike()], [crack(number=2)])
    assert rim is not None
    assert rim_caption(rim).endswith(
        "Without bearing, not drawn: strike point 1. Without bearing, not drawn: crack 2."
    )
    unrolled = unrolled_of(VALUES, [strike()], [crack(number=2), crack(number=3, bearing_deg=5.0)], [])
    assert unrolled is not None
    assert unrolled_caption(unrolled).endswith("Not drawn for want of a bearing or height: C2, S1.")


def test_the_profile_says_what_it_assumed() -> None:
    """Sizes that nobody measured are named below the drawing."""
    profile = profile_of(VALUES)
    assert profile is not None
    assert "not measured, assumed for the drawing alone (height, shoulder diameter, waist thickness)" in (
        profile_caption(profile)
    )


def test_lines_as_cast_end_where_the_reader_says() -> None:
    """The sign for the end of a line divides, whatever the lines of the form."""
    assert lines_as_cast("AVE |\nMARIA  GRATIA |  ") == ("AVE", "MARIA GRATIA")
    assert lines_as_cast(None) == ()
