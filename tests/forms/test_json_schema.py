"""The JSON Schema of the form, as an editor uses it."""

import re
from typing import Any

import pytest
import yaml
from hypothesis import given
from hypothesis import strategies as st
from jsonschema import Draft7Validator, Draft202012Validator
from serving import CHECKOUT

from registry.forms.blank import blank_form
from registry.forms.json_schema import json_schema
from registry.units import FIELD_UNITS, QuantityError, read_quantity
from registry.units.tables import WRITTEN

SCHEMA = json_schema()
VALIDATOR = Draft202012Validator(SCHEMA)
GOOD_FORMS = sorted((CHECKOUT / "sample_data" / "surveys").glob("*.yaml"))


class EditorLoader(yaml.SafeLoader):
    """Reads YAML as editors do: by the core schema of YAML 1.2.2, section 10.3."""

    yaml_implicit_resolvers: dict[str, list[tuple[str, re.Pattern[str]]]] = {}  # noqa: RUF012


for tag, pattern, first in (
    ("null", r"(?:~|null|Null|NULL|)\Z", ["~", "n", "N", ""]),
    ("bool", r"(?:true|True|TRUE|false|False|FALSE)\Z", list("tTfF")),
    ("int", r"[-+]?[0-9]+\Z", list("-+0123456789")),
    ("float", r"[-+]?(?:\.[0-9]+|[0-9]+(?:\.[0-9]*)?)(?:[eE][-+]?[0-9]+)?\Z", list("-+.0123456789")),
):
    EditorLoader.add_implicit_resolver(f"tag:yaml.org,2002:{tag}", re.compile(pattern), first)
EditorLoader.add_constructor("tag:yaml.org,2002:int", lambda _, node: int(node.value))
EditorLoader.add_constructor("tag:yaml.org,2002:float", lambda _, node: float(node.value))


def seen(form: str) -> Any:
    """Read a form as an editor sees it."""
    return yaml.load(form, Loader=EditorLoader)  # noqa: S506 - a safe loader


def underlined(form: str) -> list[str]:
    """List the places of a form that an editor underlines."""
    return sorted(error.json_path for error in VALIDATOR.iter_errors(seen(form)))


SMALL = """\
form: soundbow survey 1
survey:
  id: oster-gate-2026
  kind: visit
  date: 2026-05-04
  surveyors: [A. Lind]
  not_inspected: []
tower:
  id: oster-gate
  name: Oster Gate
  place: Oster
"""


def with_bell(lines: str) -> str:
    """Give a small visit with one bell that has these lines."""
    return SMALL + "bells:\n  - id: oster-gate-1\n" + "".join(f"    {line}\n" for line in lines.splitlines())


def test_editor_sees_yaml_as_editors_do() -> None:
    """The loader of these tests takes no for text and 1643 for a number, as YAML 1.2 has it."""
    assert seen("[no, NO, 1643, 164X, 2024-05-09, 12:30, 0123, 1e3, 1.10, ~, true, 12-3-14]") == [
        "no", "NO", 1643, "164X", "2024-05-09", "12:30", 123, 1000.0, 1.1, None, True, "12-3-14",
    ]  # fmt: skip


@pytest.mark.parametrize("validator", [Draft202012Validator, Draft7Validator])
def test_schema_is_well_formed(validator) -> None:
    """The schema is one by the rules of draft 2020-12, and by those of draft 7."""
    validator.check_schema(SCHEMA | {"$schema": validator.META_SCHEMA["$schema"]})


