"""What bells have in common: the prediction against the full normal model, solved by NumPy."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from registry.derive.constants import constants
from registry.derive.kinship import Deviation, Kin, Witnesses, factored, kinship, solved
from registry.derive.law import Scatter

SCATTER = Scatter(0.08, 0.05)
KIN = st.builds(
    Kin,
    st.sampled_from(["", "Anders", "Bruun"]),
    st.sampled_from(["north", "south"]),
    st.none() | st.integers(1900, 1930),
    st.floats(0.3, 3.0),
)
DEVIATIONS = st.lists(st.builds(Deviation, KIN, st.floats(-0.3, 0.3), st.floats(0.0, 0.1)), max_size=9)


def covariance(kin):
    """Give the covariance of the deviations of some bells, written out in full."""
    share = constants("kinship")["share_of_registry"]
    alike = np.array([[kinship(one, other) for other in kin] for one in kin])
    return SCATTER.ring**2 * (share + (1.0 - share) * alike)


class TestKinship:
    """How much two bells have in common."""

    A = Kin("Anders", "north", 1900, 1.0)

    def test_twins(self):
        """Bells of one founder, tower, year and size have all in common."""
        assert kinship(self.A, self.A._replace()) == pytest.approx(1.0)

    def test_strangers(self):
        """Bells of two founders have nothing in common; nor have two of unknown founders in two towers."""
        assert kinship(self.A, self.A._replace(founder="Bruun")) == 0.0
        assert kinship(self.A._replace(founder=""), self.A._replace(founder="", tower="south")) == 0.0

    def test_founder_by_name(self):
        """A founder is known by his name in any case of letters."""
        assert kinship(self.A, self.A._replace(founder="ANDERS")) == pytest.approx(1.0)

    def test_fades(self):
        """What bells have in common fades with size and years, and is less in another tower."""
        by_size = [kinship(self.A, self.A._replace(diameter_m=d)) for d in (1.0, 1.2, 1.5, 2.0)]
        by_year = [kinship(self.A, self.A._replace(cast_year=year)) for year in (1900, 1905, 1910, 1950)]
        assert by_size == sorted(by_size, reverse=True)
        assert by_year == sorted(by_year, reverse=True)
        assert by_size[-1] < 0.25
        elsewhere = kinship(self.A, self.A._replace(tower="south"))
        assert elsewhere == pytest.approx(constants("kinship")["share_of_founder"])
        assert by_year[-1] == pytest.approx(elsewhere)

    def test_unknown_founder(self):
        """Where no founder is known, bells of one tower and time are kin; of other times they are not."""
        one = self.A._replace(founder="")
        assert kinship(one, one._replace(cast_year=1902)) > 0.9
        assert kinship(one, one._replace(cast_year=1990)) < 0.01
        assert kinship(one._replace(cast_year=None), one._replace(cast_year=None)) == 0.0


class TestExpected:
    """The deviation to expect, against conditioning the whole normal model at once."""

    @settings(deadline=None)
    @given(KIN, DEVIATIONS)
    def test_is_the_conditional_normal(self, kin, deviations):
        """Mean and standard deviation are those of the normal model given all witnesses (to 1e-9)."""
        told = Witnesses(deviations, SCATTER).expected(kin)
        everyone = [*(each.kin for each in deviations), kin]
        shared = covariance(everyone)
        own = np.diag([SCATTER.bell**2 + each.uncertainty**2 for each in deviations] + [SCATTER.bell**2])
        total = shared + own
        seen, cross = total[:-1, :-1], shared[-1, :-1]
        weights = np.linalg.solve(seen, cross) if deviations else np.zeros(0)
        mean = float(weights @ np.array([each.value for each in deviations]))
        variance = float(total[-1, -1] - weights @ cross)
        assert told.value == pytest.approx(mean, abs=1e-9)
        assert told.deviation == pytest.approx(math.sqrt(variance), abs=1e-9)
        assert told.bells == len(deviations)

    def test_nobody(self):
        """Without witnesses the law stands, with its whole scatter."""
        told = Witnesses([], SCATTER).expected(TestKinship.A)
        assert told.value == 0.0
        assert told.deviation == pytest.approx(math.hypot(*SCATTER))
        assert told.bells == 0

    def test_sisters_speak_loudest(self):
        """A sister moves the expectation most, the founder's bell elsewhere less, a stranger least."""
        kin = TestKinship.A
        moved = [
            Witnesses([Deviation(other, 0.1)], SCATTER).expected(kin).value
            for other in (kin._replace(), kin._replace(tower="south"), kin._replace(founder="Bruun"))
        ]
        assert moved == sorted(moved, reverse=True)
        assert moved[0] > 1.5 * moved[1] > 0.0
        assert 0.0 < moved[2] < 0.015

    def test_more_sisters_say_more(self):
        """Each further sister draws the expectation to what they have in common, and narrows it."""
        kin = TestKinship.A
        told = [
            Witnesses([Deviation(kin._replace(), 0.1) for _ in range(count)], SCATTER).expected(kin)
            for count in range(5)
        ]
        values, deviations = [each.value for each in told], [each.deviation for each in told]
        assert values == sorted(values)
        assert values[-1] < 0.1
        assert deviations == sorted(deviations, reverse=True)
        assert deviations[-1] > SCATTER.bell

    def test_uncertain_sisters_say_less(self):
        """A sister whose mass is a rough figure counts for less."""
        kin = TestKinship.A
        sure, rough = (
            Witnesses([Deviation(kin._replace(), 0.1, doubt)], SCATTER).expected(kin).value
            for doubt in (0.0, 0.1)
        )
        assert 0.0 < rough < sure

    def test_not_for_itself(self):
        """A witness that is the bell itself is not heard, and not counted."""
        kin = TestKinship.A
        both = Witnesses(
            [Deviation(kin, 0.3, 0.0, "it"), Deviation(kin._replace(), 0.1, 0.0, "sister")], SCATTER
        )
        alone = Witnesses([Deviation(kin._replace(), 0.1, 0.0, "sister")], SCATTER)
        assert both.expected(kin, "it") == alone.expected(kin)

    def test_counts(self):
        """Sisters, other bells of the founder and strangers are counted apart."""
        kin = TestKinship.A
        others = [
            kin._replace(),
            kin._replace(cast_year=1908),
            kin._replace(cast_year=1950),
            kin._replace(tower="south"),
            kin._replace(founder="Bruun"),
        ]
        told = Witnesses([Deviation(each, 0.0) for each in others], SCATTER).expected(kin)
        assert (told.sisters, told.family, told.others, told.speaker) == (2, 2, 1, "sisters")


class TestSolved:
    """The solution of small systems."""

    @settings(deadline=None)
    @given(st.lists(st.lists(st.floats(-3.0, 3.0), min_size=4, max_size=4), min_size=4, max_size=4))
    def test_like_numpy(self, rows):
        """Solutions and factors are those of NumPy (to 1e-9)."""
        matrix = np.array(rows) @ np.array(rows).T + np.eye(4)
        right = [1.0, -2.0, 3.0, 0.5]
        assert solved(matrix.tolist(), right) == pytest.approx(np.linalg.solve(matrix, right), abs=1e-9)
        lower = factored(matrix.tolist())
        for row, expected in zip(lower, np.linalg.cholesky(matrix), strict=True):
            assert row == pytest.approx(expected[: len(row)], abs=1e-9)

    def test_nothing(self):
        """No equations have no unknowns."""
        assert solved([], []) == []
