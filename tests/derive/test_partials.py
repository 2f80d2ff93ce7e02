"""Deviations of partials, the third of a bell, and the true-harmonic test."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from published import published

from registry.derive.partials import partial_deviations, third_of, true_harmonic
from registry.model.vocabulary import vocabulary

IDEAL_CENTS = {
    "hum": -2400.0,
    "prime": -1200.0,
    "tierce": 1200.0 * math.log2(1.2 / 2),
    "quint": 1200.0 * math.log2(1.5 / 2),
    "superquint": 1200.0 * math.log2(1.5),
    "octave-nominal": 1200.0,
}
"""Ideal places in cents from the nominal: Fletcher & Rossing, The Physics of Musical Instruments, ch. 21."""


def bells():
    """Give the published bells: cents from the nominal by partial, the first of a doublet."""
    found = {}
    for row in published("partials.csv"):
        if row["partial"] in vocabulary("partial").terms:
            found.setdefault(row["bell"], {}).setdefault(row["partial"], row)
    return found


BELLS = bells()
SOUNDING = {name: rows for name, rows in BELLS.items() if all(row["frequency_hz"] for row in rows.values())}


def frequencies(rows, nominal_hz=1000.0):
    """Give the frequencies of a bell, made from its cents where the source gives no hertz."""
    return {
        name: float(row["frequency_hz"] or nominal_hz * 2.0 ** (float(row["cents_from_nominal"]) / 1200.0))
        for name, row in rows.items()
    }


def named(word):
    """Give the frequencies of the published bell whose name begins so."""
    return frequencies(next(rows for name, rows in BELLS.items() if name.startswith(word)))


class TestDeviations:
    """Cents from the ideal place."""

    @pytest.mark.parametrize("rows", SOUNDING.values(), ids=SOUNDING)
    def test_published_bells(self, rows):
        """Deviations agree with the published cents within 1.5, their rounding (tables/partials.csv)."""
        deviations = {each.quantity: each for each in partial_deviations(frequencies(rows))}
        assert len(deviations) == len(rows) - 1
        for name in rows.keys() - {"nominal"}:
            expected = float(rows[name]["cents_from_nominal"]) - IDEAL_CENTS[name]
            each = deviations[f"{name.replace('-', '_')}_deviation_cents"]
            assert each.value == pytest.approx(expected, abs=1.5)
            assert each.method == "from-half-nominal"
            assert each.low < each.value < each.high

    def test_ideal_bell(self):
        """Partials at 1/2, 1, 6/5, 3/2, 2, 5/2, 8/3, 3, 4 deviate by nothing (Fletcher & Rossing, ch. 21)."""
        ideal = {
            "hum": 1 / 2,
            "prime": 1,
            "tierce": 6 / 5,
            "quint": 3 / 2,
            "nominal": 2,
            "tenth": 5 / 2,
            "eleventh": 8 / 3,
            "superquint": 3,
            "octave-nominal": 4,
        }
        deviations = partial_deviations({name: 400.0 * ratio for name, ratio in ideal.items()}, 400.0)
        assert [each.value for each in deviations] == pytest.approx([0.0] * len(ideal), abs=0.001)

    def test_default_uncertainty(self):
        """Without an uncertainty one of 0.5 Hz is taken (common practice, no source), and it is told."""
        (hum,) = partial_deviations({"nominal": 800.0, "hum": 200.0})
        assert hum.inputs["uncertainty_hz"] == 0.5

    def test_worked_example(self):
        """Nominal 800 Hz, hum 215 Hz is 125.2 cents sharp of a quarter: 1200·log2(215/200)."""
        (hum,) = partial_deviations({"nominal": 800.0, "hum": 215.0})
        assert hum.value == pytest.approx(125.2, abs=0.05)

    def test_strike_note_and_nominal_are_two(self):
        """With a strike note given the nominal is a partial like the others, and its deviation is told."""
        deviations = {each.quantity: each for each in partial_deviations({"nominal": 810.0}, strike_hz=400.0)}
        assert deviations["nominal_deviation_cents"].value == pytest.approx(1200.0 * math.log2(810 / 800))
        assert deviations["nominal_deviation_cents"].inputs["strike_hz"] == 400.0
        assert partial_deviations({"nominal": 810.0}) == ()

    def test_nothing_to_tell_from(self):
        """Without strike note and nominal there is no deviation, and no other partial takes their place."""
        assert partial_deviations({"hum": 215.0, "prime": 400.0}) == ()
        assert partial_deviations({}) == ()
        assert partial_deviations({}, strike_hz=400.0) == ()

    def test_lowest_first(self):
        """Partials stand in their ideal order, whatever the order of reading."""
        partials = {
            "octave-nominal": 1600.0,
            "hum": 200.0,
            "tenth": 1000.0,
            "prime": 400.0,
            "eleventh": 1066.0,
        }
        order = [each.quantity for each in partial_deviations(partials, strike_hz=400.0)]
        assert [name.split("_")[0] for name in order] == ["hum", "prime", "tenth", "eleventh", "octave"]

    def test_major_third_is_judged_as_such(self):
        """The tierce of a major-third bell is told from 5/4 (Fletcher & Rossing, ch. 21), not from 6/5."""
        minor, major = (
            partial_deviations({"nominal": 800.0, "tierce": tierce_hz})[0] for tierce_hz in (480.0, 500.0)
        )
        assert (minor.value, minor.inputs["ideal_ratio"]) == (pytest.approx(0.0), 1.2)
        assert (major.value, major.inputs["ideal_ratio"]) == (pytest.approx(0.0), 1.25)
        assert "major third" in major.note

    def test_interval_from_reading(self):
        """The interval covers both readings: 2 Hz are 17.4 cents at 200 Hz, 4.3 at 800, together 17.9."""
        (hum,) = partial_deviations({"nominal": 800.0, "hum": 200.0}, uncertainty_hz=2.0)
        assert hum.high - hum.value == pytest.approx(17.9, abs=0.1)
        assert hum.value - hum.low == pytest.approx(17.9, abs=0.1)

    @settings(deadline=None)
    @given(
        st.dictionaries(st.sampled_from([*vocabulary("partial").terms]), st.floats(15.0, 20000.0)),
        st.none() | st.floats(20.0, 8000.0),
    )
    def test_every_valid_reading(self, partials, strike_hz):
        """Any valid readings give intervals that hold the value; a coarser reading, a wider one."""
        for fine, coarse in zip(
            partial_deviations(partials, strike_hz, 0.1),
            partial_deviations(partials, strike_hz, 1.0),
            strict=True,
        ):
            assert coarse.low < fine.low < fine.value < fine.high < coarse.high
            assert fine.source

    def test_refused(self):
        """A partial outside the vocabulary and a frequency outside the range are refused by name."""
        with pytest.raises(ValueError, match=r"partial must be one of hum, .*not 'fundamental'"):
            partial_deviations({"fundamental": 400.0})
        with pytest.raises(ValueError, match="hum_hz must be a number from 15 to 20000"):
            partial_deviations({"hum": 14.0, "nominal": 800.0})
        with pytest.raises(ValueError, match="strike_hz must be"):
            partial_deviations({"hum": 200.0}, strike_hz=0.0)
        with pytest.raises(ValueError, match="uncertainty_hz must be"):
            partial_deviations({"hum": 200.0}, strike_hz=400.0, uncertainty_hz=200.0)


class TestThird:
    """Limits: cents of the tierce below the nominal in published bells (tables/partials.csv)."""

    @pytest.mark.parametrize(
        ("rows", "kind"),
        [
            (
                rows,
                "neutral" if name.startswith("Albert") else "major" if name.startswith("Major") else "minor",
            )
            for name, rows in BELLS.items()
        ],
        ids=BELLS,
    )
    def test_published_bells(self, rows, kind):
        """The Albert Clock has a neutral third, the 1987 design a major one, all others a minor one."""
        third = third_of(frequencies(rows))
        assert third.kind == kind
        assert third.below_nominal.value == pytest.approx(
            -float(rows["tierce"]["cents_from_nominal"]), abs=1.5
        )
        assert "outside" not in third.below_nominal.note

    @pytest.mark.parametrize(
        ("cents", "kind", "outside"),
        [
            (974.0, "", False),
            (971.0, "minor", True),
            (947.6, "minor", True),
            (947.4, "minor", False),
            (874.6, "minor", False),
            (874.4, "minor", True),
            (863.0, "minor", True),
            (862.0, "neutral", True),
            (850.4, "neutral", False),
            (841.6, "neutral", False),
            (829.0, "neutral", True),
            (827.0, "major", True),
            (814.4, "major", False),
            (799.6, "major", False),
            (776.0, "major", True),
            (774.0, "", False),
        ],
    )
    def test_each_side_of_each_limit(self, cents, kind, outside):
        """Inside a published range that kind; between two the nearer, and it says so; far outside none."""
        third = third_of({"nominal": 2000.0, "tierce": 2000.0 * 2.0 ** (-cents / 1200.0)}, 0.001)
        assert third.kind == kind
        assert ("outside the published range" in third.below_nominal.note) == outside

    def test_coarse_reading_leaves_it_open(self):
        """Where the interval reaches another kind the note says that it is possible."""
        partials = {"nominal": 800.0, "tierce": 800.0 * 2.0 ** (-868 / 1200)}
        assert "another kind possible" in third_of(partials, 4.0).below_nominal.note
        assert "another kind possible" not in third_of(partials, 0.1).below_nominal.note

    def test_not_read(self):
        """Without tierce or nominal there is no third."""
        assert third_of({"tierce": 480.0}) is None
        assert third_of({"nominal": 800.0}) is None


class TestTrueHarmonic:
    """W. A. Hibbert (2003): hum, prime and nominal within 10 cents of octaves."""

    @pytest.mark.parametrize(
        ("bell", "answer"),
        [
            ("Taylor bell c.5 cwt", True),
            ("Yeovil bell 1 ", True),
            ("Yeovil bell 2 ", True),
            ("Yeovil bell 3 ", False),
            ("Yeovil bell 10 ", False),
            ("Great Paul", False),
        ],
    )
    def test_published_bells(self, bell, answer):
        """The true-harmonic bells of the table are told from the older ones."""
        assert true_harmonic(named(bell), 0.1).answer is answer

    def test_hemony(self):
        """Hemony's bells lie within 3 cents of octaves (W. A. Hibbert 2003) and pass."""
        partials = {
            "nominal": 1000.0,
            "hum": 250.0 * 2.0 ** (3 / 1200),
            "prime": 500.0 * 2.0 ** (-3 / 1200),
        }
        harmonic = true_harmonic(partials, 0.1)
        assert harmonic.answer is True
        assert harmonic.worst.value == pytest.approx(3.0)
        assert harmonic.worst.note.startswith("true-harmonic")

    @pytest.mark.parametrize(("cents", "answer"), [(9.9, True), (10.1, False), (-9.9, True), (-10.1, False)])
    @pytest.mark.parametrize("name", ["hum", "prime"])
    def test_each_side_of_the_limit(self, name, cents, answer):
        """Ten cents either way are the limit, for hum and for prime."""
        partials = {"nominal": 1000.0, "hum": 250.0, "prime": 500.0}
        partials[name] *= 2.0 ** (cents / 1200)
        assert true_harmonic(partials, 0.001).answer is answer

    def test_coarse_reading_cannot_tell(self):
        """A hum read to 2 Hz leaves the question open, and the note says so."""
        harmonic = true_harmonic({"nominal": 1000.0, "hum": 251.0, "prime": 500.0}, 2.0)
        assert harmonic.answer is None
        assert "too coarse" in harmonic.worst.note
        assert harmonic.worst.low < harmonic.worst.value < harmonic.worst.high

    def test_not_read(self):
        """Without all three there is no answer."""
        assert true_harmonic({"hum": 250.0, "prime": 500.0}) is None
