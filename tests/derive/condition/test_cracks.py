"""The state of a crack through the visits: it does not heal, and a suspicion stays one until cleared up."""

import pytest
from seen_bells import seen

from registry.derive.condition.cracks import crack_states
from registry.derive.condition.grading import grade_bell
from registry.derive.condition.rulebook import rulebook
from registry.model.condition import Crack

FIRST = Crack(1, "suspected", position="soundbow", bearing_deg=90.0, method="eye", length_mm=20.0)
CLEAR = Crack(1, "none", position="soundbow", bearing_deg=92.0, method="penetrant")


def state_after(*cracks, **changes):
    """Give the state of the one crack after visits that told these entries, or none."""
    visits = [
        seen(f"{2005 + 5 * place}-05-01", cracks=(crack,) if crack else (), **changes)
        for place, crack in enumerate(cracks)
    ]
    states = crack_states(visits)
    return states[0] if states else None


def test_none_found():
    """A bell looked over without finding a crack has no crack to follow."""
    assert state_after(Crack(1, "none", method="eye")) is None


def test_suspicion_is_cleared_up_by_a_closer_look():
    """Looked at with more than the eye at the same place, a suspicion is cleared up."""
    assert state_after(FIRST, CLEAR) is None


@pytest.mark.parametrize("method", sorted(rulebook().settings["clears_a_suspicion"]["methods"]))
def test_each_closer_look_clears_up(method):
    """Every way of looking that the rules name clears up a suspicion."""
    assert state_after(FIRST, CLEAR._replace(method=method)) is None


@pytest.mark.parametrize("method", ["eye", "sound", "other", None])
def test_naked_eye_clears_nothing_up(method):
    """The naked eye, the ear, or an untold method leaves the suspicion."""
    state = state_after(FIRST, CLEAR._replace(method=method))
    assert state.state == "suspected"
    assert "naked eye" in state.why_not


@pytest.mark.parametrize(
    ("change", "why"),
    [
        ({"position": None}, "same place"),
        ({"position": "waist"}, "same place"),
        ({"bearing_deg": None}, "same bearing"),
        ({"bearing_deg": 105.1}, "taken for"),
    ],
)
def test_another_place_clears_nothing_up(change, why):
    """A look at another place, or at one that is not named, leaves the suspicion where it was."""
    visits = [
        seen("2005-05-01", cracks=(FIRST,)),
        seen("2010-05-01", cracks=(CLEAR._replace(**change),)),
    ]
    (state,) = crack_states(visits)
    assert state.state == "suspected"
    assert why in state.why_not or state.why_not == "not mentioned on 2010-05-01"


def test_suspicion_without_a_place_is_cleared_up_by_its_number():
    """A suspicion of which nobody told the place can be cleared up without one."""
    assert state_after(FIRST._replace(position=None, bearing_deg=None), CLEAR) is None


def test_unmentioned_crack_stays():
    """A visit that says nothing on a crack leaves it, and it is told that it was not mentioned."""
    state = state_after(FIRST, None)
    assert (state.state, state.told_on.year, state.why_not) == (
        "suspected",
        2005,
        "not mentioned on 2010-05-01",
    )


def test_crack_does_not_heal():
    """A confirmed crack that is not found any more, with no repair told, is still there."""
    state = state_after(FIRST._replace(state="confirmed"), CLEAR)
    assert state.state == "confirmed"
    assert "does not heal" in state.why_not


def test_confirmed_is_not_talked_down():
    """A crack that was confirmed and is called suspected later is still confirmed."""
    assert state_after(FIRST._replace(state="confirmed"), FIRST).state == "confirmed"


@pytest.mark.parametrize("repair", sorted(rulebook().settings["mends_a_crack"]["repairs"]))
def test_mended(repair):
    """A confirmed crack that was repaired and is not found any more by a closer look is mended."""
    state = state_after(FIRST._replace(state="confirmed"), CLEAR._replace(repaired=repair))
    assert (state.state, state.open) == ("mended", False)


@pytest.mark.parametrize("repair", ["stop-hole", "stitched", "no", "unknown", None])
def test_not_mended(repair):
    """Stop holes and stitches, or nothing, mend no crack."""
    state = state_after(FIRST._replace(state="confirmed"), CLEAR._replace(repaired=repair))
    assert state.state == "confirmed"


def test_crack_comes_back():
    """A mended crack that opens again is a crack again (Gloriosa, Erfurt: welded 1985, again 2004)."""
    confirmed = FIRST._replace(state="confirmed")
    state = state_after(confirmed, CLEAR._replace(repaired="welded"), confirmed)
    assert (state.state, state.why_not) == ("confirmed", "")


def test_repaired_but_there():
    """A crack that is confirmed after its repair is a crack."""
    assert state_after(FIRST._replace(state="confirmed", repaired="welded")).state == "confirmed"


def test_through_stays_through():
    """A crack that once went through the wall does not stop doing so because a later form leaves it out."""
    through = FIRST._replace(state="confirmed", side="through")
    assert state_after(through, through._replace(side="outside")).side == "through"


@pytest.mark.parametrize(
    ("first_mm", "then_mm", "grown"), [(20.0, 22.1, True), (20.0, 21.9, False), (20.0, 10.0, False)]
)
def test_growth_beyond_the_errors(first_mm, then_mm, grown):
    """Longer by more than both errors of reading is grown: 0.5 mm of the rule, 0.5 mm of rounding, twice."""
    state = state_after(FIRST._replace(length_mm=first_mm), FIRST._replace(length_mm=then_mm))
    assert state.grown is grown


def test_marks_on_the_bell_show_growth():
    """The surveyor's word that a crack has passed its mark is enough."""
    assert state_after(FIRST._replace(growth="grown")).grown


def test_crown_and_body_are_two_cracks():
    """A crack of the crown and one of the body under one number are two."""
    states = crack_states(
        [seen("2005-05-01", cracks=(FIRST,)), seen(cracks=(FIRST._replace(position="crown"),))]
    )
    assert [each.of_the_crown for each in states] == [False, True]


def test_crack_without_a_place_may_be_in_the_crown():
    """Where nobody told the place, the body counts as cracked and the crown as not inspected."""
    grades = grade_bell([seen(cracks=(Crack(1, "confirmed"),))])
    assert grades.of("bell").condition == 3
    assert grades.of("crown").condition is None


def test_bell_that_was_turned_under_a_mark_on_the_tower():
    """Where all strike points moved by the angle of a turn, so did the crack: its weld is found again."""
    before = [
        seen("2013-05-01", cracks=(FIRST._replace(state="confirmed", bearing_deg=272.0),)),
        seen(
            "2025-05-01",
            strike_points={"turned_by_deg": 90.0},
            cracks=(CLEAR._replace(bearing_deg=2.0, repaired="welded"),),
        ),
    ]
    turned = [
        point._replace(bearing_deg=(point.bearing_deg + 90.0) % 360.0, use="old")
        for point in before[1].entry.strike_points
    ]
    before[1] = before[1]._replace(entry=before[1].entry._replace(strike_points=tuple(turned)))
    (state,) = crack_states(before)
    assert state.state == "mended"
