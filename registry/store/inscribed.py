"""Which bells carry which recurrent formulas."""

import sqlite3
from typing import NamedTuple

from registry.store.pages import Row, dict_rows


class FormulaCount(NamedTuple):
    """How many bells carry a formula, and the years their castings begin and end with, where known."""

    bells: int
    earliest_year: int | None
    latest_year: int | None


def read_formula_counts(conn: sqlite3.Connection) -> dict[str, FormulaCount]:
    """Count the bells by the formulas recognised on them."""
    rows = conn.execute(
        "SELECT formula, count(*), min(coalesce(cast_earliest_year, cast_latest_year)),"
        " max(coalesce(cast_latest_year, cast_earliest_year))"
        " FROM (SELECT DISTINCT formula, bell_id FROM inscription_formula) AS carried"
        " JOIN bell_current AS bell ON bell.id = carried.bell_id GROUP BY formula"
    )
    return {row[0]: FormulaCount(*row[1:]) for row in rows}


def read_carriers(conn: sqlite3.Connection, formula_id: str, limit: int, offset: int) -> list[Row]:
    """Read the inscriptions that carry a formula, the oldest bells first, undated ones last.

    Of the surveys that tell one inscription the newest counts in which the formula is recognised.
    """
    return dict_rows(
        conn,
        """
        WITH told AS (
            SELECT found.*, row_number() OVER (
                PARTITION BY found.bell_id, found.number ORDER BY survey.as_of DESC, survey.id DESC
            ) AS place
            FROM inscription_formula AS found JOIN survey ON survey.id = found.survey_id
            WHERE found.formula = ?
        )
        SELECT told.*, inscription.transcription, inscription.language, inscription.script,
            bell.name, bell.tower_id, bell.tower_name, bell.place AS town, bell.cast_date, bell.founder
        FROM told
        JOIN inscription USING (survey_id, bell_id, number)
        JOIN bell_current AS bell ON bell.id = told.bell_id
        WHERE told.place = 1
        ORDER BY coalesce(bell.cast_earliest_year, bell.cast_latest_year) IS NULL,
            coalesce(bell.cast_earliest_year, bell.cast_latest_year), bell.id, told.number
        LIMIT ? OFFSET ?
        """,
        (formula_id, limit, offset),
    )


def count_carriers(conn: sqlite3.Connection, formula_id: str) -> int:
    """Count the inscriptions that `read_carriers` lists."""
    row = conn.execute(
        "SELECT count(*) FROM (SELECT DISTINCT bell_id, number FROM inscription_formula WHERE formula = ?)",
        (formula_id,),
    ).fetchone()
    return int(row[0])
