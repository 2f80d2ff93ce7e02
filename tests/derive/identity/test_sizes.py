"""Diameter, note and mass as one normal distribution, against closed forms and SciPy."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from registry.derive.identity.facts import Facts
from registry.derive.identity.rules import rules
from registry.derive.identity.sizes import (
    General,
    Sizes,
    expected,
    general_sizes,
    likely_ln_d,
    size_ratios,
    sizes_of,
)
from registry.derive.law import NINETY_PERCENT, law_of

GENERAL = General(math.log(0.9), 0.4, (1.0, 0.0, 0.0))


@pytest.fixture
def no_slips(monkeypatch: pytest.MonkeyPatch) -> None:
    """Leave slips and careless hands out, so that one normal distribution remains."""
    monkeypatch.setattr("registry.derive.identity.sizes._shifts", lambda _part: ((0.0, 1.0),))
    monkeypatch.setitem(rules(), "careless", {"chance": 1e-12, "times": 1, "source": ""})


def bell(
    mm: float | None = None, hz: float | None = None, kg: float | None = None, sd: float = 0.01
) -> Facts:
    """Give a bell whose sizes are each known within ``sd``."""
    return Facts(
        mouth_diameter_mm=mm,
        diameter_sd=sd,
        strike_hz=hz,
        strike_sd_cents=sd * 1200 / math.log(2),
        mass_kg=kg,
        mass_sd=sd,
    )


def test_two_normal_readings_of_one_size_in_closed_form(no_slips: None) -> None:
    """With a diameter alone the ratio is that of two normal distributions, written out by hand.

    x given r is normal about the mean of prior and r weighted by their precisions (A. Gelman et al., Bayesian
    Data Analysis, 3rd ed. 2013, eq. 2.10 to 2.12).
    """
    record, found, sd = math.log(0.86), math.log(0.87), 0.01
    said = size_ratios(sizes_of([bell(870)]), expected(sizes_of([bell(860)]), GENERAL), GENERAL)[0, 0]
    precision = 1 / GENERAL.spread**2 + 1 / sd**2
    middle = (GENERAL.mean / GENERAL.spread**2 + record / sd**2) / precision
    same = stats.norm(middle, math.sqrt(1 / precision + sd**2)).logpdf(found)
    other = stats.norm(GENERAL.mean, math.hypot(GENERAL.spread, sd)).logpdf(found)
    assert said == pytest.approx(same - other, abs=1e-6)


def test_the_three_together_are_one_normal_distribution(no_slips: None) -> None:
    """All three factors add up to the ratio that SciPy's multivariate normal distribution gives."""
    record, found = bell(860, 480, 420, 0.02), bell(865, 470, 400, 0.03)
    said = size_ratios(sizes_of([found]), expected(sizes_of([record]), GENERAL), GENERAL)
    x, r = sizes_of([found]).value[0], sizes_of([record]).value[0]

    def prior(at: float) -> tuple[np.ndarray, np.ndarray]:
        law = law_of("bronze")
        step = 1e-5
        ln_f = [math.log(law.strike(math.exp(at + way * step)).value) for way in (-1, 0, 1)]
        slope = (ln_f[2] - ln_f[0]) / (2 * step)
        middle = ln_f[1] + slope * (GENERAL.mean - at)
        ln_m = math.log(law.mass_factor) + middle + 4 * GENERAL.mean
        maker = np.array([[1, 0, 0], [slope, 1, 0], [slope + 4, 1, 1]])
        scatter = (law.pitch_scatter.spread, law.undated_scatter.spread)
        spreads = (GENERAL.spread, *(spread / NINETY_PERCENT for spread in scatter))
        return np.array([GENERAL.mean, middle, ln_m]), maker @ np.diag(np.square(spreads)) @ maker.T

    mean, covariance = prior(r[0])
    gain = covariance @ np.linalg.inv(covariance + 0.02**2 * np.eye(3))
    narrowed = covariance - gain @ covariance
    same = stats.multivariate_normal(mean + gain @ (r - mean), narrowed + 0.03**2 * np.eye(3)).logpdf(x)
    mean, covariance = prior(x[0])
    other = stats.multivariate_normal(mean, covariance + 0.03**2 * np.eye(3)).logpdf(x)
    assert said.sum() == pytest.approx(same - other, abs=2e-3)


