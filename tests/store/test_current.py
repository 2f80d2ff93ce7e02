"""The current view: the newest of each fact, never mixed, and every disagreement shown."""

import sqlite3
from contextlib import closing
from pathlib import Path
from typing import Any

import pytest
from specimens import bell, document, rows, visit

from registry.model.bell import Dimensions, Identity, Sound
from registry.model.fields import section_fields
from registry.model.pitch import frequency_of
from registry.questions import BellQuery
from registry.store.agreement import contradicts
from registry.store.current import worst_grade
from registry.store.database import open_registry
from registry.store.facts import FACT_TABLES, facts_of
from registry.store.search import find_bells

GREAT = "oster-gate-great"


def current(database: Path, id_: str = GREAT) -> dict[str, Any]:
    """Give the row of ``bell_current`` of one bell."""
    with closing(sqlite3.connect(f"file:{database}?mode=ro", uri=True)) as conn:
        conn.row_factory = sqlite3.Row
        return dict(conn.execute("SELECT * FROM bell_current WHERE id = ?", (id_,)).fetchone())


def two_visits(old: str, new: str) -> tuple[str, str]:
    """Write two visits, of 2010 and 2020, with one bell."""
    return visit("v-2010", bell(GREAT, old), day="2010-05-06"), visit("v-2020", bell(GREAT, new))


def test_the_newest_of_each_fact_counts(loaded: Any) -> None:
    """A fact that the newest survey does not tell is taken from the newest one that does."""
    database = loaded(
        *two_visits(
            "identity: {name: Great, status: hanging}\n"
            "dimensions: {mouth_diameter_mm: 1180, height_mm: 900}\n",
            "identity: {status: standing}\ndimensions: {mouth_diameter_mm: 1181}\n",
        )
    )
    row = current(database)
    assert (row["name"], row["status"]) == ("Great", "standing")
    assert (row["mouth_diameter_mm"], row["height_mm"]) == (1181, 900)
    assert (row["surveys"], row["last_survey_id"], row["last_visit_date"]) == (2, "v-2020", "2020-05-04")


def test_what_belongs_together_stays_together(loaded: Any) -> None:
    """A basis never comes from another survey than its mass, nor a deviation from another than its note."""
    database = loaded(
        *two_visits(
            "identity: {founder: Old Founder, founder_id: old, founder_certainty: certain}\n"
            "dimensions: {mass_kg: 1000, mass_basis: weighed}\nsound: {note: E4, note_cents: 10}\n",
            "identity: {founder: New Founder}\ndimensions: {mass_kg: 1010}\nsound: {note: F4}\n",
        )
    )
    row = current(database)
    assert (row["mass_kg"], row["mass_basis"], row["mass_survey_id"]) == (1010, None, "v-2020")
    assert (row["founder"], row["founder_id"], row["founder_certainty"]) == ("New Founder", None, None)
    assert row["strike_hz"] == pytest.approx(frequency_of("F4"))
    facts = dict(rows(database, "SELECT section || '.' || field, value FROM current_fact"))
    assert "dimensions.mass_basis" not in facts
    assert "sound.note_cents" not in facts
    assert facts["dimensions.mass_kg"] == 1010


def test_the_view_of_facts_is_the_current_row(sample_registry: Path) -> None:
    """Column by column the view of facts and the row of each sample bell tell the same."""
    shared = {
        (table.name, fact.field): fact.field
        for table in FACT_TABLES
        if table.name in {"bell_seen", "dimensions"}
        for fact in facts_of(table)
    } | {("sound", "note"): "note"}
    with closing(sqlite3.connect(f"file:{sample_registry}?mode=ro", uri=True)) as conn:
        conn.row_factory = sqlite3.Row
        bells = conn.execute("SELECT * FROM bell_current").fetchall()
        compared = 0
        for row in bells:
            facts = {
                (fact["section"], fact["field"]): fact["value"]
                for fact in conn.execute("SELECT * FROM current_fact WHERE bell_id = ?", (row["id"],))
            }
            for key, column in shared.items():
                if column in row.keys():  # noqa: SIM118 - a row of sqlite3 iterates over values
                    assert row[column] == facts.get(key), (row["id"], column)
                    compared += facts.get(key) is not None
    assert compared > 500


