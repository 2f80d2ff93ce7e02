"""What the pages read on bells that are gone, or were gone and came back."""

import sqlite3

from registry.store.pages import Row, dict_rows

FATES = ("stolen", "lost", "requisitioned", "destroyed")
"""Words of ``bell_status`` for bells that are missed, those that may yet be found first."""

CAME_BACK = ("returned", "found")

_BELLS = """
    SELECT bell_current.id, bell_current.name, bell_current.tower_id, tower_name, place, bell_current.status,
        material, founder, cast_date, cast_text, mouth_diameter_mm, mass_kg, note_name, wartime_class,
        (SELECT wartime_class_source FROM bell_seen JOIN survey ON survey.id = survey_id
            WHERE bell_id = bell_current.id AND wartime_class_source IS NOT NULL
            ORDER BY survey.as_of DESC, survey.date DESC, survey.id DESC LIMIT 1) AS wartime_class_source
    FROM bell_current
"""


def read_gone(conn: sqlite3.Connection) -> list[Row]:
    """List the bells that are stolen, lost, requisitioned or destroyed, by place."""
    fates = ", ".join(f"'{fate}'" for fate in FATES)
    order = "ORDER BY place COLLATE NOCASE, tower_id, bell_current.id"
    return dict_rows(conn, f"{_BELLS} WHERE bell_current.status IN ({fates}) {order}")


def read_come_back(conn: sqlite3.Connection) -> list[Row]:
    """List the bells that are there, and of which some survey tells that they returned or were found."""
    words = ", ".join(f"'{kind}'" for kind in CAME_BACK)
    gone = ", ".join(f"'{fate}'" for fate in (*FATES, "recast"))
    sql = f"""
        {_BELLS}
        WHERE bell_current.id IN (SELECT bell_id FROM event WHERE kind IN ({words}))
            AND (bell_current.status IS NULL OR bell_current.status NOT IN ({gone}))
        ORDER BY place COLLATE NOCASE, tower_id, bell_current.id
    """
    return dict_rows(conn, sql)


def read_last_places(conn: sqlite3.Connection) -> dict[str, Row]:
    """Give for each bell the last tower it was in before it went, and between which days that ended."""
    sql = """
        SELECT bell_id, bell_stay.tower_id, tower_current.name AS tower_name, tower_current.place,
            until_earliest, until_latest, max(ordinal) AS ordinal
        FROM bell_stay LEFT JOIN tower_current ON tower_current.id = bell_stay.tower_id
        WHERE state = 'there' AND until_latest IS NOT NULL GROUP BY bell_id
    """
    return {row["bell_id"]: row for row in dict_rows(conn, sql)}


def read_inscriptions(conn: sqlite3.Connection) -> dict[str, list[str]]:
    """Give the newest transcriptions of the bells that are gone, by bell."""
    fates = ", ".join(f"'{fate}'" for fate in FATES)
    sql = f"""
        SELECT inscription.bell_id, transcription,
            max(as_of || ' ' || survey.date || ' ' || survey.id) AS newest
        FROM bell_current JOIN bell_seen ON bell_seen.bell_id = bell_current.id
        JOIN inscription ON inscription.survey_id = bell_seen.survey_id
            AND inscription.bell_id = bell_seen.bell_id
        JOIN survey ON survey.id = inscription.survey_id
        WHERE bell_current.status IN ({fates}) AND transcription IS NOT NULL
        GROUP BY inscription.bell_id, inscription.number ORDER BY inscription.bell_id, inscription.number
    """
    found: dict[str, list[str]] = {}
    for bell_id, text, _ in conn.execute(sql):
        found.setdefault(bell_id, []).append(text)
    return found


def read_documents(conn: sqlite3.Connection) -> dict[str, list[tuple[str, str]]]:
    """Give the surveys that tell of the bells that are gone, the newest first: id and a title."""
    fates = ", ".join(f"'{fate}'" for fate in FATES)
    sql = f"""
        SELECT bell_seen.bell_id, survey.id, coalesce(document.title, 'visit of ' || survey.date)
        FROM bell_current JOIN bell_seen ON bell_seen.bell_id = bell_current.id
        JOIN survey ON survey.id = bell_seen.survey_id
        LEFT JOIN document ON document.survey_id = survey.id
        WHERE bell_current.status IN ({fates})
        ORDER BY bell_seen.bell_id, survey.as_of DESC, survey.id
    """
    found: dict[str, list[tuple[str, str]]] = {}
    for bell_id, survey_id, title in conn.execute(sql):
        found.setdefault(bell_id, []).append((survey_id, title))
    return found
