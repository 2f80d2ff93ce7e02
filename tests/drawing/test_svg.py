"""The SVG text of the drawings: well-formed, escaped, with words that say what is drawn."""

from xml.etree import ElementTree as ET

from registry.drawing import svg
from registry.drawing.bars import interval_drawing
from registry.drawing.cracks import CrackOnWall
from registry.drawing.profile import profile_drawing
from registry.drawing.rim import CrackSeen, StrikeSeen, rim_drawing
from registry.drawing.ring import ring_outlines
from registry.drawing.shape import sizes_from
from registry.drawing.unrolled import StrikeOnWall, TextOnWall, unrolled_drawing

HOSTILE = '</title><script>alert("x")</script>&'
STYLE = "text{fill:black}"


def drawings(name: str) -> list[str]:
    """Write one of each drawing, with a name that is markup."""
    sizes = sizes_from(1000.0, 800.0)
    rim = rim_drawing(
        [StrikeSeen(1, 10.0, "in-use", "clapper", 3.0, 60.0, words=(name,)), StrikeSeen(2, 100.0, "old")],
        [CrackSeen(1, 200.0, "confirmed", "through")],
        mouth_diameter_mm=1000.0,
        wall_mm=76.0,
        free_deg=[(40.0, 52.0)],
    )
    unrolled = unrolled_drawing(
        sizes,
        [CrackOnWall(1, "confirmed", "waist", "star", 20.0, None, None, 60.0, "inside", "stop-hole")],
        [StrikeOnWall(1, 90.0, 70.0, 60.0, 40.0, "in-use", "clapper", built_up=True)],
        [TextOnWall(1, "shoulder", (name,), 30.0)],
    )
    interval = interval_drawing(10.0, 8.0, 12.0, 11.0)
    assert interval is not None
    return [
        svg.profile_svg(profile_drawing(sizes, "canons"), name),
        svg.rim_svg(rim, name),
        svg.unrolled_svg(unrolled, name),
        svg.interval_svg(interval, name),
        svg.outline_svg(ring_outlines([(1000.0, None, None)])[0]),
    ]


def test_drawings_are_well_formed_and_hold_no_foreign_element() -> None:
    """A name that is markup stays text in every drawing."""
    for text in drawings(HOSTILE):
        root = ET.fromstring(text)  # noqa: S314 - our own text
        assert root.tag.endswith("svg")
        assert not [each for each in root.iter() if "script" in each.tag]


def test_a_drawing_stands_alone_only_with_its_own_style() -> None:
    """On a page a drawing holds no style and no address; on paper it carries both."""
    for page in drawings("Maria & Anna"):
        paper = svg.standing_alone(page, STYLE)
        assert "<style" not in page
        assert "xmlns" not in page
        assert STYLE in paper
        assert ET.fromstring(paper).tag == "{http://www.w3.org/2000/svg}svg"  # noqa: S314 - our own text


def test_words_name_what_is_drawn() -> None:
    """Strike points and cracks, their bearings and what is free stand in words beside the rim."""
    rim = rim_drawing(
        [StrikeSeen(1, 10.0, "in-use", words=("3 mm deep",)), StrikeSeen(2, 100.0, "old")],
        [CrackSeen(1, 200.0, "confirmed", "through")],
        free_deg=[(354.0, 366.0)],
    )
    assert svg.rim_words(rim) == (
        "Strike point 1 at 10°: 3 mm deep. Strike point 2 at 100°, from before the bell was turned."
        " Crack 1, confirmed, through the wall, at 200°. Free for new strike points: 354° to 6°."
    )
    assert svg.unrolled_words(unrolled_drawing(sizes_from(1000.0))) == "Nothing is marked."


def test_the_mark_stands_clear_of_words_below_it() -> None:
    """Words of a strike point close to the mark do not run into it, wherever they stand near the top."""
    for bearing in (0.0, 8.0, 15.0, 345.0):
        strike = StrikeSeen(1, bearing, "in-use", "hammer", 5.0, 60.0, words=("5 mm deep", "60 mm of 65 mm"))
        text = svg.rim_svg(rim_drawing([strike], [], mouth_diameter_mm=1000.0, wall_mm=65.0), "Bell")
        lines = {each.text: float(each.get("y")) for each in ET.fromstring(text).iter("text")}  # noqa: S314 - our own text
        assert lines["5 mm deep"] - lines["0° mark"] >= 12.0
        top = float(ET.fromstring(text).get("viewBox").split()[1])  # noqa: S314 - our own text
        assert lines["0° mark"] - top >= 10.0
