"""Growth of pits and cracks, for a year and for 100,000 strokes, and the year a limit is reached."""

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st
from sample_forms import surveys
from seen_bells import seen

from registry.derive.condition.growth import (
    ALREADY,
    BEYOND,
    CANNOT_TELL,
    GROWS,
    LATER,
    ONE_VISIT,
    PERHAPS,
    SHRINKS,
    growths_of,
    limit_year,
    per_100k_strokes,
    soonest_limit,
)
from registry.derive.condition.seen import histories_of
from registry.derive.condition.slope import Measured, Rate
from registry.derive.condition.strokes import (
    Strokes,
    clapper_strokes_a_year,
    clock_strokes_a_year,
    mean_strokes,
    strokes_a_minute,
    strokes_at,
)
from registry.derive.condition.wording import growth_sentence, limit_sentence
from registry.model.condition import Crack, StrikePoint
from registry.model.hanging import Ringing


def pits(*depths, **fields):
    """Make visits ten years apart that read the depth of one pit."""
    point = StrikePoint(1, 90.0, struck_by="clapper", use="in-use", thickness_beside_mm=100.0, **fields)
    return tuple(
        seen(f"{1990 + 10 * place}-05-01", strike_points=(point._replace(pit_depth_mm=depth),))
        for place, depth in enumerate(depths)
    )


class TestGrowth:
    """What grows, and how fast."""

    def test_grows(self):
        """A pit that deepens by more than the errors grows; rate, readings and surveys are told."""
        (growth,) = growths_of(pits(1.0, 2.0, 3.1))
        assert growth.telling == GROWS
        assert growth.per_year.value == pytest.approx(0.105, rel=1e-3)
        assert growth.survey_ids == ("tower-1990-05-01", "tower-2000-05-01", "tower-2010-05-01")

    def test_cannot_tell_yet(self):
        """A pit that deepens by less than the errors is not said to grow, nor to stand still."""
        (growth,) = growths_of(pits(1.0, 1.2))
        assert growth.telling == CANNOT_TELL
        assert growth.per_year.low < 0.0 < growth.per_year.high

    def test_one_reading(self):
        """One reading tells no growth."""
        (growth,) = growths_of(pits(1.0))
        assert (growth.telling, growth.per_year, growth.per_100k) == (ONE_VISIT, None, None)

    def test_less_than_before(self):
        """A pit read as shallower by more than the errors is a contradiction, and that is told."""
        (growth,) = growths_of(pits(2.0, 1.2))
        assert growth.telling == SHRINKS
        assert "cannot have become less" in growth.notes[0]

    def test_built_up_starts_anew(self):
        """What was read before a pit was built up says nothing on how it grows since."""
        visits = pits(8.0, 0.2, 1.2, 2.2)
        built = tuple(
            visit._replace(
                entry=visit.entry._replace(
                    strike_points=(visit.entry.strike_points[0]._replace(built_up="yes" if place else None),)
                )
            )
            for place, visit in enumerate(visits)
        )
        (growth,) = growths_of(built)
        assert [reading.value for reading in growth.readings] == [0.2, 1.2, 2.2]

    def test_old_points_are_left_alone(self):
        """A pit the bell was turned away from grows no more, and is not reported."""
        visits = [
            *pits(5.0),
            seen("2000-05-01", strike_points=(StrikePoint(1, 90.0, use="old", pit_depth_mm=5.0),)),
        ]
        assert growths_of(visits) == ()

    def test_wall_left(self):
        """The wall left at the pit is followed as well, as what has gone since it was first read."""
        walls = tuple(
            seen(f"{year}-05-01", strike_points=(StrikePoint(1, 90.0, thickness_at_pit_mm=wall),))
            for year, wall in ((1990, 98.0), (2000, 97.0), (2010, 96.0))
        )
        (growth,) = growths_of(walls)
        assert growth.quantity == "wall_lost_mm"
        assert [reading.value for reading in growth.readings] == [0.0, 1.0, 2.0]
        assert growth.per_year.value == pytest.approx(0.1, rel=1e-3)
        # The unworn wall is 100 mm, of which 2 had gone at the first reading.
        assert growth.limit.limit_mm == pytest.approx(8.0)

    def test_crack(self):
        """A crack is followed by its length, without a limit; another way of looking is a caveat."""
        crack = Crack(1, "confirmed", position="waist", bearing_deg=40.0, method="eye", length_mm=20.0)
        visits = (
            seen("2005-05-01", cracks=(crack,), strike_points=()),
            seen(
                "2015-05-01", cracks=(crack._replace(length_mm=60.0, method="penetrant"),), strike_points=()
            ),
        )
        (growth,) = growths_of(visits)
        assert (growth.subject, growth.quantity, growth.limit) == ("crack 1", "length_mm", None)
        assert growth.telling == GROWS
        assert "eye, penetrant" in growth.notes[0]

    def test_mended_crack_is_not_followed(self):
        """A crack that was mended has no growth."""
        crack = Crack(1, "none", position="waist", method="penetrant", repaired="welded")
        assert growths_of([seen(cracks=(crack,), strike_points=())]) == ()

    def test_documents_measure_nothing(self):
        """A document between the visits is no visit."""
        visits = pits(1.0, 2.0)
        document = seen(
            "2005-05-01", kind="document", strike_points=(StrikePoint(1, 90.0, pit_depth_mm=9.0),)
        )
        assert growths_of([visits[0], document, visits[1]]) == growths_of(visits)

    def test_towers_of_the_sample_with_three_visits(self):
        """Every tower of the sample with three visits shows growth, or says that it cannot be told yet."""
        shown = {}
        for bell_id, history in histories_of(surveys()).items():
            three = [g for g in growths_of(history) if len(g.readings) >= 3]
            for growth in three:
                assert growth.per_year.method == "theil-sen"
                assert growth.per_year.low <= growth.per_year.value <= growth.per_year.high
                shown.setdefault(history[-1].tower.id, set()).add(growth.telling)
            assert all("None" not in growth_sentence(growth) for growth in three), bell_id
        assert {tower for tower, told in shown.items() if GROWS in told} == {
            "halvenau-christ-church", "kestrel-gate", "ostrelle-notre-dame", "sint-brandaan",
            "vellhaven-minster",
        }  # fmt: skip


