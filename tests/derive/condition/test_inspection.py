"""When to look again, what is to be done, and surveys side by side."""

from datetime import date

import pytest
from sample_forms import surveys
from seen_bells import seen

from registry.derive.condition.actions import actions_of
from registry.derive.condition.comparison import side_by_side
from registry.derive.condition.grading import grade_bell
from registry.derive.condition.growth import growths_of
from registry.derive.condition.inspection import months_later, next_inspections
from registry.derive.condition.judgement import judgement
from registry.derive.condition.rulebook import rulebook
from registry.derive.condition.seen import GONE, NOT_HUNG, apart_deg, histories_of, seen_in, weighed_kg
from registry.model.condition import Assessment, Crack
from registry.model.tower import Hazard
from registry.model.vocabulary import vocabulary

ON = date(2026, 1, 1)


def due(*history, on=ON):
    """Give kind and day of the inspections of a bell."""
    return [
        (each.kind, each.due.isoformat())
        for each in next_inspections(history, grade_bell(history), growths_of(history), on)
    ]


class TestInspections:
    """Inspections that are due."""

    def test_sound_bell(self):
        """By eye after a year, technically after three (Evangelical Church of Hannover, 25 November 2023)."""
        assert due(seen()) == [("by-eye", "2026-05-01"), ("technical", "2028-05-01")]

    def test_published_intervals(self):
        """The intervals are those of the regulation, and each names its source."""
        rules = judgement()["inspections"]
        assert rules["by-eye"]["every_months"] == 12
        assert rules["technical"]["every_months"] == 36
        assert all("Hannover" in rules[name]["source"] for name in ("by-eye", "technical", "expert"))

    def test_look_by_eye_is_no_technical_inspection(self):
        """A visit that measured nothing counts for the yearly look alone."""
        glance = seen("2027-05-01", strike_points=())
        assert due(seen(), glance) == [("technical", "2028-05-01"), ("by-eye", "2028-05-01")] or due(
            seen(), glance
        ) == [("by-eye", "2028-05-01"), ("technical", "2028-05-01")]

    def test_never_measured(self):
        """A bell that no visit measured is due at once."""
        assert ("technical", "2026-01-01") in due(seen(strike_points=()))

    def test_never_visited(self):
        """A bell known from documents alone is due on the day of asking."""
        assert due(seen(kind="document")) == [("technical", "2026-01-01")]

    def test_urgent(self):
        """What is urgent calls an expert at once, what is soon asks for a look within half a year."""
        assert due(seen(crown={"bolts_loose": "yes"}))[0] == ("expert", "2025-05-01")
        assert ("soon", "2025-11-01") in due(seen(frame={"loose_joints": "yes"}))

    def test_mended_crack_every_year(self):
        """A mended crack is inspected technically every year."""
        mended = Crack(1, "none", position="waist", bearing_deg=9.0, method="penetrant", repaired="welded")
        assert ("technical", "2026-05-01") in due(seen(cracks=(mended,)))

    def test_sooner_where_the_limit_may_come_first(self):
        """Where wear may reach its limit before the three years are over, the inspection is sooner."""
        history = [
            seen("2015-05-01", strike_points={"pit_depth_mm": 5.0, "thickness_at_pit_mm": 94.0}),
            seen("2025-05-01", strike_points={"pit_depth_mm": 8.9, "thickness_at_pit_mm": 90.1}),
        ]
        day = dict(due(*history))["technical"]
        assert "2026-01-01" < day < "2028-05-01"

    def test_limit_that_is_passed_brings_no_sooner_look(self):
        """A limit that is passed is known; it asks for more than another look."""
        worn = seen(strike_points={"pit_depth_mm": 13.0, "thickness_at_pit_mm": 86.0})
        assert dict(due(worn))["technical"] == "2028-05-01"

    @pytest.mark.parametrize("status", sorted(GONE))
    def test_gone(self, status):
        """Nobody inspects a bell that is gone."""
        assert due(seen(identity={"status": status})) == []

    @pytest.mark.parametrize("status", sorted(NOT_HUNG))
    def test_not_hung(self, status):
        """A bell that does not hang is looked at once a year."""
        assert due(seen(identity={"status": status})) == [("by-eye", "2026-05-01")]

    def test_states_of_a_bell_are_known(self):
        """Every word for what became of a bell is either there, not hung, or gone."""
        assert GONE | NOT_HUNG | {"hanging", "unknown"} == set(vocabulary("bell_status").terms)

    @pytest.mark.parametrize(
        ("day", "months", "later"),
        [("2024-01-31", 1, "2024-02-29"), ("2023-01-31", 1, "2023-02-28"), ("2024-12-15", 1, "2025-01-15"),
         ("2024-02-29", 12, "2025-02-28"), ("2024-05-01", 0, "2024-05-01")],
    )  # fmt: skip
    def test_months(self, day, months, later):
        """Months later is the same day, or the last of a month that has none."""
        assert months_later(date.fromisoformat(day), months).isoformat() == later


