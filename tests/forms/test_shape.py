"""A form made a survey: values, blanks, lists and sections, and where each value stands."""

import pytest

from registry.forms.blank import blank_form
from registry.forms.tables import hollow
from registry.model.survey import Survey, Written


def test_good_form(check) -> None:
    """A small good form has no problem and gives its values."""
    checked = check()
    assert checked.problems == ()
    assert checked.read.survey.tower.place == "Hinterau"
    assert checked.read.survey.survey.surveyors == ("Ilse Tarnow",)


def test_traps_of_yaml(bell) -> None:
    """Values that YAML would have turned into others are what was written."""
    checked = bell(
        identity="{name: NO, title: 0123, cast_text: 1.10, remarks: 12:30, founder: =, protected: NO}",
        dimensions="{mouth_diameter_mm: 1e3, height_mm: 800.10}",
        cracks="[{number: 1, state: none}]",
    )
    assert checked.problems == ()
    identity, sizes = checked.read.survey.bells[0].identity, checked.read.survey.bells[0].dimensions
    assert (identity.name, identity.title, identity.cast_text) == ("NO", "0123", "1.10")
    assert (identity.remarks, identity.founder, identity.protected) == ("12:30", "=", "no")
    assert (sizes.mouth_diameter_mm, sizes.height_mm) == (1000.0, 800.1)


def test_written(bell) -> None:
    """Every value knows its place; quantities and terms their wording, free text none but itself."""
    read = bell(
        dimensions="{mouth_diameter_mm: 118 cm, mouth_diameter_readings_mm: [1179, 1181 mm]}",
        identity="{name: Hour bell, status: HANGING}",
        cracks="[{number: 1, state: none}]",
    ).read
    assert read.written["bells", 0, "dimensions"] == {
        "": Written(14, 17, ""),
        "mouth_diameter_mm": Written(14, 37, "118 cm"),
        "mouth_diameter_readings_mm": Written(14, 73, ""),
        "mouth_diameter_readings_mm[0]": Written(14, 74, "1179"),
        "mouth_diameter_readings_mm[1]": Written(14, 80, "1181 mm"),
    }
    assert read.written["bells", 0, "identity"]["name"] == Written(15, 22, "")
    assert read.written["bells", 0, "identity"]["status"].text == "HANGING"
    assert read.written["bells", 0, "cracks", 0]["state"] == Written(16, 33, "none")
    assert read.written["bells", 0]["cracks"] == Written(16, 13, "")


def test_blank_fields_are_not_recorded(bell) -> None:
    """Empty values, plain or quoted, sections and entries left blank count for nothing and are no fault."""
    checked = bell(
        identity="{name: '', title: \"  \", status: }",
        dimensions="\n      height_mm:\n      mouth_diameter_readings_mm: []",
        sound="",
        clapper="\n      presence:\n      mass_kg:",
        inscriptions="\n      - number:\n        place:",
        cracks="\n      - {number: 1, state: none}",
    )
    assert checked.problems == ()
    entry = checked.read.survey.bells[0]
    assert (entry.identity, entry.dimensions, entry.sound, entry.clapper) == (None, None, None, None)
    assert entry.inscriptions == ()
    assert ("bells", 0, "inscriptions", 0) not in checked.read.written


def test_an_entry_with_nothing_but_its_dash_is_told(check, codes) -> None:
    """A dash with nothing behind it, and a section written as empty, are noted, and load."""
    checked = check("frame: {}\nhazards:\n  -\n")
    assert codes(checked) == ["empty-section", "empty-section"]
    assert checked.read.survey.hazards == ()


@pytest.mark.parametrize("kind", ["visit", "document"])
def test_blank_form_lacks_only_what_is_required(check, codes, kind) -> None:
    """A blank form, as it is written, lacks required fields and has no other fault."""
    assert set(codes(check(blank_form(kind), whole=True))) == {"missing-required"}


@pytest.mark.parametrize(
    ("word", "quoted"), [("~", False), ("null", False), ("–", False), ("n/a", False), ("~", True)]
)
def test_words_for_nothing_in_text(check, codes, word, quoted) -> None:
    """A plain null or dash in a text field counts as nothing and is told; in quotes it is text."""
    checked = check(f"frame:\n  built: {word!r}\n" if quoted else f"frame:\n  built: {word}\n  places: 3\n")
    assert codes(checked) == ([] if quoted else ["null-word"])
    assert checked.read.survey.frame.built == (word if quoted else None)


