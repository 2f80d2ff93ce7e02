"""Grades: the unknown is never good, a fault stays a fault, and nothing missing makes anything better."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from random_bells import RandomBells
from seen_bells import SECTIONS, seen

from registry.derive.condition.facts import hangs
from registry.derive.condition.grading import grade_bell, worst_of
from registry.derive.condition.rulebook import rulebook
from registry.model.condition import Assessment, Crack
from registry.model.tower import Hazard
from registry.model.visit import NotInspected

STEPS = ("condition", "urgency", "recommendation")
LEAVE = {"stop": 0, "cannot-say": 0, "reduced": 1, "normal": 2}
"""How much ringing each advice leaves."""
THOROUGH = settings(max_examples=300, deadline=None)
SEEDS = st.integers(0, 2**32 - 1)


class TestComplete:
    """A bell that was wholly inspected."""

    def test_sound_bell(self):
        """A sound bell, wholly inspected, has grade 0 throughout and may be rung as usual."""
        grades = grade_bell([seen()])
        assert [(g.component, g.condition) for g in grades.grades[:-1]] == [
            (name, 0) for name in ("bell", "crown", "clapper", "fittings", "frame")
        ]
        assert (grades.overall.condition, grades.overall.urgency, grades.overall.recommendation) == (0, 0, 0)
        assert grades.ringing.code == "normal"

    def test_way_up_is_never_called_good(self):
        """The form has no word for a way up without hazards, so the rules alone never call it good."""
        grade = grade_bell([seen()]).of("access")
        assert grade.condition is None
        assert "no form can call the way up free" in grade.not_known[0].why

    def test_overall_is_the_worst_not_a_mean(self):
        """One grave part among four good ones makes the whole grave."""
        grades = grade_bell([seen(fittings={"bearings_state": "broken"})])
        assert grades.of("bell").condition == 0
        assert grades.overall.condition == 3
        assert grades.overall.fired[0].rule.id == "bearings-failing"

    def test_way_up_does_not_count_for_the_bell(self):
        """A hazard on the way up is told, and is no fault of the bell."""
        grades = grade_bell([seen(hazards=(Hazard("ladder", "above the clock"),))])
        assert grades.of("access").at_least == (2, 2, 2)
        assert grades.overall.condition == 0

    def test_grade_names_rule_and_value(self):
        """A grade tells which rule gave it, on which value, by which survey, on what day."""
        grade = grade_bell([seen(clapper={"play_vertical_mm": 7.5})]).of("clapper")
        fired = grade.fired[0]
        assert (fired.rule.id, fired.fact.value, fired.fact.survey_id) == (
            "play-vertical", 7.5, "tower-2025-05-01",
        )  # fmt: skip
        assert (
            fired.found
            == "The clapper has 7.5 mm of vertical play at the pivot; it should be less than 6 mm."
        )

    def test_gravest_rule_stands_first(self):
        """Of several rules the gravest is told first."""
        grade = grade_bell([seen(clapper={"flat_width_mm": 50.0, "shaft_touches": "yes"})]).of("clapper")
        assert [each.rule.id for each in grade.fired] == ["shaft-strikes-lip", "clapper-flat"]


class TestNotKnown:
    """What was not inspected or not written down."""

    def test_blank_is_not_good(self):
        """A part of which nothing was written has no grade: None, not 0."""
        grade = grade_bell([seen(crown=None)]).of("crown")
        assert (grade.condition, grade.urgency, grade.recommendation) == (None, None, None)
        assert {fact.why for fact in grade.not_known} == {"not written down"}

    def test_not_inspected_is_not_good_whatever_was_written(self):
        """A part named as not inspected has no grade, whatever value stands there; the reason is told."""
        left_out = (NotInspected("headstock", "boxed in."),)
        grade = grade_bell([seen(not_inspected=left_out)]).of("crown")
        assert grade.condition is None
        assert {fact.why for fact in grade.not_known} == {"not inspected: boxed in"}

    def test_fault_counts_though_the_rest_is_unknown(self):
        """What was found counts as at least that grave; the gravest is a grade, for it cannot get worse."""
        grade = grade_bell([seen(crown={"staple_rust": "scaling", "straps": None})]).of("crown")
        assert (grade.condition, grade.at_least.condition) == (None, 2)
        grave = grade_bell([seen(crown={"bolts_loose": "yes", "straps": None})]).of("crown")
        assert (grave.condition, grave.recommendation, grave.at_least.recommendation) == (3, None, 2)

    def test_unknown_part_leaves_the_whole_unknown(self):
        """The whole has no grade while one part that safety hangs on has none."""
        assert grade_bell([seen(frame=None)]).overall.condition is None

    def test_words_for_not_seen_tell_nothing(self):
        """The words "unknown" and "not seen" are no better than a blank."""
        for change in (
            {"crown": {"straps": "not-seen"}},
            {"frame": {"decay": "unknown"}},
            {"clapper": {"presence": "not-seen"}},
            {"strike_points": {"burr": "unknown"}},
        ):
            assert grade_bell([seen(**change)]).overall.condition is None

    def test_point_of_unknown_use_is_no_point_in_use(self):
        """Where no point is said to be in use, nobody knows whether those that were measured are struck."""
        grade = grade_bell([seen(strike_points={"use": None})]).of("bell")
        assert grade.condition is None
        assert "no strike point in use was told" in {fact.why for fact in grade.not_known}

    def test_never_visited(self):
        """A bell known from documents has no grade and no advice."""
        document = seen(kind="document")
        grades = grade_bell([document])
        assert (grades.survey_id, grades.overall.condition, grades.ringing.code) == (None, None, "cannot-say")

    def test_what_does_not_apply_is_not_missing(self):
        """A bell without clapper and hammer, hung dead, is wholly judged without them."""
        chimed = seen(
            clapper=SECTIONS["clapper"].__class__("never-had"),
            fittings={
                "headstock": "fixed", "bearings": "none", "bearings_state": None, "drive": "none",
                "drive_state": None, "clock_hammer": "never-had", "hammer_clearance_mm": None,
                "hammer_clear_of_swing": None,
            },
            ringing={"style": "silent"},
        )  # fmt: skip
        assert grade_bell([chimed]).overall.condition == 0

    def test_words_on_ringing_a_bell_that_does_not_hang(self):
        """Of a bell on its blocks nothing is said on ringing, for that reason; a crack stops it still."""
        standing = {"status": "standing"}
        advice = grade_bell([seen(identity=standing)]).ringing
        assert (advice.code, advice.told_as) == ("cannot-say", "not-hung")
        assert "does not hang" in advice.text
        cracked = grade_bell([seen(identity=standing, cracks=(Crack(1, "confirmed"),))]).ringing
        assert (cracked.code, cracked.told_as) == ("stop", "stop")

    def test_bell_that_does_not_hang(self):
        """Of a bell on display the body alone is graded, and nothing is said on ringing."""
        grades = grade_bell([seen(identity={"status": "on-display"})])
        assert [grade.component for grade in grades.grades] == ["bell", "access"]
        assert grades.overall.condition == 0
        assert grades.ringing.code == "cannot-say"

    def test_no_survey(self):
        """A bell that no survey tells of cannot be graded."""
        with pytest.raises(ValueError, match="no survey"):
            grade_bell([])


class TestVisits:
    """The newest visit is graded; earlier ones only add."""

    def test_fault_stays_until_the_part_is_told_anew(self):
        """A fault that the newest visit does not mention stays, with its day, and the part is unknown."""
        grade = grade_bell([seen("2015-05-01", crown={"straps": "decayed"}), seen(crown={"straps": None})])
        crown = grade.of("crown")
        assert crown.fired[0].fact.day.year == 2015
        assert (crown.condition, crown.at_least.condition) == (None, 2)
        mended = grade_bell([seen("2015-05-01", crown={"straps": "decayed"}), seen()])
        assert mended.of("crown").condition == 0

    def test_good_word_of_earlier_is_no_inspection(self):
        """That a part was sound ten years ago does not make it inspected today."""
        grades = grade_bell([seen("2015-05-01"), seen(crown={"straps": None})])
        assert grades.of("crown").condition is None

    def test_document_inspects_nothing(self):
        """A document between two visits neither adds a state nor takes one away."""
        document = seen("2025-06-01", kind="document", crown=None)
        assert grade_bell([seen(), document]).overall.condition == 0


class TestOpinion:
    """The surveyor's own judgement."""

    def opinion(self, condition, **changes):
        """Give the surveyor's word on the frame beside the grade."""
        word = Assessment("frame", condition=condition)
        return grade_bell([seen(assessments=(word,), **changes)]).of("frame").opinion

    def test_agreement(self):
        """Where surveyor and rules agree there is nothing to tell."""
        assert self.opinion(0).disagreement == ""

    def test_milder_than_the_rules(self):
        """A surveyor milder than the rules is shown, not overruled and not followed."""
        opinion = self.opinion(0, frame={"decay": "grave"})
        assert opinion.disagreement == "condition 0 by the surveyor, at least 3 by the rules"

    def test_graver_than_the_rules(self):
        """A surveyor who saw more than the form asks is shown."""
        assert self.opinion(2).disagreement == "condition 2 by the surveyor, 0 by the rules"

    def test_graver_where_the_rules_cannot_judge(self):
        """Where the rules have no grade a graver surveyor contradicts nothing."""
        assert self.opinion(2, frame={"decay": None}).disagreement == ""

    def test_word_of_an_earlier_visit(self):
        """An earlier word stands beside the grade of today with its day."""
        earlier = seen("2015-05-01", assessments=(Assessment("frame", condition=2),))
        opinion = grade_bell([earlier, seen()]).of("frame").opinion
        assert opinion.day.year == 2015
        assert "of 2015-05-01" in opinion.disagreement


