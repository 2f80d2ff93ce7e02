"""The bells of one ring held against scales: definitions, exact rings, and what readings leave open."""

import math
import random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from published import published

from registry.derive.ring import RingNote, missing_notes, ring_tunings, wanted_hz
from registry.derive.scales import EQUAL, JUST, MEANTONE, MODES, SCALES
from registry.model.pitch import Pitch

MAJOR = (0, 2, 4, 5, 7, 9, 11, 12)


def ring(key_hz, cents, doubt=2.0):
    """Make the notes of a ring from its key note and the cents above it."""
    return [
        RingNote(str(place), key_hz * 2.0 ** (each / 1200.0), doubt)
        for place, each in enumerate(cents, start=1)
    ]


def tuning(notes, scale):
    """Hold a ring against one scale."""
    return next(each for each in ring_tunings(notes) if each.scale == scale)


class TestScales:
    """The scales by their definitions."""

    def test_meantone(self):
        """Its fifth is a quarter of the syntonic comma (81/80) narrow, its major third pure."""
        comma = 1200 * math.log2(81 / 80)
        pure = 1200 * math.log2(3 / 2)
        assert MEANTONE.above_key(7) == pytest.approx(pure - comma / 4)
        assert MEANTONE.above_key(4) == pytest.approx(1200 * math.log2(5 / 4))
        assert MEANTONE.above_key(2) == pytest.approx(MEANTONE.above_key(4) / 2)

    def test_just(self):
        """Third, fifth and seventh are 5/4, 3/2 and 15/8 to the key note."""
        for semitones, ratio in ((4, 5 / 4), (7, 3 / 2), (11, 15 / 8), (19, 3.0), (-12, 0.5)):
            assert JUST.above_key(semitones) == pytest.approx(1200 * math.log2(ratio))

    @pytest.mark.parametrize("scale", SCALES, ids=lambda scale: scale.name)
    def test_steps_rise_near_the_equal_ones(self, scale):
        """Every step lies within a third of a semitone of the equal one, in order."""
        assert list(scale.cents) == sorted(scale.cents)
        assert all(abs(a - b) < 34 for a, b in zip(scale.cents, EQUAL.cents, strict=True))

    def test_modes(self):
        """A mode has seven steps, and no two are the same."""
        assert {len(mode) for mode in MODES.values()} == {7}
        assert len(set(MODES.values())) == len(MODES)


class TestExactRings:
    """Rings that are tuned to a scale."""

    @pytest.mark.parametrize("scale", SCALES, ids=lambda scale: scale.name)
    @given(key_hz=st.floats(100.0, 900.0), number=st.integers(5, 8))
    @settings(deadline=None)
    def test_fits_its_own_scale(self, scale, key_hz, number):
        """A ring tuned to a scale fits that one best, without deviation, whatever its pitch."""
        notes = ring(key_hz, [scale.above_key(step) for step in MAJOR[:number]])
        best = ring_tunings(notes)[0]
        assert best.scale == scale.name
        assert best.rms_cents < 1e-6
        assert best.modes[0] == "major"
        assert all(abs(bell.deviation.value) < 1e-6 for bell in best.bells)

    @pytest.mark.parametrize("a_hz", [428.0, 435.0, 440.0, 452.0])
    def test_reference(self, a_hz):
        """The pitch of the ring is found: a' = 435 Hz of old, 440 Hz of ISO 16; to half a semitone off it."""
        notes = ring(a_hz * 2.0 ** (-9 / 12), [100.0 * step for step in MAJOR])
        found = tuning(notes, "equal")
        assert found.reference_hz == pytest.approx(a_hz)
        assert found.key.scientific == "C4"
        assert [bell.pitch.scientific for bell in found.bells[:3]] == ["C4", "D4", "E4"]

    def test_one_bell_off(self):
        """A bell 20 cents sharp among seven in tune pulls the pitch by 2.5 and stands 17.5 sharp."""
        cents = [100.0 * step for step in MAJOR]
        cents[3] += 20.0
        found = tuning(ring(262.0, cents), "equal")
        assert found.bells[3].deviation.value == pytest.approx(17.5)
        assert found.bells[0].deviation.value == pytest.approx(-2.5)
        assert found.bells[3].above_lowest_cents == pytest.approx(520.0)

    def test_order_does_not_matter(self):
        """Trebles first or tenor first, each bell has the same deviation."""
        notes = ring(262.0, [JUST.above_key(step) for step in MAJOR])
        there, back = tuning(notes, "meantone"), tuning(notes[::-1], "meantone")
        assert [bell.deviation.value for bell in there.bells] == pytest.approx(
            [bell.deviation.value for bell in back.bells[::-1]]
        )


class TestKey:
    """Key note and mode."""

    @pytest.mark.parametrize(
        ("steps", "key", "mode"),
        [
            ((0, 2, 4, 5, 7), "C4", "major"),
            ((0, 2, 3, 5, 7, 8), "C4", "minor"),
            ((0, 3, 5), "C4", "minor"),
            ((0, 2, 3, 5, 7, 9, 10), "C4", "dorian"),
            ((0, 4, 5, 7, 9, 11, 14), "C4", "major"),
        ],
    )
    def test_mode(self, steps, key, mode):
        """The lowest bell is the key note where a mode on it has all the others; the commonest counts."""
        found = tuning(ring(261.63, [100.0 * step for step in steps]), "equal")
        assert (found.key.scientific, found.modes[0]) == (key, mode)

    def test_key_above_the_lowest(self):
        """B C D E F G A has no mode of ours on B: the key is C, on which major has them all."""
        found = tuning(ring(246.94, [100.0 * step for step in (0, 1, 3, 5, 6, 8, 10)]), "equal")
        assert (found.key.scientific, found.modes[0]) == ("C4", "major")

    def test_chromatic(self):
        """Twelve semitones have no mode; they hang from the lowest bell, and nothing is missing."""
        found = tuning(ring(261.63, [100.0 * step for step in range(13)]), "equal")
        assert (found.key.scientific, found.modes) == ("C4", ())
        assert missing_notes(found) == ()


