"""Loss of the sound-bow at a strike point, and what it asks for."""

import itertools
import math

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from registry.derive.mass import mass_estimates
from registry.derive.wear import soundbow_loss, wear_band

CODES = {"not-measured", "watch", "plan", "turn-or-rebuild"}


class TestLoss:
    """Share of the thickness lost, after A. Bartocha and C. Baron, Materials 14 (2021) 2504."""

    def test_from_thicknesses(self):
        """A wall of 72 mm at the pit and 80 mm beside it has lost a tenth."""
        loss = soundbow_loss(thickness_at_pit_mm=72.0, thickness_beside_mm=80.0)
        assert loss.value == pytest.approx(10.0)
        assert (loss.quantity, loss.unit, loss.level) == ("soundbow_loss_percent", "percent", 1.0)
        assert loss.method == "thickness-against-beside"

    def test_from_depth(self):
        """A pit of 8 mm in a wall of 80 mm is a tenth."""
        loss = soundbow_loss(pit_depth_mm=8.0, thickness_beside_mm=80.0)
        assert loss.value == pytest.approx(10.0)
        assert loss.method == "depth-against-beside"

    def test_first_survey_goes_before_the_wall_beside(self):
        """The first thickness, where it is known, is what the loss is told from: the rim beside wears too."""
        loss = soundbow_loss(thickness_at_pit_mm=72.0, thickness_beside_mm=78.0, first_thickness_mm=80.0)
        assert loss.value == pytest.approx(10.0)
        assert loss.inputs == {"thickness_at_pit_mm": 72.0, "first_thickness_mm": 80.0, "tolerance_mm": 0.5}

    def test_default_tolerance(self):
        """Without a tolerance one of 0.5 mm is taken (common practice, no source), and it is told."""
        loss = soundbow_loss(thickness_at_pit_mm=72.0, thickness_beside_mm=80.0)
        assert loss.inputs["tolerance_mm"] == 0.5
        assert (loss.low, loss.high) == pytest.approx((100 * (1 - 72.5 / 79.5), 100 * (1 - 71.5 / 80.5)))

    @settings(deadline=None)
    @given(st.floats(10.0, 300.0), st.floats(0.0, 0.9), st.floats(0.05, 2.0), st.booleans())
    def test_bounds_hold_for_every_error(self, unworn, share, tolerance, by_depth):
        """No combination of largest errors leaves the interval; brute force over the corners."""
        worn = unworn * share if by_depth else unworn * (1.0 - share)
        assume(unworn > 2.0 * tolerance + 1.0)
        assume(worn >= 1.0 if not by_depth else worn <= 150.0)
        known = {"pit_depth_mm" if by_depth else "thickness_at_pit_mm": worn, "thickness_beside_mm": unworn}
        loss = soundbow_loss(**known, tolerance_mm=tolerance)
        for worn_error, unworn_error in itertools.product((-tolerance, 0.0, tolerance), repeat=2):
            true_share = (worn + worn_error) / (unworn + unworn_error)
            true_loss = 100.0 * min(max(true_share if by_depth else 1.0 - true_share, 0.0), 1.0)
            assert loss.low - 1e-9 <= true_loss <= loss.high + 1e-9
        assert 0.0 <= loss.low <= loss.value <= loss.high <= 100.0

    def test_unworn_within_the_tolerance(self):
        """A wall read a little thicker at the pit than beside it has lost nothing that can be told."""
        loss = soundbow_loss(thickness_at_pit_mm=80.6, thickness_beside_mm=80.0)
        assert (loss.value, loss.low) == (0.0, 0.0)
        assert loss.high > 0.0

    @pytest.mark.parametrize(
        ("known", "word"),
        [
            ({}, "not measured: the pit"),
            ({"thickness_beside_mm": 80.0}, "not measured: the pit"),
            ({"pit_depth_mm": 0.0}, "not measured: the unworn thickness"),
            ({"thickness_at_pit_mm": 72.0}, "not measured: the unworn thickness"),
            ({"thickness_at_pit_mm": 82.0, "thickness_beside_mm": 80.0}, "thicker than the unworn wall"),
            ({"pit_depth_mm": 80.0, "thickness_beside_mm": 80.0}, "deeper than the wall"),
            ({"pit_depth_mm": 1.0, "thickness_beside_mm": 5.0, "tolerance_mm": 2.5}, "as large as the wall"),
        ],
    )
    def test_no_value(self, known, word):
        """What is not measured, or contradicts itself, has no loss and says why."""
        loss = soundbow_loss(**known)
        assert (loss.value, loss.low, loss.high) == (None, None, None)
        assert word in loss.note

    def test_depth_and_wall_left_disagree(self):
        """A depth that does not add up with the wall left is pointed out."""
        known = {"thickness_at_pit_mm": 72.0, "thickness_beside_mm": 80.0}
        assert soundbow_loss(**known, pit_depth_mm=8.5).note == ""
        assert "differ from the unworn wall by 4.0 mm" in soundbow_loss(**known, pit_depth_mm=4.0).note

    @pytest.mark.parametrize(
        "known",
        [
            {"thickness_at_pit_mm": 0.0},
            {"thickness_beside_mm": 700.0},
            {"first_thickness_mm": math.nan},
            {"pit_depth_mm": -0.1},
            {"tolerance_mm": 0.0},
            {"tolerance_mm": math.nan},
        ],
        ids=str,
    )
    def test_refused(self, known):
        """A size outside the range of the form, or a tolerance that is none, is refused by name."""
        with pytest.raises(ValueError, match=f"{next(iter(known))} must be"):
            soundbow_loss(**known)


