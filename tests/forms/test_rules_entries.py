"""Rules on entries and places: ids and numbers once, bells named, what must be said, where the tower is."""

import pytest
from serving import CHECKOUT

from registry.geography import read_regions

REGIONS = read_regions((CHECKOUT / "sample_data" / "vellmark.geojson").read_text(encoding="utf-8"))


def bells(*entries: str) -> str:
    """Write the bells of a form, each as the inside of a mapping."""
    return "bells:\n" + "".join(f"  - {{{entry}}}\n" for entry in entries)


@pytest.mark.parametrize(
    ("entries", "expected"),
    [
        (("id: a, ringing: {in_use: yes}", "id: b, ringing: {in_use: yes}"), []),
        (("id: a, ringing: {in_use: yes}", "id: a, ringing: {in_use: yes}"), ["duplicate-identifier"]),
        (("id: a, cracks: [{number: 1, state: none}, {number: 2, state: none}]",), []),
        (("id: a, cracks: [{number: 2, state: none}, {number: 2, state: none}]",), ["duplicate-number"]),
        (("id: a, cracks: [{number: 1, state: none}], strike_points: [{number: 1, use: old}]",), []),
        (
            ("id: a, cracks: [{number: 1, state: none}]", "id: b, cracks: [{number: 1, state: none}]"),
            [],
        ),
        (
            ("id: a, sound: {partials: [{name: hum, frequency_hz: 99}, {name: hum, frequency_hz: 100}]}",),
            ["duplicate-partial"],
        ),
    ],
)
def test_ids_and_numbers(check, codes, entries, expected) -> None:
    """Ids stand once in a form, numbers once in a list, partials once for a bell."""
    assert codes(check(bells(*entries))) == expected


@pytest.mark.parametrize(
    ("first", "second", "expected"),
    [
        ("hanging", "hanging", 1),
        ("hanging", "destroyed", 0),
        ("moved", "hanging", 0),
        ("standing", "unknown", 1),
    ],
)
def test_positions(check, codes, first, second, expected) -> None:
    """Two bells in the tower have no place in the ring in common; one that is gone has left its place."""
    entries = [
        f"id: {name}, identity: {{position: 2, status: {status}}}, ringing: {{in_use: no}}"
        for name, status in (("a", first), ("b", second))
    ]
    assert codes(check(bells(*entries))) == ["duplicate-position"] * expected


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("assessments: [{component: bell, bell: a, condition: 1}]", []),
        ("assessments: [{component: bell, bell: z, condition: 1}]", ["unknown-bell"]),
        ("assessments: [{component: bell, condition: 1}]", ["bell-not-named"]),
        ("assessments: [{component: frame, condition: 1}, {component: tower, condition: 1}]", []),
        (
            "assessments: [{component: frame, condition: 1}, {component: frame, urgency: 1}]",
            ["assessed-twice"],
        ),
        ("assessments: [{component: crown, bell: a}, {component: clapper, bell: a}]", []),
        ("attachments: [{file: x.jpg, kind: photo, bell: z}]", ["unknown-bell"]),
    ],
)
def test_bells_named(check, codes, text, expected) -> None:
    """Whatever speaks of a bell names one that has an entry; parts of a bell name it, and are judged once."""
    assert codes(check(bells("id: a, ringing: {in_use: yes}") + text)) == expected


@pytest.mark.parametrize(
    ("survey", "expected"),
    [
        ("kind: visit, not_inspected: []", []),
        ("kind: visit, not_inspected: [{part: crown, reason: no ladder}]", []),
        ("kind: visit", ["survey.not_inspected"]),
        ("kind: visit, not_inspected: ", ["survey.not_inspected"]),
        ("kind: visit, not_inspected: [{part: , reason: }]", ["survey.not_inspected"]),
        ("kind: document, document: {kind: inventory, title: List}", []),
        ("kind: document", ["survey.document"]),
        ("kind: document, document: {kind: inventory}", ["survey.document.title"]),
    ],
)
def test_what_a_visit_and_a_document_must_say(check, survey, expected) -> None:
    """A visit names the parts not inspected, if only as none; a document is described."""
    checked = check(
        f"form: soundbow survey 1\nsurvey: {{id: x, date: 2024-05-14, surveyors: [A], {survey}}}\n"
        "tower: {id: t, name: T, place: P}\n",
        whole=True,
    )
    assert [one.path for one in checked.problems if one.code == "missing-required"] == expected
    assert {one.code for one in checked.problems} <= {"missing-required"}


@pytest.mark.parametrize(
    ("entry", "skipped", "expected"),
    [
        ("id: a", "", True),
        ("id: a, identity: {name: A}, events: [{kind: cast}]", "", True),
        ("id: a, identity: {status: lost}", "", False),
        ("id: a, inscriptions: [{number: 1, place: waist}]", "", False),
        ("id: a", "{part: whole-bell, reason: raised, bell: a}", False),
        ("id: a", "{part: whole-bell, reason: raised}", False),
        ("id: a", "{part: whole-bell, reason: raised, bell: b}", True),
    ],
)
def test_nothing_measured(check, entry, skipped, expected) -> None:
    """A bell with no word on it but its name is noted, unless it is gone or could not be inspected."""
    checked = check(
        "form: soundbow survey 1\nsurvey: {id: x, kind: visit, date: 2024-05-14, surveyors: [A],"
        f" not_inspected: [{skipped}]}}\ntower: {{id: t, name: T, place: P}}\n"
        + bells(entry, "id: b, ringing: {in_use: yes}"),
        whole=True,
    )
    assert [one.path for one in checked.problems] == ["bells[1].id"] * expected
    assert checked.read is not None


def test_a_bell_without_an_id_is_one_fault(check, codes) -> None:
    """A bell whose id is missing is not also told to be without measurements."""
    assert codes(check(bells("identity: {name: Hour bell}"))) == ["missing-required"]


@pytest.mark.parametrize(
    ("tower", "expected"),
    [
        ("  latitude_deg: 45.91\n  longitude_deg: -7.52\n  region: vellmark\n", []),
        ("  latitude_deg: 45.91\n  longitude_deg: -7.52\n", []),
        ("  latitude_deg: -7.52\n  longitude_deg: 45.91\n  region: vellmark\n", ["axes-swapped"]),
        ("  latitude_deg: -7.52\n  longitude_deg: 45.91\n", ["axes-swapped"]),
        ("  latitude_deg: 45.91\n  longitude_deg: 7.52\n  region: vellmark\n", ["outside-region"]),
        ("  latitude_deg: 45.91\n  longitude_deg: 7.52\n", []),
        ("  latitude_deg: 45.91\n  longitude_deg: -7.52\n  region: elsewhere\n", ["unknown-region"]),
        ("  region: vellmark\n", []),
        ("  latitude_deg: 45.91\n", ["missing-required"]),
        ("  longitude_deg: -7.52\n", ["missing-required"]),
        ("  latitude_deg: 45.91\n  longitude_deg: x\n", ["bad-coordinate"]),
        ("  latitude_deg: 0\n  longitude_deg: 0\n", ["unusual-value"]),
        ("  latitude_deg: 51.5\n  longitude_deg: 0\n", []),
    ],
)
def test_where_the_tower_stands(check, codes, tower, expected) -> None:
    """A tower has both coordinates and lies in its region; axes that changed places are found out."""
    assert codes(check(tower=tower, regions=REGIONS)) == expected


def test_regions_are_not_missed_where_none_are_loaded(check, codes) -> None:
    """Without borders nothing is said of regions."""
    assert codes(check(tower="  latitude_deg: 10\n  longitude_deg: 10\n  region: vellmark\n")) == []
