"""Checking without loading: all problems of all files, alone, together, and against a registry."""

from datetime import date
from pathlib import Path

import pytest
from specimens import visit, write

from registry.intake import CheckReport, check, load
from registry.problems import InputError

TODAY = date(2026, 1, 1)


def codes(report: CheckReport) -> list[str]:
    """Give the codes of all problems."""
    return [problem.code for problem in report.problems]


def test_good_forms_have_no_problem(tmp_path: Path) -> None:
    """Two good forms give a report of two files without problems."""
    write(tmp_path, "a.yaml", visit("a-2020", tower="a"))
    write(tmp_path, "b.yaml", visit("b-2020", tower="b"))
    assert check([tmp_path], jobs=1, today=TODAY) == CheckReport(2, ())


def test_everything_is_told_in_one_pass(tmp_path: Path) -> None:
    """Problems of all files come together, sorted by file and line."""
    write(tmp_path, "b.yaml", visit("b-2020", tower="B").replace("1180", "11800"))
    write(tmp_path, "a.yaml", "")
    write(tmp_path, "c.geojson", "{}")
    report = check([tmp_path, tmp_path / "nowhere.yaml"], jobs=1, today=TODAY)
    told = [(Path(problem.file).name, problem.code) for problem in report.problems]
    assert told == [
        ("a.yaml", "file-empty"),
        ("b.yaml", "bad-identifier"),
        ("b.yaml", "bad-identifier"),
        ("b.yaml", "out-of-range"),
        ("c.geojson", "bad-region"),
        ("nowhere.yaml", "file-missing"),
    ]
    assert report.files == 4
    assert report.has_errors


def test_forms_are_held_against_each_other(tmp_path: Path) -> None:
    """Two forms with one survey id are refused before any load."""
    write(tmp_path, "a.yaml", visit("a-2020", tower="a"))
    write(tmp_path, "b.yaml", visit("a-2020", tower="b"))
    assert codes(check([tmp_path], jobs=1, today=TODAY)) == ["duplicate-survey"]


def test_forms_are_held_against_a_registry(tmp_path: Path) -> None:
    """With a registry a form is checked as a load would, and the registry stays as it is."""
    database = tmp_path / "bells.db"
    old = write(tmp_path, "old.yaml", visit("oster-2010", day="2010-01-01"))
    load([old], database, jobs=1, today=TODAY)
    before = database.read_bytes()
    new = write(tmp_path, "new.yaml", visit("oster-2020").replace("1180", "1250"))
    assert codes(check([new], jobs=1, today=TODAY)) == []
    assert codes(check([new], database, jobs=1, today=TODAY)) == ["diameter-changed"]
    assert codes(check([old], database, jobs=1, today=TODAY)) == []
    assert database.read_bytes() == before


def test_a_registry_must_be_one(tmp_path: Path) -> None:
    """Checking against a file that is no registry is an error of the user."""
    form = write(tmp_path, "a.yaml", visit())
    with pytest.raises(InputError) as missing:
        check([form], tmp_path / "nowhere.db", today=TODAY)
    assert [problem.code for problem in missing.value.problems] == ["file-missing"]
    with pytest.raises(InputError) as other:
        check([form], form, today=TODAY)
    assert [problem.code for problem in other.value.problems] == ["not-a-registry"]


def test_a_registry_of_another_version_is_not_guessed_at(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A registry with other tables is refused as such, and only a load brings it up to date."""
    form, database = write(tmp_path, "a.yaml", visit()), tmp_path / "bells.db"
    with monkeypatch.context() as other:
        other.setattr("registry.store.database.fingerprint", lambda: "0" * 64)
        load([form], database, jobs=1, today=TODAY)
    with pytest.raises(InputError) as refused:
        check([form], database, jobs=1, today=TODAY)
    assert "another version" in refused.value.problems[0].read


def test_progress_is_told(tmp_path: Path) -> None:
    """The caller hears of the forms done and of all there are."""
    write(tmp_path, "a.yaml", visit())
    seen: list[tuple[int, int]] = []
    check([tmp_path], jobs=1, today=TODAY, progress=lambda done, total: seen.append((done, total)))
    assert seen == [(1, 1)]


def test_several_processes_find_the_same(tmp_path: Path) -> None:
    """Two processes report what one reports."""
    for number in range(3):
        write(tmp_path, f"{number}.yaml", visit(f"s-{number}", tower=f"t-{number}").replace("1180", "-1"))
    one, two = (check([tmp_path], jobs=jobs, today=TODAY) for jobs in (1, 2))
    assert one == two
    assert len(one.problems) == 3
