"""The whole comparison: probabilities that sum to one, what is missing, what is believed before."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from registry.derive.identity.comparison import FACTS, Register, identify
from registry.derive.identity.facts import Facts, Record, Years, diameter_sd, mass_sd, strike_sd_cents
from registry.derive.identity.next_measurement import open_bits, what_next
from registry.derive.identity.rules import rules

MATERIALS = (None, "bronze", "cast-steel", "brass")


@st.composite
def some_facts(draw: st.DrawFn) -> Facts:
    """Draw what may be known of a bell, anything missing at will."""
    mm = draw(st.none() | st.floats(200, 2500))
    hz = draw(st.none() | st.floats(100, 2500))
    kg = draw(st.none() | st.floats(5, 9000))
    first = draw(st.none() | st.integers(1100, 2000))
    return Facts(
        mouth_diameter_mm=mm,
        diameter_sd=diameter_sd(mm) if mm else 0.0,
        strike_hz=hz,
        strike_sd_cents=strike_sd_cents(10.0),
        mass_kg=kg,
        mass_sd=mass_sd(kg) if kg else 0.0,
        partials_hz=draw(st.dictionaries(st.sampled_from(["hum", "tierce", "nominal"]), st.floats(50, 4000))),
        inscription=draw(st.sampled_from([(), ("auemaria*gracia",), ("solideogloria1720",), ("ansmeier",)])),
        cast_years=() if first is None else (Years(first, first + draw(st.integers(0, 200))),),
        material=draw(st.sampled_from(MATERIALS)),
        crown=draw(st.sampled_from([None, "canons", "flat-top"])),
        loops=draw(st.none() | st.integers(0, 12)),
        founder=draw(st.sampled_from([(), ("Hans Meier",), ("unknown",)])),
    )


def records(facts: list[Facts]) -> list[Record]:
    """Put facts on record."""
    return [Record(f"bell-{number}", each, "lost") for number, each in enumerate(facts)]


@settings(max_examples=40)
@given(st.lists(some_facts(), min_size=1, max_size=8), some_facts(), st.floats(0.01, 0.99), st.booleans())
def test_probabilities_sum_to_one(
    known: list[Facts], found: Facts, unregistered: float, by_status: bool
) -> None:
    """Whatever is known: all records and "none" together are certain, and every share is a number."""
    answer = identify(
        Register(records(known), 2026), found, unregistered=unregistered, by_status=by_status, most=3
    )
    assert answer.probabilities.sum() + answer.none == pytest.approx(1.0)
    assert sum(each.probability for each in answer.candidates) + answer.rest + answer.none == pytest.approx(
        1.0
    )
    assert np.isfinite(answer.probabilities).all()
    assert (answer.probabilities >= 0.0).all()
    assert list(answer.candidates) == sorted(answer.candidates, key=lambda each: -each.probability)


@settings(max_examples=30)
@given(st.lists(some_facts(), min_size=2, max_size=6), some_facts(), st.randoms(use_true_random=False))
def test_the_order_of_records_does_not_matter(known: list[Facts], found: Facts, chance: object) -> None:
    """Shuffled records keep their probabilities."""
    listed = records(known)
    shuffled = list(listed)
    chance.shuffle(shuffled)  # type: ignore[attr-defined]
    by_id = []
    for each in (listed, shuffled):
        answer = identify(Register(each, 2026), found, most=10)
        by_id.append({candidate.bell_id: candidate.probability for candidate in answer.candidates})
    assert by_id[0] == pytest.approx(by_id[1], abs=1e-9)


@settings(max_examples=30)
@given(some_facts(), st.lists(some_facts(), max_size=4))
def test_a_record_that_tells_nothing_keeps_its_prior_odds(found: Facts, others: list[Facts]) -> None:
    """Missing facts are worth exactly nothing: an empty record and "none" stay as they were to each other."""
    known = Register(records([Facts(), *others]), 2026)
    answer = identify(known, found, unregistered=0.3)
    prior = 0.7 / (1 + len(others))
    assert answer.probabilities[0] / answer.none == pytest.approx(prior / 0.3)


def test_an_empty_registry_has_none_of_them() -> None:
    """Without records the answer is certain."""
    answer = identify(Register([], 2026), Facts(mouth_diameter_mm=860, diameter_sd=0.01))
    assert answer.none == 1.0
    assert answer.candidates == []
    assert open_bits(answer) == 0.0


@pytest.mark.parametrize("share", [0.0, 1.0, -0.1, 1.5, math.nan])
def test_a_chance_is_a_chance(share: float) -> None:
    """What is believed before comparing lies between 0 and 1, the ends left out: nothing is certain."""
    with pytest.raises(ValueError, match="between 0 and 1"):
        identify(Register([], 2026), Facts(), unregistered=share)


def bell(mm: float, **more: object) -> Facts:
    """Give a bell of some diameter."""
    return Facts(mouth_diameter_mm=mm, diameter_sd=diameter_sd(mm), **more)  # type: ignore[arg-type]


def test_what_is_believed_before_is_believed_the_less_the_more_is_known() -> None:
    """A higher chance of "none" raises it, and a fact that fits one bell lowers it."""
    register = Register(records([bell(860, inscription=("ansmeierburgermeister1720",)), bell(1300)]), 2026)
    found = bell(861)
    little, much = (identify(register, found, unregistered=share).none for share in (0.1, 0.6))
    assert little < much
    sure = identify(register, found._replace(inscription=("meierburgermei",)), unregistered=0.6)
    assert sure.none < much
    assert sure.candidates[0].bell_id == "bell-0"


def test_what_became_of_it_counts_only_if_it_may() -> None:
    """Of two like bells the stolen one comes first, and neither where status is not to count."""
    like = [Record("hangs", bell(860), "hanging", 2025), Record("stolen", bell(860), "stolen", 2004)]
    register = Register(like, 2026)
    weighed, plain = (identify(register, bell(860), by_status=way) for way in (True, False))
    assert weighed.candidates[0].bell_id == "stolen"
    assert weighed.candidates[0].probability > 5 * weighed.candidates[1].probability
    assert plain.candidates[0].probability == pytest.approx(plain.candidates[1].probability)


def test_factors_add_up_to_the_odds() -> None:
    """The odds of a record against "none" are its prior odds times all its factors."""
    register = Register(records([bell(860, material="bronze", loops=6), bell(900)]), 2026)
    answer = identify(register, bell(865, material="bronze", loops=6), unregistered=0.4)
    for each in answer.candidates:
        odds = 0.6 * each.prior / 0.4 * math.exp(sum(each.factors.values()))
        assert each.probability / answer.none == pytest.approx(odds)
    assert answer.compared == tuple(
        name for name in FACTS if name in ("mouth_diameter_mm", "material", "loops")
    )


def test_no_single_fact_rules_a_bell_out() -> None:
    """Every factor has a floor: a statement may be wrong altogether."""
    register = Register(records([bell(860, material="bronze", cast_years=(Years(1500, 1500),))]), 2026)
    found = bell(2400, material="glass", cast_years=(Years(1999, 1999),))
    floors = rules()["blunder"]
    for name, said in identify(register, found).candidates[0].factors.items():
        assert said >= math.log(floors[name]) - 1e-9


def test_an_attribution_makes_its_years_less_surprising() -> None:
    """Founder and date together say less than each alone would: who cast it tells when."""
    known = [
        bell(800 + 9 * n, founder=("Hans Meier",), cast_years=(Years(1600 + n, 1600 + n),)) for n in range(12)
    ]
    known += [
        bell(500 + 9 * n, founder=(f"Other {n}",), cast_years=(Years(1400 + 5 * n, 1400 + 5 * n),))
        for n in range(100)
    ]
    register = Register(records(known), 2026)
    dated = Facts(cast_years=(Years(1605, 1605),))
    alone = register.ratios(dated)["cast_years"][5]
    with_founder = register.ratios(dated._replace(founder=("Hans Meier",)))["cast_years"][5]
    assert with_founder < alone - 1.0


class TestNext:
    """What to measure next."""

    def test_the_fact_in_which_the_candidates_differ(self) -> None:
        """Two bells alike but for their note: the note tells nearly all, the material nothing."""
        known = [
            bell(860, strike_hz=hz, strike_sd_cents=8.0, material="bronze", cast_years=(Years(1650, 1650),))
            for hz in (470.0, 520.0)
        ]
        register = Register(records(known), 2026)
        found = bell(860)
        answer = identify(register, found, unregistered=0.01)
        ranked = what_next(register, found, answer)
        assert ranked[0].fact == "strike_hz"
        assert 0.7 < ranked[0].bits <= open_bits(answer) + 0.3
        assert "material" not in {each.fact for each in ranked}
        assert "mouth_diameter_mm" not in {each.fact for each in ranked}

    @settings(max_examples=15)
    @given(st.lists(some_facts(), min_size=1, max_size=4), some_facts())
    def test_information_is_never_negative_and_never_more_than_all(
        self, known: list[Facts], found: Facts
    ) -> None:
        """Whatever is known, each measurement that is named is expected to tell something, and no wonder."""
        register = Register(records(known), 2026)
        answer = identify(register, found)
        for each in what_next(register, found, answer):
            assert each.fact not in answer.compared
            assert 0.05 < each.bits < math.log2(len(known) + 1) + 0.5
