"""Mass and note as the registry's own bells tell them: published rings, and invented bells."""

import math
from collections import Counter
from statistics import median

import pytest
from published import published

from registry.derive.law import NINETY_PERCENT, law_of
from registry.derive.mass import mass_estimates
from registry.derive.sisters import Sisters, mass_with_sisters, rounding
from registry.derive.strike import strike_estimate
from registry.model.known_bell import KnownBell, Tolerances

BELL = KnownBell("new", "Anders", "north", 1900, 1180.0, 345.0)
RING = [
    BELL._replace(
        bell_id=bell_id,
        mouth_diameter_mm=diameter_mm,
        strike_hz=strike_hz,
        mass_kg=1.1 * mass_estimates(diameter_mm, strike_hz, cast_year=1900)[0].value,
        mass_tolerance_kg=1.0,
    )
    for bell_id, diameter_mm, strike_hz in (("a", 1320.0, 308.0), ("b", 1050.0, 388.0))
]
"""Two bells that weigh 10 % more than the law of bronze has it."""


def published_bells():
    """Give the published church bells of bronze as bells of a registry."""
    rows = [
        row
        for row in published("published_bells.csv")
        if row["material"] == "bronze" and row["use_in_fit"] == "1" and row["profile_stated"] != "carillon"
    ]
    return [
        KnownBell(
            str(number),
            row["founder"].split(",")[0],
            row["tower"],
            int(row["year_cast"]) if row["year_cast"] else None,
            float(row["mouth_diameter_m"]) * 1000.0,
            float(row["strike_hz"]) if row["strike_hz"] else None,
            float(row["mass_kg"]),
        )
        for number, row in enumerate(rows)
    ]


class TestPublishedRings:
    """Each bell of tests/derive/tables/published_bells.csv in turn as the one that was never weighed."""

    def test_mass(self):
        """Weighed sisters bring the median error to 4 %; nine intervals in ten hold."""
        bells = published_bells()
        sisters = Sisters(bells)
        told = [
            (bell.mass_kg, estimate)
            for bell in bells
            for estimate in sisters.masses(bell)
            if estimate.method == "size-strike-and-sisters"
        ]
        assert len(told) == 48
        assert median(abs(estimate.value / truth - 1.0) for truth, estimate in told) < 0.04
        held = sum(estimate.low <= truth <= estimate.high for truth, estimate in told)
        assert 0.86 <= held / len(told) <= 0.96

    def test_note(self):
        """Sisters with a note tell that of a bell to 40 cents in the median; nine intervals in ten hold."""
        bells = published_bells()
        sisters = Sisters(bells)
        told = [
            (bell.strike_hz, estimate)
            for bell in bells
            if bell.strike_hz and (estimate := sisters.strike(bell)) and "sisters" in estimate.method
        ]
        assert len(told) == 48
        assert median(1200.0 * abs(math.log2(each.value / truth)) for truth, each in told) < 40.0
        assert 0.86 <= sum(each.low <= truth <= each.high for truth, each in told) / len(told) <= 0.96

    def test_which_bells_speak(self):
        """No published church bell contradicts itself, so that each hears 67 others."""
        bells = [bell for bell in published_bells() if bell.strike_hz]
        heard = Counter(
            sum(estimate.inputs[who] for who in ("sisters", "of_founder", "others"))
            for bell in bells
            for estimate in Sisters(bells).masses(bell)
        )
        assert heard == {67: 2 * len(bells)}


