"""The observation tables as SQL, written from the model; ``python -m registry.store.ddl`` writes the files.

Ranges, terms and patterns of the form become CHECKs, so that the database refuses by itself what no form may
say. The wording of a field is the comment of its column.
"""

from pathlib import Path

from registry.model.bell import Identity
from registry.model.fields import (
    Coordinate,
    Country,
    Day,
    Edtf,
    Field,
    Identifier,
    Kind,
    Language,
    Note,
    Quantity,
    RelativePath,
    Script,
    Term,
    Text,
    Whole,
    section_title,
)
from registry.model.vocabulary import vocabulary
from registry.store.facts import FACT_TABLES, facts_of
from registry.store.tables import SECTION_TABLES, SectionTable, leading_columns, value_fields

HEADER = (
    "-- Written from registry/model by `python -m registry.store.ddl`; change the model, not this file.\n"
)


def quoted(name: str) -> str:
    """Quote a column name where SQL has the word for itself."""
    return f'"{name}"' if name in {"where"} else name


def identifier_check(column: str) -> str:
    """Give the condition that a column holds an id: lower-case letters, digits and single hyphens."""
    return (
        f"{column} <> '' AND {column} NOT GLOB '*[^a-z0-9-]*' AND {column} NOT GLOB '-*'"
        f" AND {column} NOT GLOB '*-' AND {column} NOT GLOB '*--*'"
    )


LEADING = {
    "id": (f"TEXT NOT NULL CHECK ({identifier_check('id')})", "Permanent id of this survey."),
    "survey_id": ("TEXT NOT NULL REFERENCES survey (id)", "The survey that tells it."),
    "bell_id": ("TEXT NOT NULL REFERENCES bell (id)", "The bell it tells of."),
    "tower_id": ("TEXT NOT NULL REFERENCES tower (id)", "The tower."),
    "source_path": ("TEXT NOT NULL UNIQUE REFERENCES source (path)", "The form it was read from."),
    "as_of": (
        "TEXT NOT NULL",
        "The day whose state it tells: the day of the visit, or the last day the document can be from.",
    ),
    "ordinal": ("INTEGER NOT NULL CHECK (ordinal > 0)", "Place in the form, counted from 1."),
}
"""Type and help of the columns that no field of the form fills."""

AS_WRITTEN = (
    "TEXT NOT NULL CHECK (json_valid(as_written))",
    'As the form has it: {field: [line, column, "text"]}; the field "" is the section itself.',
)


def _number(value: float) -> str:
    return str(int(value)) if value == int(value) else repr(value)


def _check_of(kind: Kind, column: str) -> tuple[str, str]:  # noqa: PLR0911
    """Give the type of a column and the condition on its value."""
    match kind:
        case Quantity(_, low, high):
            return "REAL", f"{column} BETWEEN {_number(low)} AND {_number(high)}"
        case Whole(low, high):
            return "INTEGER", f"{column} BETWEEN {low} AND {high}"
        case Coordinate(axis):
            limit = 90 if axis == "latitude" else 180
            return "REAL", f"{column} BETWEEN -{limit} AND {limit}"
        case Term(name):
            # Not IN: SQLite would build its list anew for every row, which takes half the time of a load.
            return "TEXT", " OR ".join(f"{column} = '{code}'" for code in vocabulary(name).terms)
        case Identifier():
            return "TEXT", identifier_check(column)
        case Day():
            return "TEXT", f"date({column}, '+0 days') IS {column}"
        case Country():
            return "TEXT", f"{column} GLOB '[A-Z][A-Z]'"
        case Script():
            return "TEXT", f"{column} GLOB '[A-Z][a-z][a-z][a-z]'"
        case RelativePath():
            return "TEXT", f"{column} NOT GLOB '/*' AND '/' || {column} || '/' NOT GLOB '*/../*'"
        case Text(longest):
            return "TEXT", f"length({column}) BETWEEN 1 AND {longest}"
        case Edtf() | Note() | Language():
            return "TEXT", f"length({column}) BETWEEN 1 AND 200"
    raise TypeError(f"no column type for {kind!r}")  # pragma: no cover