def test_disagreements_are_shown(loaded: Any) -> None:
    """Two sizes beyond the tolerance stand beside each other, and ask for attention; the newest counts."""
    database = loaded(
        *two_visits("dimensions: {mouth_diameter_mm: 1250}\n", "dimensions: {mouth_diameter_mm: 1180}\n")
    )
    disagreement = (GREAT, "dimensions", "mouth_diameter_mm", 1180, "v-2020", 1250, "v-2010")
    assert rows(database, "SELECT * FROM disagreement") == [disagreement]
    assert current(database)["disagreements"] == 1
    assert rows(
        database, "SELECT disagrees, other_value FROM current_fact WHERE field = 'mouth_diameter_mm'"
    ) == [(1, 1250)]
    assert rows(database, "SELECT what FROM attention WHERE kind = 'disagreement'") == [
        ("Surveys disagree on mouth_diameter_mm: 1180 mm, earlier 1250 mm.",)
    ]


KINDS = {
    field.name: field.kind for section in (Identity, Dimensions, Sound) for field in section_fields(section)
}


@pytest.mark.parametrize(
    ("field", "value", "other", "expected"),
    [
        ("mouth_diameter_mm", 1180, 1180, False),
        ("mouth_diameter_mm", 1180, 1191, False),
        ("mouth_diameter_mm", 1180, 1193, True),
        ("soundbow_thickness_mm", 30, 32.9, False),
        ("mass_kg", 1000, 1020, False),
        ("mass_kg", 1000, 1021, True),
        ("strike_hz", 330, 332, True),
        ("material", "bronze", "cast-steel", True),
        ("material", "bronze", "unknown", False),
        ("cast_date", "1643", "164X", False),
        ("cast_date", "1643", "1644/1650", True),
        ("cast_date", "[1480,1483]", "1481", True),
        ("cast_date", "[1480,1483]", "1483~", False),
        ("cast_date", "1643/..", "1700", False),
        ("founder", "Hans Nowhere", "HANS NOWHERE.", False),
        ("founder", "Hans Nowhere", "Hans Elsewhere", True),
    ],
)
def test_what_contradicts(field: str, value: Any, other: Any, expected: bool) -> None:
    """Values contradict where both cannot be right: beyond the tolerance, or in no common year."""
    kind = KINDS[field]
    assert kind is not None
    assert contradicts(kind, value, other) is expected


def test_one_founder_in_two_spellings_is_no_disagreement(loaded: Any) -> None:
    """Two names with one id are one founder, known by the newer name."""
    database = loaded(
        *two_visits(
            "identity: {founder: Joh. Nowhere, founder_id: nowhere}\n",
            "identity: {founder: Johann Nowhere, founder_id: nowhere}\n",
        )
    )
    assert rows(database, "SELECT * FROM disagreement") == []
    assert rows(database, "SELECT * FROM founder") == [("nowhere", "Johann Nowhere")]


def test_a_bell_belongs_where_it_was_last_seen(loaded: Any) -> None:
    """A bell that was moved counts to the tower that has it, though the old tower was visited later."""
    database = loaded(
        visit(
            "new-2015",
            bell("wanderer", "identity: {status: hanging}\nevents: [{kind: moved}]\n"),
            tower="new",
            day="2015-01-01",
        ),
        visit(
            "old-2020",
            bell("wanderer", "identity: {status: moved}\nevents: [{kind: moved, tower: new}]\n"),
            tower="old",
        ),
    )
    row = current(database, "wanderer")
    assert (row["tower_id"], row["status"]) == ("new", "moved")
    assert rows(database, "SELECT id, bells, bells_gone FROM tower_current ORDER BY id") == [
        ("new", 1, 1),
        ("old", 0, 0),
    ]


def test_cracks_are_those_of_the_newest_survey_that_tells(loaded: Any) -> None:
    """The worst crack of the newest survey that tells of any counts, and a through crack is marked."""
    database = loaded(
        visit("v-1", bell(GREAT, "cracks: [{number: 1, state: suspected}]\n"), day="2001-01-01"),
        visit(
            "v-2",
            bell(
                GREAT,
                "cracks: [{number: 1, state: confirmed, side: through}, {number: 2, state: suspected}]\n",
            ),
            day="2005-01-01",
        ),
        visit("v-3", bell(GREAT), day="2010-01-01"),
    )
    row = current(database)
    assert (row["crack_state"], row["crack_through"], row["crack_survey_id"]) == ("confirmed", 1, "v-2")


