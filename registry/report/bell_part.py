"""The part of a report that tells of one bell."""

from collections.abc import Iterator, Sequence

from registry.drawing.svg import profile_svg, profile_words
from registry.judging import BellJudgement
from registry.report.bell_condition import condition_blocks
from registry.report.bell_dates import date_blocks
from registry.report.bell_outlook import outlook_blocks
from registry.report.blocks import (
    Block,
    Cell,
    Column,
    Columns,
    FactLine,
    Facts,
    Heading,
    Item,
    Items,
    Picture,
    Prose,
    Sheet,
    Table,
)
from registry.report.inscription_part import inscription_part
from registry.report.photos import Photos
from registry.report.reading import BellRecord, newest_facts, where_of
from registry.report.recordings_part import recording_blocks
from registry.report.strikes_and_cracks import strike_and_crack_blocks
from registry.store.pages import Row, SurveyLine
from registry.units import format_estimate
from registry.wording.choosing import told_once
from registry.wording.computed import estimates_of
from registry.wording.drawn import profile_caption, profile_of
from registry.wording.observed import Fact, current_groups, history
from registry.wording.words import date_words, day, heading, quantity, term

MOST_VISITS = 4
"""Surveys set side by side, so that the columns stay readable."""

SIDE_BY_SIDE = ("dimensions", "sound", "crown", "clapper", "fittings", "ringing")
"""Tables whose values are set side by side, survey by survey."""


def bell_blocks(
    record: BellRecord,
    judged: BellJudgement | None,
    visit_id: str | None,
    photos: Photos,
    *,
    alone: bool,
) -> Iterator[Block]:
    """Tell all of one bell.

    Parameters
    ----------
    record : BellRecord
        What the surveys say.
    judged : BellJudgement or None
        Its judgement; None for a bell that is gone.
    visit_id : str or None
        The visit reported on: values from other surveys carry their year.
    photos : Photos
        The pictures beside the forms.
    alone : bool
        Whether the report is about this bell and not about its tower.
    """
    yield Sheet()
    yield Heading(record.name, 1, record.id)
    yield Prose(lead_of(record), "lead")
    if judged is not None:
        yield from condition_blocks(judged.grades, alone=alone)
    groups = {group.table: group.facts for group in current_groups(newest_facts(record), record.sections)}
    left: list[Block] = [
        Facts((*_facts(groups.get("bell_seen", []), visit_id), *_masses(record)), "Observed")
    ]
    yield Heading("What it is")
    profile = profile_picture(record)
    yield Columns((5, 4), (tuple(left), (profile,))) if profile else left[0]
    yield from strike_and_crack_blocks(record, judged)
    if judged is not None:
        yield from outlook_blocks(judged)
    yield from _survey_by_survey(record)
    yield from _partials(record)
    yield from recording_blocks(record)
    yield from inscription_part(record)
    yield from date_blocks(record)
    yield from _computed(record)
    yield from _life(record)
    yield from photo_blocks(photos, record.id)


def photo_blocks(photos: Photos, bell_id: str | None) -> Iterator[Block]:
    """Print the pictures of a bell, or of the tower for None, and name those that are not printed."""
    pictures, missing = photos.of(bell_id)
    if not pictures and not missing:
        return
    yield Heading("Photos and drawings")
    for index in range(0, len(pictures), 2):
        pair = pictures[index : index + 2]
        yield Columns((1, 1), tuple((picture,) for picture in pair)) if len(pair) > 1 else pair[0]
    if missing:
        yield Heading("On record and not printed", 3)
        yield Items(tuple(missing))


def lead_of(record: BellRecord) -> str:
    """Say in one sentence what the bell is."""
    material = record.value("bell_seen", "material")
    cast = record.value("bell_seen", "cast_date")
    founder = record.value("bell_seen", "founder")
    note = record.value("sound", "note")
    diameter = record.value("dimensions", "mouth_diameter_mm")
    status = record.value("bell_seen", "status")
    parts = [heading(term("material", material)) if material else "Material not told"]
    parts[0] += f", cast {date_words(cast)}" if cast else ", undated"
    if founder:
        certainty = record.value("bell_seen", "founder_certainty")
        doubt = f" ({term('certainty', certainty)})" if certainty not in (None, "certain") else ""
        parts[0] += f" by {founder}{doubt}"
    parts += [f"strike note {note}"] if note else []
    parts += [f"{quantity(diameter, 'mm')} across the mouth"] if diameter is not None else []
    state = f" {heading(term('bell_status', status))}." if status else ""
    return "; ".join(parts) + "." + state


