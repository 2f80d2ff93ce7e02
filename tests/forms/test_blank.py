"""The blank form: complete, parseable, and of use to whoever carries it up a tower."""

from datetime import date

import pytest
import yaml
from hypothesis import given, settings
from hypothesis import strategies as st

from registry.forms.blank import LEFT_OUT, blank_form, guidance
from registry.forms.check import Checked, check_bytes
from registry.forms.page import WIDTH
from registry.forms.recall import as_scalar
from registry.model.fields import Term, section_fields
from registry.model.known import GONE, KnownBell, KnownTower, KnownValue
from registry.model.survey import Survey
from registry.model.vocabulary import vocabulary
from registry.problems import Level

TODAY = date(2026, 5, 4)


def told(text: str) -> KnownValue:
    """Make a value as the registry knows it."""
    return KnownValue(text, "oster-gate-2019", "2019-05-04")


def known_tower(name: str = "Oster Gate", remark: str = "key at the mill") -> KnownTower:
    """Make an invented tower with two bells that hang and one that is gone."""
    first = KnownBell(
        "oster-gate-1",
        "Hour bell",
        {"identity": {"status": told("hanging")}, "dimensions": {"mouth_diameter_mm": told("46 1/2 in")}},
        {
            "inscriptions": {1: {"place": told("shoulder"), "transcription": told("O REX GLORI(A)E\nVENI")}},
            "strike_points": {1: {"pit_depth_mm": told("4.5")}, 2: {"pit_depth_mm": told("1")}},
            "cracks": {2: {"state": told("confirmed"), "length_mm": told("120")}},
        },
    )
    gone = KnownBell("oster-gate-3", None, {"identity": {"status": told("requisitioned")}})
    return KnownTower(
        "oster-gate",
        name,
        "Oster",
        {"tower": {"name": told(name), "place": told("Oster"), "access": told(remark)}},
        ({"kind": told("ladder"), "where": told("third floor")},),
        ({"part": told("staple"), "reason": told("raised bell")},),
        (first, KnownBell("oster-gate-2", None), gone),
    )


def checked(form: str) -> Checked:
    """Check a form as a surveyor would."""
    return check_bytes(form.encode(), "form.yaml", today=TODAY)


def data_of(form: str) -> dict[str, object]:
    """Read what a form says, every value as text."""
    data: dict[str, object] = yaml.load(form, Loader=yaml.CBaseLoader)  # noqa: S506 - text only
    return data


def filled(form: str) -> str:
    """Fill in what every visit must say, for one bell with one size, and leave the rest blank."""
    for blank, value in (
        ("\n  id:", "oster-gate-2026"),
        ("\n  date:", "2026-05-04"),
        ("\n  surveyors: [", "A. Lind"),
        ("\n    - part:", "staple"),
        ("\n      reason:", "closed box"),
        ("\ntower:\n  id:", "oster-gate"),
        ("\n  name:", "Oster Gate"),
        ("\n  place:", "Oster"),
        ("\n  - id:", "oster-gate-1"),
        ("\n      mouth_diameter_mm:", "1180"),
        ("\n      height_mm:", "880"),
    ):
        assert blank in form, blank
        before, _, after = form.partition(blank)
        room = len(after) - len(after.lstrip(" "))
        form = f"{before}{blank} {value}{after[min(room, len(value)) :]}"
    return form


@pytest.mark.parametrize("kind", ["visit", "document"])
def test_unfilled_blank_only_lacks_what_is_required(kind) -> None:
    """An unfilled blank form has no fault but what is missing, and names all of it."""
    problems = checked(blank_form(kind)).problems
    assert {problem.code for problem in problems} == {"missing-required"}
    assert {"survey.id", "survey.date", "survey.surveyors", "tower"} <= {problem.path for problem in problems}


def test_blanks_that_stay_blank_count_for_nothing() -> None:
    """A visit with one bell measured and every other line left blank loads, and says only that."""
    done = checked(filled(blank_form()))
    assert [problem for problem in done.problems if problem.level is not Level.NOTE] == []
    assert done.read is not None
    (bell,) = done.read.survey.bells
    assert bell.dimensions is not None
    assert bell.dimensions.mouth_diameter_mm == 1180
    assert bell.identity is None
    assert (bell.inscriptions, bell.strike_points, bell.cracks, bell.events) == ((), (), (), ())
    assert done.read.survey.hazards == ()
    assert [part.part for part in done.read.survey.survey.not_inspected] == ["staple"]