def test_a_note_that_follows_from_the_size_speaks_for_no_record() -> None:
    """Size and note found, the size alone on record: the note adds next to nothing once the size agrees."""
    hz = law_of("bronze").strike(0.86).value
    said = size_ratios(sizes_of([bell(860, hz)]), expected(sizes_of([bell(860)]), GENERAL), GENERAL)[0]
    assert said[0] > 3.0
    assert abs(said[1]) < 0.1


def test_a_note_is_held_against_a_size_on_record() -> None:
    """The note alone was found, the size alone is on record: the law tells whether they go together."""
    hz = law_of("bronze").strike(0.86).value
    records = expected(sizes_of([bell(860), bell(1300)]), GENERAL)
    fits, does_not = size_ratios(sizes_of([bell(hz=hz)]), records, GENERAL)[:, 1]
    assert fits > 1.0
    assert does_not < -1.0


def test_what_neither_knows_says_exactly_nothing() -> None:
    """A record without sizes, or a find without them, gives 0, not nearly 0."""
    empty, full = sizes_of([Facts()]), sizes_of([bell(860, 480, 420)])
    assert not size_ratios(full, expected(empty, GENERAL), GENERAL).any()
    assert not size_ratios(empty, expected(full, GENERAL), GENERAL).any()


@pytest.mark.parametrize(
    ("record", "found", "part"),
    [
        (bell(860), bell(430), 0),  # radius
        (bell(860), bell(860 * math.pi), 0),  # circumference
        (bell(hz=440), bell(hz=880), 1),  # octave
        (bell(hz=440), bell(hz=435), 1),  # reference pitch
        (bell(kg=400), bell(kg=882), 2),  # pounds
    ],
)
def test_a_slip_of_unit_or_octave_is_likelier_than_any_other_error_of_that_size(
    record: Facts, found: Facts, part: int
) -> None:
    """A reading that is off by a known slip speaks against the record far less than one just beside it."""
    model = expected(sizes_of([record]), GENERAL)
    beside = sizes_of([found])
    beside = Sizes(beside.value * 1.0, beside.sd, beside.law)
    beside.value[0, part] += 0.11
    slipped = size_ratios(sizes_of([found]), model, GENERAL)[0, part]
    other = size_ratios(beside, model, GENERAL)[0, part]
    assert slipped > other + 1.5


@given(apart=st.lists(st.floats(0.0, 0.06), min_size=2, max_size=2, unique=True))
def test_the_nearer_of_two_records_is_the_likelier(apart: list[float]) -> None:
    """Within a few per cent, where no slip lies, the farther a reading the less it speaks for the record."""
    near, far = sorted(apart)
    records = expected(sizes_of([bell(860 * math.exp(near)), bell(860 * math.exp(far))]), GENERAL)
    one, other = size_ratios(sizes_of([bell(860)]), records, GENERAL)[:, 0]
    assert one >= other - 1e-3


def test_bells_in_general_are_those_of_the_registry_and_some_more() -> None:
    """A registry of small bells draws the mean down, its spread counts, and a few bells do not decide it."""
    many = sizes_of([bell(400 + number) for number in range(400)])
    few = sizes_of([bell(400)])
    usual = general_sizes(sizes_of([]), (1.0, 0.0, 0.0))
    assert usual.mean == pytest.approx(math.log(rules()["mouth_diameter"]["mean_m"]))
    assert general_sizes(many, (1.0, 0.0, 0.0)).mean < math.log(0.65)
    assert general_sizes(few, (1.0, 0.0, 0.0)).mean > math.log(0.85)


def test_the_likely_size_comes_from_what_is_known() -> None:
    """Diameter before note before mass, and the general mean where nothing is known."""
    rows = sizes_of([bell(860, 480, 420), bell(hz=480), bell(kg=420), Facts()])
    guess = np.exp(likely_ln_d(rows, GENERAL))
    assert guess[0] == pytest.approx(0.86)
    assert guess[1] == pytest.approx(0.87, abs=0.03)
    assert guess[2] == pytest.approx(0.87, abs=0.05)
    assert guess[3] == pytest.approx(0.9)
