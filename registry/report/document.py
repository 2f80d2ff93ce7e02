"""A whole report: its first page, its parts in order, and where everything comes from."""

import sqlite3
from collections.abc import Iterator, Sequence
from datetime import date

import registry
from registry.judging import BellJudgement, Settings, judge_history
from registry.model.cautions import cautions
from registry.report.bell_part import bell_blocks
from registry.report.blocks import (
    Block,
    CautionBox,
    Cell,
    Column,
    Document,
    FactLine,
    Facts,
    Heading,
    Item,
    Items,
    Prose,
    Sheet,
    Signature,
    Table,
)
from registry.report.in_short import in_short_blocks
from registry.report.next_time import next_time_blocks
from registry.report.photo_part import photo_blocks
from registry.report.photos import Photos
from registry.report.reading import BellRecord, Subject, read_records
from registry.report.since_last import since_last_blocks
from registry.report.tower_part import TowerRecord, gone_blocks, ring_blocks, tower_blocks
from registry.store import pages_survey
from registry.store.pages import SurveyLine
from registry.wording.observed import facts_of_row
from registry.wording.words import date_words, day, heading, names, plural, quantity, term

FOOT = (
    "No structural or safety certificate, and no diagnosis."
    " Local codes, the heritage authority and licensed practice decide."
)


def report_document(
    conn: sqlite3.Connection, subject: Subject, photos: Photos, settings: Settings
) -> Document:
    """Put a report together.

    Parameters
    ----------
    conn : Connection
        The registry.
    subject : Subject
        What it is about.
    photos : Photos
        The pictures beside the forms.
    settings : Settings
        The day printed as that of its making, and the user's own tables.
    """
    made = settings.on
    records = read_records(conn, subject)
    tower = TowerRecord(conn, subject)
    a_document = subject.survey is not None and subject.survey.kind == "document"
    judged = {} if a_document else judged_bells(records, settings)
    title = title_of(subject, records, tower)
    survey = subject.survey
    blocks: list[Block] = [
        Prose(f"{tower.value('place')} · {plural(len(records), 'bell')} on record", "soft"),
        Heading(title, 0),
        *identity_blocks(conn, survey, made),
        *in_short_blocks(records, judged, made),
        *since_last_blocks(records, judged, survey.id if survey else None),
        *scope_blocks(conn, subject, records),
    ]
    if subject.kind != "bell":
        blocks += [Heading("The ring", 1), *ring_blocks(records), *gone_blocks(records)]
    blocks += [
        *tower_blocks(tower, {bell_id: each.grades for bell_id, each in judged.items()}),
        *photo_blocks(photos, None),
    ]
    visit_id = survey.id if survey else None
    for record in records:
        if subject.kind == "bell" or not record.gone:
            blocks += bell_blocks(
                record, judged.get(record.id), visit_id, photos, alone=subject.kind == "bell"
            )
    if subject.kind != "bell":
        blocks += next_time_blocks(records, judged)
    blocks += source_blocks(conn, subject, records)
    return Document(
        title,
        tuple(survey.surveyors) if survey else (),
        f"What the registry has on {title} up to {day(survey.as_of) if survey else day(made.isoformat())}.",
        ("bell", "condition survey", subject.id),
        made.isoformat(),
        f"{tower.value('name')}, {tower.value('place')}",
        subject.id if survey is None or subject.kind == "survey" else f"{subject.id} · {survey.id}",
        FOOT,
        tuple(blocks),
    )


def judged_bells(records: Sequence[BellRecord], settings: Settings) -> dict[str, BellJudgement]:
    """Judge the bells that are in their place by what the surveys of the report tell, in their order."""
    return {
        record.id: judge_history(record.id, record.history, settings, record.mass)
        for record in records
        if record.history and not record.gone
    }


def title_of(subject: Subject, records: Sequence[BellRecord], tower: TowerRecord) -> str:
    """Name the report."""
    if subject.kind == "bell":
        what = "Condition report" if subject.survey is not None else "What documents tell"
        return f"{what}: {records[0].name}, {tower.value('name')}"
    if subject.survey is None:
        return f"What documents tell: {tower.value('name')}"
    if subject.survey.kind == "document":
        return f"What a document tells: {tower.value('name')}"
    return f"Condition report: {tower.value('name')}"


def identity_blocks(conn: sqlite3.Connection, survey: SurveyLine | None, made: date) -> Iterator[Block]:
    """Say which visit is reported on, by whom, and how its form is known again."""
    lines = []
    if survey is not None:
        lines += [
            FactLine("Visit" if survey.kind == "visit" else "Read on", day(survey.date)),
            FactLine("Surveyed by" if survey.kind == "visit" else "Read by", names(survey.surveyors)),
        ]
        source = pages_survey.read_survey_source(conn, survey.id)
        lines.append(FactLine("Record", f"{survey.id}; its page in the registry: /survey/{survey.id}"))
        if source is not None:
            lines.append(FactLine("SHA-256 of the form", source.sha256))
    else:
        lines.append(FactLine("Visit", "none: known from documents alone"))
    lines.append(FactLine("Report made", f"{day(made.isoformat())}, soundbow {registry.__version__}"))
    yield Facts(tuple(lines))


