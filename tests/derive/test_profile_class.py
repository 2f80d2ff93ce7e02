"""The weight class from two of size, note and mass."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from published import hertz, published

from registry.derive.law import law_of
from registry.derive.profile_class import class_of
from registry.model.known_bell import Tolerances

CLASSES = [row for row in published("foundry_tables.csv") if row["source"].startswith("campanologia")]
WORDS = [*law_of("bronze").half_semitones]


def args(row):
    """Give diameter, note and mass of a published row."""
    return float(row["mouth_diameter_m"]) * 1000.0, hertz(row["note"]), float(row["mass_kg"])


class TestPublished:
    """The seven-class table (campanologia.org, Tipologia di sagoma) and others' notion of its words."""

    @pytest.mark.parametrize("row", CLASSES, ids=lambda row: f"{row['profile']}-{row['note']}")
    def test_step(self, row):
        """Each bell of the table is found within a third of a semitone of its class, from size and note."""
        diameter, strike_hz, _ = args(row)
        judged = class_of(diameter, strike_hz)
        wanted = law_of("bronze").half_semitones[row["profile"]] / 2.0
        assert judged.step.value == pytest.approx(wanted, abs=1 / 3)
        assert judged.step.low < wanted < judged.step.high

    @pytest.mark.parametrize("row", CLASSES, ids=lambda row: f"{row['profile']}-{row['note']}")
    def test_three_ways_agree(self, row):
        """Size and note, size and mass, note and mass of one bell lead to one class, within a semitone."""
        diameter, strike_hz, mass_kg = args(row)
        steps = [
            class_of(*known).step.value
            for known in ((diameter, strike_hz, None), (diameter, None, mass_kg), (None, strike_hz, mass_kg))
        ]
        assert max(steps) - min(steps) < 1.0

    def test_stated_classes(self):
        """Of 11 church bells published with a class, at least nine lie within the interval of theirs."""
        rows = [
            (row, row["profile_stated"].replace("super-heavy", "ultra-heavy"))
            for row in published("published_bells.csv")
            if row["profile_stated"].replace("super-heavy", "ultra-heavy") in WORDS and row["strike_hz"]
        ]
        assert len(rows) == 11
        held = 0
        for row, word in rows:
            step = class_of(float(row["mouth_diameter_m"]) * 1000.0, float(row["strike_hz"])).step
            held += step.low <= law_of("bronze").half_semitones[word] / 2.0 <= step.high
        assert held >= 9

    @pytest.mark.parametrize(
        ("mass_kg", "likeliest"), [(370.0, "light"), (450.0, "medium"), (800.0, "ultra-heavy")]
    )
    def test_one_founders_words(self, mass_kg, likeliest):
        """One founder's 370, 450 and 800 kg for a' (Grassmayr, Glockenvarianten): light to heaviest."""
        judged = class_of(strike_hz=440.0, mass_kg=mass_kg)
        assert abs(WORDS.index(judged.likeliest) - WORDS.index(likeliest)) <= 1


class TestJudgement:
    """What the judgement says."""

    @settings(deadline=None)
    @given(st.floats(500.0, 3000.0), st.floats(330.0, 500.0))
    def test_probabilities(self, diameter, product):
        """The seven probabilities add up to one, and the likeliest is the highest."""
        judged = class_of(diameter, 1000.0 * product / diameter)
        assert [*judged.probabilities] == WORDS
        assert sum(judged.probabilities.values()) == pytest.approx(1.0)
        assert judged.probabilities[judged.likeliest] == max(judged.probabilities.values())

    @settings(deadline=None)
    @given(st.floats(500.0, 3000.0), st.floats(360.0, 470.0))
    def test_heavier_is_heavier(self, diameter, product):
        """A bell that is sharper for its size is never judged lighter."""
        order = [
            WORDS.index(class_of(diameter, 1000.0 * each / diameter).likeliest)
            for each in (product, 1.02 * product)
        ]
        assert order[0] <= order[1]

    def test_never_sure(self):
        """Founders differ by more than a class, so that none is more than one chance in two."""
        assert max(class_of(1180.0, 345.0).probabilities.values()) < 0.5

    def test_note(self):
        """The three likeliest are named with their probabilities, and the doubt about words."""
        step = class_of(1180.0, 345.0).step
        assert step.note.startswith("most like medium")
        assert step.note.count("%") == 3
        assert "one founder's light may be another's medium" in step.note
        assert step.unit == "semitones"

    def test_rough_readings_say_less(self):
        """What readings leave open widens the interval and flattens the probabilities."""
        sure = class_of(1180.0, 345.0)
        rough = class_of(1180.0, 345.0, tolerances=Tolerances(mouth_diameter_mm=60.0, strike_cents=50.0))
        assert rough.step.high - rough.step.low > sure.step.high - sure.step.low
        assert rough.step.value == sure.step.value

    def test_by_mass_is_less_sure(self):
        """Mass in place of the note leaves more open than the note; beside the note it adds nothing."""
        by_note, by_mass = class_of(1180.0, 345.0), class_of(1180.0, None, 1020.0)
        assert by_mass.step.high - by_mass.step.low > by_note.step.high - by_note.step.low
        assert class_of(1180.0, 345.0, 1020.0).step.value == by_note.step.value

    def test_not_to_be_judged(self):
        """One reading alone, a note an octave off, or another metal than bronze gives no class."""
        assert class_of(1180.0, 690.0) is None
        assert class_of(1180.0) is None
        assert class_of(strike_hz=345.0) is None
        assert class_of(1180.0, 345.0, material="cast-steel") is None
        assert class_of(1180.0, 345.0, material=None) is None

    def test_refused(self):
        """What no bell can have is refused by name."""
        with pytest.raises(ValueError, match="strike_hz must be a number"):
            class_of(1180.0, 9000.0)