class TestMass:
    """What weighed sisters do to an estimate."""

    def test_sisters_draw_the_estimate(self):
        """Two sisters 10 % above the law draw the estimate upwards, not all the way, and narrow it."""
        plain = mass_estimates(1180.0, 345.0, cast_year=1900)[0]
        told = mass_with_sisters(BELL, RING)
        assert plain.value * 1.04 < told.value < plain.value * 1.10
        assert told.high / told.low < plain.high / plain.low

    def test_says_who_spoke(self):
        """Method, inputs and note name whose bells spoke and how many."""
        stranger = BELL._replace(bell_id="c", founder="Bruun", tower="south", mass_kg=1100.0)
        elsewhere = BELL._replace(bell_id="d", tower="south", mass_kg=1100.0)
        told = mass_with_sisters(BELL, [*RING, elsewhere, stranger])
        assert told.method == "size-strike-and-sisters"
        assert (told.inputs["sisters"], told.inputs["of_founder"], told.inputs["others"]) == (2, 1, 1)
        assert told.note == (
            "4 weighed bells spoke: 2 of the same founder, tower and decade, 1 more of the founder, "
            "1 of other founders"
        )
        assert mass_with_sisters(BELL, [elsewhere, stranger]).method == "size-strike-and-founder"
        alone = mass_with_sisters(BELL, [stranger])
        assert alone.method == "size-strike-and-registry"
        assert alone.note == "1 weighed bell spoke: 1 of other founders"

    def test_a_stranger_hardly_speaks(self):
        """One bell of another founder, 10 % above the law, moves the estimate by less than 2 %."""
        plain = mass_estimates(1180.0, 345.0, cast_year=1900)[0]
        told = mass_with_sisters(BELL, [RING[0]._replace(founder="Bruun", tower="south")])
        assert plain.value < told.value < 1.02 * plain.value

    def test_many_strangers_do(self):
        """Forty founders 10 % above the law show the habit of a region: more than half of it is believed."""
        strangers = [
            bell._replace(bell_id=f"{bell.bell_id}{number}", founder=f"founder {number}", tower=str(number))
            for number in range(40)
            for bell in RING
        ]
        plain = mass_estimates(1180.0, 345.0, cast_year=1900)[0]
        assert 1.05 * plain.value < mass_with_sisters(BELL, strangers).value < 1.10 * plain.value

    def test_without_a_note(self):
        """A bell without a note hears what its sisters weigh for their size."""
        told = mass_with_sisters(BELL._replace(strike_hz=None), RING)
        assert told.method == "size-and-sisters"
        assert told.value > mass_estimates(1180.0)[0].value

    def test_both_ways(self):
        """With a note there are two estimates, the one that uses it first."""
        told = [*Sisters(RING).masses(BELL)]
        assert [each.method for each in told] == ["size-strike-and-sisters", "size-and-sisters"]

    def test_nobody_speaks(self):
        """Without a weighed bell there is no estimate of this kind, nor from the bell itself."""
        assert mass_with_sisters(BELL, []) is None
        assert mass_with_sisters(BELL, [bell._replace(mass_kg=None) for bell in RING]) is None
        assert mass_with_sisters(RING[0], [RING[0]]) is None

    def test_own_mass_is_not_looked_at(self):
        """An estimate is the same whatever the bell itself was said to weigh."""
        sisters = Sisters([*RING, BELL._replace(mass_kg=2000.0)])
        assert [*sisters.masses(BELL)] == [*sisters.masses(BELL._replace(mass_kg=500.0))]

    @pytest.mark.parametrize(
        "slip",
        [
            {"strike_hz": 616.0},
            {"mass_kg": 1514.0 / 0.45359237},
            {"mouth_diameter_mm": 660.0, "strike_hz": None},
        ],
    )
    def test_who_contradicts_himself_is_silent(self, slip):
        """A bell with its note an octave off, its mass in pounds or its radius for diameter is not heard."""
        assert mass_with_sisters(BELL, [RING[0]._replace(**slip)]) is None

    def test_own_note_in_doubt(self):
        """A bell whose own note lies an octave off hears its sisters by size alone."""
        told = [*Sisters(RING).masses(BELL._replace(strike_hz=690.0))]
        assert [each.method for each in told] == ["size-and-sisters"]

    def test_rough_figures_count_for_less(self):
        """A sister of 1600 kg says less than one of 1571 kg, and one with a note a quarter-tone off less."""
        plain = mass_estimates(1180.0, 345.0, cast_year=1900)[0].value
        exact = RING[0]._replace(mass_kg=1600.0, mass_tolerance_kg=1.0)
        rough = exact._replace(mass_tolerance_kg=None)
        uncertain = exact._replace(tolerances=Tolerances(strike_cents=100.0))
        moved = [mass_with_sisters(BELL, [each]).value / plain for each in (exact, rough, uncertain)]
        assert moved == sorted(moved, reverse=True)

    def test_tolerances_widen(self):
        """What the bell's own readings leave open widens the interval: 4 times that of the diameter."""
        sure = mass_with_sisters(BELL, RING)
        open_ = mass_with_sisters(BELL._replace(tolerances=Tolerances(mouth_diameter_mm=30.0)), RING)
        added = math.sqrt(math.log(open_.high / open_.value) ** 2 - math.log(sure.high / sure.value) ** 2)
        assert added == pytest.approx(4.0 * 30.0 / 1180.0 * 1.782 / NINETY_PERCENT, rel=1e-3)

    def test_steel_hears_steel(self):
        """Steel bells have their own law and their own sisters; a material without a law has none."""
        told = mass_with_sisters(BELL, [RING[0]._replace(mass_kg=1000.0)], "cast-steel")
        assert told.value < 900.0
        with pytest.raises(ValueError, match="no law for bells of brass"):
            Sisters([], "brass")


class TestNote:
    """What sisters tell of a note."""

    def test_sisters_tell(self):
        """Sisters with f·d = 407 make one expect 407, and narrow the interval."""
        told = Sisters(RING).strike(BELL._replace(strike_hz=None))
        plain = strike_estimate(1180.0)
        assert told.value * 1.18 == pytest.approx(407.0, rel=0.01)
        assert told.high / told.low < plain.high / plain.low
        assert told.note == "2 bells with a note spoke: 2 of the same founder, tower and decade"

    def test_strangers_do_not(self):
        """Bells of other founders tell nothing of a note."""
        assert Sisters(RING).strike(BELL._replace(founder="Bruun")) is None


@pytest.mark.parametrize(
    ("mass_kg", "step"), [(1571.0, 1.0), (1570.0, 10.0), (1500.0, 100.0), (24000.0, 1000.0), (328.5, 1.0)]
)
def test_rounding(mass_kg, step):
    """The zeros a mass ends with tell how far it was rounded: an even spread over one step."""
    assert rounding(mass_kg) == pytest.approx(step / math.sqrt(12.0))


def test_law_of_one_fit():
    """The law and its sisters rest on one fit: without sisters the interval is that of the law."""
    law = law_of("bronze")
    assert law.mass_scatter.spread == pytest.approx(NINETY_PERCENT * math.hypot(*law.mass_scatter))