class TestLimit:
    """The year in which the limit of wear is reached."""

    def year(self, value, rate, limit=10.0, error=0.1):
        """Give the range of years for a reading of 2000 and a rate."""
        return limit_year(Measured(date(2000, 1, 1), value, error), rate, limit, 100.0, "source")

    def test_range(self):
        """The soonest year goes with the fastest growth and the deepest reading, the latest with least."""
        found = self.year(5.0, Rate(0.2, 0.1, 0.4, 0.9, "theil-sen"))
        assert found.reached == LATER
        assert found.soonest == pytest.approx(2000 + 4.9 / 0.4)
        assert found.best == pytest.approx(2000 + 5.0 / 0.2)
        assert found.latest == pytest.approx(2000 + 5.1 / 0.1)

    def test_already(self):
        """A reading beyond the limit by more than its error is beyond it."""
        assert self.year(10.2, None).reached == ALREADY

    def test_perhaps_already(self):
        """A reading within its error of the limit may be beyond it."""
        assert self.year(9.95, None).reached == PERHAPS
        assert self.year(10.05, Rate(0.2, 0.1, 0.4, 0.9, "x")).soonest == 2000

    def test_no_rate(self):
        """Without a rate no year can be told."""
        found = self.year(5.0, None)
        assert (found.reached, found.soonest, found.latest) == (CANNOT_TELL, None, None)

    def test_zero_in_the_interval(self):
        """Where it may not grow at all there is a soonest year and no latest."""
        found = self.year(5.0, Rate(0.1, -0.1, 0.3, 0.9, "x"))
        assert found.reached == CANNOT_TELL
        assert found.soonest is not None
        assert found.latest is None

    def test_beyond_the_horizon(self):
        """Where even the fastest growth takes more than a hundred years no year is named."""
        found = self.year(5.0, Rate(0.01, 0.005, 0.02, 0.9, "x"))
        assert (found.reached, found.soonest) == (BEYOND, None)

    @given(st.floats(0.0, 9.0), st.floats(0.001, 1.0), st.floats(0.0, 1.0), st.floats(-1.0, 1.0))
    def test_range_holds_the_truth(self, deep, slope, slack, share):
        """Whatever rate in the interval and error of the reading is true, its year lies in the range."""
        rate = Rate(slope, slope * (1 - slack), slope * (1 + slack), 0.9, "x")
        found = self.year(deep, rate)
        true_rate = slope * (1 + slack * share)
        true_depth = deep - 0.1 * share
        if found.reached == LATER and true_rate > 0:
            year = 2000 + (10.0 - true_depth) / true_rate
            assert found.soonest <= year + 1e-6
            assert found.latest is None or year <= found.latest + 1e-6

    def test_share_of_the_wall(self):
        """The limit is a tenth of the unworn wall (A. Bartocha and C. Baron, Materials 14(10) 2504, 2021)."""
        (growth,) = growths_of(pits(1.0, 2.0))
        assert growth.limit.limit_mm == pytest.approx(10.0)
        assert "Bartocha" in growth.limit.source

    def test_soonest_of_several(self):
        """Of several pits the soonest year counts; a limit that is passed comes before all years."""
        deep, shallow = growths_of(pits(5.0, 7.0)), growths_of(pits(1.0, 2.0))
        assert soonest_limit([*deep, *shallow]) == deep[0].limit.soonest
        assert soonest_limit([*growths_of(pits(9.0, 11.0)), *shallow]) == float("-inf")
        assert soonest_limit(growths_of(pits(1.0))) == float("inf")


