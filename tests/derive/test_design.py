"""First sizes for a wanted note: against foundry tables, and against the law turned round."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from published import hertz, published

from registry.derive.design import OF_RING, designs, plan
from registry.derive.law import law_of
from registry.derive.mass import mass_estimates
from registry.derive.strike import strike_estimate
from registry.model.known_bell import KnownBell

CLASSES = [row for row in published("foundry_tables.csv") if row["source"].startswith("campanologia")]
WORDS = [*law_of("bronze").half_semitones]
RING = [
    KnownBell(str(number), "Anders", "north", 2000, diameter, 1000.0 * 425.0 / diameter, mass)
    for number, (diameter, mass) in enumerate(((1620.0, None), (1290.0, None), (1080.0, None)))
]
"""Three bells of f·d = 425, heavier than medium."""


def design(strike_hz, profile, material="bronze"):
    """Give the design of one class."""
    return designs(strike_hz, material, profiles=[profile])[0]


class TestPublished:
    """The seven-class table (campanologia.org, Tipologia di sagoma) read from note to size."""

    @pytest.mark.parametrize("row", CLASSES, ids=lambda row: f"{row['profile']}-{row['note']}")
    def test_table(self, row):
        """Diameter within 3 %, mass within 12 % of the table, and both held by the intervals."""
        found = design(hertz(row["note"]), row["profile"])
        diameter_mm, mass_kg = 1000.0 * float(row["mouth_diameter_m"]), float(row["mass_kg"])
        assert found.mouth_diameter.value == pytest.approx(diameter_mm, rel=0.03)
        assert found.mass.value == pytest.approx(mass_kg, rel=0.12)
        assert found.mouth_diameter.low < diameter_mm < found.mouth_diameter.high
        assert found.mass.low < mass_kg < found.mass.high

    @pytest.mark.parametrize(("mass_kg", "profile"), [(450.0, "medium"), (370.0, "light")])
    def test_one_founder(self, mass_kg, profile):
        """Another founder's bells of a' weigh 450 kg medium, 370 kg light (Grassmayr): held."""
        found = design(440.0, profile)
        assert found.mass.low < mass_kg < found.mass.high

    def test_soundbow(self):
        """Seven medium bells have f·d²/t = 5545 (G. Hoffs, Archdiocese of Cologne): held, within 3 %."""
        found = design(350.0, "medium")
        thickness_mm = 1000.0 * 350.0 * (found.mouth_diameter.value / 1000.0) ** 2 / 5545.0
        assert found.soundbow_thickness.value == pytest.approx(thickness_mm, rel=0.03)


class TestDesigns:
    """The law turned round."""

    @settings(deadline=None)
    @given(st.floats(110.0, 900.0), st.sampled_from(WORDS))
    def test_has_the_note(self, strike_hz, profile):
        """A bell of the designed diameter and class is expected to sound the wanted note."""
        found = design(strike_hz, profile)
        expected = strike_estimate(found.mouth_diameter.value, profile)
        assert expected.value == pytest.approx(strike_hz, rel=1e-5)
        by_strike = mass_estimates(found.mouth_diameter.value, strike_hz)[0]
        assert found.mass.value == pytest.approx(by_strike.value)

    def test_all_classes(self):
        """Without a class all seven are given; the heavier the class, the larger and heavier the bell."""
        found = designs(293.66)
        assert [each.profile for each in found] == WORDS
        for quantity in ("mouth_diameter", "soundbow_thickness", "mass"):
            values = [getattr(each, quantity).value for each in found]
            assert values == sorted(values)

    def test_what_it_rests_on(self):
        """Quantity, method, inputs and interval are told."""
        found = design(293.66, "medium")
        assert (found.mouth_diameter.unit, found.soundbow_thickness.unit, found.mass.unit) == (
            "mm",
            "mm",
            "kg",
        )
        assert found.mass.method == "strike-and-class"
        assert found.mass.inputs == {
            "strike_hz": 293.66,
            "material": "bronze",
            "profile_class": "medium",
        }
        assert found.mass.low < found.mass.value < found.mass.high

    def test_steel(self):
        """Steel has one design without a class, and nothing of the sound-bow."""
        (only,) = designs(293.66, "cast-steel")
        assert only.profile == "unknown"
        assert only.soundbow_thickness is None
        assert only.mouth_diameter.value > design(293.66, "medium").mouth_diameter.value

    @pytest.mark.parametrize(
        ("args", "kwargs", "word"),
        [
            ((9000.0,), {}, "strike_hz"),
            ((21.0,), {}, "no bell from 50 to 6700 mm"),
            ((300.0, "brass"), {}, "no published bells of brass"),
            ((300.0, "cast-steel"), {"profiles": ["medium"]}, "not defined for cast-steel"),
            ((300.0,), {"profiles": ["fat"]}, "profile_class must be one of"),
        ],
    )
    def test_refused(self, args, kwargs, word):
        """What nothing published bears, or no bell can be, is refused with the reason."""
        with pytest.raises(ValueError, match=word):
            designs(*args, **kwargs)


class TestRing:
    """A bell that is to match others."""

    def test_like_its_sisters(self):
        """A bell for a ring of f·d = 425 gets that f·d, and a narrower interval than by its class."""
        found = designs(365.0, ring=RING)
        assert found[0].profile == OF_RING
        assert found[0].mouth_diameter.value == pytest.approx(1000.0 * 425.0 / 365.0, rel=0.01)
        by_class = found[1].mouth_diameter
        of_ring = found[0].mouth_diameter
        assert of_ring.high / of_ring.low < by_class.high / by_class.low
        assert of_ring.note == "rests on 3 bells of the ring"

    def test_weighed_ring(self):
        """Weighed bells of the ring, 10 % above the law, make the new one heavier too, and more certain."""
        weighed = [
            bell._replace(
                mass_kg=1.1 * mass_estimates(bell.mouth_diameter_mm, bell.strike_hz, cast_year=2000)[0].value
            )
            for bell in RING
        ]
        plain, told = designs(365.0, ring=RING)[0], designs(365.0, ring=weighed)[0]
        assert told.mass.method == "strike-and-weighed-ring"
        assert told.mass.value > 1.03 * plain.mass.value
        assert told.mass.high / told.mass.low < plain.mass.high / plain.mass.low
        assert told.mouth_diameter == plain.mouth_diameter

    def test_ring_without_use(self):
        """Bells whose notes do not fit their sizes cannot lead a design."""
        with pytest.raises(ValueError, match="no bell of the ring"):
            designs(365.0, ring=[bell._replace(strike_hz=2.0 * bell.strike_hz) for bell in RING])


class TestPlan:
    """Metal, price and time by the user's numbers."""

    MASS = design(293.66, "medium").mass

    def test_nothing_set(self):
        """Without numbers of the user there is no metal, no price, no time."""
        assert plan(self.MASS) == (None, None, None)

    def test_metal(self):
        """Eight per cent for gates and feeders come on top of the mass, at every end of the interval."""
        low, best, high = plan(self.MASS, allowance_percent=8.0).metal_kg
        assert (low, best, high) == pytest.approx(
            [1.08 * each for each in (self.MASS.low, self.MASS.value, self.MASS.high)]
        )

    def test_price_and_time(self):
        """Price goes with the mass, time with a fixed part and one for every 100 kg."""
        found = plan(self.MASS, price_per_kg=30.0, days=40.0, days_per_100_kg=2.0)
        assert found.price[1] == pytest.approx(30.0 * self.MASS.value)
        assert found.days[1] == pytest.approx(40.0 + 0.02 * self.MASS.value)
        assert plan(self.MASS, days=40.0).days == (40.0, 40.0, 40.0)

    @pytest.mark.parametrize("name", ["allowance_percent", "price_per_kg", "days", "days_per_100_kg"])
    @pytest.mark.parametrize("number", [-1.0, math.nan, math.inf])
    def test_refused(self, name, number):
        """A negative or endless number is refused by name."""
        with pytest.raises(ValueError, match=name):
            plan(self.MASS, **{name: number})
