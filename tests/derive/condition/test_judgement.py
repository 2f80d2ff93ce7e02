"""What may be proposed: least intervention first, and recasting never where anything speaks for keeping."""

from datetime import date

import pytest
import yaml
from hypothesis import given, settings
from hypothesis import strategies as st
from random_bells import RandomBells
from sample_forms import surveys
from seen_bells import seen

from registry.derive.condition.candidates import candidates
from registry.derive.condition.judgement import CostLine, judge, judgement
from registry.derive.condition.protection import protection_settings, read_protection, recasting
from registry.derive.condition.seen import histories_of, identity_told
from registry.model.cautions import cautions
from registry.model.condition import Crack, StrikePoint
from registry.model.history import Event
from registry.model.vocabulary import vocabulary
from registry.resources import shipped_text

ON = date(2026, 1, 1)
ORDER = ("leave-and-watch", "ring-less", "clapper", "turn", "weld", "retire-and-display", "recast")
CRACK = (Crack(1, "confirmed", position="waist", bearing_deg=40.0),)
WORN = {"thickness_at_pit_mm": 88.0, "pit_depth_mm": 11.0}
CLOSED = {"protected", "pending"}


def codes(candidate):
    """Name the options proposed."""
    return [proposal.code for proposal in candidate.proposals]


def withheld(candidate):
    """Give the options withheld with their reasons."""
    return {each.code: each.why for each in candidate.withheld}


