"""What is to be done across a registry, and when to look again: rows for tables, CSV and calendars."""

import sqlite3
from collections.abc import Iterable, Iterator, Sequence
from datetime import UTC, date, datetime

from registry.derive.condition.actions import actions_of
from registry.derive.condition.grading import grade_bell
from registry.derive.condition.growth import growths_of
from registry.derive.condition.inspection import Inspection, next_inspections
from registry.derive.condition.seen import GONE, History, identity_told
from registry.intake.surveys import KeptSurveys
from registry.report.bell_outlook import INSPECTIONS
from registry.report.calendar import Entry, write_calendar
from registry.store import pages
from registry.store.pages import Row

CALENDAR = "Inspections of bells"


def _histories(conn: sqlite3.Connection, tower_ids: Sequence[str]) -> Iterator[tuple[Row, Row, History]]:
    """Give every bell that is in its place: its tower, its current row, and what all surveys tell of it."""
    kept = KeptSurveys(conn)
    for tower in pages.read_towers(conn):
        if tower_ids and tower["id"] not in tower_ids:
            continue
        bells = {bell["id"]: bell for bell in pages.read_bells_of_tower(conn, tower["id"])}
        for bell_id, history in kept.histories(bells).items():
            if history and identity_told(history, "status") not in GONE:
                yield tower, bells[bell_id], history


def work_rows(conn: sqlite3.Connection, *, on: date, tower_ids: tuple[str, ...] = ()) -> list[Row]:
    """List what is to be done, the most urgent first.

    Parameters
    ----------
    conn : Connection
        The registry.
    on : date
        The day of asking; nothing depends on it yet but the signature of all lists.
    tower_ids : tuple of str
        Only these towers; all unless given.

    Returns
    -------
    list of dict
        ``urgency`` and ``recommendation`` 0 to 3, tower, place, bell (None for what belongs to the tower),
        component, what to do, what was found, the rule, the survey that found it and its day, the source.
    """
    del on
    towers: dict[str, Row] = {}
    bells: dict[str, Row] = {}
    graded = []
    for tower, bell, history in _histories(conn, tower_ids):
        towers[tower["id"]] = tower
        bells[bell["id"]] = bell
        graded.append((tower["id"], grade_bell(history)))
    return [
        {
            "urgency": action.urgency,
            "recommendation": action.recommendation,
            "tower_id": action.tower_id,
            "tower_name": towers[action.tower_id]["name"],
            "place": towers[action.tower_id]["place"],
            "region": towers[action.tower_id]["region"],
            "bell_id": action.bell_id,
            "bell_name": bells[action.bell_id]["name"] if action.bell_id else None,
            "component": action.component,
            "do": action.do,
            "found": action.what,
            "rule": action.rule,
            "survey_id": action.survey_id,
            "survey_date": action.day.isoformat() if action.day else None,
            "source": action.source,
        }
        for action in actions_of(graded)
    ]


def inspection_rows(conn: sqlite3.Connection, *, on: date, tower_ids: tuple[str, ...] = ()) -> list[Row]:
    """List the inspections that come next, the first one first.

    Parameters
    ----------
    conn, tower_ids
        As for `work_rows`.
    on : date
        The day of asking: a bell that nobody ever looked at is due then.
    """
    rows = [
        _inspection_row(each, tower, bell)
        for tower, bell, history in _histories(conn, tower_ids)
        for each in next_inspections(history, grade_bell(history), growths_of(history), on)
    ]
    return sorted(rows, key=lambda row: (row["due"], row["tower_id"], row["bell_id"], row["kind"]))


def _inspection_row(inspection: Inspection, tower: Row, bell: Row) -> Row:
    return {
        "due": inspection.due.isoformat(),
        "kind": inspection.kind,
        "tower_id": tower["id"],
        "tower_name": tower["name"],
        "place": tower["place"],
        "region": tower["region"],
        "bell_id": bell["id"],
        "bell_name": bell["name"],
        "why": inspection.why,
        "source": inspection.source,
    }


def inspection_calendar(rows: Iterable[Row], *, on: date) -> str:
    """Write inspections as an iCalendar file (RFC 5545): one whole day each.

    Parameters
    ----------
    rows : iterable of dict
        From `inspection_rows`.
    on : date
        The day the list was made; with the same rows and day the file is the same.
    """
    entries = [
        Entry(
            f"{row['kind']} {row['bell_id']}",
            date.fromisoformat(row["due"]),
            f"{INSPECTIONS[row['kind']]}: {row['bell_name'] or row['bell_id']}, {row['tower_name']}",
            f"{row['why']}\n{row['source']}\nNo structural or safety certificate.",
            f"{row['tower_name']}, {row['place']}",
            categories=(row["kind"],),
        )
        for row in rows
    ]
    stamp = datetime(on.year, on.month, on.day, tzinfo=UTC)
    return write_calendar(entries, name=CALENDAR, stamp=stamp)
