"""What every rule across fields is given, and what it gives back."""

import math
from collections.abc import Callable, Iterator, Sequence
from datetime import date
from functools import cache
from typing import Any, NamedTuple

from registry.forms.finding import Finding
from registry.forms.measures import quantity_read, with_unit
from registry.forms.thresholds import band
from registry.geography import Region
from registry.model.edtf import EdtfDate
from registry.model.fields import Edtf, section_fields
from registry.model.survey import BellEntry, Path, ReadSurvey, Survey, Written
from registry.units import unit_of


class Found(NamedTuple):
    """A finding at a field of a section; an empty field is the section itself."""

    path: Path
    field: str
    finding: Finding


class Form(NamedTuple):
    """A form as the rules see it: values that could not be read are None in it, required ones too."""

    read: ReadSurvey
    today: date
    regions: Sequence[Region]

    @property
    def survey(self) -> Survey:
        """The survey."""
        return self.read.survey

    def is_given(self, path: Path, field: str) -> bool:
        """Say whether a field has been filled in, readable or not."""
        return field in self.read.written.get(path, {})

    def as_written(self, path: Path, field: str) -> str:
        """Give a quantity as it was written, with its unit, and with what it means in the field's unit."""
        written = self.read.written.get(path, {}).get(field)
        unit = unit_of(field)
        if written is None or unit is None:
            return written.text if written else ""
        section: Any = self.survey
        for step in path:
            section = section[step] if isinstance(step, int) else getattr(section, step)
        return quantity_read(written.text, getattr(section, field), unit)

    def spot(self, path: Path, field: str) -> Written:
        """Find the place of a field, else that of its section, else that of the one around it."""
        written = self.read.written
        while True:
            here = written.get(path, {})
            if field in here:
                return here[field]
            if "" in here:
                return here[""]
            if not path:
                return Written(1, 1, "")
            path, field = path[:-1], ""

    def bells(self) -> Iterator[tuple[Path, BellEntry]]:
        """Give each bell with its path."""
        for index, bell in enumerate(self.survey.bells):
            yield ("bells", index), bell


FormRule = Callable[[Form], Iterator[Found]]
BellRule = Callable[[Form, Path, BellEntry], Iterator[Found]]


def misfit(form: Form, path: Path, field: str, of: "Comparison") -> Iterator[Found]:
    """Report a value that stands in a ratio to another which no bell is known to have."""
    value, base = of.value, of.base
    if value is None or not base:
        return
    limits = band(of.band)
    if limits.holds(value / base):
        return
    expected = f"{between(limits.low * base, limits.high * base, unit_of(field) or 'number')} {of.beside}"
    yield Found(path, field, Finding(of.code, form.as_written(path, field), expected, of.remedy))


def between(low: float, high: float, unit: str) -> str:
    """Write a range as wide as is worth saying: ``650 to 1530 mm``, ``at most 920 mm``."""
    least, most = (f"{float(f'{end:.3g}'):.10g}" for end in (low, high))
    if high == math.inf:
        return with_unit(f"at least {least}", unit)
    return with_unit(f"{least} to {most}" if low > 0 else f"at most {most}", unit)


class Comparison(NamedTuple):
    """A value held against another: the code and band, both values, and the words for it."""

    code: str
    band: str
    value: float | None
    base: float | None
    beside: str
    remedy: str = "measure both again, and check their units; if both are right, say so in the remarks"


def values_of(section: Any, fields: Sequence[str]) -> list[Any]:
    """Give the values of some fields that are filled in; none where there is no section."""
    values = (getattr(section, field) for field in fields) if section is not None else ()
    return [value for value in values if value not in (None, ())]


def is_after(when: EdtfDate, day: str) -> bool:
    """Say whether a date certainly lies behind a day, ``YYYY-MM-DD``."""
    if when.earliest is None or when.earliest_year is None:
        return False
    year = int(day[:4])
    return when.earliest_year > year or (when.earliest_year == year and when.earliest > day)


class Makeup(NamedTuple):
    """The names of a section's fields of certain kinds."""

    single: tuple[str, ...]
    lists: tuple[str, ...]
    dates: tuple[str, ...]


@cache
def makeup(section: Any) -> Makeup:
    """Name the single sections, the lists of sections and the date fields in a section class."""
    fields = section_fields(section)
    return Makeup(
        tuple(field.name for field in fields if field.section and not field.is_list),
        tuple(field.name for field in fields if field.section and field.is_list),
        tuple(field.name for field in fields if isinstance(field.kind, Edtf)),
    )


def walk(section: Any, path: Path = ()) -> Iterator[tuple[Path, Any]]:
    """Go through a section and all those in it, each with its path."""
    yield path, section
    here = makeup(section.__class__)
    for name in here.single:
        inner = getattr(section, name)
        if inner is not None:
            yield from walk(inner, (*path, name))
    for name in here.lists:
        for index, item in enumerate(getattr(section, name)):
            yield from walk(item, (*path, name, index))