class TestRecasting:
    """Recasting: only of a bell known to be young and known to be unprotected."""

    def test_allowed(self):
        """A bell of 2001, said to be protected neither itself nor with its tower, may be spoken of."""
        assert recasting([seen()], ON).allowed
        assert codes(judge([seen(cracks=CRACK)], ON))[-1] == "recast"

    @pytest.mark.parametrize(
        ("change", "reason"),
        [
            ({"identity": {"protected": "yes"}}, "the bell is protected"),
            ({"identity": {"protected": "unknown"}}, "not known whether the bell is protected"),
            ({"identity": {"protected": None}}, "not known whether the bell is protected"),
            ({"identity": None}, "not known whether the bell is protected"),
            ({"tower": {"protection": "protected"}}, "the tower or its bells are protected"),
            ({"tower": {"protection": "pending"}}, "the tower or its bells are protected"),
            ({"tower": {"protection": "unknown"}}, "not known whether the tower"),
            ({"tower": {"protection": None}}, "not known whether the tower"),
            ({"tower": {"country": None}}, "which country's rule applies"),
            ({"tower": {"country": "DE"}}, "decides in every case"),
            ({"identity": {"cast_date": None}}, "date of casting is not known"),
            ({"identity": {"cast_date": "2001?"}}, "date of casting is not certain"),
            ({"identity": {"cast_date": "2001~"}}, "date of casting is not certain"),
            ({"identity": {"cast_date": "2001/.."}}, "date of casting is not certain"),
            ({"identity": {"cast_date": "long ago"}}, "cannot be read"),
            ({"identity": {"dating_basis": "tradition"}}, "does not rest on the bell"),
            ({"identity": {"dating_basis": None}}, "does not rest on the bell"),
            ({"identity": {"cast_date": "1950/2010"}}, "cast in 1950, 50 years ago or more"),
            ({"identity": {"cast_date": "1480"}}, "cast in 1480"),
            ({"events": (Event("protected", date="2010"),)}, "an entry in a list of monuments"),
        ],
    )
    def test_withheld(self, change, reason):
        """Protection, doubt, age or an untold date: each alone withholds it, with the reason, and refers."""
        told = recasting([seen(**change)], ON)
        assert not told.allowed
        assert any(reason in each for each in told.reasons)
        candidate = judge([seen(cracks=CRACK, **change)], ON)
        assert "recast" not in codes(candidate)
        assert any(reason in each for each in withheld(candidate)["recast"])
        assert "heritage authority" in candidate.refer

    def test_one_survey_that_says_protected_is_enough(self):
        """A later form that says "no" does not undo an earlier one that said "yes"."""
        history = [seen("2005-05-01", identity={"protected": "yes"}), seen()]
        assert not recasting(history, ON).allowed

    def test_oldest_of_several_dates_counts(self):
        """Where surveys disagree on the date the oldest counts."""
        history = [seen("2005-05-01", identity={"cast_date": "1850"}), seen()]
        assert not recasting(history, ON).allowed

    @pytest.mark.parametrize(("year", "allowed"), [("1976", False), ("1977", True)])
    def test_age(self, year, allowed):
        """A bell of fifty years or more is kept; the day of asking counts."""
        assert recasting([seen(identity={"cast_date": year})], ON).allowed is allowed
        assert recasting([seen(identity={"cast_date": "2001"})], date(2051, 1, 1)).allowed is False

    def test_country_and_common_rule_both_count(self):
        """A country's own rule does not loosen the common one: the stricter counts."""
        told = recasting([seen(tower={"country": "GB"}, identity={"cast_date": "1900"})], ON)
        assert told.reasons == ("it may have been cast in 1900, 50 years ago or more",)
        assert len(told.sources) == 2

    def test_settings_of_ones_own(self):
        """Whoever answers for a registry may put settings of their own in place of the shipped ones."""
        own = read_protection(
            "otherwise: {cast_before: 1900, source: 'our rule, 2026', as_of: '2026'}\n"
            "countries: {AT: {cast_before: 1950, source: 'our rule, 2026', as_of: '2026'}}\n"
        )
        history = [seen(identity={"cast_date": "1960"})]
        assert not recasting(history, ON).allowed
        assert recasting(history, ON, own).allowed
        assert not recasting([seen(identity={"cast_date": "1930"})], ON, own).allowed

    def test_settings_cannot_open_what_is_protected_or_unknown(self):
        """No setting makes a protected bell, or one of unknown status or date, a candidate."""
        own = read_protection("otherwise: {cast_before: 1, source: 'our rule', as_of: '2026'}")
        for change in (
            {"identity": {"protected": "yes"}},
            {"identity": {"protected": None}},
            {"tower": {"protection": "unknown"}},
            {"identity": {"cast_date": None}},
        ):
            assert not recasting([seen(**change)], ON, own).allowed

    @pytest.mark.parametrize(
        "entry",
        [
            "{source: x, as_of: '2026'}",
            "{older_than_years: 50, as_of: '2026'}",
            "{cast_before: 1600, source: x}",
        ],
    )
    def test_settings_without_rule_source_or_date(self, entry):
        """A setting says what it rests on and the time it is of, and something to go by."""
        with pytest.raises(ValueError, match="otherwise"):
            read_protection(f"otherwise: {entry}")

    def test_published_ages(self):
        """The shipped entries are the published ones, second-hand, with their time.

        Lists for England take bells before 1600 as advice; France before 1789; Italy 50 years; Germany by
        Land.
        """
        countries = protection_settings().countries
        assert countries["GB"].cast_before == 1600
        assert countries["FR"].cast_before == 1789
        assert countries["IT"].older_than_years == 50
        assert countries["DE"].always_ask
        assert all(rule.source and rule.as_of for rule in countries.values())

    @settings(max_examples=600, deadline=None)
    @given(st.integers(0, 2**32 - 1))
    def test_never_of_an_unknown_or_protected_bell(self, seed):
        """Over random histories no bell of unknown or protected status, or date, is offered."""
        history = RandomBells(seed).history()
        if "recast" not in codes(judge(history, ON)):
            return
        told = [each.entry.identity for each in history]
        assert all(each.protected != "yes" for each in told)
        assert [each.protected for each in told if each.protected][-1] == "no"
        assert not CLOSED & {each.tower.protection for each in history}
        assert [each.tower.protection for each in history if each.tower.protection][-1] == "not-protected"
        assert not any(each.entry.events for each in history)
        dated = [each for each in told if each.cast_date]
        assert dated
        assert {each.cast_date for each in dated} <= {"2010", "2018", "1990/1995"}
        assert {each.dating_basis for each in dated} <= protection_settings().firm_dates

    def test_random_histories_are_worth_asking(self):
        """Among random histories some are offered, and many more withheld."""
        judged = [judge(RandomBells(seed).history(), ON) for seed in range(500)]
        assert any("recast" in codes(each) for each in judged)
        assert sum("recast" in withheld(each) for each in judged) > 50

    def test_sample(self):
        """One bell of the sample district is offered: young, unprotected, cracked through, country known."""
        offered = [
            bell for bell, each in histories_of(surveys()).items() if "recast" in codes(judge(each, ON))
        ]
        assert offered == ["pelagoussa-st-nicholas-harbour"]