def test_schema_means_the_same_in_both_drafts() -> None:
    """It uses no keyword that only one of the two drafts knows, and no keyword beside a reference."""
    common = {
        "$schema", "$defs", "$ref", "title", "description", "type", "properties", "required", "items",
        "enum", "const", "additionalProperties", "allOf", "anyOf", "if", "then", "else", "minimum", "maximum",
        "minItems", "maxLength", "pattern", "enumDescriptions", "patternErrorMessage",
    }  # fmt: skip
    used: set[str] = set()

    def visit(schema: Any) -> None:
        if not isinstance(schema, dict):
            return
        used.update(schema)
        assert "$ref" not in schema or len(schema) == 1
        for keyword in ("properties", "$defs"):
            for inner in schema.get(keyword, {}).values():
                visit(inner)
        for keyword in ("items", "additionalProperties", "if", "then", "else"):
            visit(schema.get(keyword))
        for keyword in ("allOf", "anyOf"):
            for inner in schema.get(keyword, []):
                visit(inner)

    visit(SCHEMA)
    assert used <= common


@pytest.mark.parametrize("path", GOOD_FORMS, ids=lambda path: path.stem)
def test_good_forms_are_not_underlined(path) -> None:
    """No form of the sample district has a red line."""
    assert underlined(path.read_text(encoding="utf-8")) == []


def test_there_are_good_forms() -> None:
    """The sample district has forms to try the schema on."""
    assert GOOD_FORMS


@pytest.mark.parametrize("kind", ["visit", "document"])
def test_blank_form_is_underlined_where_it_must_be_filled(kind) -> None:
    """In a blank form, the editor underlines what every form must say and nothing else."""
    assert underlined(blank_form(kind)) == [
        "$.survey.date",
        "$.survey.id",
        "$.survey.surveyors",
        "$.tower.id",
        "$.tower.name",
        "$.tower.place",
    ]


def test_small_form_is_not_underlined() -> None:
    """A form with nothing but what is required has no red line."""
    assert underlined(SMALL) == []


GOOD_LINES = [
    "identity: {cast_date: 1643}",
    "identity: {cast_date: 164X}",
    "identity: {cast_date: 1643-05~}",
    'identity: {cast_date: "[1480,1483]"}',
    "identity: {cast_date: ../1700}",
    "identity: {cast_date: 1640/1645}",
    "identity: {cast_text: 1643}",
    "identity: {name: No, protected: no}",
    "identity: {protected:, name: 1701}",
    "dimensions: {mouth_diameter_mm: 1180}",
    "dimensions: {mouth_diameter_mm: 1180.5 mm}",
    "dimensions: {mouth_diameter_mm: 46 1/2 in}",
    "dimensions: {mouth_diameter_mm: 46½ in.}",
    "dimensions: {mouth_diameter_mm: 3' 10 1/2\"}",
    "dimensions: {mouth_diameter_mm: 3 ft 10½ IN}",
    "dimensions: {mouth_diameter_readings_mm: [1180, 118 cm, 1.18 m]}",
    "dimensions: {mass_kg: 12-3-14}",
    "dimensions: {mass_kg: 1-12-3-14½ }",
    "dimensions: {mass_kg: 0.85 t, mass_includes: [clapper, staple]}",
    "dimensions: {mass_kg: 12 cwt 3 qr 14 lb}",
    "sound: {temperature_c: -4}",
    "sound: {temperature_c: −4 °C}",
    "sound: {temperature_c: 68 °F, note: cis'}",
    "sound: {note: C#4, note_sixteenths: +7.5}",
    "sound: {note: ',C'}",
    "sound: {partials: [{name: hum, frequency_hz: 215.3}]}",
    "sound: {partials: }",
    "clapper: {presence: present}",
    "clapper: {presence: , kind: }",
    "cracks: [{number: 1, state: none}, {number: , state: }]",
    "strike_points: [{number: }]",
    "inscriptions: [{number: 1, place: waist, language: gmh-Latf, script: Latf, transcription: ''}]",
    "events: [{kind: cast, date: 1643, other_bell: 12}]",
]


@pytest.mark.parametrize("line", GOOD_LINES)
def test_good_line_is_not_underlined(line) -> None:
    """What a surveyor may well write has no red line."""
    assert underlined(with_bell(line)) == []


