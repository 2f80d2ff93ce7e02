"""Dates, words, counts, founders and partials: what each says, and what it does not."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from registry.derive.identity.facts import (
    Facts,
    Record,
    Years,
    diameter_sd,
    mass_sd,
    rounding_of,
    spans_of,
    strike_sd_cents,
    widened,
)
from registry.derive.identity.founders import Founders, likeness, name_letters
from registry.derive.identity.kinds import crowns, loop_counts, materials
from registry.derive.identity.partial_tones import PartialTones, relative_cents
from registry.derive.identity.strength import strength
from registry.derive.identity.whereabouts import status_weight
from registry.derive.identity.years import Castings
from registry.model.edtf import parse_edtf

DATED = [[Years(1500 + 4 * number, 1500 + 4 * number)] for number in range(100)]


class TestDates:
    """The date of casting."""

    def test_a_year_that_agrees_speaks_for_the_record(self) -> None:
        """The year itself is worth about the number of years among which it could lie."""
        said = Castings(DATED).ratio([Years(1620, 1620)], [[Years(1620, 1620)], [Years(1780, 1780)], []])
        assert math.log(100) < said[0] < math.log(900)
        assert said[1] < -3.0
        assert said[2] == 0.0

    def test_a_wide_span_says_little(self) -> None:
        """The narrower the finder dates the bell, the more an agreement is worth."""
        year, decade, century = (
            Castings(DATED).ratio([span], [[Years(1620, 1620)]])[0]
            for span in (Years(1620, 1620), Years(1620, 1629), Years(1600, 1699))
        )
        assert year > decade > century > 0.0

    def test_a_record_of_any_year_says_nothing(self) -> None:
        """A span that covers all years is as good as no date."""
        said = Castings(DATED).ratio([Years(1620, 1629)], [[Years(None, None)], [Years(100, 3000)]])
        assert said == pytest.approx([0.0, 0.0], abs=1e-9)

    def test_near_misses_are_forgiven_a_little(self) -> None:
        """A year just outside the span is likelier to be meant than one far from it."""
        said = Castings(DATED).ratio(
            [Years(1620, 1629)], [[Years(year, year)] for year in (1625, 1632, 1660)]
        )
        assert said[0] > said[1] > said[2]

    def test_members_of_a_set_and_pairs_agree(self) -> None:
        """A set is the sum of its members, and two records are compared by the same rule as a find."""
        castings = Castings(DATED)
        spans = spans_of(parse_edtf("[1500,1620]"))
        assert spans == (Years(1500, 1500), Years(1620, 1620))
        one = castings.ratio([Years(1620, 1620)], [spans])[0]
        assert castings.pair_ratios([spans], [(Years(1620, 1620),)])[0] == pytest.approx(one)
        assert castings.pair_ratios([()], [(Years(1620, 1620),)])[0] == 0.0

    def test_an_approximate_date_is_given_room(self) -> None:
        """``~`` widens a span at both ends, ``?`` and open ends do not."""
        assert widened((Years(1620, 1620),), "1620~") == (Years(1615, 1625),)
        assert widened((Years(None, 1620),), "../1620~") == (Years(None, 1625),)
        assert widened((Years(1620, 1620),), "1620?") == (Years(1620, 1620),)
        assert spans_of(parse_edtf("/1620")) == (Years(None, 1620),)

    def test_the_years_of_a_founder_are_narrower(self) -> None:
        """Known to be of a founder, a bell is likelier of his years; the densities sum to one."""
        castings = Castings(DATED)
        own = castings.of_founder([[Years(1620, 1620)], [Years(1630, 1630)]])
        assert own.sum() == pytest.approx(1.0, abs=0.01)
        assert own[1625 - castings.first] > 5 * castings.density[1625 - castings.first]


class TestWordsAndCounts:
    """Material, crown, loops."""

    @pytest.mark.parametrize("make", [materials, crowns, loop_counts])
    def test_chances_sum_to_one(self, make: object) -> None:
        """Whatever is true, something is said of it; and something is true."""
        kind = make(())  # type: ignore[operator]
        assert kind.confused.sum(axis=1) == pytest.approx(1.0)
        assert kind.shares.sum() == pytest.approx(1.0)
        assert kind.general.sum() == pytest.approx(1.0)

    def test_a_rare_material_says_more_than_bronze(self) -> None:
        """Nearly every bell is of bronze, so that bronze says next to nothing; steel says much."""
        kind = materials(["bronze"] * 95 + ["cast-steel"] * 5)
        bronze, steel = (np.array([kind.place(word)]) for word in ("bronze", "cast-steel"))
        assert 0.0 < kind.ratio(bronze, bronze)[0] < 0.2
        assert kind.ratio(steel, steel)[0] > 2.0
        assert kind.ratio(steel, bronze)[0] < 0.0
        assert kind.ratio(steel, np.array([-1]))[0] == 0.0

    def test_canons_are_cut_away_and_not_cast_on(self) -> None:
        """Canons on record and gone on the bell is a history; the other way round is a contradiction."""
        kind = crowns(())
        canons, gone = (np.array([kind.place(word)]) for word in ("canons", "canons-removed"))
        assert kind.ratio(gone, canons)[0] > kind.ratio(canons, gone)[0]

    def test_one_loop_more_or_less_is_forgiven(self) -> None:
        """Five loops where six are on record speaks against it less than none."""
        kind = loop_counts(())
        six = np.array([kind.place(6)])
        said = [kind.ratio(np.array([kind.place(number)]), six)[0] for number in (6, 5, 0)]
        assert said[0] > said[1] > said[2]

    def test_what_a_finder_says_moves_what_is_true(self) -> None:
        """After "cast iron" both iron and steel are likelier than before."""
        kind = materials(())
        before, after = kind.truth(-1), kind.truth(kind.place("cast-iron"))
        for word in ("cast-iron", "cast-steel"):
            assert after[kind.place(word)] > before[kind.place(word)]


class TestFounders:
    """One name in several spellings."""

    BELLS = (
        Facts(founder=("karnbeck-ehrenfried", "Ehrenfried Karnbeck")),
        Facts(founder=("Karnbeck, Ehrenfried",), founder_certainty="possible"),
        Facts(founder=("Jan Zvonlik",)),
        Facts(),
        Facts(founder=("unknown",)),
    )

    def test_spellings_and_ids_are_one_founder(self) -> None:
        """Order, case, marks and an id beside the name do not matter."""
        founders = Founders(self.BELLS)
        assert founders.of_bell.tolist() == [0, 0, 1, -1, -1]
        for name in ("EHRENFRIED KARNBECK", "karnbeck-ehrenfried", "Ehrenfrid Karnbeck"):
            said = founders.ratio(founders.find([name]))
            assert said[0] > said[1] > 0.0 > said[2]
            assert said[3] == said[4] == 0.0

    def test_an_unknown_name_speaks_against_all_who_have_one(self) -> None:
        """It may be a wrong attribution, so it never rules a record out."""
        founders = Founders(self.BELLS)
        said = founders.ratio(founders.find(["Somebody Else"]))
        assert said[2] == pytest.approx(math.log(0.02))
        assert said[3] == 0.0

    def test_likeness(self) -> None:
        """A name is like itself and unlike another; a letter changed leaves it alike."""
        one, close, other = (name_letters(name) for name in ("Hans Meyer", "Hans Meier", "Otto Kurz"))
        assert likeness(one, one) == 1.0
        assert likeness(one, close) > 0.7
        assert likeness(one, other) < 0.3


class TestPartials:
    """Partials against the strike note."""

    def test_against_scipy(self) -> None:
        """One partial gives the ratio of two normal distributions, the general one of two kinds of bells."""
        bell = Facts(strike_hz=440.0, partials_hz={"tierce": 440.0 * 2 ** (320 / 1200)})
        found = Facts(strike_hz=440.0, partials_hz={"tierce": 440.0 * 2 ** (325 / 1200)})
        tones = PartialTones(relative_cents([]))
        said = tones.ratio(relative_cents([found]), relative_cents([bell]))[0]
        same = stats.norm(320, tones.reading).pdf(325)
        free = stats.norm(305, math.hypot(28, 6)).pdf(325)
        tuned = stats.norm(300, math.hypot(12, 6)).pdf(325)
        assert said == pytest.approx(math.log(same / (0.75 * free + 0.25 * tuned)), abs=1e-3)

    def test_temperature_and_reference_fall_out(self) -> None:
        """All partials a little sharp tell the same as none."""
        bell = Facts(partials_hz={"hum": 221.0, "tierce": 530.0, "nominal": 880.0})
        sharp = Facts(partials_hz={name: 1.004 * hz for name, hz in bell.partials_hz.items()})
        assert relative_cents([bell]) == pytest.approx(relative_cents([sharp]), nan_ok=True)

    def test_nothing_shared_says_nothing(self) -> None:
        """Without a strike note or a nominal, or without a common partial, there is nothing to compare."""
        tones = PartialTones(relative_cents([]))
        hum = relative_cents([Facts(strike_hz=440.0, partials_hz={"hum": 221.0})])
        prime = relative_cents([Facts(strike_hz=440.0, partials_hz={"prime": 441.0})])
        bare = relative_cents([Facts(partials_hz={"hum": 221.0})])
        assert tones.ratio(hum, prime)[0] == tones.ratio(hum, bare)[0] == 0.0


class TestReadings:
    """How far statements can be trusted."""

    @given(st.floats(100.0, 3000.0))
    def test_documents_are_trusted_less(self, mm: float) -> None:
        """A list is never trusted more than a visit, and a tolerance never makes a reading better."""
        assert diameter_sd(mm, document=True) > diameter_sd(mm)
        assert diameter_sd(mm, 10.0) > diameter_sd(mm)
        assert strike_sd_cents(10.0) > strike_sd_cents()

    def test_round_figures_tell_how_they_were_rounded(self) -> None:
        """1250 is one of fifties, 860 of tens, 812 of ones."""
        assert [rounding_of(value) for value in (1200, 1250, 860, 455, 812, 40)] == [100, 50, 10, 5, 1, 1]

    def test_a_weighing_before_an_estimate(self) -> None:
        """The way a mass was obtained decides how far it counts; fittings make it doubtful."""
        assert mass_sd(400, "weighed") < mass_sd(400, "founder-record") < mass_sd(400, "estimated")
        assert mass_sd(400, "weighed") < mass_sd(400, "weighed", with_fittings=True)


class TestWhereabouts:
    """What became of a bell, before anything is compared."""

    def test_stolen_before_hanging(self) -> None:
        """A stolen bell is likelier to turn up than one that a visit saw hanging last year."""
        weights = [
            status_weight(Record("a", Facts(), status, year), 2026)
            for status, year in (
                ("stolen", 2004),
                ("unknown", 2004),
                ("hanging", 1990),
                ("hanging", 2025),
                ("recast", 2004),
            )
        ]
        assert weights == sorted(weights, reverse=True)

    def test_a_document_alone_does_not_hold_a_bell_in_its_tower(self) -> None:
        """An inventory that has it hanging leaves open whether it still does."""
        assert status_weight(Record("a", Facts(), "hanging", None), 2026) == 0.5


def test_strength_in_words() -> None:
    """Bits grow into words, alike for and against."""
    assert strength(0.0) == "says nothing"
    assert strength(math.log(2) * 4) == "speaks strongly for it"
    assert strength(-math.log(2) * 4) == "speaks strongly against it"
    assert strength(math.log(2) * 20) == "speaks very strongly for it"
    assert strength(math.log(2) * 0.2) == "speaks hardly for it"