class TestOptions:
    """The options and their order."""

    def test_least_intervention_first(self):
        """Options stand from leaving and watching to recasting, and are so in the file."""
        assert tuple(judgement()["options"]) == ORDER
        found = codes(judge([seen(strike_points=WORN)], ON))
        assert found == [code for code in ORDER if code in found]
        assert found[0] == "leave-and-watch"

    def test_sound_bell(self):
        """A sound bell is left and watched."""
        assert codes(judge([seen()], ON)) == ["leave-and-watch"]

    def test_reasons_and_evidence(self):
        """Each option tells what asks for it, by which survey, whom to ask, and what it rests on."""
        for proposal in judge([seen(strike_points=WORN)], ON).proposals:
            assert any("12" in each or "11" in each for each in proposal.because)
            assert proposal.evidence == ("tower-2025-05-01",)
            assert proposal.source
            assert set(proposal.cautions) <= set(cautions())

    def test_turn_tells_where(self):
        """Turning is proposed by the best clear angle."""
        turn = next(each for each in judge([seen(strike_points=WORN)], ON).proposals if each.code == "turn")
        assert "by +90°, clockwise seen from above" in turn.text
        assert "heritage authority" in " ".join(turn.ask)

    def test_turn_withheld_where_no_angle_is_clear(self):
        """Where the rim is used up, or a place unknown, turning is withheld with the reason."""
        nowhere = {**WORN, "bearing_deg": None}
        assert "bearing" in withheld(judge([seen(strike_points=nowhere)], ON))["turn"][0]

    def test_turn_withheld_where_there_is_a_crack(self):
        """A cracked bell is examined before anyone turns it."""
        candidate = judge([seen(strike_points=WORN, cracks=CRACK)], ON)
        assert "crack must be examined" in withheld(candidate)["turn"][0]

    def test_ring_less_withheld_where_it_must_stop(self):
        """A bell that must not ring is not to be rung less."""
        candidate = judge([seen(strike_points=WORN, cracks=CRACK)], ON)
        assert "not to be rung at all" in withheld(candidate)["ring-less"][0]
        assert "silent" in candidate.proposals[0].text

    @pytest.mark.parametrize("material", [*vocabulary("material").terms, None])
    def test_only_tin_bronze_is_welded(self, material):
        """Welding is proposed for bell bronze alone, with its cautions; for all else it is withheld."""
        candidate = judge([seen(cracks=CRACK, identity={"material": material})], ON)
        assert ("weld" in codes(candidate)) is (material == "bronze")
        if material == "bronze":
            assert next(each for each in candidate.proposals if each.code == "weld").cautions == ("welding",)
        else:
            assert "only tin bronze is welded" in withheld(candidate)["weld"][0]

    def test_bell_on_display(self):
        """A bell that does not hang is neither turned nor rung less nor retired."""
        candidate = judge([seen(strike_points=WORN, identity={"status": "on-display"})], ON)
        assert not {"turn", "ring-less", "retire-and-display"} & set(codes(candidate))

    def test_every_option_says_what_it_rests_on(self):
        """Options have words, a source, and cautions that exist; only welding names materials."""
        for code, option in judgement()["options"].items():
            assert option["text"]
            assert option["source"]
            assert set(option["cautions"]) <= set(cautions())
            assert ("materials" in option) is (code == "weld")

    def test_costs_only_by_the_users_table(self):
        """Without a table there are no costs; with one they are the user's, for a bell or by its mass."""
        history = [seen(strike_points=WORN)]
        assert all(each.cost is None for each in judge(history, ON).proposals)
        table = {
            "turn": CostLine(800.0, 1200.0, "EUR", "bell", "offer of 2026"),
            "weld": CostLine(10.0, 15.0, "EUR", "kg", "offer of 2026"),
        }
        costs = {each.code: each.cost for each in judge(history, ON, costs=table).proposals}
        assert (costs["turn"].low, costs["turn"].high, costs["turn"].source) == (800, 1200, "offer of 2026")
        assert (costs["weld"].low, costs["weld"].high) == pytest.approx((10_000, 15_000))
        assert costs["clapper"] is None

    def test_cost_by_mass_needs_a_weighing(self):
        """A cost by the kilogram is not worked out from a mass that nobody weighed."""
        table = {"weld": CostLine(10.0, 15.0, "EUR", "kg", "offer")}
        guessed = [seen(strike_points=WORN, dimensions={"mass_basis": "estimated"})]
        assert all(each.cost is None for each in judge(guessed, ON, costs=table).proposals)

    def test_costs_of_nothing(self):
        """A cost for something that is no option, or by a strange measure, is refused."""
        with pytest.raises(ValueError, match="is no option"):
            judge([seen()], ON, costs={"gild": CostLine(1.0, 2.0, "EUR", "bell", "x")})
        with pytest.raises(ValueError, match="per bell or per kg"):
            judge([seen()], ON, costs={"leave-and-watch": CostLine(1.0, 2.0, "EUR", "yard", "x")})

    def test_no_price_stands_in_the_data(self):
        """The shipped data names no price."""
        text = shipped_text("schema", "rules", "judgement.yaml").lower()
        assert not [word for word in ("euro", "eur ", "€", "£", "$", "dollar") if word in text]


