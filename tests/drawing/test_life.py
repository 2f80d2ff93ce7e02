"""Years drawn as a line: ends as open as they are, signs that do not cover each other."""

from hypothesis import given
from hypothesis import strategies as st

from registry.drawing.life import SIGN, TimeBar, TimeSign, life_drawing
from registry.drawing.svg import life_svg


def test_a_bar_is_full_where_it_is_certain() -> None:
    """Between the latest beginning and the earliest end a bar is full, and no wider than the whole."""
    bar = TimeBar("Gate", "there", 1640.0, 1650.0, 1900.0, 1950.0)
    (drawn,) = life_drawing([bar], [], 640.0, 2025.0).bars
    assert drawn.x < drawn.sure_x < drawn.sure_x + drawn.sure_width < drawn.x + drawn.width
    assert not drawn.open_left
    assert not drawn.open_right


def test_open_ends_reach_the_edge_and_are_marked() -> None:
    """A beginning nobody knows and an end nobody tells reach the edge; no doubtful part is full."""
    drawing = life_drawing(
        [TimeBar("Gate", "there", None, 1700.0, None, None, lasts=True)], [], 640.0, 2025.0
    )
    (drawn,) = drawing.bars
    assert (drawn.x, drawn.x + drawn.width) == (12.0, 628.0)
    assert drawn.open_left
    assert drawn.open_right
    unsure = TimeBar("Gate", "there", 1640.0, 1900.0, 1700.0, 1950.0)
    assert life_drawing([unsure], [], 640.0, 2025.0).bars[0].sure_width == 0.0


def test_nothing_to_draw() -> None:
    """Without any year there is no drawing; a single year still has an axis."""
    assert life_drawing([], [], 640.0, 2025.0) is None
    assert life_drawing([], [TimeSign(1, None, None, "lost")], 640.0, 2025.0) is None
    drawing = life_drawing([], [TimeSign(1, 1788.0, 1788.9, "cast")], 640.0, 2025.0)
    assert len(drawing.marks) >= 2


YEARS = st.floats(1200, 2025)


@given(st.lists(st.tuples(YEARS, st.floats(0, 80)), min_size=1, max_size=30), st.sampled_from([326.0, 640.0]))
def test_signs_never_cover_each_other(events: list[tuple[float, float]], width: float) -> None:
    """Signs on one line keep their width apart, and all stand within the drawing."""
    signs = [TimeSign(n, year, year + span, "x") for n, (year, span) in enumerate(events, start=1)]
    drawing = life_drawing([], signs, width, 2025.0)
    assert sorted(sign.number for sign in drawing.signs) == list(range(1, len(events) + 1))
    for sign in drawing.signs:
        assert 0 <= sign.x <= width
        assert sign.y + SIGN / 2 <= drawing.base
        for other in drawing.signs:
            if other.number < sign.number and other.y == sign.y:
                assert abs(other.x - sign.x) >= SIGN


def test_the_drawing_says_in_words_what_it_shows() -> None:
    """The SVG has a title with the words given, escaped, and a title for each sign."""
    drawing = life_drawing(
        [TimeBar("A & B", "away", 1700.0, 1701.0, 1800.0, 1801.0)],
        [TimeSign(1, 1700.0, None, "cast <1700>")],
        326.0,
        2025.0,
    )
    svg = life_svg(drawing, "life", "A & B: since 1700.")
    assert '<title id="life-title">A &amp; B: since 1700.</title>' in svg
    assert "<title>1: cast &lt;1700&gt;</title>" in svg
    assert 'aria-labelledby="life-title"' in svg
