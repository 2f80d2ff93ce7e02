"""What ``soundbow show`` prints for people: one sheet for a bell, a tower or a survey."""

from typing import Any

from registry.cli.rows import Column, Row, as_table, shown

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


def bell_sheet(known: dict[str, Any]) -> str:
    """Write what is known of a bell: observed and computed stand apart, each value with where it is from."""
    bell = known["current"]
    title = f"{bell['id']}  {bell['name'] or 'without a name'}, {bell['tower_name']}, {bell['place']}"
    observed = [line for fact in known["facts"] for line in _fact(fact)]
    return _sheet(
        title,
        {
            "Needs attention": _attention(known["attention"]),
            "Observed: the newest value of each fact": observed,
            "Computed: not measured, with intervals": [_computed(row) for row in known["derived"]],
            "Surveys": [_survey(row) for row in known["surveys"]],
        },
    )


def tower_sheet(known: dict[str, Any]) -> str:
    """Write what is known of a tower, with its bells."""
    tower = known["current"]
    about = [f"{field:20}  {shown(tower[field], field)}" for field in ABOUT_TOWER if tower[field] is not None]
    return _sheet(
        f"{tower['id']}  {tower['name']}, {tower['place']}",
        {
            "About": about,
            "Needs attention": _attention(known["attention"]),
            "Bells": as_table(known["bells"], BELL_COLUMNS).splitlines() if known["bells"] else [],
            "Surveys": [_survey(row) for row in known["surveys"]],
        },
    )


def survey_sheet(known: dict[str, Any]) -> str:
    """Write what one survey says, section by section, as its surveyors wrote it."""
    survey = known["current"]
    sections = {"survey": _written(survey)}
    for table, rows in known["tables"].items():
        for row in rows:
            number = row.get("number", row.get("ordinal"))
            parts = (table, row.get("bell_id"), None if number is None else str(number))
            sections[" ".join(part for part in parts if part)] = _written(row)
    return _sheet(f"{survey['id']}  {survey['kind']} of {survey['date']}, {survey['tower_id']}", sections)


def _sheet(title: str, sections: dict[str, list[str]]) -> str:
    """Put a sheet together; sections with nothing to say are left out."""
    blocks = [title]
    for heading, lines in sections.items():
        if lines:
            blocks.append("\n".join([heading, *(f"  {line}".rstrip() for line in lines)]))
    return "\n\n".join(blocks) + "\n"


def _fact(fact: Row) -> list[str]:
    lines = [f"{fact['field']:26}  {shown(fact['value'], fact['field']):28}  {fact['survey_id']}"]
    if fact["disagrees"]:
        other = shown(fact["other_value"], fact["field"])
        lines.append(f"{'':26}  {other:28}  {fact['other_survey_id']} disagrees")
    return lines


def _computed(row: Row) -> str:
    """Write one computed value with its interval and method."""
    unit_name = row["quantity"]
    about = unit_name if row["subject"] == "bell" else f"{row['subject']} {unit_name}"
    if row["low"] is None and row["high"] is None:
        return f"{about:34}  {row['note'] or 'no value'}"
    low, high = (shown(row[end], unit_name) for end in ("low", "high"))
    value = "" if row["value"] is None else shown(row["value"], unit_name)
    return f"{about:34}  {value:14}  {row['level'] * 100:g} % from {low} to {high}, by {row['method']}"


def _attention(findings: list[dict[str, Any]]) -> list[str]:
    about = ((found["bell_id"] or found["tower_id"], found["what"]) for found in findings)
    return [f"{name}: {what}" for name, what in about]


def _survey(row: dict[str, Any]) -> str:
    what = row["document_title"] or row["purpose"] or ""
    return f"{row['date']}  {row['id']}  {row['kind']}, {', '.join(row['surveyors'])}  {what}"


def _written(row: Row) -> list[str]:
    """Write the fields of a row as they stand in the form, with the line."""
    return [
        f"{field:26}  {shown(text, ''):50}  line {line}"
        for field, (line, _, text) in row["as_written"].items()
        if field
    ]
