"""What the surveys of one bell tell, set side by side: sizes, sound and hanging, and the partials."""

from collections.abc import Iterator

from registry.report.blocks import Block, Cell, Column, Heading, Prose, Table
from registry.report.reading import BellRecord
from registry.store.pages import Row, SurveyLine
from registry.units import format_estimate
from registry.wording.observed import Fact, history
from registry.wording.words import day, heading, quantity, term

MOST_VISITS = 4
"""Surveys set side by side, so that the columns stay readable."""

SIDE_BY_SIDE = ("dimensions", "sound", "crown", "clapper", "fittings", "ringing")
"""Tables whose values are set side by side, survey by survey."""


def survey_by_survey_blocks(record: BellRecord) -> Iterator[Block]:
    """Set all sizes, sounds and parts of the hanging side by side, survey by survey."""
    yield Heading("Survey by survey")
    parts = [
        part
        for part in history(record.sections, [survey.id for survey in record.surveys])
        if part.table in SIDE_BY_SIDE
    ]
    telling = [
        index
        for index in range(len(record.surveys))
        if any(row.cells[index] for part in parts for row in part.rows)
    ][:MOST_VISITS]
    if not telling:
        yield Prose("No survey tells sizes, sound or hanging. What was not inspected is not known.", "soft")
        return
    rows: list[tuple[Cell, ...]] = []
    for part in parts:
        of_part = [row for row in part.rows if any(row.cells[index] for index in telling)]
        if of_part:
            rows.append((Cell(part.title),))
        for row in of_part:
            told = [row.cells[index] for index in telling]
            changed = len({fact.text for fact in told if fact}) > 1
            cells = [
                Cell(
                    fact.text,
                    "",
                    "strong" if changed and at == 0 and not fact.block else "plain",
                    _where(fact),
                )
                if fact
                else Cell("–", style="soft")
                for at, fact in enumerate(told)
            ]
            rows.append((Cell(row.name), *cells))
    surveys = [record.surveys[index] for index in telling]
    yield Table(
        "What was measured, seen and heard, the newest first; bold where it differs from earlier words",
        (Column("Fact", share=2.4), *(_survey_column(survey) for survey in surveys)),
        tuple(rows),
    )


def _survey_column(survey: SurveyLine) -> Column:
    return Column(f"{day(survey.as_of)}{', document' if survey.kind == 'document' else ''}", share=2.2)


def _where(fact: Fact) -> str:
    return f"{fact.survey_id}, line {fact.line}" if fact.line else fact.survey_id


def partial_blocks(record: BellRecord) -> Iterator[Block]:
    """Set out the partials through the newest surveys, and how far the newest lie from their ideal places."""
    partials = record.sections["partial"]
    if not partials:
        return
    yield Heading("Partials")
    surveys = list(dict.fromkeys(row["survey_id"] for row in partials))[: MOST_VISITS - 1]
    dates = {row["survey_id"]: row["survey_date"] for row in partials}
    deviations = {
        row["subject"].partition(":")[2]: row
        for row in record.derived
        if row["subject"].startswith("partial:") and row["survey_id"] == surveys[0]
    }
    read: dict[str, dict[str, Row]] = {}
    for row in partials:
        read.setdefault(row["name"], {}).setdefault(row["survey_id"], row)
    ordered = sorted(read, key=lambda name: max(row["frequency_hz"] for row in read[name].values()))
    rows = [
        (
            Cell(heading(term("partial", name))),
            *(_partial_cell(read[name].get(survey)) for survey in surveys),
            *_deviation_cells(deviations.get(name)),
        )
        for name in ordered
    ]
    yield Table(
        "As read; at the right computed from the newest reading how far each lies from its ideal place",
        (
            Column("Partial", share=1.6),
            *(Column(day(dates[survey]), number=True, share=2) for survey in surveys),
            Column("Deviation, cents", number=True, share=1.6),
            Column("90 % interval, cents", number=True, share=2.2),
        ),
        tuple(rows),
        "Deviations of historic bells are character, not fault.",
    )


def _partial_cell(row: Row | None) -> Cell:
    if row is None:
        return Cell("–", style="soft")
    beat = f"beats {quantity(row['beat_hz'], 'hz')}" if row["beat_hz"] is not None else ""
    return Cell(quantity(row["frequency_hz"], "hz"), beat)


def _deviation_cells(row: Row | None) -> tuple[Cell, Cell]:
    if row is None or row["value"] is None:
        return Cell("–", style="soft"), Cell("", style="soft")
    value, low, high = (
        format_estimate(row[name], "number", row["low"], row["high"]) for name in ("value", "low", "high")
    )
    return Cell(value, style="computed"), Cell(f"{low} to {high}", style="computed")
