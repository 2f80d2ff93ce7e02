"""What a bell does to fittings and tower when it swings, as bands, and never as a certificate."""

import random

import pytest
from seen_bells import seen

from registry.derive.condition.pendulum import GRAVITY_M_S2, largest_forces, pendulum_length_m, period_s
from registry.derive.condition.rulebook import rulebook
from registry.derive.condition.swing import life_factor, swing_of
from registry.model.derived import Derived
from registry.model.vocabulary import vocabulary

MASS = Derived("mass_kg", 500.0, 400.0, 600.0, 0.9, "size", 1, {}, "source")


def test_counted_strokes():
    """Sixty strokes in a minute are a swing of two seconds, give or take a stroke and half a second."""
    swing = swing_of([seen()])
    assert swing.strokes_a_minute.value == pytest.approx(60.0)
    assert swing.strokes_a_minute.low == pytest.approx(60 * 59 / 60.5)
    assert swing.strokes_a_minute.high == pytest.approx(60 * 61 / 59.5)
    assert swing.period_s.value == pytest.approx(2.0)
    assert swing.pendulum_length_m.value == pytest.approx(pendulum_length_m(2.0, 50.0))


def test_published_counts():
    """Two large bells rang 38.6 and 44.8 strokes a minute (grabinski-online.de)."""
    for strokes, seconds, rate in ((80, 124.3, 38.6), (100, 134.0, 44.8)):
        swing = swing_of([seen(ringing={"strokes": strokes, "strokes_in_s": seconds})])
        assert swing.strokes_a_minute.value == pytest.approx(rate, abs=0.05)
        assert swing.period_s.value == pytest.approx(120.0 / rate, rel=2e-3)


def test_published_forces_lie_in_the_bands():
    """The published forces, 3.1 and 1.6 at 108 degrees, 4 1/4 and 2 1/2 at full circle, lie in the bands.

    Grassmayr foundry, Innsbruck; Heywood, in A. Dutton, Bell frames and bell towers.
    """
    straight = swing_of([seen(ringing={"swing_angle_deg": 108.0})])
    assert straight.vertical_share.low < 3.1 < straight.vertical_share.high
    assert straight.horizontal_share.low < 1.6 < straight.horizontal_share.high
    full = swing_of([seen(ringing={"style": "full-circle"}, fittings={"headstock": "full-circle-wood"})])
    assert full.vertical_share.low < 4.25 < full.vertical_share.high
    assert full.horizontal_share.low < 2.5 < full.horizontal_share.high
    assert full.pendulum_length_m is None


def test_bands_hold_every_bell_that_fits_the_readings():
    """Whatever angle, c and mass within their errors are true, length and forces lie in the bands."""
    rng = random.Random(7)  # noqa: S311 - nothing secret
    swing = swing_of([seen()])
    for _ in range(500):
        angle, c = rng.uniform(45.0, 55.0), rng.uniform(0.7, 0.9)
        weight = rng.uniform(980.0, 1020.0) * GRAVITY_M_S2 / 1000.0
        rate = rng.uniform(59.0, 61.0) / rng.uniform(59.5, 60.5)
        forces, length = largest_forces(angle, c), pendulum_length_m(2.0 / rate, angle)
        for band, value in (
            (swing.vertical_kn, forces.vertical * weight),
            (swing.horizontal_kn, forces.horizontal * weight),
            (swing.pendulum_length_m, length),
        ):
            assert band.low <= value <= band.high
        assert swing.period_s.low <= period_s(length, angle) <= swing.period_s.high


def test_estimated_mass():
    """Without a weighing the estimate gives the forces, with its interval; without either, shares alone."""
    unweighed = [seen(dimensions={"mass_basis": "estimated"})]
    swing = swing_of(unweighed, MASS)
    assert swing.vertical_kn.low == pytest.approx(swing.vertical_share.low * 400 * GRAVITY_M_S2 / 1000)
    bare = swing_of(unweighed)
    assert bare.vertical_kn is None
    assert bare.vertical_share is not None
    assert "the mass is not known" in " ".join(bare.unknown)


