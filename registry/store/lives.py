"""The lives of bells: their surveys and events read back, and the stays that follow, kept as a table."""

import sqlite3
from collections import defaultdict
from collections.abc import Sequence

from registry.derive.life.stays import stays_of
from registry.model.life import Happening, Sighting
from registry.store.rows import Row, to_json

BATCH = 2000


def read_sightings(conn: sqlite3.Connection, bell_ids: Sequence[str]) -> dict[str, list[Sighting]]:
    """Give for each bell the surveys that have it, the oldest state of things first."""
    wanted = (to_json(list(bell_ids)),)
    events: defaultdict[tuple[str, str], list[Happening]] = defaultdict(list)
    for bell_id, survey_id, *told in conn.execute(
        """
        SELECT event.bell_id, event.survey_id, event.kind, event.date, tower, other_bell, certainty
        FROM json_each(?) AS batch
        JOIN bell_seen ON bell_seen.bell_id = batch.value
        JOIN event ON event.survey_id = bell_seen.survey_id AND event.bell_id = bell_seen.bell_id
        ORDER BY event.bell_id, event.survey_id, event.ordinal
        """,
        wanted,
    ):
        events[bell_id, survey_id].append(Happening(*(value or "" for value in told)))
    found: dict[str, list[Sighting]] = {}
    for bell_id, survey_id, as_of, date, tower_id, status, cast_date in conn.execute(
        """
        SELECT bell_id, survey_id, as_of, survey.date, tower_id, status, cast_date
        FROM json_each(?) AS batch
        JOIN bell_seen ON bell_seen.bell_id = batch.value
        JOIN survey ON survey.id = bell_seen.survey_id
        ORDER BY as_of, survey.date, survey.id
        """,
        wanted,
    ):
        happenings = tuple(events[bell_id, survey_id])
        found.setdefault(bell_id, []).append(
            Sighting(survey_id, as_of, date, tower_id, status or "", cast_date or "", happenings)
        )
    return found


def refresh_stays(conn: sqlite3.Connection) -> None:
    """Compute the stays of every touched bell anew."""
    conn.execute("DELETE FROM bell_stay WHERE bell_id IN (SELECT id FROM touched_bell)")
    touched = [row[0] for row in conn.execute("SELECT id FROM touched_bell ORDER BY id")]
    for start in range(0, len(touched), BATCH):
        rows: list[Row] = []
        for bell_id, sightings in read_sightings(conn, touched[start : start + BATCH]).items():
            for ordinal, stay in enumerate(stays_of(sightings), start=1):
                rows.append(
                    (
                        bell_id,
                        ordinal,
                        stay.state,
                        stay.tower_id or None,
                        stay.from_earliest,
                        stay.from_latest,
                        stay.until_earliest,
                        stay.until_latest,
                        stay.survey_id,
                        int(stay.presumed),
                    )
                )
        conn.executemany(f"INSERT INTO bell_stay VALUES ({', '.join('?' * 10)})", rows)
