"""Recordings named in forms are analysed at the load, traceably, once, and never at the cost of the form."""

import hashlib
import os
from datetime import date
from pathlib import Path

import pytest
from recorded_bells import PARTIALS, ring, silence
from specimens import bell, rows, visit, write

from registry.intake import LoadReport, load

ATTACHED = "attachments:\n  - {file: sound/great.wav, kind: recording, bell: oster-gate-great}\n"
TEMPERATURE = "identity: {status: hanging}\nsound: {temperature_c: 12}\n"


def run(folder: Path, database: Path) -> LoadReport:
    """Load a folder in this process, on a fixed day."""
    return load([folder], database, jobs=1, today=date(2026, 1, 1))


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """Give a folder with one form that names a recording, which is not there yet."""
    write(tmp_path / "forms", "oster-2020.yaml", visit("oster-2020", extra=ATTACHED))
    return tmp_path / "forms"


@pytest.fixture
def database(tmp_path: Path) -> Path:
    """Give the name of a registry that is not there yet."""
    return tmp_path / "bells.db"


def hums(database: Path) -> list[float]:
    """Give the hum of each analysed recording [Hz]."""
    return [row[0] for row in rows(database, "SELECT value FROM recording_value WHERE quantity = 'hum_hz'")]


def test_a_recording_gives_its_partials_with_their_origin(folder: Path, database: Path) -> None:
    """Every partial the sound was made of stands in the registry within its interval, with the SHA-256."""
    sound = ring(folder / "sound" / "great.wav")
    report = run(folder, database)
    assert report.problems == ()
    digest = hashlib.sha256(sound.read_bytes()).hexdigest()
    found = {
        row[0]: row[1:]
        for row in rows(
            database,
            "SELECT quantity, value, low, high, method, version, json_extract(inputs, '$.sha256')"
            " FROM recording_value",
        )
    }
    for name, ratio, level_db, t60_s in PARTIALS:
        word = name.replace("-", "_")
        value, low, high, method, version, sha256 = found[f"{word}_hz"]
        assert value == pytest.approx(ratio * 800.0, rel=1e-4)
        assert low < value < high
        assert (method, sha256) == ("recording", digest)
        assert version >= 1
        assert found[f"{word}_t60_s"][0] == pytest.approx(t60_s, rel=0.05)
        assert found[f"{word}_level_db"][0] == pytest.approx(level_db, abs=0.5)
    assert found["strike_hz"][0] == pytest.approx(400.0, rel=1e-4)
    assert found["tenth_hz"][0] is None
    assert rows(database, "SELECT sha256, refused, mouth_diameter_mm FROM recording") == [
        (digest, None, 1180)
    ]
    assert not rows(database, "SELECT 1 FROM partial")


def test_the_same_again_analyses_nothing(folder: Path, database: Path) -> None:
    """A second load leaves the registry as it is, also where the file was only copied anew."""
    sound = ring(folder / "sound" / "great.wav")
    run(folder, database)
    assert not run(folder, database).changed
    os.utime(sound, ns=(1, 1))
    assert not run(folder, database).changed


def test_another_recording_under_the_name_is_analysed(folder: Path, database: Path) -> None:
    """A changed file takes the place of what the earlier one gave, though no form changed."""
    ring(folder / "sound" / "great.wav")
    run(folder, database)
    ring(folder / "sound" / "great.wav", 700.0)
    report = run(folder, database)
    assert report.changed
    assert report.unchanged == 1
    assert hums(database) == pytest.approx([175.0], rel=1e-4)


def test_a_recording_that_comes_later_is_analysed(folder: Path, database: Path) -> None:
    """A form may be loaded before its recording is copied; the next load finds it."""
    assert [problem.code for problem in run(folder, database).problems] == ["attachment-missing"]
    assert hums(database) == []
    ring(folder / "sound" / "great.wav")
    assert run(folder, database).changed
    assert len(hums(database)) == 1


def test_a_recording_that_is_gone_keeps_its_analysis(folder: Path, database: Path) -> None:
    """What was computed stays, with the SHA-256 of the file it was computed from."""
    ring(folder / "sound" / "great.wav")
    run(folder, database)
    (folder / "sound" / "great.wav").unlink()
    assert not run(folder, database).changed
    assert len(hums(database)) == 1


def test_a_new_temperature_is_taken_up(folder: Path, database: Path) -> None:
    """A corrected form brings its recording anew, with the temperature it now tells."""
    ring(folder / "sound" / "great.wav")
    run(folder, database)
    corrected = visit("oster-2020", bell("oster-gate-great", TEMPERATURE), extra=ATTACHED)
    write(folder, "oster-2020.yaml", corrected)
    report = run(folder, database)
    assert not report.has_errors, report.problems
    assert rows(database, "SELECT temperature_c, mouth_diameter_mm FROM recording") == [(12.0, None)]


@pytest.mark.parametrize(
    ("make", "code"),
    [
        (silence, "recording-silent"),
        (lambda path: path.write_text("no sound"), "recording-unreadable"),
        (lambda path: path.write_bytes(b""), "recording-unreadable"),
    ],
)
def test_what_cannot_be_judged_is_told_and_the_form_loads(
    folder: Path, database: Path, make: object, code: str
) -> None:
    """A useless recording is a warning at its line of the form, and is told again only when it changes."""
    (folder / "sound").mkdir()
    make(folder / "sound" / "great.wav")  # type: ignore[operator]
    report = run(folder, database)
    assert report.loaded
    assert rows(database, "SELECT id FROM survey") == [("oster-2020",)]
    (problem,) = report.problems
    assert problem.code == code
    assert problem.level == "warning"
    text = (folder / "oster-2020.yaml").read_text().splitlines()
    assert text[problem.line - 1][problem.column - 1 :].startswith("sound/great.wav")
    assert problem.path == "attachments[1].file"
    assert rows(database, "SELECT refused FROM recording") == [(code,)]
    assert run(folder, database).problems == ()


def test_a_survey_that_goes_takes_its_recordings_along(folder: Path, database: Path) -> None:
    """A form whose recording is no longer named leaves nothing computed from it behind."""
    ring(folder / "sound" / "great.wav")
    run(folder, database)
    write(folder, "oster-2020.yaml", visit("oster-2020"))
    run(folder, database)
    assert rows(database, "SELECT 1 FROM recording") == []
    assert rows(database, "SELECT 1 FROM recording_value") == []
