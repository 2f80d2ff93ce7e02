"""Files as they lie on the disk: what cannot be read is told, and attachments are looked for."""

import hashlib
import os
import pickle
import sys
from datetime import date
from pathlib import Path

import pytest

from registry.forms.check import MOST_PROBLEMS, check_file
from registry.forms.source import LARGEST_BYTES

TODAY = date(2026, 1, 1)
GOOD = """\
form: soundbow survey 1
survey: {id: x, kind: visit, date: 2024-05-14, surveyors: [A], not_inspected: []}
tower: {id: t, name: T, place: P}
"""


def told(path: Path) -> tuple[str, int, int]:
    """Check a file that must have one problem, and give its code and place."""
    checked = check_file(path, path.name, today=TODAY)
    (problem,) = checked.problems
    assert checked.read is None
    assert problem.file == path.name
    return problem.code, problem.line, problem.column


def test_good_file(tmp_path) -> None:
    """What was checked is kept whole, with its SHA-256, and can be handed to another process."""
    path = tmp_path / "good.yaml"
    path.write_bytes(GOOD.encode())
    checked = check_file(path, "surveys/good.yaml", today=TODAY)
    assert checked.problems == ()
    assert checked.file == "surveys/good.yaml"
    assert checked.data == GOOD.encode()
    assert checked.sha256 == hashlib.sha256(GOOD.encode()).hexdigest()
    assert pickle.loads(pickle.dumps(checked)) == checked  # noqa: S301 - our own


def test_missing(tmp_path) -> None:
    """A file that is not there, or below something that is no folder, is missing."""
    (tmp_path / "file").touch()
    assert told(tmp_path / "none.yaml") == ("file-missing", 0, 0)
    assert told(tmp_path / "file" / "none.yaml") == ("file-missing", 0, 0)


def test_folder(tmp_path) -> None:
    """A folder is no form."""
    assert told(tmp_path) == ("file-not-a-form", 0, 0)


def test_empty(tmp_path) -> None:
    """An empty file is told as such."""
    (tmp_path / "empty.yaml").touch()
    assert told(tmp_path / "empty.yaml") == ("file-empty", 0, 0)


def test_too_large(tmp_path) -> None:
    """A file larger than any form is not read into memory."""
    path = tmp_path / "large.yaml"
    with path.open("wb") as stream:
        stream.truncate(LARGEST_BYTES * 1000)
    assert told(path) == ("file-too-large", 0, 0)


@pytest.mark.skipif(sys.platform == "win32", reason="Windows has no pipes in folders")
def test_pipe(tmp_path) -> None:
    """A pipe is refused, not waited for."""
    os.mkfifo(tmp_path / "pipe.yaml")
    assert told(tmp_path / "pipe.yaml") == ("file-not-a-form", 0, 0)


@pytest.mark.skipif(sys.platform == "win32", reason="links need a privilege on Windows")
def test_links(tmp_path) -> None:
    """A link that leads nowhere is missing; one that leads to itself cannot be read."""
    (tmp_path / "dead.yaml").symlink_to("none.yaml")
    (tmp_path / "loop.yaml").symlink_to("loop.yaml")
    assert told(tmp_path / "dead.yaml") == ("file-missing", 0, 0)
    assert told(tmp_path / "loop.yaml") == ("file-unreadable", 0, 0)


def test_impossible_names(tmp_path) -> None:
    """A name that no system allows is told, not raised."""
    assert told(tmp_path / "a\x00b.yaml")[0] in ("file-unreadable", "file-missing")
    assert told(tmp_path / ("x" * 5000))[0] in ("file-unreadable", "file-missing")


@pytest.mark.parametrize("error", [PermissionError(13, "no"), OSError(5, "disk"), OSError("no number")])
def test_unreadable(tmp_path, monkeypatch, error) -> None:
    """A file that may not be read, or lies on a bad disk, is told as such."""
    path = tmp_path / "x.yaml"
    path.write_text(GOOD, encoding="utf-8")

    def refuse(*args: object, **kwargs: object) -> None:
        raise error

    monkeypatch.setattr(Path, "open", refuse)
    assert told(path) == ("file-unreadable", 0, 0)


def test_attachments(tmp_path) -> None:
    """A photo that is not where the form says is told; a folder of this name is no photo."""
    form = (
        GOOD
        + "attachments: [{file: a/b.jpg, kind: photo}, {file: c.jpg, kind: photo}, {file: d, kind: scan}]\n"
    )
    path = tmp_path / "form.yaml"
    path.write_text(form, encoding="utf-8")
    (tmp_path / "a").mkdir()
    (tmp_path / "a" / "b.jpg").touch()
    (tmp_path / "d").mkdir()
    checked = check_file(path, "form.yaml", today=TODAY)
    assert [(one.code, one.line, one.column, one.path) for one in checked.problems] == [
        ("attachment-missing", 4, 52, "attachments[2].file"),
        ("attachment-missing", 4, 80, "attachments[3].file"),
    ]
    assert checked.read is not None


def test_very_many_problems(check, codes) -> None:
    """Of very many problems the first are named, with their number; an error among the rest still counts."""
    checked = check("bells:\n" + "  - {id: a}\n" * (MOST_PROBLEMS + 100))
    assert len(checked.problems) == MOST_PROBLEMS + 1
    assert codes(checked)[-1] == "too-many-problems"
    assert checked.read is None
    notes = "".join(f"  - {{id: b{number}}}\n" for number in range(MOST_PROBLEMS))
    checked = check("bells:\n" + notes + "  - {id: B}\n")
    assert set(codes(checked)) == {"nothing-measured", "too-many-problems"}
    assert checked.read is None
