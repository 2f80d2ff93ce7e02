"""``soundbow candidates``: which bells need something, and what, from the least intervention on."""

import textwrap
from collections.abc import Iterator, Mapping, Sequence
from datetime import date, datetime
from pathlib import Path
from typing import Any

import click

from registry.cli.options import format_option, registry_option
from registry.cli.own_tables import costs_option, country_settings_option
from registry.cli.registry_file import opened
from registry.cli.rows import as_csv, as_json
from registry.derive.condition.growth import Growth
from registry.derive.condition.judgement import Candidate, Cost, CostLine, judgement
from registry.derive.condition.wording import growth_sentence, limit_sentence
from registry.judging import Settings, candidates
from registry.model.cautions import cautions
from registry.questions import BellQuery
from registry.store.search import find_bells

Row = dict[str, Any]

FIELDS = (
    "rank", "bell_id", "bell_name", "tower_id", "tower_name", "place", "region", "condition",
    "condition_at_least", "urgency_at_least", "ringing", "order", "option", "answer", "text", "because",
    "evidence", "ask", "refer", "cost_low", "cost_high", "currency", "cost_source", "source",
)  # fmt: skip
"""Columns of the CSV, which has a line for every option of every bell."""

NO_CERTIFICATE = (
    "No structural or safety certificate, and no decision: the owner, the heritage authority and licensed"
    " practice decide."
)


@click.command(
    epilog="\b\nExamples:\n"
    "  soundbow candidates --registry bells.db\n"
    "  soundbow candidates --registry bells.db --region north --costs costs.yaml --format csv"
)
@registry_option()
@click.option("--tower", "tower_ids", multiple=True, metavar="ID", help="Only bells of this tower.")
@click.option("--region", multiple=True, metavar="ID", help="Only towers of this region.")
@click.option("--country", multiple=True, metavar="CC", help="Only towers of this country, two letters.")
@country_settings_option
@costs_option
@click.option("--limit", type=click.IntRange(1), help="At most so many bells.")
@click.option(
    "--date",
    "made",
    type=click.DateTime(["%Y-%m-%d"]),
    metavar="DAY",
    help="Day judged by; today unless given.",
)
@format_option("table", "csv", "json")
def command(
    registry: Path,
    *,
    tower_ids: tuple[str, ...],
    region: tuple[str, ...],
    country: tuple[str, ...],
    protection: Any,
    costs: Any,
    limit: int | None,
    made: datetime | None,
    answer_as: str,
) -> None:
    """Rank the bells that need something, with reasons, evidence and options.

    The most pressing bell comes first; the options of a bell go from the least intervention to the greatest.
    Recasting is never proposed for a bell that is protected, old, or whose date or protection is not known.
    No structural or safety certificate, and no decision.
    """
    settings = Settings(made.date() if made else date.today(), protection, costs)
    query = BellQuery(region=region, country=country, limit=None)
    with opened(registry) as connection:
        bells = {
            row["id"]: row
            for row in find_bells(connection, query).rows
            if not tower_ids or row["tower_id"] in tower_ids
        }
        found = candidates(connection, settings=settings, bell_ids=sorted(bells))[:limit]
    if answer_as == "json":
        click.echo(as_json(_as_data(found, bells, settings)), nl=False)
    elif answer_as == "csv":
        rows = [row for rank, each in enumerate(found, start=1) for row in _rows(rank, each, bells)]
        click.echo(as_csv(rows, FIELDS), nl=False)
        click.echo(NO_CERTIFICATE, err=True)
    else:
        click.echo("\n".join(_sheets(found, bells, costs or {})))


def _about(rank: int, candidate: Candidate, bells: dict[str, Row]) -> Row:
    """Name a bell and its grades; one that is not known is empty, beside what is at least the case."""
    bell, overall = bells[candidate.bell_id], candidate.grades.overall
    return {
        "rank": rank,
        "bell_id": candidate.bell_id,
        "bell_name": bell["name"],
        **{name: bell[name] for name in ("tower_id", "tower_name", "place", "region")},
        "condition": overall.condition,
        "condition_at_least": overall.at_least.condition,
        "urgency_at_least": overall.at_least.urgency,
        "ringing": candidate.grades.ringing.code,
    }


