"""Intervals as bars, and castings by half-century."""

import pytest

from registry.drawing.bars import INTERVAL_WIDTH, MARGIN, castings, interval_drawing, timeline_drawing


def test_interval_and_observed_value_share_an_axis() -> None:
    """The interval ends and an observed value beyond it stand where their numbers say."""
    drawing = interval_drawing(1000.0, 900.0, 1100.0, observed=1300.0)
    assert drawing is not None
    assert drawing.estimate.low == MARGIN
    assert drawing.observed == INTERVAL_WIDTH - MARGIN
    assert drawing.estimate.value == pytest.approx(MARGIN + (INTERVAL_WIDTH - 2 * MARGIN) / 4, abs=0.1)


def test_an_open_end_has_no_tick() -> None:
    """A bound on one side only is drawn to the edge, and marked as open."""
    drawing = interval_drawing(None, 1480.0, None, observed=1500.0)
    assert drawing is not None
    assert drawing.estimate.low_known
    assert not drawing.estimate.high_known
    assert drawing.estimate.value is None


@pytest.mark.parametrize("ends", [(5.0, None, None), (5.0, 5.0, 5.0), (None, 5.0, None)])
def test_nothing_is_drawn_without_an_interval(ends: tuple[float | None, ...]) -> None:
    """One number alone makes no bar."""
    assert interval_drawing(*ends) is None


def test_castings_are_counted_certain_or_in_parts() -> None:
    """A bell within one half-century counts there; one that spans several counts in parts of one."""
    counted = castings([(1643, 1643), (1600, 1649), (1640, 1659), (None, None), (None, 1700), (1000, 1600)])
    by_year = {period.first_year: period for period in counted.periods}
    assert by_year[1600].certain == 2
    assert by_year[1600].share == pytest.approx(0.5)
    assert by_year[1650].share == pytest.approx(0.5)
    assert counted.undated == 1
    assert counted.too_wide == 2


def test_periods_run_without_a_gap() -> None:
    """Half-centuries without bells stand in the time line as well."""
    counted = castings([(1400, 1400), (1960, 1960)])
    assert [period.first_year for period in counted.periods] == list(range(1400, 1951, 50))
    assert castings([]).periods == ()


def test_years_before_the_common_era_fall_in_their_half_century() -> None:
    """Negative years are counted downwards, not towards nought."""
    (period,) = castings([(-30, -10)]).periods
    assert (period.first_year, period.last_year) == (-50, -1)


def test_timeline_bars_are_as_high_as_their_counts() -> None:
    """Bars stand on the base line, in proportion to their counts, and inside the frame."""
    counted = castings([(1710, 1710)] * 4 + [(1760, 1760)] * 8 + [(1740, 1759)] * 2)
    drawing = timeline_drawing(counted.periods, 330.0)
    first, second = drawing.bars
    assert second.certain_height == pytest.approx(2 * first.certain_height, abs=0.2)
    assert first.share_height == pytest.approx(first.certain_height / 4, abs=0.2)
    assert all(bar.x + bar.width <= drawing.width and bar.share_y >= 0 for bar in drawing.bars)
    assert timeline_drawing((), 330.0).bars == ()
