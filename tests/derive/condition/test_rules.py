"""Every rule of ``schema/rules/condition.yaml`` on both sides of its threshold, from a form to a grade.

The cases are made from the rules themselves, so that no new rule can go without. Each one starts from a bell
that was wholly inspected and is sound, and changes what the rule looks at.
"""

import math
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
import yaml
from seen_bells import INSTRUMENTS, seen

from registry.derive.condition.grading import BellGrades, grade_bell
from registry.derive.condition.judgement import judgement
from registry.derive.condition.rulebook import Rule, read_rulebook, rulebook
from registry.model.cautions import cautions
from registry.model.condition import Crack
from registry.model.tower import Hazard
from registry.model.vocabulary import vocabulary
from registry.resources import shipped_text

BOOK = rulebook()
RULES = {rule.id: rule for rule in BOOK.rules}
GOLDEN = Path(__file__).parent / "rules_in_words.txt"
CRACK = Crack(1, "confirmed", position="waist", bearing_deg=200.0, side="outside", growth="none-seen")
SUSPECTED = CRACK._replace(state="suspected")


def _crack_state(state: Any) -> list[Any]:
    if state == "mended":
        return [seen(cracks=(CRACK._replace(state="none", side=None, growth=None, repaired="welded"),))]
    return [seen(cracks=(CRACK._replace(state=state),))]


def _crown_crack_state(state: Any) -> list[Any]:
    crack = CRACK._replace(position="crown", bearing_deg=None)
    if state == "mended":
        return [seen(cracks=(crack._replace(state="none", side=None, growth=None, repaired="welded"),))]
    return [seen(cracks=(crack._replace(state=state),))]


def _loss(value: float, worst: float | None = None) -> list[Any]:
    """Make a loss of ``value`` per cent, or a smaller one whose worse end is ``worst``."""
    sizes = {"soundbow_thickness_mm": None}
    walls: dict[str, Any] = {"pit_depth_mm": None, "thickness_beside_mm": 100.0}
    if worst is None:
        walls["thickness_at_pit_mm"] = 100.0 - value
        return [seen(strike_points=walls, dimensions=sizes)]
    # Both walls are wrong by the largest error: (100 + e)(1 - worst) = wall - e.
    error = 0.15
    walls["thickness_at_pit_mm"] = (100.0 + error) * (1.0 - worst / 100.0) + error
    return [seen(strike_points=walls, dimensions=sizes)]


def _loss_since_first(value: float) -> list[Any]:
    before = {"thickness_at_pit_mm": 100.0, "thickness_beside_mm": 100.0, "pit_depth_mm": None}
    now = {"thickness_at_pit_mm": 100.0 - value, "thickness_beside_mm": 100.0 - value, "pit_depth_mm": None}
    return [seen("2005-05-01", strike_points=before), seen(strike_points=now)]


def _broken(value: float) -> list[Any]:
    return [seen(crown={"broken_loops": round(12 * value / 100)})]


def _of(section: str, field: str) -> Callable[[Any], list[Any]]:
    return lambda value: [seen(**{section: {field: value}})]


def _shape(word: Any) -> list[Any]:
    return [seen(strike_points={"pit_depth_mm": 9.0 if word == "steeper-than-ball" else 1.0})]


def _hazard(kind: Any) -> list[Any]:
    return [seen(hazards=(Hazard(kind),))]


