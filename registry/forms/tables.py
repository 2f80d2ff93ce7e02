"""The sections of the form made ready for reading: each field with its reader, once for all forms."""

from functools import cache
from typing import Any, NamedTuple

from registry.forms.values import Reader, reader_of
from registry.model.fields import Field, Quantity, Text, section_fields


class Slot(NamedTuple):
    """What reading needs to know of one field; ``table`` is None where it holds values, not sections."""

    position: int
    field: Field
    is_one_value: bool
    read: Reader
    usual: tuple[float, float] | None
    is_text: bool
    table: "Table | None"


class Table(NamedTuple):
    """A section class made ready for reading; ``empty`` are its values where nothing is filled in."""

    name: str
    section: type[Any]
    slots: dict[str, Slot]
    empty: tuple[Any, ...]
    required: tuple[Slot, ...]
    required_sections: tuple[Slot, ...]


@cache
def table_of(section: Any, name: str) -> Table:
    """Make the table of a section class, and of all sections in it."""
    slots = {field.name: _slot(position, field) for position, field in enumerate(section_fields(section))}
    empty = tuple(() if slot.field.is_list else None for slot in slots.values())
    required = tuple(slot for slot in slots.values() if slot.field.required)
    sections = tuple(slot for slot in required if slot.table and not slot.field.is_list)
    return Table(name, section, slots, empty, required, sections)


def _slot(position: int, field: Field) -> Slot:
    kind = field.kind
    section: Any = field.section
    return Slot(
        position,
        field,
        kind is not None and not field.is_list,
        reader_of(kind) if kind is not None else _no_value,
        kind.usual if isinstance(kind, Quantity) else None,
        isinstance(kind, Text),
        None if section is None else table_of(section, field.name),
    )


def _no_value(text: str) -> Any:
    raise TypeError(f"a section holds no value: {text}")


def hollow(section: Any) -> Any:
    """Make a section with nothing in it, not even what is required, but the sections it must have."""
    table = table_of(section, "")
    values = list(table.empty)
    for slot in table.required_sections:
        values[slot.position] = hollow(slot.field.section)
    return section._make(values)