class TestCandidates:
    """Bells ranked by what they need."""

    def bell(self, bell_id, **changes):
        """Make the history of one visit to a bell of this id."""
        visit = seen(**changes)
        return (visit._replace(entry=visit.entry._replace(id=bell_id)),)

    def test_order(self):
        """Urgency comes first, then condition, then how soon wear may reach its limit."""
        found = candidates(
            [
                self.bell("worn", strike_points=WORN),
                self.bell("cracked", cracks=CRACK),
                self.bell("sound"),
                self.bell("play", clapper={"play_vertical_mm": 8.0}),
                self.bell("loose", crown={"bolts_loose": "yes"}),
            ],
            ON,
        )
        assert [each.bell_id for each in found] == ["cracked", "loose", "worn", "play"]

    def test_sooner_limit_first(self):
        """Of two bells alike the one whose limit may be reached sooner stands first."""

        def worn(bell_id, before, now):
            visits = []
            for day, depth in (("2005-05-01", before), ("2025-05-01", now)):
                (visit,) = self.bell(bell_id)
                point = StrikePoint(
                    1, 90.0, struck_by="clapper", use="in-use", pit_depth_mm=depth,
                    thickness_at_pit_mm=99.0 - depth, thickness_beside_mm=99.0, burr="no",
                )  # fmt: skip
                entry = visit.entry._replace(strike_points=(point,))
                visits.append(visit._replace(entry=entry, day=date.fromisoformat(day), survey_id=day))
            return tuple(visits)

        found = candidates([worn("a-slow", 5.0, 6.0), worn("b-fast", 3.0, 6.0)], ON)
        assert [each.bell_id for each in found] == ["b-fast", "a-slow"]

    @pytest.mark.parametrize("status", ["moved", "requisitioned", "lost", "stolen", "destroyed", "recast"])
    def test_gone(self, status):
        """A bell that is gone needs nothing."""
        assert candidates([self.bell("gone", cracks=CRACK, identity={"status": status})], ON) == ()

    def test_frame_is_no_need_of_a_bell(self):
        """A bell whose frame is loose does not need a founder."""
        assert candidates([self.bell("bell", frame={"loose_joints": "yes"})], ON) == ()

    def test_sample(self):
        """The cracked bells of the sample stand before the worn ones, each with evidence."""
        found = candidates(histories_of(surveys()).values(), ON)
        stopped = [each.grades.ringing.code == "stop" for each in found]
        assert stopped == sorted(stopped, reverse=True)
        assert "ostrelle-notre-dame-felicite" in [each.bell_id for each in found[:6]]
        for each in found:
            assert each.proposals[0].code == "leave-and-watch"
            assert all(proposal.evidence for proposal in each.proposals)
            assert identity_told(histories_of(surveys())[each.bell_id], "status") is not None


def test_files_are_of_one_mind():
    """Options that rules ask for are those of the file, and every one but watching is asked for."""
    rules = yaml.safe_load(shipped_text("schema", "rules", "condition.yaml"))["rules"]
    asked = {code for rule in rules.values() for code in rule.get("asks_for", ())}
    assert asked == set(ORDER) - {"leave-and-watch"}