WITNESSES: dict[str, Callable[..., list[Any]]] = {
    "crack_state": _crack_state,
    "crack_side": lambda side: [seen(cracks=(SUSPECTED._replace(side=side),))],
    "crack_position": lambda place: [seen(cracks=(SUSPECTED._replace(position=place),))],
    "crack_growth": lambda growth: [seen(cracks=(SUSPECTED._replace(growth=growth),))],
    "crack_repair": lambda repair: [seen(cracks=(SUSPECTED._replace(repaired=repair),))],
    "crown_crack_state": _crown_crack_state,
    "crown_crack_side": lambda side: [seen(cracks=(SUSPECTED._replace(position="crown", side=side),))],
    "crown_crack_growth": lambda word: [seen(cracks=(SUSPECTED._replace(position="crown", growth=word),))],
    "soundbow_loss_percent": _loss,
    "soundbow_loss_since_first_percent": _loss_since_first,
    "burr": _of("strike_points", "burr"),
    "pit_shape": _shape,
    "argent": _of("crown", "argent"),
    "broken_loops_percent": _broken,
    "staple_rust": _of("crown", "staple_rust"),
    "straps": _of("crown", "straps"),
    "bolts_loose": _of("crown", "bolts_loose"),
    "headstock_state": _of("fittings", "headstock_state"),
    "clapper_presence": _of("clapper", "presence"),
    "play_vertical_mm": _of("clapper", "play_vertical_mm"),
    "play_sideways_mm": _of("clapper", "play_sideways_mm"),
    "clapper_flat_percent": lambda value: [seen(clapper={"flat_width_mm": 2.0 * value})],
    "shaft_touches": _of("clapper", "shaft_touches"),
    "clapper_share_percent": lambda value: [seen(clapper={"mass_kg": 10.0 * value})],
    "clapper_hardness_hb": _of("clapper", "hardness_hb"),
    "strike_height_share": lambda value: [seen(clapper={"strike_height_mm": 100.0 * value})],
    "bearings_state": _of("fittings", "bearings_state"),
    "drive_state": _of("fittings", "drive_state"),
    "hammer_clearance_mm": _of("fittings", "hammer_clearance_mm"),
    "hammer_clear_of_swing": _of("fittings", "hammer_clear_of_swing"),
    "isolator": _of("fittings", "isolator"),
    "frame_loose_joints": _of("frame", "loose_joints"),
    "frame_decay": _of("frame", "decay"),
    "frame_movement_mm": _of("frame", "movement_mm"),
    "access_hazard": _hazard,
}
"""By fact: how to make a bell whose newest survey tells this value of it."""

GIVEN: dict[str, Callable[[str, Any], Any]] = {
    "ringing_style": lambda word, bell: bell._replace(
        entry=bell.entry._replace(ringing=bell.entry.ringing._replace(style=word))
    ),
    "material": lambda word, bell: bell._replace(
        entry=bell.entry._replace(identity=bell.entry.identity._replace(material=word))
    ),
}
"""By fact that a rule takes as given: how to make it so."""


def sides_of(rule: Rule) -> tuple[list[Any], list[Any]]:
    """Give values on which a rule must fire, and values on which it must not."""
    if rule.compare == "one_of":
        others = [word for word in BOOK.facts[rule.fact].words if word not in rule.words]
        return list(rule.words), others
    limit = rule.limit
    step = 100.0 / 12.0 if rule.fact == "broken_loops_percent" else max(abs(limit) * 1e-6, 1e-6)
    beyond, inside = [limit + step], [limit - step]
    if rule.fact == "broken_loops_percent":
        inside = [limit - step] if limit else [0.0]
    if rule.compare in ("from", "above"):
        return beyond, [value for value in inside if value >= 0]
    return inside, beyond


def graded(rule: Rule, value: Any) -> BellGrades:
    """Grade the bell whose newest survey tells this value, and all that the rule takes as given."""
    witness = WITNESSES[rule.fact]
    bells = witness(None, worst=value) if rule.of_worst else witness(value)
    for name, words in rule.given.items():
        bells = [GIVEN[name](words[0], bell) for bell in bells]
    return grade_bell(bells)


def fired_ids(grades: BellGrades) -> set[str]:
    """Name all rules that fired."""
    return {each.rule.id for grade in grades.grades for each in (*grade.fired, *grade.asides)}


FIRING = [
    pytest.param(rule, value, id=f"{rule.id}-{value}") for rule in BOOK.rules for value in sides_of(rule)[0]
]
SILENT = [
    pytest.param(rule, value, id=f"{rule.id}-{value}") for rule in BOOK.rules for value in sides_of(rule)[1]
]