class TestRinging:
    """Advice on ringing."""

    def test_reduced(self):
        """What speaks for less ringing gives "reduced", with its reasons."""
        advice = grade_bell([seen(frame={"loose_joints": "yes"})]).ringing
        assert advice.code == "reduced"
        assert [each.rule.id for each in advice.because] == ["frame-joints-loose"]

    def test_stop_needs_nothing_else_to_be_known(self):
        """A reason to stop stands, however little else was inspected."""
        advice = grade_bell([seen(crown={"bolts_loose": "yes"}, frame=None, fittings=None)]).ringing
        assert advice.code == "stop"

    def test_reduced_is_no_leave_where_the_rest_is_unknown(self):
        """Where something was not inspected, a reason to ring less is told, and no leave to ring given."""
        advice = grade_bell([seen(frame={"loose_joints": "yes"}, cracks=())]).ringing
        assert advice.code == "cannot-say"
        assert [each.rule.id for each in advice.because] == ["frame-joints-loose"]
        assert "nobody wrote whether there are cracks" in {fact.why for fact in advice.not_known}

    def test_what_has_no_say_in_ringing_is_not_missed(self):
        """A blank that could give no word on ringing does not keep the advice back."""
        assert grade_bell([seen(fittings={"drive_state": None})]).ringing.code == "normal"

    @pytest.mark.parametrize("state", ["suspected", "confirmed"])
    @pytest.mark.parametrize("position", [None, "lip", "soundbow", "waist", "shoulder", "crown", "canons"])
    def test_any_crack_stops(self, state, position):
        """A crack anywhere, suspected or confirmed, stops ringing and calls an expert.

        Source: Evangelical Church of Hannover, regulation of 25 November 2023: a damaged bell out of use at
        once, an expert called.
        """
        advice = grade_bell([seen(cracks=(Crack(1, state, position=position),))]).ringing
        assert (advice.code, advice.expert) == ("stop", True)
        assert advice.cautions

    def test_mended_crack_is_never_normal(self):
        """A welded bell in which no crack is found is rung less: cracks come back."""
        mended = Crack(
            1, "none", position="soundbow", bearing_deg=90.0, method="penetrant", repaired="welded"
        )
        assert grade_bell([seen(cracks=(mended,))]).ringing.code == "reduced"


