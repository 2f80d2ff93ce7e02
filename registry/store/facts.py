"""Which facts of a bell there are, which of them go together, and which two surveys should agree on."""

from functools import cache
from typing import NamedTuple

from registry.store.tables import SECTION_TABLES, SectionTable, value_fields

FACT_TABLES: tuple[SectionTable, ...] = tuple(
    table for table in SECTION_TABLES if table.of_bell and not table.counted_by
)
"""The tables that hold at most one row per bell and survey."""

PER_SURVEY = frozenset({"remarks", "heard"})
"""Fields that comment on one survey, and are no facts of the bell."""

TOGETHER: dict[str, tuple[tuple[tuple[str, ...], tuple[str, ...]], ...]] = {
    "bell_seen": (
        (("founder", "founder_id"), ("founder_certainty",)),
        (("cast_text",), ("cast_calendar", "cast_year_begins")),
        (("cast_date",), ("dating_basis",)),
        (("protected",), ("protected_source",)),
        (("wartime_class",), ("wartime_class_source",)),
    ),
    "dimensions": (
        (("mouth_diameter_mm",), ("mouth_diameter_readings_mm",)),
        (("mass_kg",), ("mass_basis", "mass_includes", "mass_tolerance_kg")),
    ),
    "sound": ((("note",), ("note_cents", "note_sixteenths", "reference_hz")),),
    "clapper": ((("mass_kg",), ("mass_basis",)),),
    "ringing": ((("strokes",), ("strokes_in_s",)),),
}
"""By table: groups of fields that are taken from one survey, the newest that has one of the leading fields.

A basis belongs to its mass, a deviation to its note: they are never mixed from two surveys.
"""

CONSTANT: dict[str, frozenset[str]] = {
    # Not the date as cast, which each reader spells in his way, nor the class, which each requisition gave.
    "bell_seen": frozenset({"material", "founder", "cast_date"}),
    "dimensions": frozenset(
        {
            "mouth_diameter_mm",
            "height_mm",
            "slant_height_mm",
            "shoulder_diameter_mm",
            "soundbow_thickness_mm",
            "waist_thickness_mm",
            "mass_kg",
            "profile_class",
        }
    ),
    "sound": frozenset({"note", "strike_hz"}),
}
"""By table: facts that do not change while the bell stays the same, so that two surveys should agree."""


class Fact(NamedTuple):
    """One fact: its table and column, and the columns that decide which survey it is taken from."""

    table: str
    field: str
    leaders: tuple[str, ...]


@cache
def facts_of(table: SectionTable) -> tuple[Fact, ...]:
    """List the facts of a table in the order of the form."""
    leaders = {field: group[0] for group in TOGETHER.get(table.name, ()) for field in (*group[0], *group[1])}
    return tuple(
        Fact(table.name, field.name, leaders.get(field.name, (field.name,)))
        for field in value_fields(table.section)
        if field.name not in PER_SURVEY
    )