def test_every_rule_has_a_case_on_each_side():
    """Each rule of the file is tried with a value on which it must fire, and one on which it must not."""
    written = set(yaml.safe_load(shipped_text("schema", "rules", "condition.yaml"))["rules"])
    assert {case.values[0].id for case in FIRING} == written
    assert {case.values[0].id for case in SILENT} == written


@pytest.mark.parametrize(("rule", "value"), FIRING)
def test_rule_fires_beyond_its_threshold(rule, value):
    """Just beyond its threshold, and on each of its words, a rule fires and gives its grades."""
    grades = graded(rule, value)
    assert rule.id in fired_ids(grades)
    grade = grades.of(BOOK.facts[rule.fact].component)
    if rule.grades is not None:
        assert all(has >= given for has, given in zip(grade.at_least, rule.grades, strict=True))


@pytest.mark.parametrize(("rule", "value"), SILENT)
def test_rule_is_silent_on_the_other_side(rule, value):
    """Just short of its threshold, and on every other word of the vocabulary, a rule is silent."""
    assert rule.id not in fired_ids(graded(rule, value))


@pytest.mark.parametrize("rule", [r for r in BOOK.rules if r.limit is not None], ids=lambda rule: rule.id)
def test_value_on_the_threshold(rule):
    """On the threshold itself, "from" and "up_to" fire; "above" and "below" do not."""
    assert rule.fires_on(rule.limit) == (rule.compare in ("from", "up_to"))
    assert rule.fires_on(math.nextafter(rule.limit, math.inf)) == (rule.compare in ("above", "from"))
    assert rule.fires_on(math.nextafter(rule.limit, -math.inf)) == (rule.compare in ("below", "up_to"))


@pytest.mark.parametrize("rule", [each for each in BOOK.rules if each.given], ids=lambda rule: rule.id)
def test_rule_needs_what_it_takes_as_given(rule):
    """A rule made for one way of ringing or one material says nothing about another."""
    for name, words in rule.given.items():
        for word in vocabulary(name).terms:
            bells = [GIVEN[name](word, bell) for bell in WITNESSES[rule.fact](sides_of(rule)[0][0])]
            assert (rule.id in fired_ids(grade_bell(bells))) == (word in words)


def test_every_fact_of_a_rule_has_a_witness():
    """No rule looks at a fact that no form can tell."""
    assert {rule.fact for rule in BOOK.rules} == set(WITNESSES)


def test_sound_bell_fires_nothing():
    """The bell that all cases start from is sound: whatever fires in them is the change."""
    assert fired_ids(grade_bell([seen()])) == set()


def test_rules_in_words(golden):
    """Each rule reads as a sentence, with value and limit filled in; the file is what people get to read."""
    lines = []
    for rule in BOOK.rules:
        grades = graded(rule, sides_of(rule)[0][0])
        each = next(
            fired
            for grade in grades.grades
            for fired in (*grade.fired, *grade.asides)
            if fired.rule.id == rule.id
        )
        steps = "-".join(map(str, rule.grades)) if rule.grades else "beside"
        lines += [
            f"{rule.id} [{steps}{'+' if rule.or_worse else ''}{' ' + rule.ringing if rule.ringing else ''}]",
            f"    {each.found}",
            f"    {each.do}",
            f"    ({rule.source})",
        ]
        assert "{" not in each.found + each.do
    golden(GOLDEN, "\n".join(lines) + "\n")


def test_every_rule_names_what_it_rests_on():
    """A rule has a source or says that there is none; its cautions and options exist."""
    for rule in BOOK.rules:
        assert all((rule.source, rule.found, rule.do))
        assert set(rule.cautions) <= set(cautions())
        assert set(rule.asks_for) <= set(judgement()["options"])
        assert rule.ringing in (None, "reduced", "stop")