def profile_picture(record: BellRecord) -> Picture | None:
    """Draw the bell from its newest sizes."""
    drawing = profile_of(record.values, record.newest_list("profile_point"))
    if drawing is None:
        return None
    return Picture(
        f"{record.name} drawn to scale. {profile_words(drawing)}",
        f"Outside on the left, cut open on the right. {profile_caption(drawing)}",
        svg=profile_svg(drawing, record.name),
        tallest_mm=75,
    )


NOT_PRINTED = frozenset({"name", "founder_id"})
"""Fields of the identity that stand elsewhere or say nothing on paper."""


def _facts(facts: Sequence[Fact], visit_id: str | None) -> tuple[FactLine, ...]:
    """Write facts as lines; those that another survey than the visit tells carry its year."""
    return tuple(
        FactLine(
            fact.name,
            fact.text,
            fact.survey_date[:4] if fact.survey_id != visit_id else "",
            f"{fact.survey_id}, line {fact.line}" if fact.line else fact.survey_id,
        )
        for fact in facts
        if fact.field not in NOT_PRINTED
    )


def _masses(record: BellRecord) -> Iterator[FactLine]:
    for row in record.sections["earlier_mass"]:
        stated = f"{quantity(row['mass_kg'], 'kg')}, {term('mass_basis', row['basis'])}"
        dated = f", {date_words(row['date'])}" if row["date"] else ""
        yield FactLine(
            "Mass stated elsewhere", f"{stated}{dated}: {row['source']}", "", where_of(row, "source")
        )


def _survey_by_survey(record: BellRecord) -> Iterator[Block]:
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


def _partials(record: BellRecord) -> Iterator[Block]:
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


def _computed(record: BellRecord) -> Iterator[Block]:
    """List the preferred estimate of each quantity, with its interval, method and source."""
    current = {
        "mass_kg": record.value("dimensions", "mass_kg"),
        "strike_hz": record.value("sound", "strike_hz"),
    }
    groups = [group.main for group in estimates_of(record.derived, current)]
    if not groups:
        return
    yield Heading("Computed, not measured")
    rows = [
        (
            Cell(item.name, f"observed: {item.observed}" if item.observed else ""),
            Cell(item.value or "no single value", style="computed"),
            Cell(item.interval or "–", item.note, "computed"),
            Cell(f"{item.method}, version {item.version}", style="soft"),
        )
        for item in groups
    ]
    yield Table(
        "",
        (
            Column("Quantity", share=2.6),
            Column("Estimate", share=1.8),
            Column("Interval", share=5),
            Column("Method", share=2.4),
        ),
        tuple(rows),
        "Lift nothing by a computed mass: for hoisting, transport or a new frame the bell must be weighed.",
    )


def _life(record: BellRecord) -> Iterator[Block]:
    events = told_once(record.sections["event"])
    if not events:
        return
    yield Heading("Its life")
    yield Items(tuple(_event(event) for event in events))


def _event(event: Row) -> Item:
    by = f" by {quantity(event['turned_by_deg'], 'deg')}" if event["turned_by_deg"] is not None else ""
    told = [
        f"{date_words(event['date']) or 'undated'}: {term('event_kind', event['kind'])}{by}",
        *(event[field] for field in ("other_bell", "place", "tower", "actor") if event[field]),
    ]
    certainty = event["certainty"]
    doubt = f" ({term('certainty', certainty)})" if certainty not in (None, "certain") else ""
    more = [text for text in (event["remarks"], event["source"] or "no source told") if text]
    return Item(", ".join(told) + doubt, 0, "\n".join(more), where_of(event, "kind"))