def test_a_vanished_crack_asks_for_attention(loaded: Any) -> None:
    """A confirmed crack that the newest survey does not find is shown first of all, never dropped."""
    database = loaded(
        *two_visits(
            "cracks: [{number: 1, state: confirmed}]\n", "cracks: [{number: 1, state: none, method: eye}]\n"
        )
    )
    assert current(database)["crack_state"] == "none"
    told = rows(database, "SELECT kind, severity, bell_id, survey_id FROM attention ORDER BY rank LIMIT 1")
    assert told == [("crack-no-longer-told", 3, GREAT, "v-2010")]


def test_a_welded_crack_stays_under_watch(loaded: Any) -> None:
    """A crack that was welded since is told as such, not as one that nobody looked for."""
    database = loaded(
        *two_visits(
            "cracks: [{number: 1, state: confirmed}]\n",
            "cracks: [{number: 1, state: none, method: penetrant, repaired: welded}]\n",
        )
    )
    told = rows(database, "SELECT kind, severity FROM attention ORDER BY rank LIMIT 1")
    assert told == [("crack-welded", 2)]


@pytest.mark.parametrize(
    ("newer", "disagree"),
    [
        ("{note: h', note_cents: -13.3, reference_hz: 435}", False),  # 484.5 Hz, 9 cents above 482.0 Hz
        ("{note: h', note_cents: 0, reference_hz: 435}", True),  # 488.3 Hz, 22 cents above
        ("{note: A#4}", False),  # without its deviation: anything near A sharp
        ("{note: h'}", False),  # 493.9 Hz, 42 cents above, but h' alone stands for a semitone
        ("{note: C5}", True),
    ],
)
def test_notes_are_held_by_the_tone_they_mean(loaded: Any, newer: str, disagree: bool) -> None:
    """One tone named after two references is no disagreement, two tones are."""
    older = "sound: {note: A#4, note_cents: 58, reference_hz: 440}\n"
    database = loaded(*two_visits(older, f"sound: {newer}\n"))
    told = rows(database, "SELECT field FROM disagreement")
    assert told == ([("note",)] if disagree else [])


def test_attention_begins_with_the_gravest(loaded: Any) -> None:
    """What can hurt or be lost at once stands first, and bells that are gone ask for nothing."""
    database = loaded(
        visit(
            "v",
            bell(
                "a",
                "identity: {status: hanging}\n"
                "cracks: [{number: 1, state: confirmed, position: lip, side: through}]\n",
            ),
            bell(
                "b",
                "strike_points: [{number: 1, thickness_at_pit_mm: 80, thickness_beside_mm: 100, use: in-use},"
                " {number: 2, thickness_at_pit_mm: 60, thickness_beside_mm: 100, use: old}]\n",
            ),
            bell("c", "identity: {status: destroyed}\n"),
            extra="assessments: [{component: frame, urgency: 2}, {component: access, urgency: 3}]\n"
            "hazards: [{kind: raised-bell, where: south pit}, {kind: noise}]\n",
            day="2025-12-01",
        )
    )
    told = rows(
        database, "SELECT kind, severity, bell_id FROM attention WHERE kind <> 'visit-overdue' ORDER BY rank"
    )
    assert told == [
        ("crack-through", 3, "a"),
        ("worn-soundbow", 3, "b"),
        ("urgency-at-once", 3, None),
        ("hazard-raised-bell", 3, None),
        ("urgency-soon", 2, None),
        ("protection-unknown", 1, None),
    ]
    assert rows(database, "SELECT what FROM attention WHERE kind = 'crack-through'") == [
        ("Crack 1 goes through the wall (lip): stop ringing until an expert has looked.",)
    ]
    assert current(database, "b")["soundbow_loss_percent"] == pytest.approx(20)


def test_long_unvisited_towers_are_named(loaded: Any) -> None:
    """A tower whose last visit is years ago is named, one known from documents alone too."""
    database = loaded(
        visit("old", day="2003-01-01"),
        document("paper", bell("b", "identity: {status: hanging}\n"), tower="paper-tower"),
    )
    assert ("visit-overdue", "oster-gate") in rows(database, "SELECT kind, tower_id FROM attention")
    assert ("never-visited", "paper-tower") in rows(database, "SELECT kind, tower_id FROM attention")


