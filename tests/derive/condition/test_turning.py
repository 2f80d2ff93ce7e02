"""Where a bell can be turned to: clear of old pits, cracks and welds, in the order of the trade."""

import math

import pytest
from seen_bells import seen

from registry.derive.condition.rulebook import rulebook
from registry.derive.condition.seen import apart_deg
from registry.derive.condition.turning import where_to_turn
from registry.model.condition import Crack, StrikePoint


def point(number, bearing, use="in-use", length=30.0, **more):
    """Make a strike point."""
    return StrikePoint(number, bearing, struck_by="clapper", use=use, pit_length_mm=length, **more)


def turning(*points, cracks=(), mouth=1200.0):
    """Find where a bell with these strike points can be turned to."""
    return where_to_turn([seen(strike_points=points, cracks=cracks, dimensions={"mouth_diameter_mm": mouth})])


def angles(found):
    """Give the clear angles, best first."""
    return [turn.angle_deg for turn in found.turns]


FRESH = (point(1, 90.0), point(2, 270.0))


def test_quarter_turn_first():
    """A bell never turned before is turned by a quarter (trade handbook)."""
    best = turning(*FRESH).turns[0]
    assert (best.angle_deg, sorted(best.places_deg)) == (90.0, [0.0, 180.0])
    assert best.source == "trade handbook: a quarter turn"


def test_opposite_points_make_both_ways_one():
    """With two opposite points a quarter either way leads to the same places, and is named once."""
    assert angles(turning(*FRESH))[:3] == [90.0, 45.0, -45.0]


def test_eighth_after_a_quarter():
    """A bell that was turned by a quarter before is turned by an eighth next (trade handbook)."""
    found = turning(*FRESH, point(3, 0.0, "old"), point(4, 180.0, "old"))
    assert abs(angles(found)[0]) == 45.0
    assert [turn.angle_deg for turn in found.blocked] == [90.0]
    assert set(found.blocked[0].blocked_by) == {"the pit of strike point 3", "the pit of strike point 4"}


def test_less_where_nothing_else_is_free():
    """Where quarter and eighths are used, 20 to 40 degrees still help (Giesserei-Praxis 2012 and 2016)."""
    old = [point(number, 45.0 * number, "old", length=20.0) for number in (3, 4, 5, 7, 8)]
    found = turning(*FRESH, *old, point(9, 45.0, "old", length=20.0))
    assert all(20 <= abs(angle) <= 40 for angle in angles(found))
    assert found.turns


def test_rim_used_up():
    """Where every angle meets something there is none, and the reason is told."""
    old = [point(number, 10.0 * number, "old", length=100.0) for number in range(3, 39)]
    found = turning(*FRESH, *old)
    assert found.turns == ()
    assert "used up" in found.why_not


def test_clockwise():
    """A bell turned clockwise is struck that much further back round its rim, for the clapper stays."""
    found = turning(point(1, 90.0), cracks=())
    quarter = next(turn for turn in found.turns if turn.angle_deg == 90.0)
    assert quarter.places_deg == (0.0,)


@pytest.mark.parametrize(("gap_mm", "clear"), [(9.5, False), (10.5, True)])
def test_margin_between_pits(gap_mm, clear):
    """A new pit keeps 10 mm from an old one, edge to edge (common practice, no source)."""
    # Two pits of 30 mm on a mouth of 1200 mm: centres 30 mm plus the gap apart.
    apart = math.degrees((30.0 + gap_mm) / 600.0)
    found = turning(point(1, 90.0), point(2, (90.0 - 90.0 + apart) % 360.0, "old"))
    assert (90.0 in angles(found)) is clear


def test_small_bell_has_less_room():
    """On a small bell the same pits take up more of the rim."""
    old = (point(3, 30.0, "old", length=60.0), point(4, 210.0, "old", length=60.0))
    assert len(turning(*FRESH, *old, mouth=1500.0).turns) > len(turning(*FRESH, *old, mouth=400.0).turns)


def test_clear_of_welds():
    """A place that was built up or mended keeps 30 degrees to itself (common practice, no source)."""
    built = (point(3, 10.0, "old", built_up="yes"), point(4, 190.0, "old", built_up="yes"))
    found = turning(*FRESH, *built)
    assert 90.0 not in angles(found)
    assert "the weld at strike point 3" in found.blocked[0].blocked_by
    mended = Crack(1, "none", position="soundbow", bearing_deg=0.0, method="penetrant", repaired="welded")
    assert "the mended crack 1" in turning(*FRESH, cracks=(mended,)).blocked[0].blocked_by


@pytest.mark.parametrize(("bearing", "clear"), [(29.0, False), (31.0, True)])
def test_clear_of_cracks(bearing, clear):
    """New places keep 30 degrees from a crack, and the crack comes first."""
    crack = Crack(1, "confirmed", position="soundbow", bearing_deg=bearing)
    found = turning(*FRESH, cracks=(crack,))
    assert (90.0 in angles(found)) is clear
    assert found.notes == ("a crack must be examined before anything is turned",)


def test_crack_in_the_crown_is_no_obstacle_on_the_rim():
    """A crack of the crown takes no place on the rim."""
    crack = Crack(1, "confirmed", position="crown", bearing_deg=0.0)
    assert angles(turning(*FRESH, cracks=(crack,)))[0] == 90.0


@pytest.mark.parametrize(
    ("points", "cracks", "why"),
    [
        ((), (), "no strike point in use"),
        ((point(1, None), point(2, 270.0)), (), "bearing of a strike point in use is not known"),
        ((*FRESH, point(3, None, "old")), (), "nobody told where the pit of strike point 3 lies"),
        (FRESH, (Crack(1, "suspected"),), "nobody told where the crack 1 lies"),
    ],
)
def test_unknown_places(points, cracks, why):
    """A mark of which nobody told the place can lie anywhere: no angle is called clear."""
    found = turning(*points, cracks=cracks)
    assert (found.turns, found.blocked) == ((), ())
    assert why in found.why_not


def test_unknown_size():
    """Without the mouth diameter, or a visit, no angle is given."""
    assert "mouth diameter" in turning(*FRESH, mouth=None).why_not
    assert "nobody has looked" in where_to_turn([seen(kind="document")]).why_not


def test_old_pits_of_earlier_visits_count():
    """A pit that only an earlier visit told is still in the rim, also under a mark that has moved since."""
    before = seen("2005-05-01", strike_points=(*FRESH, point(3, 0.0, "old")))
    after = seen(strike_points=(point(1, 120.0), point(2, 300.0)))
    found = where_to_turn([before, after])
    assert 90.0 not in angles(found)
    assert "the pit of strike point 3" in found.blocked[0].blocked_by


def test_reasons_are_told():
    """Each angle tells how much room it leaves and to what, and what it rests on."""
    for turn in turning(*FRESH).turns:
        nearest = min(apart_deg(place, old) for place in turn.places_deg for old in (90.0, 270.0))
        assert turn.clear_deg == pytest.approx(nearest - math.degrees(30.0 / 600.0))
        assert turn.clear_of.startswith("the pit of strike point")
        assert turn.source in {rule["source"] for rule in rulebook().settings["turning"]}