@pytest.mark.parametrize("word", ["-", "?", "n/a", "unknown", "none", "null", "~", "–", "N/A"])
def test_words_for_nothing_in_other_fields(bell, codes, word) -> None:
    """Where a number, date or id belongs, a word for nothing is told and counts as nothing."""
    checked = bell(
        dimensions=f'{{height_mm: "{word}"}}',
        identity=f'{{cast_date: "{word}", founder_id: "{word}"}}',
        cracks="[{number: 1, state: none}]",
    )
    assert codes(checked) == ["null-word"] * 3
    assert checked.read.survey.bells[0].dimensions.height_mm is None


def test_none_is_a_word_where_the_list_has_it(bell, codes) -> None:
    """Where none or unknown is a term of the field, it is recorded."""
    checked = bell(cracks="[{number: 1, state: none, side: unknown}]", fittings="{bearings: none}")
    assert codes(checked) == ["crack-contradiction"]
    checked = bell(cracks="[{number: 1, state: none}]", fittings="{bearings: none}")
    assert checked.read.survey.bells[0].fittings.bearings == "none"


def test_a_near_miss_is_not_also_missing(check) -> None:
    """A required field whose key is misspelt is reported once, by its key."""
    checked = check(
        """\
        form: soundbow survey 1
        survey: {id: a, kind: visit, date: 2024-05-14, surveyor: [A], not_inspected: []}
        tower: {id: b, nmae: B, place: }
        """,
        whole=True,
    )
    assert [(one.code, one.path) for one in checked.problems] == [
        ("unknown-key", "survey.surveyor"),
        ("unknown-key", "tower.nmae"),
        ("missing-required", "tower.place"),
    ]


def test_an_unreadable_value_is_not_also_missing(check) -> None:
    """A required field that cannot be read is reported once, by its value."""
    checked = check(
        """\
        form: soundbow survey 1
        survey: {id: A b, kind: x, date: y, surveyors: [[]], not_inspected: []}
        tower: []
        """,
        whole=True,
    )
    assert [(one.code, one.path) for one in checked.problems] == [
        ("bad-identifier", "survey.id"),
        ("unknown-term", "survey.kind"),
        ("bad-date", "survey.date"),
        ("expected-value", "survey.surveyors[1]"),
        ("expected-section", "tower"),
    ]


@pytest.mark.parametrize("surveyors", ["[]", "", "[~]", "[null, '']", "[-]", "\n    -"])
def test_a_list_of_nothing_is_missing(check, codes, surveyors) -> None:
    """A required list with nothing but dashes, blanks and words for nothing in it is missing."""
    checked = check(
        f"form: soundbow survey 1\nsurvey:\n  id: a\n  kind: visit\n  date: 2024-05-14\n"
        f"  not_inspected: []\n  surveyors: {surveyors}\ntower: {{id: b, name: B, place: C}}\n",
        whole=True,
    )
    assert ("missing-required", "survey.surveyors") in [(one.code, one.path) for one in checked.problems]
    assert checked.read is None


def test_a_dash_does_not_say_that_all_was_inspected(check, codes) -> None:
    """A dash with nothing behind it is no word on the parts not inspected."""
    checked = check(
        """\
        form: soundbow survey 1
        survey:
          id: a
          kind: visit
          date: 2024-05-14
          surveyors: [A]
          not_inspected:
            -
        tower: {id: b, name: B, place: C}
        """,
        whole=True,
    )
    assert set(codes(checked)) == {"missing-required", "empty-section"}


def test_sections_that_are_missing(check) -> None:
    """A form without survey and tower is told what both must have."""
    checked = check("form: soundbow survey 1\n", whole=True)
    assert [(one.code, one.path, one.remedy) for one in checked.problems] == [
        ("missing-required", "survey", "fill in survey with id, kind, date, surveyors"),
        ("missing-required", "tower", "fill in tower with id, name, place"),
    ]


