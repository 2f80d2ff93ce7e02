"""Analyse the recordings that forms name, at the load; a recording never keeps a form from being loaded."""

import hashlib
import os
import sqlite3
from collections.abc import Iterator, Mapping
from pathlib import Path

from registry.intake.files import located
from registry.intake.writing import derivation
from registry.model.derived import Derived
from registry.problems import InputError, Level, Problem
from registry.store.recordings import Analysed, Findings, NamedRecording, named_recordings, put_recording


def stale_recordings(conn: sqlite3.Connection, database: Path) -> Iterator[tuple[NamedRecording, Analysed]]:
    """Give the recordings that lie beside their forms and whose analysis is missing or out of date.

    A file that is no longer there keeps the analysis it had. A file whose length and time of change are as
    they were is not read.

    Yields
    ------
    tuple of NamedRecording and Analysed
        The recording, and what a new analysis of it rests on.
    """
    rules = derivation()
    for named in named_recordings(conn):
        try:
            path = _path(named, database)
            told = path.stat() if path.is_file() else None
            if told is None:
                continue
            before = named.analysed
            now = Analysed(
                "", told.st_size, told.st_mtime_ns, rules, named.mouth_diameter_mm, named.temperature_c
            )
            if before is not None and before._replace(sha256="") == now:
                continue
            with path.open("rb") as file:
                now = now._replace(sha256=hashlib.file_digest(file, "sha256").hexdigest())
        except (OSError, ValueError):
            continue  # the check of the form names what is not there or may not be read
        same = before is not None and now == before._replace(
            size_bytes=now.size_bytes, modified_ns=now.modified_ns
        )
        if not same:
            yield named, now


def analyse_recordings(conn: sqlite3.Connection, database: Path, shown: Mapping[str, str]) -> list[Problem]:
    """Analyse what is missing or out of date, and say what cannot be judged.

    Parameters
    ----------
    conn : sqlite3.Connection
        The private copy of the registry, its current view up to date.
    database : Path
        The registry; recordings lie beside the forms, which lie as it has them.
    shown : mapping
        What the form of a path is called for people.

    Returns
    -------
    list of Problem
        Warnings, at the line of the form that names the recording.
    """
    problems = []
    for named, analysed in list(stale_recordings(conn, database)):
        findings, values, problem = _analysis(named, analysed, _path(named, database))
        put_recording(conn, named, analysed, findings, values)
        if problem is not None:
            problems.append(
                problem._replace(
                    file=shown.get(named.source_path, named.source_path),
                    line=named.line,
                    column=named.column,
                    path=f"attachments[{named.ordinal}].file",
                    read=f"{named.file}: {problem.read}",
                )
            )
    return problems


def _path(named: NamedRecording, database: Path) -> Path:
    return Path(os.path.normpath(located(named.source_path, database).parent / named.file))


def _analysis(
    named: NamedRecording, analysed: Analysed, path: Path
) -> tuple[Findings, list[Derived], Problem | None]:
    """Read and analyse one recording; what cannot be judged comes back as a problem."""
    # Numbers and sound are slow to load, and most loads bring no recording.
    from registry.derive.sound import analyse  # noqa: PLC0415
    from registry.derive.sound.rows import derived_of  # noqa: PLC0415
    from registry.recordings import read_recording  # noqa: PLC0415

    try:
        recording = read_recording(path, named.file)
    except InputError as error:
        problem = error.problems[0]
        if (
            problem.level is Level.ERROR
        ):  # what keeps a form out, such as an empty file, is said of a recording
            problem = problem._replace(code="recording-unreadable")
        return Findings(refused=problem.code, refused_because=problem.read), [], problem
    try:
        found = analyse(
            recording.samples,
            recording.rate_hz,
            mouth_diameter_mm=analysed.mouth_diameter_mm,
            temperature_c=analysed.temperature_c,
        )
        values = list(derived_of(found, {"file": named.file, "sha256": recording.sha256}))
    except (ValueError, ArithmeticError, LookupError, MemoryError) as error:
        # Our own mistake, but a form must not wait for it to be mended.
        problem = Problem(
            named.file,
            0,
            0,
            "recording-unreadable",
            "",
            f"the analysis failed ({type(error).__name__})",
            "a recording that can be analysed",
            "tell the authors of this program, with the recording; the form is loaded without it",
        )
        return Findings(refused=problem.code, refused_because=problem.read), [], problem
    findings = Findings(
        recording.rate_hz,
        recording.duration_s,
        len(found.strokes),
        found.followed_s,
        found.noise_db,
        found.third.kind or None if found.third else None,
        signs=[{"code": sign.code, "text": sign.text, "source": sign.source} for sign in found.signs],
    )
    if not found.refusals:
        return findings, values, None
    first = found.refusals[0]
    problem = Problem(named.file, 0, 0, first.code, "", first.read, first.expected, first.remedy)
    return findings._replace(refused=first.code, refused_because=first.read), values, problem
