"""The data dictionary: every field of the form with its unit, kind, range and words, in that order."""

from collections.abc import Iterator
from typing import Any, NamedTuple

from registry.model.fields import Field, Quantity, Term, Whole, section_fields
from registry.model.survey import Survey
from registry.units import FIELD_UNITS, unit_of

KIND_NAMES = {
    "Text": "text",
    "Quantity": "number",
    "Whole": "whole number",
    "Term": "word of a list",
    "Identifier": "id",
    "Day": "day",
    "Edtf": "date (EDTF)",
    "Note": "note",
    "Language": "language (BCP 47)",
    "Script": "script (ISO 15924)",
    "Country": "country (ISO 3166-1)",
    "RelativePath": "file",
    "Coordinate": "degrees",
}
"""What each kind of field is called for people."""


class Entry(NamedTuple):
    """One field of the form.

    ``path`` is that of its section in the form, lists marked by ``[]``: ``bells[].sound.partials[]``.
    ``unit`` is the symbol of its unit, ``vocabulary`` the name of its list of words; both are empty where it
    has none. ``low`` and ``high`` are the ends of what is possible.
    """

    path: str
    section: type[Any]
    field: str
    title: str
    kind: str
    unit: str
    vocabulary: str
    low: float | None
    high: float | None
    is_list: bool
    required: bool
    help: str


def data_dictionary(whole: type[Any] = Survey) -> tuple[Entry, ...]:
    """List every field of a form, the survey unless another is named, that holds a value or several."""
    return tuple(_entries(whole, ""))


def title_of(field: Field) -> str:
    """Write the name of a field for people, without its unit: ``Mouth diameter``."""
    unit = unit_of(field.name) if isinstance(field.kind, Quantity) else None
    name = field.name.removesuffix(f"_{unit}") if unit else field.name
    return name.replace("_", " ").capitalize()


def _entries(section: type[Any], path: str) -> Iterator[Entry]:
    for field in section_fields(section):
        if field.section is not None:
            here = f"{path}.{field.name}" if path else field.name
            yield from _entries(field.section, f"{here}[]" if field.is_list else here)
        else:
            yield _entry(section, path, field)


def _entry(section: type[Any], path: str, field: Field) -> Entry:
    kind = field.kind
    return Entry(
        path,
        section,
        field.name,
        title_of(field),
        KIND_NAMES[type(kind).__name__],
        FIELD_UNITS[kind.unit].symbol if isinstance(kind, Quantity) else "",
        kind.vocabulary if isinstance(kind, Term) else "",
        kind.low if isinstance(kind, Quantity | Whole) else None,
        kind.high if isinstance(kind, Quantity | Whole) else None,
        field.is_list,
        field.required,
        field.help,
    )