class TestBands:
    """Above 10 %: Bartocha & Baron 2021; below 5 % and up to 10 %: common practice, no source."""

    @pytest.mark.parametrize(
        ("percent", "code"),
        [
            (0.0, "watch"),
            (4.99, "watch"),
            (5.0, "plan"),
            (10.0, "plan"),
            (10.01, "turn-or-rebuild"),
            (60.0, "turn-or-rebuild"),
        ],
    )
    def test_each_side_of_each_limit(self, percent, code):
        """Below 5 % watch, up to and including 10 % plan, above it turn or rebuild."""
        loss = soundbow_loss(pit_depth_mm=percent, thickness_beside_mm=100.0, tolerance_mm=0.001)
        assert loss.value == percent
        assert wear_band(loss).code == code

    def test_worst_case(self):
        """The band of the upper end stands beside that of the value."""
        band = wear_band(soundbow_loss(pit_depth_mm=2.4, thickness_beside_mm=50.0))
        assert (band.code, band.at_worst) == ("watch", "plan")

    def test_not_measured(self):
        """Where nothing was measured nothing is judged, and the advice is to measure."""
        band = wear_band(soundbow_loss())
        assert (band.code, band.at_worst) == ("not-measured", "not-measured")
        assert band.advice.startswith("measure")

    def test_gravest_defers(self):
        """The advice to turn or rebuild sends to the heritage authority and to licensed practice."""
        advice = wear_band(soundbow_loss(pit_depth_mm=20.0, thickness_beside_mm=100.0)).advice
        assert "heritage authority" in advice
        assert "licensed practice" in advice

    @settings(deadline=None)
    @given(
        st.none() | st.floats(1.0, 650.0),
        st.none() | st.floats(3.0, 650.0),
        st.none() | st.floats(0.0, 150.0),
    )
    def test_never_good(self, at_pit, beside, depth):
        """Whatever was measured, no band calls the bell good, and each carries advice and source."""
        loss = soundbow_loss(thickness_at_pit_mm=at_pit, thickness_beside_mm=beside, pit_depth_mm=depth)
        band = wear_band(loss)
        assert {band.code, band.at_worst} <= CODES
        assert (band.code == "not-measured") == (loss.value is None)
        assert band.advice
        assert band.source

    def test_refused(self):
        """An estimate of something else has no band."""
        with pytest.raises(ValueError, match="must be one of soundbow_loss_percent, not of mass_kg"):
            wear_band(mass_estimates(1000.0)[0])
