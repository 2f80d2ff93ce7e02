"""How a mass from a scale, and readings among themselves, agree with the law."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from registry.derive.agreement import contradiction, mass_agreement
from registry.derive.mass import mass_estimates
from registry.derive.sisters import mass_with_sisters
from registry.derive.slips import Readings
from registry.derive.strike import strike_estimate
from registry.model.known_bell import KnownBell
from registry.model.vocabulary import vocabulary

DIAMETERS_MM = st.floats(50.0, 6700.0)
STRIKES_HZ = st.floats(20.0, 8000.0)
CLASS_WORDS = st.sampled_from([None, *vocabulary("profile_class").terms])
LAWFUL = st.sampled_from(["bronze", "cast-steel", "cast-iron"])


def by(method, *args, **kwargs):
    """Give the estimate of one method."""
    return next(each for each in mass_estimates(*args, **kwargs) if each.method == method)


def fitting(truth_kg, estimate):
    """Tell whether the interval holds a mass."""
    return estimate.low <= truth_kg <= estimate.high


class TestAgreement:
    """A weighed mass held against an estimate."""

    def test_agrees_up_to_the_ends(self):
        """A mass within the interval, its ends included, agrees; beyond them it does not."""
        estimate = mass_estimates(1180.0, 330.0)[0]
        for weighed_kg in (estimate.low, estimate.value, estimate.high):
            assert mass_agreement(weighed_kg, estimate).agrees
        for weighed_kg in (estimate.low * 0.999, estimate.high * 1.001):
            assert not mass_agreement(weighed_kg, estimate).agrees
        assert mass_agreement(estimate.value, estimate).slips == ()

    @pytest.mark.parametrize(
        ("known", "weighed_kg", "slip"),
        [
            ((590.0,), 1000.0, "radius"),
            ((590.0, 330.0), 1000.0, "radius"),
            ((1180.0 * math.pi,), 1000.0, "circumference"),
            ((1180.0 / 2.54,), 1000.0, "inches was taken for centimetres"),
            ((1180.0 * 2.54,), 1000.0, "centimetres was taken for inches"),
            ((1180.0, 330.0), 1000.0 / 0.45359237, "pounds were written down"),
            ((1180.0,), 1000.0 * 0.45359237, "as if they were pounds"),
            ((1180.0,), 1.0, "tonnes"),
            ((1180.0, 330.0), 1250.0, "clapper, headstock or tackle"),
            ((1180.0, 330.0), 620.0, "the bell is of cast-steel"),
        ],
    )
    def test_likeliest_slip(self, known, weighed_kg, slip):
        """A slip that a simple factor explains is named first; own cases on a bell of 1180 mm and 1000 kg."""
        agreement = mass_agreement(weighed_kg, mass_estimates(*known)[0])
        assert not agreement.agrees
        assert slip in agreement.slips[0]
        assert agreement.ratio.note == agreement.slips[0]

    @pytest.mark.parametrize(("factor", "slip"), [(2.0, "octave too high"), (0.5, "octave too low")])
    def test_wrong_octave(self, factor, slip):
        """A strike note an octave off is named where its estimate misses the weighed mass."""
        by_size, by_strike = mass_estimates(1180.0, 330.0 * factor)
        assert mass_agreement(1000.0, by_size).agrees
        assert slip in mass_agreement(1000.0, by_strike).slips[0]

    def test_steel_taken_for_bronze_and_back(self):
        """A steel bell surveyed as bronze, and the reverse, is suspected."""
        assert "cast-steel" in mass_agreement(700.0, by("size-and-strike", 1180.0, 345.0)).slips[0]
        as_steel = mass_estimates(1180.0, 345.0, material="cast-steel")[0]
        assert "the bell is of bronze" in mass_agreement(1050.0, as_steel).slips

    def test_unexplained(self):
        """Where no simple slip explains the mass none is made up."""
        agreement = mass_agreement(7000.0, mass_estimates(1180.0, 330.0)[0])
        assert (agreement.agrees, agreement.slips, agreement.ratio.note) == (False, (), "")

    def test_ratio(self):
        """The ratio of weighed to estimated mass carries the estimate's interval, turned over."""
        estimate = mass_estimates(1180.0, 330.0)[0]
        ratio = mass_agreement(1100.0, estimate).ratio
        assert ratio.quantity == "weighed_to_estimated_ratio"
        assert (ratio.value, ratio.low, ratio.high) == pytest.approx(
            (1100.0 / estimate.value, 1100.0 / estimate.high, 1100.0 / estimate.low)
        )

    def test_nothing_to_agree_with(self):
        """An estimate without value neither agrees nor disagrees."""
        assert mass_agreement(1000.0, mass_estimates(1180.0, material="unknown")[0]) is None

    def test_refused(self):
        """No mass, or an estimate of something else, is refused."""
        with pytest.raises(ValueError, match="weighed_kg must be a number from 1 to 250000"):
            mass_agreement(0.0, mass_estimates(1180.0)[0])
        with pytest.raises(ValueError, match="must be one of mass_kg, not of strike_hz"):
            mass_agreement(1000.0, strike_estimate(1180.0))

    @settings(deadline=None)
    @given(DIAMETERS_MM, st.none() | STRIKES_HZ, CLASS_WORDS, LAWFUL, st.floats(1.0, 250_000.0))
    def test_every_valid_pair(self, diameter, strike_hz, profile, material, weighed_kg):
        """Any mass can be held against any estimate, and slips are named only where they disagree."""
        for estimate in mass_estimates(diameter, strike_hz, profile, material, cast_year=1900):
            agreement = mass_agreement(weighed_kg, estimate)
            assert agreement.agrees == fitting(weighed_kg, estimate)
            assert not (agreement.agrees and agreement.slips)

    def test_estimate_of_sisters(self):
        """A mass is held against what weighed sisters tell just as well, and slips are named."""
        bell = KnownBell("b", "Anders", "north", 1900, 1180.0, 345.0)
        told = mass_with_sisters(bell, [bell._replace(bell_id="a", mass_kg=1000.0)])
        assert mass_agreement(1000.0, told).agrees
        assert "pounds" in mass_agreement(1000.0 / 0.45359237, told).slips[0]


