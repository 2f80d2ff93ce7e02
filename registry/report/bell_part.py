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
from registry.report.photo_part import photo_blocks
from registry.report.photos import Photos
from registry.report.reading import BellRecord, newest_facts, where_of
from registry.report.recordings_part import recording_blocks
from registry.report.strikes_and_cracks import strike_and_crack_blocks
from registry.report.through_surveys import partial_blocks, survey_by_survey_blocks
from registry.store.pages import Row
from registry.wording.choosing import told_once
from registry.wording.computed import estimates_of
from registry.wording.drawn import profile_caption, profile_of
from registry.wording.observed import Fact, current_groups
from registry.wording.words import date_words, heading, quantity, term


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
    yield from survey_by_survey_blocks(record)
    yield from partial_blocks(record)
    yield from recording_blocks(record)
    yield from inscription_part(record)
    yield from date_blocks(record)
    yield from _computed(record)
    yield from _life(record)
    yield from photo_blocks(photos, record.id)


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
