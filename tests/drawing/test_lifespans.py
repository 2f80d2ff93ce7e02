"""Bells on a line of years: every bar where its years are, every name beside it and within the frame."""

from hypothesis import given
from hypothesis import strategies as st

from registry.drawing.lifespans import ARROW, LETTER_WIDTH, BellSpan, lifespans_drawing

YEARS = st.one_of(st.none(), st.integers(900, 2026))
SPANS = st.lists(
    st.tuples(YEARS, YEARS).map(lambda pair: pair if None in pair else tuple(sorted(pair))),
    min_size=1,
    max_size=3,
)
BELLS = st.lists(
    st.builds(
        BellSpan,
        st.just("a-bell"),
        st.text("abc ", max_size=60),
        SPANS.map(tuple),
        st.text("1-9", max_size=30),
    ),
    min_size=1,
    max_size=12,
)


@given(BELLS, st.sampled_from([330.0, 660.0]))
def test_nothing_leaves_the_frame_and_no_name_lies_on_its_bar(bells: list[BellSpan], width: float) -> None:
    """Rows follow each other, bars and names stay inside, and a name beside a bar does not touch it."""
    drawing = lifespans_drawing(bells, width)
    if drawing is None:
        assert all(end is None for bell in bells for span in bell.spans for end in span)
        return
    below = drawing.rows[0].y
    for row in drawing.rows:
        assert row.y == below
        below += row.height
        long = len(row.label) * LETTER_WIDTH
        begins = row.label_x - long if row.label_ends else row.label_x
        assert begins >= 0.0
        assert begins + long <= width
        for bar in row.bars:
            left, right = bar.x - ARROW * bar.opens_left, bar.x + bar.width + ARROW * bar.opens_right
            assert left >= 0.0
            assert right <= width
            beside = begins >= right or begins + long <= left
            assert beside or row.label_y < row.bar_y
    assert below <= drawing.height


def test_bars_stand_at_their_years() -> None:
    """Twice the years make twice the bar, and an open end is marked as such."""
    drawing = lifespans_drawing(
        [
            BellSpan("a", "A", ((1501, 1600),), "1501 to 1600"),
            BellSpan("b", "B", ((1601, 1650),), "1601 to 1650"),
            BellSpan("c", "C", ((None, 1700),), "1700 or before"),
        ],
        660.0,
    )
    assert drawing is not None
    a, b, c = (row.bars[0] for row in drawing.rows)
    assert abs(a.width - 2.0 * b.width) < 0.3
    assert abs(a.x + a.width - b.x) < 0.3
    assert c.opens_left
    assert not c.opens_right