class TestContradiction:
    """Readings that contradict each other, and the likelier mistake."""

    @pytest.mark.parametrize(
        ("slip", "named"),
        [
            ({"strike_hz": 700.0}, "octave too high"),
            ({"strike_hz": 172.0}, "octave too low"),
            ({"mouth_diameter_mm": 590.0}, "radius"),
            ({"mouth_diameter_mm": 1180.0 / 2.54}, "inches was taken for centimetres"),
            ({"soundbow_thickness_mm": 34.0}, "thickness in inches"),
            ({"soundbow_thickness_mm": 40.0}, "thickness"),
            ({"mass_kg": 1040.0 / 0.45359237}, "pounds"),
        ],
    )
    def test_likelier_mistake(self, slip, named):
        """Diameter, note, sound-bow and mass together tell which of them is wrong; own cases on one bell."""
        good = Readings("bronze", 1180.0, 350.0, 87.0, 1040.0)
        assert contradiction(good) is None
        found = contradiction(good._replace(**slip))
        assert named in found.note
        assert found.value > 3.0
        assert found.unit == "sd"

    def test_unexplained(self):
        """Where no simple slip explains it, all is to be measured again."""
        found = contradiction(Readings("bronze", 1180.0, 350.0, 87.0, 5000.0))
        assert "measure all of them again" in found.note

    @pytest.mark.parametrize(
        "readings",
        [
            Readings("bronze", 1180.0),
            Readings("brass", 1180.0, 700.0),
            Readings("bronze", 1180.0, 9000.0),
            Readings("cast-steel", 1180.0, soundbow_thickness_mm=20.0),
        ],
    )
    def test_nothing_to_tell(self, readings):
        """With the diameter alone, without a law or beyond all bells there is nothing to hold against it."""
        assert contradiction(readings) is None

    def test_stranger_bells_are_left_alone(self):
        """A heavy old bell, two standard deviations off in each reading, is no contradiction."""
        assert contradiction(Readings("bronze", 1000.0, 490.0, None, 850.0)) is None

    @settings(deadline=None)
    @given(DIAMETERS_MM, STRIKES_HZ, st.none() | st.floats(3.0, 650.0), st.none() | st.floats(1.0, 250_000.0))
    def test_any_readings(self, diameter, strike_hz, thickness, mass_kg):
        """Whatever is read, a contradiction is a number with a reason, or none."""
        found = contradiction(Readings("bronze", diameter, strike_hz, thickness, mass_kg))
        assert found is None or (math.isfinite(found.value) and found.value > 0.0 and found.note)
