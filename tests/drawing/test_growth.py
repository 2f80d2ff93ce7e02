"""Readings over the years: each where its numbers say, and nothing drawn that would mislead."""

import pytest

from registry.drawing.growth import BASE, TOP, GrowthDrawing, YearlyReading, growth_drawing
from registry.drawing.svg import growth_svg

READINGS = [
    YearlyReading(2000.0, 1.0, 0.25),
    YearlyReading(2010.0, 2.0, 0.5),
    YearlyReading(2020.5, 3.0, 0.5),
]


def drawn(*args, **more) -> GrowthDrawing:
    """Draw what can be drawn."""
    drawing = growth_drawing(*args, **more)
    assert drawing is not None
    return drawing


def test_readings_stand_where_their_numbers_say() -> None:
    """Years run evenly across, values evenly up, and the greatest with its error touches the top."""
    drawing = drawn(READINGS)
    xs, ys = zip(*((point.x, point.y) for point in drawing.points), strict=True)
    assert (xs[1] - xs[0]) / (xs[2] - xs[0]) == pytest.approx(10 / 20.5, abs=0.001)
    assert ys[0] - ys[1] == pytest.approx(ys[1] - ys[2], abs=0.11)
    assert drawing.points[2].high_y == TOP
    assert ys[0] == pytest.approx(BASE - (BASE - TOP) / 3.5, abs=0.06)


def test_the_error_of_each_reading_is_drawn_to_scale() -> None:
    """A reading twice as unsure has a bar twice as long, its middle on the reading."""
    first, second, _ = drawn(READINGS).points
    assert second.low_y - second.high_y == pytest.approx(2 * (first.low_y - first.high_y), abs=0.21)
    assert (second.low_y + second.high_y) / 2 == pytest.approx(second.y, abs=0.11)


def test_the_rate_goes_through_the_middle_of_the_readings() -> None:
    """A line of the true rate through readings on one line meets all of them."""
    readings = [YearlyReading(2000.0 + year, 1.0 + 0.1 * year, 0.1) for year in (0, 5, 20)]
    drawing = drawn(readings, per_year_mm=0.1)
    assert drawing.slope == (
        drawing.points[0].x, drawing.points[0].y, drawing.points[2].x, drawing.points[2].y
    )  # fmt: skip


@pytest.mark.parametrize(("limit_mm", "seen"), [(3.6, True), (7.0, True), (7.1, False), (None, False)])
def test_a_limit_is_drawn_while_the_readings_can_be_seen_beside_it(limit_mm, seen) -> None:
    """A limit up to twice the greatest reading is in the picture, one beyond is left to the words."""
    drawing = drawn(READINGS, limit_mm=limit_mm)
    assert (drawing.limit_y is not None) is seen
    if drawing.limit_y is not None:
        assert TOP <= drawing.limit_y < drawing.points[2].y


@pytest.mark.parametrize("readings", [[], READINGS[:2], [READINGS[0]] * 3])
def test_two_readings_make_no_course(readings) -> None:
    """Nothing is drawn from fewer than three readings, nor from readings of one moment."""
    assert growth_drawing(readings) is None


def test_lost_wall_may_read_below_nought() -> None:
    """A reading below nought has room below the line of nought."""
    drawing = drawn([YearlyReading(2000.0, 0.0, 0.2), YearlyReading(2005.0, -0.1, 0.2), READINGS[2]])
    assert all(TOP <= each <= BASE for point in drawing.points for each in (point.high_y, point.low_y))


def test_words_of_the_drawing_cannot_become_markup() -> None:
    """What the drawing says is text, whatever is in it."""
    svg = str(growth_svg(drawn(READINGS, 0.1, 3.6), "</title><script>alert(1)</script>"))
    assert "<script>" not in svg
    assert svg.count("<circle") == 3