class TestActions:
    """What is to be done."""

    def graded(self, *bells):
        """Grade bells of one tower."""
        return actions_of([("tower", grade_bell([bell])) for bell in bells])

    def test_most_urgent_first(self):
        """What is urgent stands first; each line tells what was found and what to do."""
        found = self.graded(seen(crown={"bolts_loose": "yes"}, clapper={"play_vertical_mm": 8.0}))
        assert [each.rule for each in found] == ["bolts-loose", "play-vertical"]
        assert found[0].do.startswith("Stop ringing until a bell-hanger")
        assert (found[0].urgency, found[0].survey_id) == (3, "tower-2025-05-01")

    def test_matters_of_the_tower_stand_once(self):
        """A loose frame is one thing to do, however many bells hang in it."""
        bells = [seen(frame={"loose_joints": "yes"}, hazards=(Hazard("ladder"),)) for _ in range(3)]
        bells = [
            bell._replace(entry=bell.entry._replace(id=f"bell-{number}")) for number, bell in enumerate(bells)
        ]
        found = self.graded(*bells)
        assert [(each.rule, each.bell_id) for each in found] == [
            ("frame-joints-loose", None), ("hazard-marked", None),
        ]  # fmt: skip

    def test_asides_are_told_too(self):
        """A finding beside the grades is on the list, with no urgency of its own."""
        (action,) = self.graded(seen(fittings={"isolator": "no"}))
        assert (action.rule, action.urgency, action.cautions) == ("no-isolator", 0, ("going-up",))

    def test_sound_bell(self):
        """A sound bell has nothing to be done."""
        assert self.graded(seen()) == ()


class TestSideBySide:
    """Surveys laid side by side."""

    def test_changed(self):
        """Each field told stands with the value of each survey, and whether they differ."""
        rows = side_by_side([seen("2015-05-01", clapper={"flat_width_mm": 4.0}), seen()])
        flat = next(row for row in rows if row.field == "flat_width_mm")
        assert (flat.section, flat.values, flat.changed) == ("clapper", (4.0, 10.0), True)
        ball = next(row for row in rows if row.field == "ball_diameter_mm")
        assert not ball.changed

    def test_told_once(self):
        """What one survey alone told is no change."""
        rows = side_by_side([seen("2015-05-01", clapper=None), seen()])
        flat = next(row for row in rows if row.field == "flat_width_mm")
        assert (flat.values, flat.changed) == ((None, 10.0), False)

    def test_strike_points_by_number(self):
        """Strike points and cracks stand by the number they had."""
        rows = side_by_side([seen("2015-05-01", strike_points=()), seen(cracks=())])
        numbered = [(row.section, row.number, row.field) for row in rows if row.number]
        assert ("strike_points", 2, "pit_depth_mm") in numbered
        assert ("cracks", 1, "state") in numbered
        assert not [row for row in rows if all(value is None for value in row.values)]

    def test_nothing_told(self):
        """Sections that no survey told leave no lines."""
        bare = seen(**dict.fromkeys(("identity", "dimensions", "crown", "clapper", "fittings", "ringing")),
                    strike_points=(), cracks=(), frame=None)  # fmt: skip
        assert side_by_side([bare]) == ()


class TestSeen:
    """What a survey tells of one bell."""

    def test_order_and_scope(self):
        """Histories stand in the order of days; a bell gets its own assessments and those of the tower."""
        histories = histories_of(reversed(surveys()))
        assert histories == histories_of(surveys())
        history = histories["ostrelle-notre-dame-felicite"]
        assert [each.day for each in history] == sorted(each.day for each in history)
        assert {each.component for each in history[-1].assessments} == {"bell", "frame", "access"}
        assert all(each.bell in (None, "ostrelle-notre-dame-felicite") for each in history[-1].assessments)

    def test_word_on_no_bell_in_particular(self):
        """A judgement of "the clapper" that names no bell belongs to none."""
        survey = next(each for each in surveys() if each.bells and each.survey.kind == "visit")
        stray = survey._replace(assessments=(Assessment("clapper", condition=3),))
        assert all(not each.assessments for each in seen_in(stray))

    def test_weighing(self):
        """A mass counts that does not rest on sizes and is of the bell alone."""
        assert weighed_kg([seen()])[0] == 1000.0
        assert weighed_kg([seen(dimensions={"mass_includes": ("staple",)})])[0] == 1000.0
        assert weighed_kg([seen(dimensions={"mass_includes": ("headstock",)})]) is None
        assert weighed_kg([seen(dimensions={"mass_basis": "calculated"})]) is None
        assert weighed_kg([seen(dimensions={"mass_basis": None})]) is None

    @pytest.mark.parametrize(
        ("one", "other", "apart"), [(10, 350, 20), (0, 180, 180), (90, 90, 0), (0, 360, 0)]
    )
    def test_apart(self, one, other, apart):
        """Bearings are compared the short way round."""
        assert apart_deg(one, other) == apart

    def test_components_are_those_of_the_form(self):
        """The components that are graded are words that a surveyor can use."""
        assert set(rulebook().components) <= set(vocabulary("component").terms)
        assert {kind.component for kind in rulebook().facts.values()} == set(rulebook().components)
        parts = set(vocabulary("part").terms)
        assert all(kind.parts <= parts for kind in rulebook().facts.values())