class TestStrokes:
    """Strokes a year at a strike point."""

    RINGING = Ringing(
        style="swinging", strokes=80, strokes_in_s=124.3, hours_a_year=50.0, clock_strikes_a_day=100
    )

    @pytest.mark.parametrize(("strokes", "seconds", "rate"), [(80, 124.3, 38.6), (100, 134.0, 44.8)])
    def test_published_counts(self, strokes, seconds, rate):
        """Two large bells rang 38.6 and 44.8 strokes a minute (grabinski-online.de)."""
        assert strokes_a_minute(Ringing(strokes=strokes, strokes_in_s=seconds)) == pytest.approx(
            rate, abs=0.05
        )

    def test_a_year(self):
        """Hours times rate for the clapper, strokes a day times days for the clock."""
        assert clapper_strokes_a_year(self.RINGING) == pytest.approx(50 * 60 * 60 * 80 / 124.3)
        assert clock_strokes_a_year(self.RINGING) == pytest.approx(36525)

    def test_silent_bell(self):
        """A bell that is not rung takes no strokes, whatever its rate."""
        assert clapper_strokes_a_year(Ringing(hours_a_year=0.0)) == 0.0

    @pytest.mark.parametrize(
        "ringing", [None, Ringing(), Ringing(hours_a_year=10.0), Ringing(strokes=10, strokes_in_s=10.0)]
    )
    def test_unknown(self, ringing):
        """Without hours or rate there are no strokes, and none are assumed."""
        assert clapper_strokes_a_year(ringing) is None

    def at(self, point, **changes):
        """Give the strokes at a point of the sound bell."""
        visit = seen(ringing=self.RINGING, **changes)
        return strokes_at(point, visit)

    def test_shared_by_two_points(self):
        """The clapper of a swinging bell strikes two points in turn."""
        point = StrikePoint(1, struck_by="clapper", use="in-use")
        assert self.at(point) == pytest.approx(clapper_strokes_a_year(self.RINGING) / 2)
        assert self.at(point, strike_points=(point,)) == pytest.approx(
            clapper_strokes_a_year(self.RINGING) / 2
        )

    def test_hammer(self):
        """The strokes of the clock all fall where the hammer strikes."""
        point = StrikePoint(3, struck_by="hammer", use="in-use")
        assert self.at(point, strike_points=(point,)) == pytest.approx(36525)

    def test_both(self):
        """Where clapper and hammer strike one place, their strokes add up."""
        point = StrikePoint(1, struck_by="both", use="in-use")
        assert self.at(point, strike_points=(point,)) == pytest.approx(
            clapper_strokes_a_year(self.RINGING) / 2 + 36525
        )

    @pytest.mark.parametrize("striker", [None, "unknown"])
    def test_unknown_striker(self, striker):
        """Where nobody told what strikes there, the strokes are unknown."""
        assert self.at(StrikePoint(1, struck_by=striker)) is None

    def test_mean_over_the_visits(self):
        """Between two visits the mean of both counts; a visit that tells nothing leaves it to the other."""
        days = [date(2000, 1, 1), date(2010, 1, 1), date(2011, 1, 1)]
        told = mean_strokes(list(zip(days, [100.0, 300.0, None], strict=True)), 0.3)
        assert told.a_year == pytest.approx((200 * 3653 + 300 * 365) / 4018)
        assert mean_strokes([(days[0], None)], 0.3) is None
        assert mean_strokes([(days[0], 50.0)], 0.3).a_year == 50.0

    def test_gap_without_any_word(self):
        """A gap whose ends tell nothing takes the nearest visit that does."""
        days = [date(2000, 1, 1), date(2010, 1, 1), date(2020, 1, 1)]
        assert mean_strokes(list(zip(days, [None, None, 80.0], strict=True)), 0.3).a_year == pytest.approx(
            80.0
        )

    def test_for_100000_strokes(self):
        """The rate for 100,000 strokes is the yearly one over the strokes, widened by their doubt."""
        rate = per_100k_strokes(Rate(0.1, 0.05, 0.15, 0.9, "x"), Strokes(200_000.0, 0.25, "told"))
        assert rate.value == pytest.approx(0.05)
        assert rate.low == pytest.approx(0.05 / 2.5)
        assert rate.high == pytest.approx(0.15 / 1.5)

    def test_for_100000_strokes_below_zero(self):
        """An interval that holds zero stays around it."""
        rate = per_100k_strokes(Rate(0.1, -0.05, 0.15, 0.9, "x"), Strokes(200_000.0, 0.25, "told"))
        assert rate.low == pytest.approx(-0.05 / 1.5)

    def test_no_strokes(self):
        """A silent bell has no rate for strokes."""
        assert per_100k_strokes(Rate(0.1, 0.0, 0.2, 0.9, "x"), Strokes(0.0, 0.3, "told")) is None
        assert per_100k_strokes(None, None) is None