BAD_LINES = [
    ("colour: green", "$.bells[0]"),
    ("identity: {colour: green}", "$.bells[0].identity"),
    ("identity: {material: bronse}", "$.bells[0].identity.material"),
    ("identity: {cast_date: about 1643}", "$.bells[0].identity.cast_date"),
    ("identity: {cast_date: 1643.5}", "$.bells[0].identity.cast_date"),
    ("identity: {cast_date: [1480, 1483]}", "$.bells[0].identity.cast_date"),
    ("identity: {position: 2.5}", "$.bells[0].identity.position"),
    ("identity: {position: second}", "$.bells[0].identity.position"),
    ("identity: [name]", "$.bells[0].identity"),
    ("dimensions: {mouth_diameter_mm: 11800}", "$.bells[0].dimensions.mouth_diameter_mm"),
    ("dimensions: {mouth_diameter_mm: 7 stones}", "$.bells[0].dimensions.mouth_diameter_mm"),
    ("dimensions: {mouth_diameter_mm: 12 kg}", "$.bells[0].dimensions.mouth_diameter_mm"),
    ("dimensions: {mouth_diameter_mm: large}", "$.bells[0].dimensions.mouth_diameter_mm"),
    ("dimensions: {mouth_diameter_mm: '1,180'}", "$.bells[0].dimensions.mouth_diameter_mm"),
    ("dimensions: {height_mm: 12-3-14}", "$.bells[0].dimensions.height_mm"),
    ("dimensions: {mouth_diameter_mm: [1180]}", "$.bells[0].dimensions.mouth_diameter_mm"),
    ("dimensions: {mouth_diameter_readings_mm: 1180}", "$.bells[0].dimensions.mouth_diameter_readings_mm"),
    ("dimensions: {mass_includes: [rope]}", "$.bells[0].dimensions.mass_includes[0]"),
    ("sound: {note: X4}", "$.bells[0].sound.note"),
    ("sound: {partials: [{name: hum}]}", "$.bells[0].sound.partials[0]"),
    ("clapper: {kind: flying}", "$.bells[0].clapper"),
    ("clapper: {presence: , kind: flying}", "$.bells[0].clapper.presence"),
    ("cracks: [{number: 2, state: }]", "$.bells[0].cracks[0].state"),
    ("cracks: none", "$.bells[0].cracks"),
    ("inscriptions: [{number: 1, place: waist, script: latin}]", "$.bells[0].inscriptions[0].script"),
    ("events: [{date: 1643}]", "$.bells[0].events[0]"),
]


@pytest.mark.parametrize(("line", "place"), BAD_LINES)
def test_bad_line_is_underlined(line, place) -> None:
    """A key, word, number or date that cannot be is underlined, at its place and there alone."""
    assert set(underlined(with_bell(line))) == {place}


@pytest.mark.parametrize(
    ("right", "wrong", "place"),
    [
        ("soundbow survey 1", "soundbow survey 2", "$.form"),
        ("2026-05-04", "2026-13-04", "$.survey.date"),
        ("2026-05-04", "4.5.2026", "$.survey.date"),
        ("oster-gate-2026", "Oster Gate", "$.survey.id"),
        ("[A. Lind]", "A. Lind", "$.survey.surveyors"),
        ("[A. Lind]", "[]", "$.survey.surveyors"),
        ("  not_inspected: []\n", "", "$.survey"),
        ("tower:", "towers:", "$"),
        ("place: Oster", "place: Oster\n  latitude_deg: 95.2", "$.tower.latitude_deg"),
        ("place: Oster", "place: Oster\n  latitude_deg: 51° 14' E", "$.tower.latitude_deg"),
        ("place: Oster", "place: Oster\n  country: Norway", "$.tower.country"),
    ],
)
def test_bad_head_is_underlined(right, wrong, place) -> None:
    """Faults in the survey and the tower are underlined at their place."""
    assert right in SMALL
    assert place in underlined(SMALL.replace(right, wrong, 1))


