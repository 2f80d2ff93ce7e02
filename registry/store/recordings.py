"""Recordings that forms name: which are to be analysed, and what the analysis found."""

import json
import sqlite3
from collections.abc import Sequence
from typing import Any, NamedTuple

from registry.model.derived import Derived
from registry.store.rows import to_json


class Analysed(NamedTuple):
    """What a stored analysis rests on: the file, the way to compute, and what else went in."""

    sha256: str
    size_bytes: int
    modified_ns: int
    rules: str
    mouth_diameter_mm: float | None
    temperature_c: float | None


class NamedRecording(NamedTuple):
    """A recording of one bell that a form names, and what its stored analysis rests on.

    ``source_path`` is the form; ``line`` and ``column`` are where it names the file. Diameter and temperature
    are what the registry has now.
    """

    survey_id: str
    ordinal: int
    bell_id: str
    file: str
    source_path: str
    line: int
    column: int
    mouth_diameter_mm: float | None
    temperature_c: float | None
    analysed: Analysed | None


class Findings(NamedTuple):
    """What the analysis of a recording found; None where the file could not be read or judged."""

    rate_hz: float | None = None
    duration_s: float | None = None
    strokes: int | None = None
    followed_s: float | None = None
    noise_db: float | None = None
    third: str | None = None
    refused: str | None = None
    refused_because: str | None = None
    signs: Sequence[dict[str, str]] = ()


def named_recordings(conn: sqlite3.Connection) -> list[NamedRecording]:
    """List the recordings that forms name and that are of one bell, in the order of the surveys."""
    sql = """
        SELECT attachment.survey_id, attachment.ordinal, bell.id, attachment.file, survey.source_path,
            attachment.as_written, bell_current.mouth_diameter_mm,
            coalesce(sound.temperature_c, survey.temperature_c),
            recording.sha256, recording.size_bytes, recording.modified_ns, recording.rules,
            recording.mouth_diameter_mm, recording.temperature_c
        FROM attachment
        JOIN survey ON survey.id = attachment.survey_id
        JOIN bell ON bell.id = attachment.bell
        LEFT JOIN bell_current ON bell_current.id = bell.id
        LEFT JOIN sound ON sound.survey_id = survey.id AND sound.bell_id = bell.id
        LEFT JOIN recording
            ON recording.survey_id = attachment.survey_id AND recording.ordinal = attachment.ordinal
        WHERE attachment.kind = 'recording'
        ORDER BY attachment.survey_id, attachment.ordinal
    """
    found = []
    for row in conn.execute(sql):
        survey_id, ordinal, bell_id, file, source_path, written, diameter_mm, temperature_c = row[:8]
        line, column, _ = json.loads(written).get("file", (0, 0, ""))
        analysed = Analysed(*row[8:]) if row[8] is not None else None
        found.append(
            NamedRecording(
                survey_id,
                ordinal,
                bell_id,
                file,
                source_path,
                line,
                column,
                diameter_mm,
                temperature_c,
                analysed,
            )
        )
    return found


def put_recording(
    conn: sqlite3.Connection,
    named: NamedRecording,
    analysed: Analysed,
    findings: Findings,
    values: Sequence[Derived],
) -> None:
    """Keep what the analysis of a recording found, in place of an earlier analysis."""
    key = (named.survey_id, named.ordinal)
    for table in ("recording_value", "recording"):
        conn.execute(f"DELETE FROM {table} WHERE survey_id = ? AND ordinal = ?", key)
    row: tuple[Any, ...] = (
        *key,
        named.bell_id,
        named.file,
        *analysed,
        *findings[:-1],
        to_json(list(findings.signs)),
    )
    conn.execute(f"INSERT INTO recording VALUES ({', '.join('?' * len(row))})", row)
    rows = [
        (
            *key,
            number,
            named.bell_id,
            each.quantity,
            each.value,
            each.unit,
            each.low,
            each.high,
            each.level,
            each.method,
            each.version,
            to_json(each.inputs),
            each.source,
            each.note,
        )
        for number, each in enumerate(values, start=1)
    ]
    conn.executemany(f"INSERT INTO recording_value VALUES ({', '.join('?' * 15)})", rows)
