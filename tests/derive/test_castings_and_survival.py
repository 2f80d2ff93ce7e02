"""Castings in parts, shares with intervals and reaches, against arithmetic, tables and other libraries."""

from itertools import pairwise

import pytest
from geographiclib.geodesic import Geodesic
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import binom, binomtest

from registry.derive.castings import Dated, castings, spread
from registry.derive.reach import reach_of
from registry.derive.survival import FATES, survival, wilson
from registry.model.vocabulary import vocabulary

YEARS = st.integers(-500, 2100)
SPANS = st.lists(
    st.tuples(YEARS, st.integers(0, 400)).map(lambda span: (span[0], sum(span))), min_size=1, max_size=3
)


@given(st.dictionaries(st.text("ab", min_size=1, max_size=5), SPANS, max_size=8), st.sampled_from([10, 50]))
def test_every_bell_counts_once(spans, years) -> None:
    """The parts of a bell add up to one, those of all periods to the bells, between certain and possible."""
    dated = spread(spans, years)
    assert all(sum(parts.values()) == pytest.approx(1.0) for parts in dated.parts.values())
    counted = castings(dated, years)
    assert sum(each.expected for each in counted) == pytest.approx(len(spans))
    for before, after in pairwise(counted):
        assert after.first_year == before.last_year + 1
    for each in counted:
        assert each.certain <= each.low <= each.high <= each.possible
        assert each.certain - 1e-9 <= each.expected <= each.possible + 1e-9


def test_dates_are_spread_evenly_over_their_years() -> None:
    """1643 lies in its decade; 1638 to 1641 half in each of two; a choice shares out among its years."""
    dated = spread(
        {
            "sure": [(1643, 1643)],
            "across": [(1638, 1641)],
            "either": [(1480, 1480), (1643, 1643)],
            "overlapping": [(1640, 1644), (1643, 1649)],
            "open": [(1700, None)],
            "unknown": [(None, None)],
            "undated": [],
        },
        10,
    )
    assert dated.parts == {
        "sure": {1640: 1.0},
        "across": {1630: 0.5, 1640: 0.5},
        "either": {1480: 0.5, 1640: 0.5},
        "overlapping": {1640: 1.0},
    }
    assert (dated.open_ended, dated.undated) == (1, 2)
    decade = {each.first_year: each for each in castings(dated, 10)}[1640]
    assert (decade.certain, decade.expected, decade.low, decade.high, decade.possible) == (2, 3.0, 2, 4, 4)


@pytest.mark.parametrize(("bells", "chance"), [(10, 0.5), (40, 0.1), (150, 0.25), (900, 0.1)])
def test_intervals_are_those_of_the_binomial(bells: int, chance: float) -> None:
    """Bells of one chance make the binomial distribution: scipy gives the same points, the normal nearly."""
    years = round(10 / chance)
    dated = spread({str(n): [(1000, 1000 + years - 1)] for n in range(bells)}, 10)
    first = castings(dated, 10)[0]
    expected = binom.ppf(0.05, bells, chance), binom.ppf(0.95, bells, chance)
    assert (first.low, first.high) == pytest.approx(expected, abs=0 if bells <= 200 else 2)


@pytest.mark.parametrize(("successes", "trials"), [(0, 10), (1, 10), (5, 10), (10, 10), (81, 263), (15, 148)])
def test_share_has_the_score_interval(successes: int, trials: int) -> None:
    """The interval is Wilson's (1927), as scipy computes it without continuity correction."""
    other = binomtest(successes, trials).proportion_ci(0.90, "wilson")
    assert wilson(successes, trials) == pytest.approx((other.low, other.high), abs=1e-12)


def test_survival_counts_what_is_known() -> None:
    """A bell of unknown fate counts neither way; how far it could move the share is told."""
    dated = Dated({"a": {1700: 1.0}, "b": {1700: 1.0}, "c": {1700: 0.5, 1750: 0.5}, "d": {1850: 1.0}}, 0, 0)
    found = survival(dated, {"a": "hanging", "b": "recast", "c": "lost", "d": None}, 50)
    assert [each.first_year for each in found] == [1700, 1750, 1800, 1850]
    first = found[0]
    assert (first.exist, first.gone, first.unknown, first.share) == (1.0, 1.0, 0.5, 0.5)
    assert (first.least, first.most) == pytest.approx((0.4, 0.6))
    assert found[1].share is None
    assert (found[1].least, found[1].most) == (0.0, 1.0)
    assert found[2].most is None


def test_every_fate_is_a_status() -> None:
    """Fates are told of terms of the vocabulary, and every other term is of unknown fate."""
    assert FATES.keys() < vocabulary("bell_status").terms.keys()


def test_reach_is_measured_bell_by_bell() -> None:
    """Median and farthest are over bells, by geodesics from the workshop, else from the middle tower."""
    towers = [((45.0, 7.0), 3), ((45.0, 8.0), 1), ((46.0, 7.5), 1)]
    far = Geodesic.WGS84.Inverse(45.0, 7.0, 46.0, 7.5)["s12"] / 1000
    reach = reach_of(towers, None)
    assert (reach.basis, reach.origin, reach.median_km) == ("middle", (45.0, 7.0), 0.0)
    assert reach.farthest_km == pytest.approx(far, abs=1e-6)
    assert reach.hull is not None
    assert set(reach.hull.corners) == {place for place, _ in towers}
    from_shop = reach_of(towers, (47.0, 7.0))
    assert from_shop.basis == "workshop"
    assert from_shop.median_km == pytest.approx(
        Geodesic.WGS84.Inverse(47.0, 7.0, 45.0, 7.0)["s12"] / 1000, abs=1e-6
    )
    assert from_shop.hull == reach.hull
