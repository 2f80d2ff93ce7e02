"""Rules on dates, status and the sources of claims."""

import pytest

from registry.forms.ruling import is_after
from registry.model.edtf import parse_edtf

NONE = "[{number: 1, state: none}]"


@pytest.mark.parametrize(
    ("date", "day", "after"),
    [
        ("2024-05-14", "2024-05-14", False),
        ("2024-05-15", "2024-05-14", True),
        ("2024-05", "2024-05-14", False),
        ("2024-06", "2024-05-14", True),
        ("202X", "2024-05-14", False),
        ("2025/..", "2024-05-14", True),
        ("../2025", "2024-05-14", False),
        ("[2023,2026]", "2024-05-14", False),
        ("Y12024", "2024-05-14", True),
        ("-0100", "2024-05-14", False),
        ("Y-12024", "2024-05-14", False),
    ],
)
def test_is_after(date, day, after) -> None:
    """A date lies behind a day only if all of it does; years of five digits and below zero count rightly."""
    assert is_after(parse_edtf(date), day) is after


@pytest.mark.parametrize(("day", "expected"), [("2026-01-01", []), ("2026-01-02", ["date-in-future"])])
def test_future(check, codes, day, expected) -> None:
    """A survey of today is no future one, one of tomorrow is."""
    checked = check(
        "form: soundbow survey 1\n"
        f"survey: {{id: x, kind: visit, date: {day}, surveyors: [A], not_inspected: []}}\n"
        "tower: {id: t, name: T, place: P}\n",
        whole=True,
    )
    assert codes(checked) == expected


@pytest.mark.parametrize(
    ("sections", "expected"),
    [
        ({"identity": "{cast_date: 2024}"}, []),
        ({"identity": "{cast_date: 2025}"}, ["cast-after-survey"]),
        ({"identity": "{cast_date: 1643/2050}"}, []),
        ({"events": "[{kind: rehung, date: 2024-05-14}]"}, []),
        ({"events": "[{kind: rehung, date: 2024-05-15}]"}, ["event-after-survey"]),
        ({"strike_points": "[{number: 1, turned: 2030}]"}, ["event-after-survey"]),
        ({"identity": "{earlier_masses: [{mass_kg: 9, basis: weighed, source: x, date: 2030}]}"},
         ["event-after-survey"]),
    ],
)  # fmt: skip
def test_dates_behind_the_survey(bell, codes, sections, expected) -> None:
    """Nothing that a survey tells of happened after it, and the bell it saw was cast before it."""
    assert codes(bell(**sections, cracks=NONE)) == expected


@pytest.mark.parametrize(
    ("text", "date", "expected"),
    [
        ("ANNO 1643", "1643", False),
        ("ANNO 1643", "164X", False),
        ("ANNO 1634", "1643", True),
        ("1521 RENOVATA 1643", "1643", False),
        ("ANNO MDCXLIII", "1600", False),
        ("12345 1999x", "1643", True),
        ("MDC 16430", "1700", False),
        ("ANNO 1643", "[1640,1650]", True),
    ],
)
def test_text_as_cast(bell, codes, text, date, expected) -> None:
    """A year in figures in the text as cast is one that the date given can mean."""
    checked = bell(identity=f'{{cast_text: {text}, cast_date: "{date}"}}', cracks=NONE)
    assert codes(checked) == ["cast-text-against-date"] * expected


@pytest.mark.parametrize(
    ("event", "expected"),
    [
        ("kind: cast, date: 1643", False),
        ("kind: cast, date: 164X", False),
        ("kind: cast, date: 1650", True),
        ("kind: recast-from, date: 1600", True),
        ("kind: hung, date: 1643", False),
        ("kind: hung, date: 1600/1700", False),
        ("kind: hung, date: 1642", True),
        ("kind: welded, date: 1990", False),
        ("kind: welded", False),
    ],
)
def test_events_and_casting(bell, codes, event, expected) -> None:
    """A bell was cast when it was cast, and nothing happened to it before."""
    checked = bell(identity="{cast_date: 1643}", events=f"[{{{event}}}]", cracks=NONE)
    assert codes(checked) == ["event-against-cast"] * expected


@pytest.mark.parametrize(
    "status", ["destroyed", "lost", "stolen", "recast", "requisitioned", "hanging", "on-display"]
)
def test_status(bell, codes, status) -> None:
    """Nobody measures a bell that is no more; its mass may be known from elsewhere."""
    gone = status not in ("hanging", "on-display")
    identity = f"{{status: {status}}}"
    assert (
        codes(bell(identity=identity, dimensions="{mouth_diameter_mm: 900}"))
        == ["status-contradiction"] * gone
    )
    assert codes(bell(identity=identity, sound="{heard: dull}")) == ["status-contradiction"] * gone
    assert codes(bell(identity=identity, dimensions="{mass_kg: 9, mass_basis: inscribed}")) == []


def test_status_in_a_document(check, codes) -> None:
    """A document may give the sizes of a bell that is no more."""
    checked = check(
        """\
        form: soundbow survey 1
        survey:
          {id: x, kind: document, date: 2024-05-14, surveyors: [A], document: {kind: inventory, title: T}}
        tower: {id: t, name: T, place: P}
        bells: [{id: a, identity: {status: destroyed}, dimensions: {mouth_diameter_mm: 900}}]
        """,
        whole=True,
    )
    assert codes(checked) == []


@pytest.mark.parametrize(
    ("sections", "expected"),
    [
        ({"identity": "{protected: yes}"}, 1),
        ({"identity": "{protected: yes, protected_source: List 3}"}, 0),
        ({"identity": "{protected: no}"}, 0),
        ({"identity": "{wartime_class: b}"}, 1),
        ({"identity": "{wartime_class: b, wartime_class_source: mark}"}, 0),
        ({"identity": "{wartime_class: unknown}"}, 0),
        ({"dimensions": "{mass_kg: 600}"}, 1),
        ({"dimensions": "{mass_kg: 600, mass_basis: unknown}"}, 0),
    ],
)
def test_claims(bell, codes, sections, expected) -> None:
    """Protection, wartime class and mass are asked for what they rest on."""
    assert codes(bell(**sections, cracks=NONE)) == ["source-missing-for-claim"] * expected


def test_an_unreadable_source_is_not_also_missing(bell, codes) -> None:
    """A basis that cannot be read is one fault, not two."""
    checked = bell(dimensions="{mass_kg: 600, mass_basis: guesswork}", cracks=NONE)
    assert codes(checked) == ["unknown-term"]


@pytest.mark.parametrize(("text", "expected"), [("protected", 1), ("pending", 1), ("not-protected", 0)])
def test_protected_tower(check, codes, text, expected) -> None:
    """A protected tower is asked for the list or decision."""
    assert codes(check(tower=f"protection: {text}\n")) == ["source-missing-for-claim"] * expected
    assert codes(check(tower=f"protection: {text}\nprotection_source: List 3\n")) == []