def _rows(rank: int, candidate: Candidate, bells: dict[str, Row]) -> Iterator[Row]:
    """Give a line for every option: those proposed, then those that are not."""
    about = {**_about(rank, candidate, bells), "refer": candidate.refer}
    for order, each in enumerate(candidate.proposals, start=1):
        cost = each.cost
        yield {
            **about,
            "order": order,
            "option": each.code,
            "answer": "proposed",
            "text": each.text,
            "because": " ".join(each.because),
            "evidence": " ".join(each.evidence),
            "ask": "; ".join(each.ask),
            "cost_low": cost.low if cost else None,
            "cost_high": cost.high if cost else None,
            "currency": cost.currency if cost else None,
            "cost_source": cost.source if cost else None,
            "source": each.source,
        }
    for withheld in candidate.withheld:
        yield {
            **about,
            "option": withheld.code,
            "answer": "not proposed",
            "because": "; ".join(withheld.why),
        }


def _as_data(found: Sequence[Candidate], bells: dict[str, Row], settings: Settings) -> Row:
    return {
        "date": settings.on.isoformat(),
        "caution": NO_CERTIFICATE,
        "bells": [
            {
                **_about(rank, each, bells),
                "ringing_text": each.grades.ringing.text,
                "ringing_because": [fired.found for fired in each.grades.ringing.because],
                "growth": [_growth(growth) for growth in each.growths],
                "proposals": [
                    {**option._asdict(), "cost": option.cost._asdict() if option.cost else None}
                    for option in each.proposals
                ],
                "withheld": [option._asdict() for option in each.withheld],
                "refer": each.refer,
            }
            for rank, each in enumerate(found, start=1)
        ],
    }


def _growth(growth: Growth) -> str:
    return " ".join(filter(None, (growth_sentence(growth), limit_sentence(growth))))


def _sheets(
    found: Sequence[Candidate], bells: dict[str, Row], costs: Mapping[str, CostLine]
) -> Iterator[str]:
    """Write all bells, and under them the cautions that belong to what is said."""
    if not found:
        yield "No bell is on record that needs more than to be looked at again."
    codes: dict[str, None] = {}
    for rank, candidate in enumerate(found, start=1):
        yield from _sheet(rank, candidate, bells, costs)
        codes.update(dict.fromkeys(candidate.grades.ringing.cautions))
        for options in (candidate.proposals, candidate.withheld):
            codes.update(dict.fromkeys(code for option in options for code in option.cautions))
    for code in (*codes, "no-certificate"):
        caution = cautions()[code]
        yield f"{caution.title}:"
        for point in caution.points:
            yield _wrapped(point, "  - ", "    ")
    yield NO_CERTIFICATE


def _sheet(
    rank: int, candidate: Candidate, bells: dict[str, Row], costs: Mapping[str, CostLine]
) -> Iterator[str]:
    """Write one bell: what it is, whether to ring it, why, and its options."""
    bell, about = bells[candidate.bell_id], _about(rank, candidate, bells)
    grade = about["condition"]
    known = f"condition {grade}" if grade is not None else f"condition at least {about['condition_at_least']}"
    yield f"{rank}. {bell['name'] or candidate.bell_id}, {bell['tower_name']}, {bell['place']}"
    yield f"   {candidate.bell_id}; {known} of 3, urgency at least {about['urgency_at_least']} of 3"
    yield _wrapped(f"{candidate.grades.ringing.text}", "   ")
    for growth in candidate.growths:
        if growth.limit is not None and growth.per_year is not None:
            yield _wrapped(_growth(growth), "   ")
    yield "   Options, the least intervention first:"
    for order, each in enumerate(candidate.proposals, start=1):
        yield _wrapped(f"{order}. {each.text}", "     ", "        ")
        for words in (
            f"because: {' '.join(each.because)}" if each.because else "",
            f"evidence: {', '.join(each.evidence)}" if each.evidence else "",
            f"ask first: {', '.join(each.ask)}" if each.ask else "",
            _cost_words(each.cost, in_table=each.code in costs),
        ):
            if words:
                yield _wrapped(words, "        ", "          ")
    if candidate.withheld:
        yield "   Not proposed:"
        for withheld in candidate.withheld:
            name = judgement()["options"][withheld.code]["text"].rstrip(".")
            yield _wrapped(f"- {name}: {'; '.join(withheld.why)}.", "     ", "       ")
    if candidate.refer:
        yield _wrapped(candidate.refer, "   ")
    yield ""


def _cost_words(cost: Cost | None, *, in_table: bool) -> str:
    if cost is None:
        return "cost: goes by the mass, and nobody weighed the bell" if in_table else ""
    return f"cost: {cost.low:,.0f} to {cost.high:,.0f} {cost.currency} ({cost.source})"


def _wrapped(text: str, first: str, rest: str | None = None) -> str:
    after = first if rest is None else rest
    return textwrap.fill(text, 100, initial_indent=first, subsequent_indent=after, break_on_hyphens=False)
