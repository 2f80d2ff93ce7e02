"""The same strike point and crack through the visits, by number and by place."""

from datetime import date

from seen_bells import seen

from registry.derive.condition.following import follow_cracks, follow_strike_points
from registry.model.condition import Crack, StrikePoint
from registry.model.history import Event


def points(*told, **fields):
    """Make strike points from pairs of number and bearing, or triples with a depth."""
    return tuple(
        StrikePoint(number, bearing_deg=bearing, pit_depth_mm=depth[0] if depth else None, **fields)
        for number, bearing, *depth in told
    )


def followed(*visits, events=()):
    """Follow strike points told at visits ten years apart; ``events`` belong to the last."""
    last = len(visits) - 1
    return follow_strike_points(
        [
            seen(f"{1990 + 10 * place}-05-01", strike_points=told, events=events if place == last else ())
            for place, told in enumerate(visits)
        ]
    )


def numbers(result):
    """Give for each track the numbers it had."""
    return [[sighting.item.number for sighting in track.sightings] for track in result.tracks]


def test_by_number():
    """Points that keep number and place are followed without remark."""
    result = followed(points((1, 90), (2, 270)), points((1, 93), (2, 268)))
    assert numbers(result) == [[1, 1], [2, 2]]
    assert result.remarks == ()


def test_across_north():
    """Bearings of 358 and 3 degrees are five degrees apart."""
    assert numbers(followed(points((1, 358)), points((1, 3)))) == [[1, 1]]


def test_without_bearings_the_number_counts():
    """Where bearings were not told the number is all there is."""
    assert numbers(followed(points((1, None)), points((1, 80)), points((1, None)))) == [[1, 1, 1]]


def test_renumbered():
    """A point that stands where another one stood is that one, and the new number is told."""
    result = followed(points((1, 90), (2, 200)), points((3, 92), (4, 201)))
    assert numbers(result) == [[1, 3], [2, 4]]
    assert "strike point 3 of 2000-05-01 stands where strike point 1 stood before" in result.remarks[0]


def test_numbers_exchanged():
    """Two points whose numbers were exchanged are followed by their places."""
    result = followed(points((1, 90), (2, 200)), points((1, 201), (2, 91)))
    assert numbers(result) == [[1, 2], [2, 1]]
    assert len(result.remarks) == 2


def test_opposite_points_whose_numbers_were_exchanged():
    """Two opposite points under exchanged numbers were renumbered: no mark moves by half a turn."""
    result = followed(points((1, 90), (2, 270)), points((1, 270), (2, 90)))
    assert numbers(result) == [[1, 2], [2, 1]]


def test_another_place_is_another_point():
    """A number that turns up elsewhere is another point, and that is told."""
    result = followed(points((1, 90)), points((1, 200)))
    assert numbers(result) == [[1], [1]]
    assert "taken for another one" in result.remarks[0]


def test_mark_moved():
    """Where all numbers are shifted by one angle they are followed, and the shift is told."""
    result = followed(points((1, 10), (2, 100)), points((1, 70), (2, 161)), points((1, 71), (2, 160)))
    assert numbers(result) == [[1, 1, 1], [2, 2, 2]]
    assert "about 60° on from before" in result.remarks[0]
    assert len(result.remarks) == 1
    assert result.tracks[0].bearing_deg == (71 - 60) % 360


def test_one_point_and_a_told_turn():
    """A single point shifted by the angle of a told turn, either way, is followed."""
    turned = (Event("turned", date="2009", turned_by_deg=90.0),)
    assert numbers(followed(points((1, 10)), points((1, 280)), events=turned)) == [[1, 1]]
    assert numbers(followed(points((1, 10)), points((1, 280)))) == [[1], [1]]


def test_turned_under_a_mark_on_the_tower():
    """Old pits wander with the bell while new ones arise where the old ones stood; nothing is confused."""
    before = points((1, 91, 5.0), (2, 272, 5.2), use="in-use")
    after = points((1, 181, 5.0), (2, 3, 5.2), use="old") + points((3, 90, 0.2), (4, 270, 0.3), use="in-use")
    assert numbers(followed(before, after)) == [[1, 1], [2, 2], [3], [4]]


def test_numbers_used_again_after_a_turn():
    """A pit that is much shallower and was not built up is another pit, though number and place are one."""
    result = followed(points((1, 90, 5.0)), points((1, 90, 0.3)))
    assert numbers(result) == [[1], [1]]
    assert "or not what, it was before" in result.remarks[0]


def test_slightly_shallower_is_the_same():
    """A pit read up to 1 mm shallower is the same: instruments err (common practice, no source)."""
    assert numbers(followed(points((1, 90, 2.0)), points((1, 90, 1.0)))) == [[1, 1]]


def test_built_up_is_the_same_place():
    """A pit that was built up by welding stays the same place."""
    after = points((1, 90, 0.1), built_up="yes")
    assert numbers(followed(points((1, 90, 6.0)), after)) == [[1, 1]]


def test_gap_in_the_visits():
    """A point that one visit leaves out is followed across the gap."""
    result = followed(points((1, 90), (2, 270)), points((2, 271)), points((1, 89), (2, 270)))
    assert [len(track.sightings) for track in result.tracks] == [2, 3]


def test_cracks_by_place():
    """A crack renumbered by another surveyor is followed by its place."""
    first = Crack(1, "confirmed", position="waist", bearing_deg=40.0)
    result = follow_cracks([seen("2005-05-01", cracks=(first,)), seen(cracks=(first._replace(number=7),))])
    assert numbers(result) == [[1, 7]]
    assert "crack 7" in result.remarks[0]


def test_crack_that_grows_into_another_zone():
    """A crack that reached the waist from the lip is still the same crack."""
    first = Crack(1, "confirmed", position="lip", bearing_deg=40.0)
    grown = first._replace(position="waist")
    assert numbers(follow_cracks([seen("2005-05-01", cracks=(first,)), seen(cracks=(grown,))])) == [[1, 1]]


def test_cracks_of_the_crown_need_no_bearing():
    """In the crown a bearing says little: the number counts."""
    first = Crack(1, "confirmed", position="crown", bearing_deg=10.0)
    later = first._replace(bearing_deg=200.0)
    assert numbers(follow_cracks([seen("2005-05-01", cracks=(first,)), seen(cracks=(later,))])) == [[1, 1]]


def test_newest():
    """A track gives its newest number and sighting."""
    track = followed(points((1, 90)), points((3, 91))).tracks[0]
    assert (track.number, track.newest.seen.day) == (3, date(2000, 5, 1))