class TestWording:
    """The sentences on growth."""

    @pytest.mark.parametrize(
        ("depths", "sentence", "limit"),
        [
            (
                (1.0,),
                ": one reading only, so nothing can be said on growth.",
                "When the limit of 10 mm is reached cannot be told yet.",
            ),
            (
                (1.0, 1.1),
                ": cannot tell yet whether it grows (-0.02 to 0.04 mm a year; 2 readings, 1990 to 2000).",
                "The limit of 10 mm is not reached within 100 years at this rate.",
            ),
            (
                (5.0, 7.0, 9.0),
                (
                    " grows 0.2 mm a year (0.18 to 0.22; 3 readings, 1990 to 2010),"
                    " 0.11 mm for 100,000 strokes (0.079 to 0.18)."
                ),
                "If it goes on like this, the limit of 10 mm is reached between 2014 and 2017.",
            ),
            (
                (9.0, 9.9),
                (
                    " grows 0.09 mm a year (0.059 to 0.12; 2 readings, 1990 to 2000),"
                    " 0.05 mm for 100,000 strokes (0.025 to 0.096)."
                ),
                "The limit of 10 mm may be passed already.",
            ),
            (
                (9.0, 12.0),
                (
                    " grows 0.3 mm a year (0.26 to 0.33; 2 readings, 1990 to 2000),"
                    " 0.17 mm for 100,000 strokes (0.11 to 0.27)."
                ),
                "The limit of 10 mm is passed.",
            ),
        ],
        ids=["one reading", "cannot tell", "grows", "perhaps", "passed"],
    )  # fmt: skip
    def test_sentences(self, depths, sentence, limit):
        """Growth and limit read as sentences, with interval and basis."""
        (growth,) = growths_of(pits(*depths))
        assert growth_sentence(growth) == "Strike point 1, depth of the pit" + sentence
        assert limit_sentence(growth) == limit

    def test_less_than_before(self):
        """A pit that became shallower is told as what it is: read as less."""
        (growth,) = growths_of(pits(2.0, 1.2))
        assert "was read as less than before, by -0.08 mm a year" in growth_sentence(growth)

    def test_crack_has_no_limit(self):
        """There is no length at which a crack is still in order."""
        crack = Crack(1, "confirmed", position="waist", length_mm=20.0)
        (growth,) = growths_of([seen(cracks=(crack,), strike_points=())])
        assert limit_sentence(growth) == ""