def test_text_with_leiden_signs_goes_below_its_key() -> None:
    """An inscription written below its | keeps brackets and bars that mean something in YAML."""
    form = filled(blank_form()).replace(
        "- number:  ", "- number: 1", 1
    )  # the first numbered list is that of the inscriptions
    form = form.replace("\n        place:", "\n        place: shoulder", 1)
    form = form.replace(
        "        transcription: |", "        transcription: |\n          [---] AVE: (MARIA) | #1", 1
    )
    done = checked(form)
    assert done.read is not None, done.problems
    assert done.read.survey.bells[0].inscriptions[0].transcription == "[---] AVE: (MARIA) | #1"


@pytest.mark.parametrize("kind", ["visit", "document"])
def test_blank_has_every_field_of_the_model(kind) -> None:
    """Every section and field stands in the form in the order of the model, but for those left out."""

    def keys_of(section, path: str) -> list[str]:
        keys: list[str] = []
        for field in section_fields(section):
            here = f"{path}.{field.name}" if path else field.name
            if here in LEFT_OUT[kind]:
                continue
            keys.append(here)
            if field.section is not None and field.name != "partials":  # which stand as comments
                keys += keys_of(field.section, here)
        return keys

    def keys_in(value, path: str) -> list[str]:
        if isinstance(value, list):
            return keys_in(value[0], path) if value else []
        keys = []
        for key, inner in value.items() if isinstance(value, dict) else ():
            here = f"{path}.{key}" if path else key
            keys += [here, *keys_in(inner, here)]
        return keys

    form = data_of(blank_form(kind))
    assert form.pop("form") == "soundbow survey 1"
    assert keys_in(form, "") == keys_of(Survey, "")


def test_left_out_sections_exist() -> None:
    """What a kind of form does without is named as the model names it."""
    for paths in LEFT_OUT.values():
        for path in paths:
            section = Survey
            for name in path.split("."):
                (field,) = (each for each in section_fields(section) if each.name == name)
                section = field.section
    for path in guidance()["sections"]:
        assert f"{path.rpartition('.')[2]}:" in blank_form() + blank_form("document")


def test_form_names_every_word_it_takes() -> None:
    """Every word of every list stands somewhere in the visit form."""

    def vocabularies(section) -> set[str]:
        names = set()
        for field in section_fields(section):
            if field.section is not None and field.name != "document":
                names |= vocabularies(field.section)
            elif isinstance(field.kind, Term):
                names.add(field.kind.vocabulary)
        return names

    words = set(blank_form().replace("|", " ").replace(",", " ").split())
    missing = {word for name in vocabularies(Survey) for word in vocabulary(name).terms} - words
    assert missing == set()


def test_cautions_stand_at_the_head_of_a_visit() -> None:
    """Whoever carries the form up reads what can hurt there, and what the form is not."""
    head = " ".join(blank_form().partition("\nform:")[0].replace("#", " ").split())
    for said in (
        "Do not go alone",
        "Never work among raised bells",
        "lock them off",
        "Ladders, trapdoors and floors",
        "120 dB",
        "hearing protection",
        "Bird droppings",
        "Asbestos",
        "no structural or safety certificate",
        "heritage authority",
        "common practice, no source",
    ):
        assert said in head


def test_cracks_and_sound_carry_their_caution() -> None:
    """Beside the fields where work can hurt, the form says so."""
    sections = guidance()["sections"]
    for name in ("cracks", "sound", "crown", "clapper", "fittings"):
        assert sections[f"bells.{name}"].startswith("CAUTION")
    assert "stop the ringing and call an expert" in blank_form()


@pytest.mark.parametrize("form", [blank_form(), blank_form("document"), blank_form(known=known_tower())])
def test_page_fits_on_paper(form) -> None:
    """No line is wider than the page, ends in a space or holds a tab."""
    for line in form.splitlines():
        assert len(line) <= WIDTH, line
        assert line == line.rstrip()
        assert "\t" not in line
    assert form.endswith("\n")


def test_required_fields_are_marked() -> None:
    """A star marks what must be filled in, and nothing else."""
    lines = blank_form().splitlines()
    assert any(line.startswith("  date: ") and "# * The day" in line for line in lines)
    assert any(line.startswith("      height_mm: ") and "# Upright height" in line for line in lines)


