"""The kinds of field a form can have, and how a section of the form describes itself.

A section is a ``NamedTuple`` whose fields are ``Annotated[python type, kind, help text]``. From these
descriptions come the typing of the form, the blank forms, the JSON Schema and the tables.
"""

from types import UnionType
from typing import Annotated, Any, NamedTuple, Union, get_args, get_origin, get_type_hints


class Text(NamedTuple):
    """Free text in any language. ``block`` marks text that usually takes several lines."""

    longest: int = 500
    block: bool = False


class Quantity(NamedTuple):
    """A number in the unit that ends the field's name.

    Outside ``low``..``high`` no bell can be (error); outside ``usual`` few are (warning).
    """

    unit: str
    low: float
    high: float
    usual: tuple[float, float] | None = None


class Whole(NamedTuple):
    """A whole number between ``low`` and ``high``, a count or a grade."""

    low: int
    high: int


class Term(NamedTuple):
    """One word of a vocabulary in ``schema/vocabularies``."""

    vocabulary: str


class Identifier(NamedTuple):
    """A permanent, citable id: ``[a-z0-9]+(-[a-z0-9]+)*``."""


class Day(NamedTuple):
    """One calendar day, ``YYYY-MM-DD``."""


class Edtf(NamedTuple):
    """A date with its uncertainty, as an Extended Date/Time Format expression (ISO 8601-2:2019)."""


class Note(NamedTuple):
    """A note in scientific pitch (C#4) or German octave names (cis')."""


class Language(NamedTuple):
    """A language tag, BCP 47."""


class Script(NamedTuple):
    """A script code, ISO 15924."""


class Country(NamedTuple):
    """A country code of two letters, ISO 3166-1, those left to its users included."""


class RelativePath(NamedTuple):
    """A file beside the form, as a relative path that does not leave its folder."""


class Coordinate(NamedTuple):
    """Degrees north (``axis`` "latitude") or east ("longitude"), WGS 84; decimal or d m s with hemisphere."""

    axis: str


Kind = (
    Text | Quantity | Whole | Term | Identifier | Day | Edtf | Note | Language | Script | Country
    | RelativePath | Coordinate
)  # fmt: skip


class Field(NamedTuple):
    """What the form knows of one field.

    Either ``kind`` (a value or a list of values) or ``section`` (a section or a list of them) is set.
    """

    name: str
    kind: Kind | None
    section: type[Any] | None
    is_list: bool
    required: bool
    help: str


def _unwrapped(hint: Any) -> tuple[Any, tuple[Any, ...], bool]:
    """Split a type hint into its base type, its annotations and whether it is a tuple of many."""
    notes: tuple[Any, ...] = ()
    is_list = False
    while True:
        origin = get_origin(hint)
        if origin is Annotated:
            hint, *more = get_args(hint)
            notes = (*notes, *more)
        elif origin in (Union, UnionType):
            hint = next(part for part in get_args(hint) if part is not type(None))
        elif origin is tuple:
            is_list = True
            hint = get_args(hint)[0]
        else:
            return hint, notes, is_list


_FIELDS: dict[type[Any], tuple[Field, ...]] = {}
"""The fields of the sections described so far."""


def section_fields(section: type[Any]) -> tuple[Field, ...]:
    """List the fields of a section in the order of the form.

    Raises
    ------
    TypeError
        When a field of the section lacks its kind or its help text.
    """
    if section not in _FIELDS:
        _FIELDS[section] = _described(section)
    return _FIELDS[section]


def _described(section: type[Any]) -> tuple[Field, ...]:
    hints = get_type_hints(section, include_extras=True)
    described = []
    for name in section._fields:
        base, notes, is_list = _unwrapped(hints[name])
        kind = next((note for note in notes if isinstance(note, Kind)), None)
        text = next((note for note in notes if isinstance(note, str)), None)
        inner = base if hasattr(base, "_fields") else None
        if text is None or (kind is None) == (inner is None):
            raise TypeError(f"{section.__name__}.{name} needs a help text, and a kind or a section")
        required = name not in section._field_defaults
        described.append(Field(name, kind, inner, is_list, required, text))
    return tuple(described)


def section_title(section: type[Any]) -> str:
    """Give the first sentence of a section's docstring, its heading on the form."""
    return (section.__doc__ or "").strip().splitlines()[0].rstrip(".")
