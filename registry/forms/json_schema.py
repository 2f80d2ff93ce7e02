"""The form as a JSON Schema, for editors: completion, help on hover, red lines under what cannot be.

An editor sees YAML 1.2: ``1643`` is a number, ``12-3-14`` and ``no`` are text. The schema therefore takes
numbers wherever a text may look like one. It says less than ``check``: it knows each field by itself, and no
calendar or register. Only keywords that draft 7 and draft 2020-12 have in common are used, and those that
editors read besides (``enumDescriptions``, ``patternErrorMessage``).
"""

from typing import Any, Literal

from registry.forms.editor_values import Schema, value_schema, written_definitions
from registry.forms.hints import range_of
from registry.model.dictionary import title_of
from registry.model.fields import Day, Edtf, Field, Quantity, Whole, section_fields, section_title
from registry.model.founders import FOUNDERS_FORM_NAME, Founders
from registry.model.survey import FORM_NAME, Survey
from registry.model.tower import Tower
from registry.model.visit import Visit
from registry.units import FIELD_UNITS
from registry.units.tables import EXAMPLES

_NOTHING = {"$ref": "#/$defs/nothing"}


SchemaKind = Literal["survey", "founders"]

_FORMS: dict[SchemaKind, tuple[type[Any], str, str]] = {
    "survey": (Survey, FORM_NAME, "One visit to one tower, or one document that speaks of its bells."),
    "founders": (Founders, FOUNDERS_FORM_NAME, "Founders and workshops, their names, times and places."),
}


def json_schema(kind: SchemaKind = "survey") -> Schema:
    """Write the JSON Schema of a form, draft 2020-12, from the model."""
    return _Sections().whole_form(*_FORMS[kind])


class _Sections:
    """The sections of the form, described one after the other."""

    def __init__(self) -> None:
        self.described: Schema = {}
        self.kinds_of_quantity: set[str] = set()

    def whole_form(self, whole: type[Any], form_name: str, description: str) -> Schema:
        form = {"title": "Form", "description": "Which form this is.", "const": form_name}
        fields = section_fields(whole)
        properties = {"form": form} | {field.name: self.property(field) for field in fields}
        return {
            "$schema": "https://json-schema.org/draft/2020-12/schema",
            "title": form_name,
            "description": description,
            "type": "object",
            "properties": properties,
            "required": ["form", *(field.name for field in fields if field.required)],
            "additionalProperties": False,
            "$defs": {"nothing": _nothing()} | self.described | written_definitions(self.kinds_of_quantity),
        }

    def section(self, section: type[Any]) -> Schema:
        """Describe a section. One that holds nothing is as good as absent, unless the form needs it."""
        fields = section_fields(section)
        required = [field for field in fields if field.required]
        described: Schema = {
            "title": section_title(section),
            "type": "object" if section in (Visit, Tower) else ["object", "null"],
            "properties": {field.name: self.property(field) for field in fields},
            "additionalProperties": False,
        }
        filled: Schema = {
            "required": [field.name for field in required],
            "properties": {field.name: _filled(field) for field in required if field.kind is not None},
        }
        if section is Visit:
            return described | {"allOf": [filled, _VISIT_TELLS_WHAT_WAS_NOT_INSPECTED]}
        if section is Tower:
            return described | {"allOf": [filled]}
        if required:
            return described | {"if": _NOTHING, "else": filled}
        return described

    def property(self, field: Field) -> Schema:
        """Describe a field, or refer to the section that it holds."""
        if field.kind is None:
            return self.section_property(field)
        if isinstance(field.kind, Quantity):
            self.kinds_of_quantity.add(FIELD_UNITS[field.kind.unit].kind)
        value = value_schema(field.kind)
        told = {"title": title_of(field), "description": _description(field)}
        if field.is_list:
            return told | {"type": ["array", "null"], "items": value}
        return told | _or_empty(value)

    def section_property(self, field: Field) -> Schema:
        section: Any = field.section
        name = section.__name__
        if name not in self.described:
            self.described[name] = {}  # keeps the order of the form
            self.described[name] = self.section(section)
        target = {"$ref": f"#/$defs/{name}"}
        if not field.is_list:
            return target
        told = {"title": title_of(field), "description": field.help}
        return told | {"type": ["array", "null"], "items": target}


_VISIT_TELLS_WHAT_WAS_NOT_INSPECTED: Schema = {
    "if": {"properties": {"kind": {"const": "visit"}}, "required": ["kind"]},
    "then": {"required": ["not_inspected"], "properties": {"not_inspected": {"type": "array"}}},
}


def _nothing() -> Schema:
    """Describe an entry of the blank form with nothing filled in."""
    return {
        "title": "Left empty",
        "anyOf": [
            {"type": "null"},
            {"type": "string", "maxLength": 0},
            {"type": "array", "items": _NOTHING},
            {"type": "object", "additionalProperties": _NOTHING},
        ],
    }


def _filled(field: Field) -> Schema:
    """Say that a field is not empty."""
    if field.is_list or field.kind is None:
        return {"type": "array", "minItems": 1}
    return {"type": value_schema(field.kind)["type"]}


def _or_empty(value: Schema) -> Schema:
    """Let a field also be empty."""
    types = value["type"]
    described = value | {"type": [*([types] if isinstance(types, str) else types), "null"]}
    if "enum" in value:
        described["enum"] = [*value["enum"], None]
        described["enumDescriptions"] = [*value["enumDescriptions"], "Nobody wrote it down."]
    return described


def _description(field: Field) -> str:
    """Write the help of a field with its ranges."""
    match field.kind:
        case Quantity(unit, low, high, usual):
            possible = f"Possible: {range_of(Quantity(unit, low, high))}."
            usually = f"Usually {range_of(field.kind)}." if usual else ""
            units = EXAMPLES.get(FIELD_UNITS[unit].kind, "")
            more = [usually, possible, f"With its unit: {units}." if units else ""]
        case Whole():
            more = [f"A whole number, {range_of(field.kind)}."]
        case Edtf():
            more = ['1643, 164X, 1643?, 1640/1645; in quotation marks: "[1480,1483]".']
        case Day():
            more = ["Written 2024-05-09."]
        case _:
            more = []
    return " ".join(part for part in (field.help, *more) if part)
