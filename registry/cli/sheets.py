"""What ``soundbow show`` prints for people: one sheet for a bell, a tower or a survey."""

from collections.abc import Iterable, Iterator
from typing import Any

from registry.cli.rows import Column, Row, as_table, display_width, shown
from registry.units import format_estimate

BELL_COLUMNS = (
    Column("position", "no."),
    Column("id", "bell", 40),
    Column("name", "name", 24),
    Column("cast_date", "cast", 18),
    Column("mouth_diameter_mm", "diameter"),
    Column("mass_kg", "mass"),
    Column("mass_estimate_kg", "estimated"),
    Column("note_name", "note"),
    Column("status", "status"),
)
ABOUT_TOWER = (
    "owner",
    "contact",
    "protection",
    "protection_source",
    "latitude_deg",
    "longitude_deg",
    "access",
)

FORM_NAMES = {
    "bell_seen": "identity",
    "tower_seen": "tower",
    "earlier_mass": "earlier_masses",
    "inscription": "inscriptions",
    "partial": "partials",
    "strike_point": "strike_points",
    "crack": "cracks",
    "event": "events",
    "instrument": "instruments",
    "hazard": "hazards",
    "assessment": "assessments",
    "attachment": "attachments",
}
"""Tables whose section has another name on the form."""
WIDEST = 44
"""Characters beyond which a word no longer moves the column after it."""


def bell_sheet(known: dict[str, Any]) -> str:
    """Write what is known of a bell: observed and computed stand apart, each value with where it is from."""
    bell = known["current"]
    return _sheet(
        f"{bell['id']}  {bell['name'] or 'without a name'}, {bell['tower_name']}, {bell['place']}",
        {
            "Needs attention": _attention(known["attention"]),
            "Observed: the newest value of each fact": _aligned(
                line for fact in known["facts"] for line in _fact(fact)
            ),
            "Computed, not observed": _aligned(map(_computed, known["derived"])),
            "Surveys": _aligned(map(_survey, known["surveys"])),
        },
    )


def tower_sheet(known: dict[str, Any]) -> str:
    """Write what is known of a tower, with its bells."""
    tower = known["current"]
    return _sheet(
        f"{tower['id']}  {tower['name']}, {tower['place']}",
        {
            "About": _aligned((field, shown(tower[field], field)) for field in ABOUT_TOWER if tower[field]),
            "Needs attention": _attention(known["attention"]),
            "Bells": as_table(known["bells"], BELL_COLUMNS).splitlines() if known["bells"] else [],
            "Surveys": _aligned(map(_survey, known["surveys"])),
        },
    )


def survey_sheet(known: dict[str, Any]) -> str:
    """Write what one survey says, section by section, as its surveyors wrote it and on which line."""
    survey = known["current"]
    told: list[tuple[str, Row]] = [("survey", survey)]
    for table, rows in known["tables"].items():
        for row in rows:
            number = row.get("number", row.get("ordinal"))
            parts = (row.get("bell_id"), FORM_NAMES.get(table, table), "" if number is None else str(number))
            told.append((" ".join(part for part in parts if part), row))
    told.sort(key=lambda each: min(line for line, _, _ in each[1]["as_written"].values()))
    sections = {heading: _written(row) for heading, row in told}
    return _sheet(f"{survey['id']}  {survey['kind']} of {survey['date']}, {survey['tower_id']}", sections)


def _sheet(title: str, sections: dict[str, list[str]]) -> str:
    """Put a sheet together; sections with nothing to say are left out."""
    blocks = [title]
    for heading, lines in sections.items():
        if lines:
            blocks.append("\n".join([heading, *(f"  {line}" for line in lines)]))
    return "\n\n".join(blocks) + "\n"


def _aligned(lines: Iterable[tuple[str, ...]]) -> list[str]:
    """Set words below each other; the last of a line may be as long as it likes."""
    rows = list(lines)
    widths = [min(max(map(display_width, column)), WIDEST) for column in zip(*rows, strict=True)]
    return [
        "  ".join(
            text + " " * (width - display_width(text)) for text, width in zip(row, widths, strict=True)
        ).rstrip()
        for row in rows
    ]


def _fact(fact: Row) -> Iterator[tuple[str, ...]]:
    name = f"{FORM_NAMES.get(fact['section'], fact['section'])}.{fact['field']}"
    yield name, shown(fact["value"], fact["field"]), fact["survey_id"]
    if fact["disagrees"]:
        yield "", shown(fact["other_value"], fact["field"]), f"{fact['other_survey_id']} disagrees"


def _computed(row: Row) -> tuple[str, ...]:
    """Write one computed value with its interval, method and survey; where there is none, why."""
    subject = "" if row["subject"] == "bell" else row["subject"]
    survey = row["survey_id"] or "several surveys"
    ends = row["low"], row["high"]
    value, low, high = (format_estimate(number, row["unit"], *ends) for number in (row["value"], *ends))
    if not low and not high:
        return subject, row["quantity"], value, row["note"], survey
    if row["level"] == 0:  # no probability is claimed: what matters is how it was got
        return subject, row["quantity"], value or f"{low} to {high}", row["note"], survey
    sure = "certainly" if row["level"] == 1 else f"{row['level'] * 100:g} %"
    return subject, row["quantity"], value, f"{sure} from {low} to {high}", f"by {row['method']}, {survey}"


def _attention(findings: list[dict[str, Any]]) -> list[str]:
    return [f"{found['bell_id'] or found['tower_id']}: {found['what']}" for found in findings]


def _survey(row: dict[str, Any]) -> tuple[str, ...]:
    what = row["document_title"] or row["purpose"] or ""
    return row["date"], row["id"], row["kind"], ", ".join(row["surveyors"]), what


def _written(row: Row) -> list[str]:
    """Write the fields of a row as they stand in the form, each with its line."""
    lines = []
    for field, (line, _, text) in row["as_written"].items():
        if field in row:
            # A text that stands in its column word for word is kept there only.
            lines.append((f"line {line}", field, text or shown(row[field], field)))
    return _aligned(lines)
