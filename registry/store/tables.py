"""Which section of a form lives in which table, and the columns each table has."""

from functools import cache
from typing import Any, NamedTuple

from registry.model.bell import (
    Dimensions,
    EarlierMass,
    Identity,
    Inscription,
    Partial,
    ProfilePoint,
    Sound,
)
from registry.model.condition import Assessment, Crack, StrikePoint
from registry.model.fields import Field, section_fields
from registry.model.hanging import Clapper, Crown, Fittings, Ringing
from registry.model.history import Event
from registry.model.tower import Frame, Hazard, Tower
from registry.model.visit import Attachment, Document, Instrument, NotInspected, Visit


class SectionTable(NamedTuple):
    """One observation table.

    ``of_bell`` says whether a row belongs to one bell of the survey. ``counted_by`` names the last column of
    the key where a survey can hold several rows: ``number`` as the surveyor gave it, ``ordinal`` as they
    stand in the form, counted from 1; it is empty where there is at most one.
    """

    name: str
    section: type[tuple[Any, ...]]
    of_bell: bool = False
    counted_by: str = ""

    @property
    def key(self) -> tuple[str, ...]:
        """The columns of the primary key."""
        if self.section is Visit:
            return ("id",)
        owner = ("survey_id", "bell_id") if self.of_bell else ("survey_id",)
        return (*owner, self.counted_by) if self.counted_by else owner


SECTION_TABLES: tuple[SectionTable, ...] = (
    SectionTable("survey", Visit),
    SectionTable("document", Document),
    SectionTable("instrument", Instrument, counted_by="ordinal"),
    SectionTable("not_inspected", NotInspected, counted_by="ordinal"),
    SectionTable("tower_seen", Tower),
    SectionTable("frame", Frame),
    SectionTable("hazard", Hazard, counted_by="ordinal"),
    SectionTable("bell_seen", Identity, of_bell=True),
    SectionTable("earlier_mass", EarlierMass, of_bell=True, counted_by="ordinal"),
    SectionTable("dimensions", Dimensions, of_bell=True),
    SectionTable("profile_point", ProfilePoint, of_bell=True, counted_by="ordinal"),
    SectionTable("inscription", Inscription, of_bell=True, counted_by="number"),
    SectionTable("sound", Sound, of_bell=True),
    SectionTable("partial", Partial, of_bell=True, counted_by="ordinal"),
    SectionTable("crown", Crown, of_bell=True),
    SectionTable("clapper", Clapper, of_bell=True),
    SectionTable("strike_point", StrikePoint, of_bell=True, counted_by="number"),
    SectionTable("crack", Crack, of_bell=True, counted_by="number"),
    SectionTable("fittings", Fittings, of_bell=True),
    SectionTable("ringing", Ringing, of_bell=True),
    SectionTable("event", Event, of_bell=True, counted_by="ordinal"),
    SectionTable("assessment", Assessment, counted_by="ordinal"),
    SectionTable("attachment", Attachment, counted_by="ordinal"),
)
"""Every observation table. A new section of the form needs a line here."""


@cache
def value_fields(section: type[tuple[Any, ...]]) -> tuple[Field, ...]:
    """List the fields of a section that become columns: those that hold a value or a list of values.

    The ``id`` of a survey and of a tower is part of the leading columns, and is left out here.
    """
    fields = (field for field in section_fields(section) if field.kind is not None)
    return tuple(field for field in fields if not (section in (Visit, Tower) and field.name == "id"))


@cache
def leading_columns(table: SectionTable) -> tuple[str, ...]:
    """List the columns that stand before the fields of the section."""
    if table.section is Visit:
        return ("id", "tower_id", "source_path", "as_of")
    leading = ["survey_id", "bell_id"] if table.of_bell else ["survey_id"]
    if table.section is Tower:
        leading.append("tower_id")
    if table.section is Identity or table.counted_by == "ordinal":
        leading.append("ordinal")
    return tuple(leading)


@cache
def column_names(table: SectionTable) -> tuple[str, ...]:
    """List all columns of an observation table in their order."""
    fields = (field.name for field in value_fields(table.section))
    return (*leading_columns(table), *fields, "as_written")