def test_bells_sets_the_number_of_entries() -> None:
    """Three bells asked for are three entries, the later ones without the notes of the first."""
    form = blank_form(bells=3)
    bells = data_of(form)["bells"]
    assert isinstance(bells, list)
    assert len(bells) == 3
    assert bells[0] == bells[1] == bells[2]
    assert form.count("Upright height, lip to shoulder") == 1


def test_schema_path_is_the_first_line() -> None:
    """Editors find the JSON Schema by the path that was asked for."""
    first = blank_form(schema="../schema/forms/survey.schema.json").splitlines()[0]
    assert first == "# yaml-language-server: $schema=../schema/forms/survey.schema.json"


def test_known_tower_is_filled_in() -> None:
    """A form for a known tower carries its id, name and place, and the ids of the bells that hang there."""
    form = data_of(blank_form(known=known_tower(), today=TODAY))
    tower, bells = form["tower"], form["bells"]
    assert isinstance(tower, dict)
    assert isinstance(bells, list)
    assert (tower["id"], tower["name"], tower["place"]) == ("oster-gate", "Oster Gate", "Oster")
    assert tower["access"] == ""
    assert [bell["id"] for bell in bells] == ["oster-gate-1", "oster-gate-2"]


def test_known_values_stand_as_comments_only() -> None:
    """Earlier values are recalled with their day and form, and none of them is filled in."""
    form = blank_form(known=known_tower(), today=TODAY)
    assert "Prepared on 2026-05-04 for oster-gate." in form
    lines = form.splitlines()
    (diameter,) = (line for line in lines if line.startswith("      mouth_diameter_mm: ") and "last" in line)
    assert diameter.endswith("# last: 46 1/2 in (2019-05-04, oster-gate-2019)")
    assert "# last: ladder; third floor (2019-05-04, oster-gate-2019)" in form
    assert "# last: staple; raised bell (2019-05-04, oster-gate-2019)" in form
    assert "# 1  last: shoulder; O REX GLORI(A)E VENI (2019-05-04, oster-gate-2019)" in form
    bells = data_of(form)["bells"]
    assert isinstance(bells, list)
    assert bells[0]["dimensions"]["mouth_diameter_mm"] == ""
    assert bells[0]["identity"]["status"] == ""


def test_gone_bell_is_named_but_has_no_entry() -> None:
    """A bell that was requisitioned is recalled in a comment, with what became of it."""
    form = blank_form(known=known_tower())
    assert "Known, and no longer here: oster-gate-3: requisitioned, fate unknown" in form
    assert "id: oster-gate-3" not in form


def test_gone_words_are_words_of_the_list() -> None:
    """The words for bells no longer in their tower are all in the vocabulary."""
    assert vocabulary("bell_status").terms.keys() >= GONE


def test_earlier_cracks_and_strike_points_are_followed_up() -> None:
    """Cracks and strike points of earlier visits keep their numbers; a crack must be answered."""
    form = blank_form(known=known_tower())
    bells = data_of(form)["bells"]
    assert isinstance(bells, list)
    assert [point["number"] for point in bells[0]["strike_points"]] == ["1", "2"]
    assert [crack["number"] for crack in bells[0]["cracks"]] == ["2"]
    problems = checked(form).problems
    assert {problem.code for problem in problems} <= {"missing-required", "empty-section", "nothing-measured"}
    assert "bells[1].cracks[1].state" in {problem.path for problem in problems}


@given(text=st.text(min_size=1, max_size=80))
@settings(max_examples=60, deadline=None)
def test_no_earlier_text_can_leave_its_comment(text) -> None:
    """Whatever an earlier form said, recalling it changes nothing that the new form says."""
    plain, strange = (blank_form(known=known_tower(remark=remark)) for remark in ("x", text))
    assert data_of(strange) == data_of(plain)


@given(
    text=st.text(st.characters(exclude_categories=["Cc", "Cs"]), min_size=1).filter(lambda text: text.strip())
)
@settings(max_examples=200)
def test_carried_over_text_is_read_back(text) -> None:
    """A text that is filled in is the same text when the form is read."""
    assert yaml.load(f"name: {as_scalar(text)}  # note", Loader=yaml.CBaseLoader) == {"name": text}  # noqa: S506


@pytest.mark.parametrize(
    "text", ["-7.380503", "Oster Gate", "St. Anna's, old town", "46 1/2 in", "51° 14' N"]
)
def test_plain_text_needs_no_quotes(text) -> None:
    """What YAML reads as it stands is filled in as it stands."""
    assert as_scalar(text) == text