@pytest.mark.parametrize(
    ("text", "code", "path", "value"),
    [
        ("surveyors: Ilse", "expected-list", "survey.surveyors", ("Ilse",)),
        ("surveyors: {a: b}", "expected-list", "survey.surveyors", ()),
    ],
)
def test_a_single_value_for_a_list_is_read_all_the_same(check, text, code, path, value) -> None:
    """A value where a list belongs is told, and read, so that faults inside it are told too."""
    checked = check(
        f"""\
        form: soundbow survey 1
        survey: {{id: a, kind: visit, date: 2024-05-14, {text}, not_inspected: []}}
        tower: {{id: b, name: B, place: C}}
        """,
        whole=True,
    )
    assert (checked.problems[0].code, checked.problems[0].path) == (code, path)
    assert all(problem.code != "missing-required" for problem in checked.problems)


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("form: soundbow survey 1\n", "missing-required"),
        ("form: SOUNDBOW Survey 1\n", "unknown-form"),
        ("form: soundbow survey 2\n", "unknown-form"),
        ("form: [soundbow]\n", "unknown-form"),
        ("form:\n", "unknown-form"),
        ("tower: {}\n", "unknown-form"),
        ("a: b\n", "unknown-form"),
        ("- a\n", "unknown-form"),
        ("just text\n", "unknown-form"),
    ],
)
def test_which_form(check, codes, text, code) -> None:
    """A file must say that it is this form; another one is not read as if it were."""
    checked = check(text, whole=True)
    assert checked.read is None
    assert code in codes(checked)
    if code == "unknown-form":
        assert codes(checked).count("unknown-form") == 1


def test_form_may_stand_anywhere(check) -> None:
    """The key form counts wherever it stands at the top of the form."""
    assert (
        check(
            """\
            survey: {id: a, kind: visit, date: 2024-05-14, surveyors: [A], not_inspected: []}
            tower: {id: b, name: B, place: C}
            form: "soundbow   survey 1"
            """,
            whole=True,
        ).problems
        == ()
    )


def test_faults_before_a_fault_of_yaml_are_told_too(check, codes) -> None:
    """Where YAML breaks off, what was read is still checked, and nothing is called missing."""
    checked = check("frame: {places: 1000}\nhazards: @\n")
    assert codes(checked) == ["out-of-range", "yaml-syntax"]
    assert checked.read is None


def test_what_stands_behind_a_fault_of_yaml_is_not_called_missing(check) -> None:
    """A visit that breaks off before its list of parts not inspected is not told that it lacks it."""
    checked = check(
        "form: soundbow survey 1\nsurvey:\n  id: a\n  kind: visit\n  date: 2024-05-14\n  purpose: @\n",
        whole=True,
    )
    assert [one.code for one in checked.problems] == ["yaml-syntax"]


def test_an_empty_section_is_missing_where_it_is_required(check) -> None:
    """A tower written as an empty section lacks what a tower must have."""
    checked = check(
        """\
        form: soundbow survey 1
        survey: {id: a, kind: visit, date: 2024-05-14, surveyors: [A], not_inspected: []}
        tower: {}
        """,
        whole=True,
    )
    assert [(one.code, one.path) for one in checked.problems] == [
        ("missing-required", "tower"),
        ("empty-section", "tower"),
    ]


def test_usual_ranges_only_warn(bell, codes) -> None:
    """A value that few bells have is told and loads."""
    checked = bell(dimensions="{mouth_diameter_mm: 4000}", cracks="[{number: 1, state: none}]")
    assert codes(checked) == ["unusual-value"]
    assert checked.read.survey.bells[0].dimensions.mouth_diameter_mm == 4000


def test_hollow_survey_has_its_sections() -> None:
    """What stands for a missing section has every field, empty."""
    survey = hollow(Survey)
    assert survey.tower.name is None
    assert survey.survey.surveyors == ()
    assert survey.bells == ()


def test_text_behind_a_hash_is_told(check, codes) -> None:
    """Words that YAML drops as a comment, though they may belong to the text, are told; comments are not."""
    assert codes(check("frame: \n  built: by Odo #3\n")) == ["text-after-hash"]
    assert codes(check("frame: \n  built: by Odo # the third\n")) == []
    assert codes(check("frame: \n  built: 'by Odo #3'\n")) == []
    assert codes(check("frame: \n  places: 3 #x\n")) == []
    assert codes(check("frame: \n  built: |\n    by Odo #3\n")) == []
