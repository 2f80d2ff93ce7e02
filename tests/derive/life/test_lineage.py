"""Links between bells are seen from both sides."""

import pytest

from registry.derive.life.lineage import INVERSE, Link, both_sides
from registry.model.vocabulary import vocabulary


def link(bell: str, relation: str, other: str, date: str | None = None, survey: str = "s") -> Link:
    """Make a link that an event tells."""
    return Link(bell, relation, other, date, None, None, survey)


def test_every_relation_has_its_other_side() -> None:
    """The words for the two sides are each other's inverse, and words of the vocabulary."""
    assert all(INVERSE[INVERSE[relation]] == relation for relation in INVERSE)
    assert set(INVERSE) <= set(vocabulary("event_kind").terms)


@pytest.mark.parametrize("relation", INVERSE)
def test_a_link_told_once_is_seen_twice(relation: str) -> None:
    """What one bell tells follows for the other, and says of which bell it was told."""
    assert both_sides([link("new", relation, "old", "1788")]) == sorted(
        [
            link("new", relation, "old", "1788"),
            Link("old", INVERSE[relation], "new", "1788", None, None, "s", "other"),
        ]
    )


def test_a_link_told_of_both_bells_is_one() -> None:
    """The newest survey counts, what it leaves out comes from the next, and both bells tell it."""
    links = both_sides(
        [link("new", "recast-from", "old", None, "newer"), link("old", "recast-into", "new", "1788", "older")]
    )
    assert [(each.bell_id, each.date, each.survey_id, each.told_of) for each in links] == [
        ("new", "1788", "newer", "both"),
        ("old", "1788", "older", "both"),
    ]