def test_worst_of_several_bells():
    """The worst of a tower's bells is the worst one, and unknown where one is unknown and none is grave."""
    good, unknown = grade_bell([seen()]).overall, grade_bell([seen(frame=None)]).overall
    grave = grade_bell([seen(frame={"decay": "grave"})]).overall
    assert worst_of([good, good], "tower").condition == 0
    assert worst_of([good, unknown], "tower").condition is None
    assert worst_of([good, unknown, grave], "tower").condition == 3


def not_better(with_more, with_less):
    """Check that no grade and no advice became better."""
    for more in (*with_more.grades, with_more.overall):
        less = next(
            each for each in (*with_less.grades, with_less.overall) if each.component == more.component
        )
        for step in STEPS:
            claimed, now = getattr(more, step), getattr(less, step)
            if now is None:
                continue
            assert claimed is not None or now == 3, (more.component, step, claimed, now)
            assert claimed is None or now >= claimed, (more.component, step, claimed, now)
    assert LEAVE[with_less.ringing.code] <= LEAVE[with_more.ringing.code]


class TestProperties:
    """Over random surveys; a failing case follows from its seed."""

    @THOROUGH
    @given(SEEDS)
    def test_no_missing_measurement_improves_anything(self, seed):
        """Whatever is taken from the newest visit, no grade and no advice becomes better."""
        bells = RandomBells(seed)
        history = bells.history()
        not_better(grade_bell(history), grade_bell(bells.with_less_told(history)))

    @THOROUGH
    @given(SEEDS)
    def test_no_earlier_visit_improves_anything(self, seed):
        """What was seen before the newest visit can only add faults and doubts."""
        history = RandomBells(seed).history()
        not_better(grade_bell(history[-1:]), grade_bell(history))

    @THOROUGH
    @given(SEEDS)
    def test_worse_value_improves_nothing(self, seed):
        """A graver word or a larger number never makes a part less grave, nor leaves more ringing."""
        bells = RandomBells(seed)
        history = bells.history(most=1)
        before, after = grade_bell(history), grade_bell([worsened(bells.random, history[0])])
        for grade in before.grades:
            least = after.of(grade.component).at_least
            assert all(now >= was for now, was in zip(least, grade.at_least, strict=True))
        assert LEAVE[after.ringing.code] <= LEAVE[before.ringing.code]

    @THOROUGH
    @given(SEEDS)
    def test_cracked_bell_is_never_normal(self, seed):
        """A bell of which the newest visit tells a crack is to be stopped, or does not hang at all."""
        history = RandomBells(seed).history()
        code = grade_bell(history).ringing.code
        if any(crack.state != "none" for crack in history[-1].entry.cracks):
            assert code == "stop" if hangs(history) else LEAVE[code] == 0

    @THOROUGH
    @given(SEEDS)
    def test_grade_is_known_only_where_everything_is(self, seed):
        """A grade below 3 is given only where no fact of its component is open."""
        for grade in grade_bell(RandomBells(seed).history()).grades:
            for step in STEPS:
                claimed = getattr(grade, step)
                assert claimed in (None, getattr(grade.at_least, step))
                if claimed is not None and claimed < 3:
                    assert not grade.not_known
                    assert not any(each.rule.or_worse for each in grade.fired)

    def test_random_surveys_are_worth_asking(self):
        """Among random surveys every advice occurs, and grades of every step, known and unknown."""
        graded = [grade_bell(RandomBells(seed).history()) for seed in range(400)]
        assert {grades.ringing.code for grades in graded} == set(LEAVE)
        claims = [grade.condition for grades in graded for grade in grades.grades]
        assert set(claims) == {None, 0, 1, 2, 3}
        assert 0.15 < sum(claim is not None for claim in claims) / len(claims) < 0.85