class TestGaps:
    """What a ring lacks."""

    def test_missing(self):
        """C E F G C lacks D, A and B of C major."""
        found = tuning(ring(261.63, [0, 400, 500, 700, 1200]), "equal")
        assert [note.scientific for note in missing_notes(found)] == ["D4", "A4", "B4"]

    @pytest.mark.parametrize("scale", SCALES, ids=lambda scale: scale.name)
    def test_wanted(self, scale):
        """The frequency for a gap is that of the scale at the ring's own pitch."""
        notes = ring(270.0, [scale.above_key(step) for step in (0, 4, 5, 7, 12)])
        found = tuning(notes, scale.name)
        lacking = Pitch(found.key.number + 9)
        assert wanted_hz(found, lacking) == pytest.approx(270.0 * 2.0 ** (scale.above_key(9) / 1200.0))

    def test_bells_have_what_is_wanted(self):
        """In a ring in tune the wanted frequency of a bell that is there is its own."""
        notes = ring(270.0, [MEANTONE.above_key(step) for step in MAJOR])
        found = tuning(notes, "meantone")
        for note, bell in zip(notes, found.bells, strict=True):
            assert wanted_hz(found, bell.pitch) == pytest.approx(note.strike_hz)


class TestIntervals:
    """What readings leave open."""

    def test_nine_in_ten(self):
        """Of rings in tune, read with errors, nine in ten intervals hold no deviation at all."""
        draw = random.Random(3)  # noqa: S311 - no secret
        doubts = [1.0, 3.0, 5.0, 2.0, 8.0, 2.0]
        held = total = 0
        for _ in range(400):
            notes = [
                RingNote(
                    str(place),
                    262.0 * 2.0 ** ((100.0 * step + draw.gauss(0.0, doubt / 1.6449)) / 1200),
                    doubt,
                )
                for place, (step, doubt) in enumerate(zip(MAJOR, doubts, strict=False))
            ]
            for bell in tuning(notes, "equal").bells:
                held += bell.deviation.low <= 0.0 <= bell.deviation.high
                total += 1
        assert 0.88 <= held / total <= 0.92

    def test_uncertain_bells_weigh_less(self):
        """A bell read to 20 cents hardly moves the pitch that others read to 1 cent give."""
        notes = ring(262.0, [0.0, 200.0, 430.0, 500.0], doubt=1.0)
        notes[2] = notes[2]._replace(uncertainty_cents=20.0)
        found = tuning(notes, "equal")
        assert abs(found.bells[0].deviation.value) < 0.1
        assert found.bells[2].deviation.value == pytest.approx(30.0, abs=0.1)

    def test_what_it_rests_on(self):
        """Quantity, unit, method and inputs are told."""
        told = tuning(ring(262.0, [0.0, 700.0]), "just").bells[1].deviation
        assert (told.quantity, told.unit, told.method) == ("ring_deviation_cents", "cents", "just")
        assert told.inputs["note"] == "G4"
        assert told.inputs["bells"] == 2


def test_yeovil():
    """The ring of Yeovil, tuned in 1931 (Hibbert 2001, partials.csv), is in a major key, within 12 cents."""
    nominals = {}
    for row in published("partials.csv"):
        if row["bell"].startswith("Yeovil") and row["partial"] == "nominal":
            nominals.setdefault(row["bell"], float(row["frequency_hz"]))
    assert len(nominals) >= 5
    best = ring_tunings([RingNote(name, hz / 2.0, 2.0) for name, hz in nominals.items()])[0]
    assert best.modes[0] == "major"
    assert best.rms_cents < 12.0


@pytest.mark.parametrize(
    ("notes", "word"),
    [
        ([RingNote("a", 262.0, 2.0)], "at least two"),
        ([RingNote("a", 262.0, 2.0), RingNote("b", 19.0, 2.0)], "strike_hz"),
        ([RingNote("a", 262.0, 2.0), RingNote("b", 330.0, 0.0)], "uncertainty_cents"),
        ([RingNote("a", 262.0, 2.0), RingNote("b", 330.0, math.nan)], "uncertainty_cents"),
    ],
)
def test_refused(notes, word):
    """One bell is no ring, and readings must be possible ones."""
    with pytest.raises(ValueError, match=word):
        ring_tunings(notes)


@settings(deadline=None)
@given(st.lists(st.floats(20.0, 8000.0), min_size=2, max_size=12))
def test_any_ring(strikes_hz):
    """Whatever the notes, each bell has a deviation from every scale and a note of its own pitch."""
    for found in ring_tunings([RingNote("", hz, 2.0) for hz in strikes_hz]):
        assert len(found.bells) == len(strikes_hz)
        assert math.isfinite(found.rms_cents)
        assert all(bell.deviation.low < bell.deviation.value < bell.deviation.high for bell in found.bells)
