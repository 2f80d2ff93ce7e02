"""Links and stays of bells in a registry, from the events of all its forms."""

from specimens import bell, document, rows, visit

CAST = "identity: {{status: {0}, cast_date: '{1}'}}\n"
NEW = (
    CAST.format("hanging", "1788") + "events:\n  - {kind: recast-from, date: 1788-08, other_bell: gate-old}\n"
)
OLD = (
    CAST.format("recast", "1640")
    + "events:\n  - {kind: recast-into, other_bell: gate-new, source: daybook}\n"
)
NEWEST = CAST.format("hanging", "1900") + (
    "events:\n  - {kind: metal-from, other_bell: gate-new}\n  - {kind: companion-of, other_bell: nobody}\n"
)


def test_links_are_seen_from_both_bells(loaded) -> None:
    """What either bell tells stands for both, with the source of whichever has one."""
    database = loaded(
        document("d", bell("gate-old", OLD), written="1790"),
        visit("v", bell("gate-new", NEW), bell("gate-newest", NEWEST)),
    )
    assert rows(
        database,
        "SELECT bell_id, relation, other_bell_id, date, source, told_of FROM lineage ORDER BY 1, 2, 3",
    ) == [
        ("gate-new", "metal-into", "gate-newest", None, None, "other"),
        ("gate-new", "recast-from", "gate-old", "1788-08", "daybook", "both"),
        ("gate-newest", "companion-of", "nobody", None, None, "this"),
        ("gate-newest", "metal-from", "gate-new", None, None, "this"),
        ("gate-old", "recast-into", "gate-new", "1788-08", "daybook", "both"),
    ]


def test_stays_end_where_a_bell_was_recast(loaded) -> None:
    """An undated recasting lies between the casting and the day on which it is told."""
    database = loaded(document("d", bell("gate-old", OLD), written="1790"))
    found = rows(
        database, "SELECT state, tower_id, until_earliest, until_latest FROM bell_stay ORDER BY ordinal"
    )
    assert found == [("there", "oster-gate", "1640-12-31", "2021-02-03"), ("recast", None, None, None)]
