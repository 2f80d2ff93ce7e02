"""How sections of the form describe themselves."""

from typing import Annotated, Any, NamedTuple

import pytest
from published import published

from registry.model.bell import Dimensions, Sound
from registry.model.dictionary import data_dictionary, title_of
from registry.model.fields import Quantity, Text, Whole, section_fields, section_title
from registry.model.survey import BellEntry, Survey
from registry.model.visit import Visit
from registry.units import FIELD_UNITS, unit_of


class Inner(NamedTuple):
    """A section inside. Its second sentence is no title."""

    width_mm: Annotated[float | None, Quantity("mm", 0, 10), "Its width."] = None


class Outer(NamedTuple):
    """A section."""

    name: Annotated[str, Text(), "Its name."]
    readings: Annotated[tuple[int, ...], Whole(0, 3), "Readings."] = ()
    inner: Annotated[Inner | None, "The section inside."] = None
    many: Annotated[tuple[Inner, ...], "Sections inside."] = ()


def quantities() -> list[tuple[str, Quantity]]:
    """List every quantity of the form with its name."""
    return [
        (entry.field, field.kind)
        for entry in data_dictionary()
        for field in section_fields(entry.section)
        if field.name == entry.field and isinstance(field.kind, Quantity)
    ]


def test_fields_are_described_in_order() -> None:
    """Kind, section, list and required are read from the annotations, in the order of the class."""
    fields = section_fields(Outer)
    assert [field.name for field in fields] == ["name", "readings", "inner", "many"]
    assert [field.required for field in fields] == [True, False, False, False]
    assert [field.is_list for field in fields] == [False, True, False, True]
    assert [field.section for field in fields] == [None, None, Inner, Inner]
    assert [field.kind for field in fields] == [Text(), Whole(0, 3), None, None]
    assert fields[0].help == "Its name."


def test_title_is_the_first_line_of_the_docstring() -> None:
    """A section is headed by its docstring without the full stop."""
    assert section_title(Outer) == "A section"
    assert section_title(Visit) == (
        "The survey: one visit to one tower, or one document that speaks of its bells"
    )


@pytest.mark.parametrize(
    "annotation",
    [
        Annotated[str, Text()],
        Annotated[str, "Help without a kind."],
        Annotated[Inner, Text(), "A kind and a section."],
        str,
    ],
)
def test_half_described_field_is_refused(annotation) -> None:
    """A field without help, without kind or section, or with both, is an error of the program."""
    section: Any = NamedTuple("section", [("name", annotation)])
    with pytest.raises(TypeError, match=r"section\.name needs"):
        section_fields(section)


def test_sections_of_the_form_are_those_of_a_bell() -> None:
    """A bell has its sections in the order in which a surveyor meets them."""
    assert [field.name for field in section_fields(BellEntry)] == [
        "id", "identity", "dimensions", "inscriptions", "sound", "crown", "clapper", "strike_points",
        "cracks", "fittings", "ringing", "events",
    ]  # fmt: skip


@pytest.mark.parametrize(("name", "kind"), quantities())
def test_name_of_a_quantity_ends_in_its_unit(name, kind) -> None:
    """A quantity has its unit in its name, at its end but for counts a year, unless it has none."""
    assert kind.unit in FIELD_UNITS
    ending = unit_of(name.removesuffix("_a_year"))
    assert (ending or name.removesuffix("_a_year")) == {"number": name}.get(kind.unit, kind.unit)


@pytest.mark.parametrize(("name", "kind"), quantities())
def test_usual_lies_within_possible(name, kind) -> None:
    """What is usual is part of what is possible, and both are ranges."""
    assert kind.low < kind.high
    if kind.usual is not None:
        assert kind.low <= kind.usual[0] < kind.usual[1] <= kind.high


def test_published_bells_are_possible() -> None:
    """Every bell of the published tables has a diameter, a mass and a note that the form takes."""
    kinds = {field.name: field.kind for section in (Sound, Dimensions) for field in section_fields(section)}
    for bell in published("published_bells.csv"):
        diameter_mm = 1000 * float(bell["mouth_diameter_m"])
        assert kinds["mouth_diameter_mm"].low <= diameter_mm <= kinds["mouth_diameter_mm"].high
        for name, text in (("mass_kg", bell["mass_kg"]), ("strike_hz", bell["strike_hz"])):
            assert not text or kinds[name].low <= float(text) <= kinds[name].high


def test_help_is_one_line_of_prose() -> None:
    """Every field explains itself in a line that ends as a sentence does."""
    for entry in data_dictionary():
        assert "\n" not in entry.help
        assert len(entry.help) <= 120, entry
        assert entry.help.endswith((".", "?")), entry


def test_dictionary_lists_each_field_once() -> None:
    """The data dictionary has one entry for each field of each section, and says where it stands."""
    entries = data_dictionary()
    assert len({(entry.path, entry.field) for entry in entries}) == len(entries)
    by_place = {f"{entry.path}.{entry.field}": entry for entry in entries}
    diameter = by_place["bells[].dimensions.mouth_diameter_mm"]
    assert (diameter.title, diameter.unit, diameter.kind) == ("Mouth diameter", "mm", "number")
    assert (diameter.low, diameter.high, diameter.required) == (50, 6700, False)
    assert by_place["bells[].sound.partials[].name"].vocabulary == "partial"
    assert by_place["survey.surveyors"].is_list
    assert by_place["survey.surveyors"].required
    sections = {entry.section for entry in entries}
    assert {Dimensions, Sound, Visit} <= sections
    assert Survey not in sections


def test_title_keeps_what_is_no_unit() -> None:
    """A name that merely ends like a unit keeps its ending."""
    names = {field.name: title_of(field) for field in section_fields(Visit)}
    assert names["temperature_c"] == "Temperature"
    assert names["not_inspected"] == "Not inspected"