ORDERS = {
    ("crown", "staple_rust"): ["none", "surface", "scaling", "swelling"],
    ("crown", "straps"): ["sound", "worn", "decayed", "loose"],
    ("crown", "bolts_loose"): ["no", "yes"],
    ("fittings", "headstock_state"): ["sound", "worn", "decayed", "broken"],
    ("fittings", "bearings_state"): ["sound", "worn", "loose", "broken"],
    ("frame", "decay"): ["none", "slight", "marked", "grave"],
    ("frame", "loose_joints"): ["no", "yes"],
}
"""Words from good to bad."""

LARGER = {("clapper", "play_vertical_mm"), ("clapper", "play_sideways_mm"), ("frame", "movement_mm")}
"""Numbers of which more is worse."""


def worsened(random, visit):
    """Make values of a visit worse, where it has any."""
    for section, field in [*ORDERS, *LARGER, ("cracks", "state")]:
        owner = visit if section == "frame" else visit.entry
        told = getattr(owner, section)
        if not told or random.random() < 0.7:
            continue
        if section == "cracks":
            worse = tuple(crack._replace(state="confirmed") for crack in told)
        else:
            value, order = getattr(told, field), ORDERS.get((section, field))
            if value is None or (order and value not in order):
                continue
            larger = random.choice(order[order.index(value) :]) if order else value * random.uniform(1.0, 9.0)
            worse = told._replace(**{field: larger})
        changed = owner._replace(**{section: worse})
        visit = changed if section == "frame" else visit._replace(entry=changed)
    return visit


def test_steps_are_in_words():
    """Each of the four steps has words of its own, for those who read grades."""
    assert {name: len(words) for name, words in rulebook().steps.items()} == dict.fromkeys(STEPS, 4)