def test_rule_that_silences_another_is_at_least_as_grave():
    """What a graver rule says in place of another takes nothing back: grades, ringing, options."""
    order = (None, "reduced", "stop")
    for rule in BOOK.rules:
        for name in rule.unless:
            graver = RULES[name]
            assert all(g >= r for g, r in zip(graver.grades, rule.grades, strict=True))
            assert order.index(graver.ringing) >= order.index(rule.ringing)
            assert set(rule.asks_for) <= set(graver.asks_for)


def test_limits_of_wear_are_one():
    """The limits of wear are the same here, in the estimates and on the list of what needs attention."""
    wear = yaml.safe_load(shipped_text("schema", "rules", "estimates.yaml"))["wear"]
    attention = yaml.safe_load(shipped_text("schema", "rules", "attention.yaml"))
    assert RULES["loss-beyond-limit"].limit == wear["turn_above_percent"] == 10
    assert RULES["loss-to-plan-for"].limit == wear["plan_from_percent"] == 5
    assert attention["worn-soundbow"]["threshold"] == 10
    assert BOOK.settings["wear_limit"]["percent"] == 10


def test_published_thresholds():
    """The thresholds that have a source are the published ones.

    10 % of the wall: A. Bartocha and C. Baron, Materials 14(10) 2504 (2021). Play below 6 mm and 25 mm: trade
    handbook on the upkeep of bells, chapter on clappers. 160 HB: alloy C91300, typical (ASTM B505). 2 mm of
    movement: R. Smith and H. Hunt, Vibration of bell towers excited by bell ringing. 6 mm: A. Dutton, Bell
    frames and bell towers, buildingconservation.com.
    """
    limits = {name: RULES[name].limit for name in RULES}
    assert limits["play-vertical"] == 6
    assert limits["play-sideways"] == 25
    assert limits["ball-hard"] == 160
    assert limits["frame-moves"] == 2
    assert limits["frame-moves-much"] == 6


@pytest.mark.parametrize(
    ("change", "message"),
    [
        ({"fact": "colour"}, "is no fact"),
        ({"above": None}, "needs one of"),
        ({"below": 3}, "needs one of"),
        ({"colour": "green"}, "which nothing reads"),
    ],
)
def test_rule_with_a_slip_is_refused(change, message):
    """A rule that looks at nothing, compares with nothing or twice, or has an unknown key is named."""
    data = yaml.safe_load(shipped_text("schema", "rules", "condition.yaml"))
    rule = data["rules"]["loss-beyond-limit"] | change
    data["rules"]["loss-beyond-limit"] = {name: each for name, each in rule.items() if each is not None}
    with pytest.raises(ValueError, match=f"loss-beyond-limit.*{message}"):
        read_rulebook(yaml.safe_dump(data))


def test_rule_on_a_word_that_nobody_can_write():
    """A rule that waits for a word outside the vocabulary would never fire, and is refused."""
    data = yaml.safe_load(shipped_text("schema", "rules", "condition.yaml"))
    data["rules"]["argent-worn"]["one_of"] = ["shabby"]
    with pytest.raises(ValueError, match="argent never is shabby"):
        read_rulebook(yaml.safe_dump(data))


def test_changed_threshold_counts():
    """Whoever changes a number in the file changes the grade, without Python."""
    data = yaml.safe_load(shipped_text("schema", "rules", "condition.yaml"))
    data["rules"]["play-vertical"]["from"] = 3
    bell = [seen(clapper={"play_vertical_mm": 4.0})]
    assert grade_bell(bell).of("clapper").condition == 0
    assert grade_bell(bell, read_rulebook(yaml.safe_dump(data))).of("clapper").condition == 2


def test_instruments_of_the_witnesses():
    """The worse end of the loss is worked out with the errors that the witnesses' instruments state."""
    assert INSTRUMENTS[0].tolerance_mm + BOOK.settings["tolerances"]["wall"]["rounding_mm"] == pytest.approx(
        0.15
    )
