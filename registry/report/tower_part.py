"""The part of a report that tells of the tower, its frame, the way up and the ring as a whole."""

import sqlite3
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from registry.derive.condition.grading import BellGrades, Grade
from registry.derive.condition.seen import OF_THE_TOWER
from registry.drawing.ring import ring_outlines, scale_bar
from registry.drawing.svg import outline_svg
from registry.model.cautions import cautions
from registry.report.bell_condition import grade_blocks
from registry.report.blocks import (
    Block,
    CautionBox,
    Cell,
    Column,
    FactLine,
    Facts,
    Heading,
    Item,
    Items,
    Prose,
    Ring,
    Table,
)
from registry.report.reading import BellRecord, Subject
from registry.store import pages_survey
from registry.store.pages import Row
from registry.units import format_estimate
from registry.wording.observed import facts_of_row
from registry.wording.words import coordinates, date_words, day, grade, heading, plural, quantity, term

ABOUT = ("owner", "contact", "protection", "protection_source", "natural_frequency_hz", "access", "remarks")


class TowerRecord:
    """What the surveys of a report say of its tower, the newest first."""

    def __init__(self, conn: sqlite3.Connection, subject: Subject) -> None:
        self._conn = conn
        self.surveys = subject.surveys
        self.seen = [row for line in subject.surveys for row in self._rows("tower_seen", line.id)]

    def _rows(self, table: str, survey_id: str) -> list[Row]:
        return pages_survey.read_of_survey(self._conn, table, survey_id)

    def value(self, field: str) -> Any:
        """Give the newest value of a field; None where no survey tells it."""
        return next((row[field] for row in self.seen if row[field] is not None), None)

    def newest_list(self, table: str) -> list[Row]:
        """Give the rows of the newest visit that has any in a table."""
        for line in self.surveys:
            rows = self._rows(table, line.id) if line.kind == "visit" else []
            if rows:
                return rows
        return []

    def assessments(self) -> list[Row]:
        """Give the judgements of what belongs to the tower, the newest of each component."""
        newest: dict[str, Row] = {}
        for line in self.surveys:
            for row in self._rows("assessment", line.id):
                if row["bell"] is None:
                    newest.setdefault(row["component"], {**row, "survey_date": line.date})
        return list(newest.values())


def tower_blocks(tower: TowerRecord, graded: Mapping[str, BellGrades]) -> Iterator[Block]:
    """Tell of the tower and its frame, and what endangers whoever goes up.

    ``graded`` holds the grades of its bells, among them those of what belongs to the tower.
    """
    yield Heading("Tower, frame and way up", 1)
    latitude, longitude = tower.value("latitude_deg"), tower.value("longitude_deg")
    lines = [FactLine("Coordinates", coordinates(latitude, longitude) or "not told")]
    newest = next(iter(tower.seen))
    shown = {**newest, **{field: tower.value(field) for field in ABOUT}}
    lines += [FactLine(fact.name, fact.text) for fact in facts_of_row("tower_seen", shown, ABOUT)]
    yield Facts(tuple(lines), "Observed")
    yield Heading("Frame")
    frames = tower.newest_list("frame")
    if frames:
        facts = facts_of_row("frame", frames[0])
        yield Facts(tuple(FactLine(fact.name, fact.text) for fact in facts), "Observed")
    else:
        yield Prose("No survey describes the frame. What was not inspected is not known.", "soft")
    grades = grades_of_tower(graded)
    if grades:
        yield Heading("Condition")
        yield from grade_blocks(grades)
    yield from assessment_table(
        [row for row in tower.assessments() if row["component"] not in {grade.component for grade in grades}],
        "Judgement of the surveyors on what belongs to no single bell",
    )
    yield Heading("Hazards on record")
    hazards = tower.newest_list("hazard")
    if hazards:
        yield Items(
            tuple(
                Item(
                    heading(term("hazard_kind", row["kind"])) + (f": {row['where']}" if row["where"] else ""),
                    2,
                    row["remark"] or "",
                    f"{row['survey_id']}, hazards",
                )
                for row in hazards
            )
        )
    else:
        yield Prose("No hazard is on record. That does not mean that there is none.", "soft")
    caution = cautions()["going-up"]
    yield CautionBox(caution.title, caution.points, caution.source, grave=True)


def grades_of_tower(graded: Mapping[str, BellGrades]) -> list[Grade]:
    """Give the grades of what belongs to the tower, from the bell that was looked at last."""
    newest = max(
        (each for each in graded.values() if each.day is not None),
        key=lambda each: str(each.day),
        default=None,
    )
    return [] if newest is None else [grade for grade in newest.grades if grade.component in OF_THE_TOWER]