def test_a_weighed_mass_is_held_against_the_estimate(loaded: Any) -> None:
    """A weighed mass stands as weighed, the estimate beside it, and a slip of units is noticed."""
    sizes = (
        "identity: {material: bronze, status: hanging}\n"
        "dimensions: {mouth_diameter_mm: 1180, mass_kg: %s, mass_basis: weighed}\n"
    )
    database = loaded(visit("v", bell("right", sizes % 1040), bell("wrong", sizes % 2290)))
    right, wrong = current(database, "right"), current(database, "wrong")
    assert right["mass_kg"] == 1040
    assert right["mass_estimate_low_kg"] < right["mass_estimate_kg"] < right["mass_estimate_high_kg"]
    assert (right["mass_agrees"], wrong["mass_agrees"]) == ("yes", "no")
    assert rows(database, "SELECT bell_id FROM attention WHERE kind = 'mass-disagreement'") == [("wrong",)]
    notes = rows(database, "SELECT note FROM derived WHERE bell_id = 'wrong' AND quantity LIKE 'weighed%'")
    assert notes[0][0] != ""


def test_observed_and_computed_never_mix(loaded: Any) -> None:
    """Without a stated mass the column of masses stays empty, and steel gets no constants of bronze."""
    sizes = "identity: {material: %s}\ndimensions: {mouth_diameter_mm: 1180}\n"
    materials = ("bronze", "cast-steel", "unknown")
    database = loaded(visit("v", *(bell(f"of-{name}", sizes % name) for name in materials)))
    bronze, steel, unknown = (current(database, f"of-{name}") for name in materials)
    assert bronze["mass_kg"] is None
    assert steel["mass_estimate_kg"] < 0.8 * bronze["mass_estimate_kg"]
    assert unknown["mass_estimate_kg"] is None
    told = rows(
        database, "SELECT quantity, value, note LIKE '%magnet%' FROM derived WHERE bell_id = 'of-unknown'"
    )
    assert told == [("mass_kg", None, 1)]


def test_notes_become_frequencies(loaded: Any) -> None:
    """A German note with sixteenths counts from 435 Hz; a measured strike goes before the note beside it."""
    database = loaded(
        visit(
            "v",
            bell("german", "sound: {note: e', note_sixteenths: 7}\n"),
            bell("both", "sound: {note: E4, strike_hz: 331.5}\n"),
            bell("measured", "sound: {strike_hz: 440}\n"),
        )
    )
    german, both, measured = (current(database, name) for name in ("german", "both", "measured"))
    assert german["strike_hz"] == pytest.approx(435 * 2 ** (-5 / 12 + 7 / 192))
    assert (german["strike_basis"], german["note"], german["note_name"]) == ("note", "e'", "E4")
    assert (both["strike_hz"], both["strike_basis"]) == (331.5, "measured")
    assert (measured["note"], measured["note_name"]) == (None, "A4")


def test_grades_are_the_newest_of_each_component() -> None:
    """Of each component the newest grade counts, of these the worst; no grade is no grade."""
    graded = [
        {"component": "bell", "condition": 1},
        {"component": "crown", "condition": None},
        {"component": "bell", "condition": 3},
        {"component": "crown", "condition": 2},
        {"component": "frame", "condition": 3},
    ]
    assert worst_grade(graded, "condition", ("bell", "crown", "clapper")) == 2  # type: ignore[arg-type]
    assert worst_grade(graded, "condition") == 3  # type: ignore[arg-type]
    assert worst_grade(graded[1:2], "condition") is None  # type: ignore[arg-type]


def test_inscriptions_are_found_by_their_words(loaded: Any) -> None:
    """Signs of an edition inside words do not hide them from the search, nor do accents."""
    text = "inscriptions: [{number: 1, place: shoulder, transcription: 'm(a)g(iste)r [H]ans | góß mich'}]\n"
    database = loaded(visit("v", bell(GREAT, text)))
    with closing(open_registry(database)) as conn:
        for word in ("magister", "hans", "goss", "góß", "mich"):
            assert find_bells(conn, BellQuery(text=word)).total == 1, word


def test_columns_stand_in_the_order_of_the_table(loaded: Any) -> None:
    """The row that is made of a bell and the table have the same columns in the same order."""
    database = loaded(visit())
    names = [row[0] for row in rows(database, "SELECT name FROM pragma_table_info('bell_current')")]
    assert list(current(database)) == names
    values = current(database)
    assert (values["tower_name"], values["place"], values["last_survey_date"]) == (
        "Invented Gate",
        "Nowhere",
        "2020-05-04",
    )