@pytest.mark.parametrize("value", ["47.1", "-37.951033", "37° 57' 03.72\" S", "S 37 57.062", "−37.95"])
def test_coordinates_are_taken_as_people_write_them(value) -> None:
    """Decimal degrees, and degrees with minutes and a letter, have no red line."""
    assert underlined(f"{SMALL}  latitude_deg: {value}\n") == []


@pytest.mark.parametrize("path", ["/etc/a.jpg", "../a.jpg", "photos/../../a.jpg", "photos\\a.jpg", "~/a.jpg"])
def test_path_out_of_the_folder_is_underlined(path) -> None:
    """A path that leaves the folder of the form is underlined."""
    assert underlined(f"{SMALL}attachments:\n  - {{file: '{path}', kind: photo}}\n") == [
        "$.attachments[0].file"
    ]


def test_path_in_the_folder_is_taken() -> None:
    """A path below the folder of the form has no red line."""
    assert underlined(f"{SMALL}attachments:\n  - {{file: photos/..crown.jpg, kind: photo}}\n") == []


def test_document_need_not_say_what_was_not_inspected() -> None:
    """A form that records a document has nothing to inspect."""
    assert (
        underlined(SMALL.replace("kind: visit", "kind: document").replace("  not_inspected: []\n", "")) == []
    )


def test_words_carry_their_meaning() -> None:
    """An editor that offers a word says what it means, one meaning for each word."""
    material = SCHEMA["$defs"]["Identity"]["properties"]["material"]
    told = dict(zip(material["enum"], material["enumDescriptions"], strict=True))
    assert told["bronze"] == "Copper with about a fifth of tin."
    assert None in told


def test_help_names_range_and_units() -> None:
    """The help on a size says what is usual, what is possible and which units may be written."""
    told = SCHEMA["$defs"]["Dimensions"]["properties"]["mouth_diameter_mm"]
    assert told["title"] == "Mouth diameter"
    for part in ("Usually 150 to 3600 mm.", "Possible: 50 to 6700 mm.", "in or ft"):
        assert part in told["description"]


UNITS_OF_FORMS = sorted(
    name.removeprefix("written_") for name in SCHEMA["$defs"] if name.startswith("written_")
)
NUMBERS = st.one_of(
    st.integers(0, 99999).map(str),
    st.decimals(0, 9999, places=2).map(str),
    st.sampled_from(["46 1/2", "1/2", "46½", "½", "1 180", "1 180.5", ".5", "1e3", "0"]),
)
SIGNS = st.sampled_from(["", "", "-", "+", "−"])


@given(data=st.data())
def test_every_quantity_that_can_be_read_fits_the_pattern(data) -> None:
    """No quantity that the check can read has a red line for its wording."""
    unit = data.draw(st.sampled_from(sorted(name for name in FIELD_UNITS if name not in ("none",))))
    kind = FIELD_UNITS[unit].kind
    definition = SCHEMA["$defs"].get(f"written_{kind}")
    if definition is None:
        return  # no field of the form has this unit
    written = st.sampled_from([*WRITTEN[kind], ""])
    parts = data.draw(
        st.lists(st.tuples(NUMBERS, st.sampled_from(["", " "]), written), min_size=1, max_size=3)
    )
    text = data.draw(SIGNS) + " ".join(f"{number}{gap}{name}" for number, gap, name in parts)
    if kind == "mass" and data.draw(st.booleans()):
        text = data.draw(st.sampled_from(["12-3-14", "12–3–14½", "1-12-3-14 1/2", "0-0-27.5"]))
    text = data.draw(st.sampled_from([text, text.upper(), text.replace("'", "′").replace('"', "″")]))
    try:
        read_quantity(text, unit)
    except QuantityError:
        return
    assert re.search(definition["pattern"], text), text