def scope_blocks(
    conn: sqlite3.Connection, subject: Subject, records: Sequence[BellRecord]
) -> Iterator[Block]:
    """Say what the visit covered, with what, and what it did not inspect."""
    yield Heading("Scope", 1)
    survey = subject.survey
    if survey is None:
        yield Prose(
            "There was no visit. Everything here comes from documents, and nothing was inspected.", "stop"
        )
        return
    (row,) = pages_survey.read_of_survey(conn, "survey", survey.id)
    facts = facts_of_row("survey", row, ("purpose", "weather", "temperature_c", "remarks"))
    documents = pages_survey.read_of_survey(conn, "document", survey.id)
    facts += facts_of_row("document", documents[0]) if documents else []
    lines = [FactLine(fact.name, fact.text, "", f"{survey.id}, line {fact.line}") for fact in facts]
    instruments = pages_survey.read_of_survey(conn, "instrument", survey.id)
    if instruments:
        lines.append(FactLine("Instruments", "; ".join(_instrument(each) for each in instruments)))
    seen = {bell["bell_id"] for bell in pages_survey.read_of_survey(conn, "bell_seen", survey.id)}
    lines.append(FactLine("Bells looked at", plural(len(seen & {record.id for record in records}), "bell")))
    yield Facts(tuple(lines))
    yield Heading("Not inspected", 2)
    missed = [
        part
        for part in pages_survey.read_of_survey(conn, "not_inspected", survey.id)
        if subject.kind != "bell" or part["bell"] in (None, subject.id)
    ]
    known = {record.id: record.name for record in records}
    if missed:
        yield Items(
            tuple(
                Item(
                    heading(term("part", part["part"]))
                    + (f" of {known.get(part['bell'], part['bell'])}" if part["bell"] else ""),
                    1,
                    part["reason"],
                    f"{survey.id}, not_inspected",
                )
                for part in missed
            )
        )
        yield Prose("What was not inspected is not known. It is not good because nothing is written.", "soft")
    elif survey.kind == "visit":
        yield Prose("The form names no part that was left out. What it does not mention is not known either.")
    else:
        yield Prose("A document inspects nothing.", "soft")


def _instrument(row: dict[str, object]) -> str:
    told = [term("instrument_kind", str(row["kind"]))]
    if row["name"]:
        told.append(str(row["name"]))
    for unit in ("mm", "hz"):
        value = row[f"tolerance_{unit}"]
        if isinstance(value, int | float):
            told.append(f"±{quantity(value, unit)}")
    if row["checked"]:
        told.append(f"checked {date_words(str(row['checked']))}")
    return " ".join(told[:1]) + (f" ({', '.join(told[1:])})" if told[1:] else "")


def source_blocks(
    conn: sqlite3.Connection, subject: Subject, records: Sequence[BellRecord]
) -> Iterator[Block]:
    """Name every form the report rests on with its SHA-256, and the source of every method."""
    yield Sheet()
    yield Heading("Sources", 1)
    used: dict[str, SurveyLine] = {line.id: line for line in subject.surveys}
    for record in records:
        used.update((line.id, line) for line in record.surveys)
    rows = []
    for line in sorted(used.values(), key=lambda line: (line.as_of, line.id), reverse=True):
        source = pages_survey.read_survey_source(conn, line.id)
        what = line.document_title or f"Visit of {day(line.date)}"
        rows.append(
            (
                Cell(line.id, source.path if source else ""),
                Cell(what, names(line.surveyors)),
                Cell(f"{source.sha256[:32]}\n{source.sha256[32:]}" if source else ""),
            )
        )
    yield Table(
        "Survey forms, kept whole in the registry; the SHA-256 proves that a copy is the same",
        (Column("Record and file", share=3), Column("What it is", share=3), Column("SHA-256", share=3.4)),
        tuple(rows),
    )
    if subject.survey is not None and subject.survey.kind == "visit":
        yield Signature(tuple(f"{name}, {day(subject.survey.date)}" for name in subject.survey.surveyors))
    methods: dict[str, dict[str, None]] = {}
    for row in (row for record in records for row in record.derived):
        methods.setdefault(row["source"], {})[f"{row['method'].replace('-', ' ')} {row['version']}"] = None
    if methods:
        yield Table(
            "Methods of what is computed, with their versions",
            (Column("Method", share=2), Column("Source", share=6)),
            tuple((Cell(", ".join(used_by)), Cell(source)) for source, used_by in methods.items()),
        )
    for code in ("no-certificate", "estimates"):
        caution = cautions()[code]
        yield CautionBox(caution.title, caution.points, caution.source)