def _field_column(field: Field) -> str:
    assert field.kind is not None  # noqa: S101
    column = quoted(field.name)
    sql_type, condition = _check_of(field.kind, column)
    if field.is_list:
        sql_type, condition = "TEXT", f"json_valid({column}) AND json_type({column}) = 'array'"
        if not field.required:
            condition = f"{column} IS NULL OR {condition}"
    required = " NOT NULL" if field.required else ""
    return f"{column} {sql_type}{required} CHECK ({condition})"


def create_table(table: SectionTable) -> str:
    """Write the CREATE TABLE statement of one observation table, with its comments."""
    lines = [(f"{name} {LEADING[name][0]}", LEADING[name][1]) for name in leading_columns(table)]
    keys = [f"PRIMARY KEY ({', '.join(table.key)})"]
    if table.of_bell and table.section is not Identity:
        # What is observed on a bell needs the entry of that bell in that survey.
        lines[:2] = [(f"{name} TEXT NOT NULL", LEADING[name][1]) for name in ("survey_id", "bell_id")]
        keys.append("FOREIGN KEY (survey_id, bell_id) REFERENCES bell_seen (survey_id, bell_id)")
    lines += [(_field_column(field), field.help) for field in value_fields(table.section)]
    lines.append((f"as_written {AS_WRITTEN[0]}", AS_WRITTEN[1]))
    columns = [f"    {sql},  -- {text}" for sql, text in lines]
    columns.append(",\n".join(f"    {key}" for key in keys))
    return "\n".join(
        [
            f"{HEADER}\n-- {section_title(table.section)}.",
            f"CREATE TABLE {table.name} (",
            *columns,
            ") STRICT, WITHOUT ROWID;\n",
        ]
    )


def create_current_fact() -> str:
    """Write the view ``current_fact``: of every fact the newest value, and what contradicts it."""
    arms = []
    for table in FACT_TABLES:
        for fact in facts_of(table):
            name = table.name
            told = " OR ".join(f"{name}.{column} IS NOT NULL" for column in fact.leaders)
            joined = "" if name == "bell_seen" else f" JOIN {name} USING (survey_id, bell_id)"
            arms.append(
                f"    SELECT bell_seen.bell_id, '{name}', '{fact.field}', {name}.{fact.field},"
                f" survey.id, as_of, max(as_of || ' ' || survey.date || ' ' || survey.id)\n"
                f"    FROM bell_seen JOIN survey ON survey.id = bell_seen.survey_id{joined}\n"
                f"    WHERE {told} GROUP BY bell_seen.bell_id"
            )
    return "\n".join(
        [
            f"{HEADER}\n-- Of every fact of a bell the newest value, with the survey it comes from.",
            "CREATE VIEW current_fact (",
            "    bell_id, section, field, value, survey_id, survey_date,",
            "    disagrees, other_value, other_survey_id",
            ") AS",
            "WITH told (bell_id, section, field, value, survey_id, survey_date, newest) AS (",
            "\n    UNION ALL\n".join(arms),
            ")",
            "SELECT",
            "    told.bell_id, told.section, told.field, told.value, told.survey_id, told.survey_date,",
            "    disagreement.bell_id IS NOT NULL, disagreement.other_value, disagreement.other_survey_id",
            "FROM told",
            "LEFT JOIN disagreement ON disagreement.bell_id = told.bell_id",
            "    AND disagreement.section = told.section AND disagreement.field = told.field",
            "WHERE told.value IS NOT NULL;\n",
        ]
    )


def written_files() -> dict[str, str]:
    """Give the content of every file that is written from the model, by its path below ``schema``."""
    files = {f"tables/{table.name}.sql": create_table(table) for table in SECTION_TABLES}
    files["views/current_fact.sql"] = create_current_fact()
    return files


if __name__ == "__main__":
    schema = Path(__file__).resolve().parents[2] / "schema"
    for name, text in written_files().items():
        (schema / name).write_text(text, encoding="utf-8")