def assessment_table(rows: Sequence[Row], caption: str) -> Iterator[Block]:
    """Set out judgements of the surveyors; nothing where there is none."""
    if not rows:
        return
    yield Table(
        caption,
        (
            Column("Component", share=2),
            Column("Condition", share=2),
            Column("Urgency", share=2),
            Column("To do", share=2.4),
            Column("Reasons", share=5),
        ),
        tuple(
            (
                Cell(heading(term("component", row["component"])), day(row["survey_date"])),
                *(Cell(grade(name, row[name])) for name in ("condition", "urgency", "recommendation")),
                Cell((row["reasons"] or "").rstrip("\n"), where=f"{row['survey_id']}, assessments"),
            )
            for row in rows
        ),
    )


def ring_blocks(records: Sequence[BellRecord]) -> Iterator[Block]:
    """Draw the bells to one scale, and set out what they are."""
    present = [record for record in records if not record.gone]
    if not present:
        yield Prose("No bell of this tower is on record as being in its place.")
        return
    sizes = [
        tuple(
            record.value("dimensions", f"{name}_mm")
            for name in ("mouth_diameter", "height", "shoulder_diameter")
        )
        for record in present
    ]
    outlines = ring_outlines(sizes)
    diameters = [diameter for diameter, _, _ in sizes]
    scale = scale_bar(diameters)
    known = any(diameter is not None for diameter in diameters)
    yield Ring(
        tuple(
            (
                outline_svg(outline),
                outline.width,
                outline.height,
                record.name,
                record.value("sound", "note") or "–",
            )
            for record, outline in zip(present, outlines, strict=True)
        ),
        quantity(scale.length_mm, "mm") if known else "",
        scale.width,
        f"{plural(len(present), 'bell')} side by side, to one scale",
        "To one scale; the contour is a general one. Dashed: no diameter on record, no scale.",
    )
    yield Table(
        "≈ computed, else observed",
        (
            Column("No.", number=True),
            Column("Bell", share=3.4),
            Column("Cast", share=2.6),
            Column("Diameter", number=True, share=1.8),
            Column("Mass", number=True, share=1.9),
            Column("Note", share=1.1),
            Column("Cracks", share=2),
        ),
        tuple(_ring_row(record) for record in present),
    )


def _ring_row(record: BellRecord) -> tuple[Cell, ...]:
    cracks = record.newest_list("crack")
    states = {row["state"] for row in cracks}
    crack = (
        Cell("confirmed", style="alarm")
        if "confirmed" in states
        else Cell("suspected", style="warn")
        if "suspected" in states
        else Cell("none found")
        if states
        else Cell("not looked for", style="soft")
    )
    position = record.value("bell_seen", "position")
    cast = record.value("bell_seen", "cast_date")
    return (
        Cell(str(position) if position is not None else ""),
        Cell(record.name, record.id),
        Cell(date_words(cast) if cast else "undated", record.value("bell_seen", "founder") or ""),
        Cell(quantity(record.value("dimensions", "mouth_diameter_mm"), "mm") or "not measured"),
        _mass_cell(record),
        Cell(record.value("sound", "note") or "–"),
        crack,
    )


def _mass_cell(record: BellRecord) -> Cell:
    mass = record.newest("dimensions", "mass_kg")
    if mass is not None:
        return Cell(quantity(mass["mass_kg"], "kg"), term("mass_basis", mass["mass_basis"]))
    estimate = next(
        (row for row in record.derived if row["quantity"] == "mass_kg" and row["rank"] == 1 and row["value"]),
        None,
    )
    if estimate is None:
        return Cell("not known", style="soft")
    words = format_estimate(estimate["value"], "kg", estimate["low"], estimate["high"])
    return Cell(f"≈ {words}", style="computed")


def gone_blocks(records: Sequence[BellRecord]) -> Iterator[Block]:
    """List the bells that are no longer here."""
    gone = [record for record in records if record.gone]
    if not gone:
        return
    yield Heading("Bells no longer here")
    yield Table(
        "",
        (
            Column("Bell", share=3),
            Column("What became of it", share=2),
            Column("Cast", share=3),
            Column("Told by", share=2),
        ),
        tuple(
            (
                Cell(record.name, record.id),
                Cell(heading(term("bell_status", record.value("bell_seen", "status")))),
                Cell(
                    date_words(record.value("bell_seen", "cast_date")) or "undated",
                    record.value("bell_seen", "founder") or "",
                ),
                Cell(plural(len(record.surveys), "survey"), day(record.surveys[0].as_of)),
            )
            for record in gone
        ),
    )
