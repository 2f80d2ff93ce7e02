"""The answer of ``soundbow identify`` and ``soundbow twins``, for people and for programs."""

from collections.abc import Mapping, Sequence
from textwrap import fill
from typing import Any

from registry.derive.identity.next_measurement import Next
from registry.derive.identity.twins import Twins
from registry.model.vocabulary import label_of
from registry.wording.identity import (
    CAUTIONS,
    FACTS,
    TO_DO,
    Stated,
    factor_lines,
    percent,
    verdict_words,
)
from registry.wording.identity_data import Answered, Row, factors_data


def _lines(factors: Mapping[str, float], *stated: Stated) -> list[str]:
    """Write the factors that say anything, with what is on record."""
    lines = []
    for line in factor_lines(factors, *stated):
        if line["signed"] != "0":
            lines.append(f"{'':13}{line['signed']:>6} bits  {line['words']}: {line['says']}")
            if line["on_record"]:
                on_record = f"on record {line['on_record']}"
                lines.append(fill(on_record, 100, initial_indent=" " * 26, subsequent_indent=" " * 28))
    return lines


def as_sheet(told: Answered) -> str:
    """Write an answer for people."""
    answer, named, records = told.answer, told.named, told.records
    best = answer.candidates[0].probability if answer.candidates else 0.0
    by = ", ".join(FACTS[name] for name in answer.compared)
    before = percent(answer.unregistered)
    lines = [
        f"{verdict_words(answer.none, best)}.",
        f"Compared with {records} record{'s' * (records != 1)} by {by}." if by else "The registry is empty.",
        "",
        f"{percent(answer.none):>11}  none of them (believed before comparing: {before})",
    ]
    for each in answer.candidates:
        bell = named[each.bell_id]
        lines += ["", f"{percent(each.probability):>11}  {bell['name'] or each.bell_id} ({each.bell_id})"]
        what = f"{bell['tower_name']}, {bell['place']}"
        if bell["status"]:
            what += f"; {label_of('bell_status', bell['status'])}"
        lines.append(" " * 13 + what)
        lines += _lines(each.factors, told.stated[each.bell_id])
    if answer.rest >= 0.0005:
        lines += ["", f"{percent(answer.rest):>11}  all other bells together"]
    lines += ["", *_further(told.further, told.still_open_bits), ""]
    lines += [fill(f"! {caution}", 100, subsequent_indent="  ") for caution in CAUTIONS]
    return "\n".join(lines) + "\n"


def _further(further: Sequence[Next], still_open_bits: float) -> list[str]:
    if still_open_bits < 0.05 or not further:
        return ["Nothing that could be measured next is expected to change much."]
    lines = [f"What would tell them apart best ({still_open_bits:.1f} bits are open):"]
    return lines + [f"{each.bits:6.1f} bits  {TO_DO[each.fact]}" for each in further[:4]]


def twins_data(
    found: Sequence[Twins], named: Mapping[str, Row], stated: Mapping[str, Stated]
) -> list[dict[str, Any]]:
    """Give pairs of records as data."""
    return [
        {
            "bells": [
                {name: named[bell_id][name] for name in ("id", "name", "tower_id", "tower_name", "status")}
                for bell_id in (pair.first, pair.second)
            ],
            "probability": pair.probability,
            "possible": pair.verdict.possible,
            "tied": pair.verdict.tied,
            "lives": pair.verdict.why,
            "factors": [
                each
                for each in factors_data(pair.factors, stated[pair.first], stated[pair.second])
                if each["bits"]
            ],
        }
        for pair in found
    ]


def twins_sheet(
    found: Sequence[Twins], named: Mapping[str, Row], stated: Mapping[str, Stated], records: int
) -> str:
    """Write pairs of records for people."""
    proposed = [pair for pair in found if pair.verdict.possible]
    lines = [f"{len(proposed)} pair{'s' * (len(proposed) != 1)} of {records} records may be one bell."]
    for pair in found:
        lines.append("")
        chance = percent(pair.probability) if pair.verdict.possible else "cannot be"
        lines.append(f"{chance:>11}  {pair.first} = {pair.second}")
        for bell_id in (pair.first, pair.second):
            bell = named[bell_id]
            state = label_of("bell_status", bell["status"]) if bell["status"] else "status not told"
            lines.append(f"{'':13}{bell['name'] or bell_id}: {bell['tower_name']}, {bell['place']}; {state}")
        if pair.verdict.why:
            lines.append(f"{'':13}{pair.verdict.why}")
        lines += _lines(pair.factors, stated[pair.first], stated[pair.second])
    lines += [
        "",
        "A pair is a lead: read both records, and look at the bell. If they are one, say so in the next form",
        "with an event, or give the bell its older id.",
    ]
    return "\n".join(lines) + "\n"