@pytest.mark.parametrize(
    ("change", "missing", "word"),
    [
        ({"ringing": {"strokes": None}}, "period_s", "strokes were not counted"),
        ({"ringing": {"swing_angle_deg": None}}, "vertical_share", "swing angle was not told"),
    ],
)
def test_what_is_missing_is_told(change, missing, word):
    """What was not counted or told gives no number, and is named."""
    swing = swing_of([seen(**change)])
    assert getattr(swing, missing) is None
    assert word in " ".join(swing.unknown)


def test_unknown_headstock_gives_wide_bands():
    """Without the kind of headstock the bands are wide, and that is told."""
    known, unknown = swing_of([seen()]), swing_of([seen(fittings={"headstock": "unknown"})])
    assert unknown.vertical_share.low < known.vertical_share.low
    assert unknown.vertical_share.high > known.vertical_share.high
    assert "headstock is not known" in " ".join(unknown.unknown)


@pytest.mark.parametrize("style", [*vocabulary("ringing_style").terms, None])
def test_only_bells_that_swing(style):
    """Bells that hang at rest, turn over, or of which nothing is told, have no swing."""
    swing = swing_of([seen(ringing={"style": style})])
    assert (swing is not None) == (style in ("swinging", "swinging-low", "full-circle"))


@pytest.mark.parametrize("headstock", [*vocabulary("headstock").terms, None])
def test_every_headstock_has_a_band(headstock):
    """Every word for a headstock has bounds of c between 0 and 1, or counts as unknown."""
    swing = swing_of([seen(fittings={"headstock": headstock})])
    assert 1.0 < swing.vertical_share.low < swing.vertical_share.high < 5.0
    for low, high in rulebook().settings["swing"]["c"].values():
        assert 0.0 < low < high < 1.0


class TestTower:
    """The bell's frequency and its multiples against the tower's."""

    def multiples(self, tower_hz):
        """Give for each multiple of the bell's 0.5 Hz whether it is close to the tower, and feared."""
        swing = swing_of([seen(tower={"natural_frequency_hz": tower_hz})])
        return {each.multiple: (each.close, each.feared) for each in swing.multiples}

    def test_feared(self):
        """A tower at three times the bell's frequency is what is feared (A. Ziegler, TEC21 51-52, 2012)."""
        assert self.multiples(1.5)[3] == (True, True)
        assert self.multiples(0.5)[1] == (True, False)

    def test_clear(self):
        """A tower far above all multiples is close to none."""
        assert not any(close for close, _ in self.multiples(8.0).values())

    @pytest.mark.parametrize(("share", "close"), [(1.19, True), (1.28, False), (0.82, True), (0.73, False)])
    def test_within_a_fifth(self, share, close):
        """Close is within a fifth, and what the counting may be off (common practice, no source)."""
        assert self.multiples(1.5 * share)[3][0] is close

    def test_apart(self):
        """The distance of a multiple from the tower's frequency is told in per cent."""
        swing = swing_of([seen(tower={"natural_frequency_hz": 2.0})])
        assert swing.multiples[2].apart_percent == pytest.approx(-25.0)

    def test_not_measured(self):
        """Without a measured frequency there is no word on resonance, and that is told."""
        swing = swing_of([seen()])
        assert swing.multiples == ()
        assert "tower's frequency was not measured" in " ".join(swing.unknown)


def test_never_a_certificate():
    """Every answer carries the sentence that it is no structural certificate."""
    assert "not a structural certificate" in swing_of([seen()]).caution


def test_life_and_swing():
    """One degree more costs 14 % of the life of the same bell and clapper (ProBell, second-hand)."""
    assert life_factor(-1.0) == pytest.approx(0.86)
    assert life_factor(5.0) == pytest.approx(1 / 0.86**5)
    assert "same bell with the same clapper" in rulebook().settings["swing"]["life_source"]
