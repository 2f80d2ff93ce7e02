"""Which files a name means."""

import os
from pathlib import Path

import pytest
from specimens import write

from registry.intake import check
from registry.intake.files import find_files, is_below, located, source_path


def found(*paths: Path, below: Path) -> list[tuple[str, str]]:
    """Give the files found, seen from a folder, with their kind."""
    return [(file.path.relative_to(below).as_posix(), file.kind) for file in find_files(paths).files]


def test_folders_are_gone_through(tmp_path: Path) -> None:
    """Forms and regions of all folders are found in order, hidden files and other kinds left out."""
    for name in ("b.yaml", "a.YML", "c/d.yaml", "c/e.geojson", "f.txt", ".g.yaml", ".h/i.yaml", "j.yaml~"):
        write(tmp_path, name, "")
    assert found(tmp_path, below=tmp_path) == [
        ("a.YML", "form"),
        ("b.yaml", "form"),
        ("c/d.yaml", "form"),
        ("c/e.geojson", "region"),
    ]


def test_each_file_counts_once(tmp_path: Path) -> None:
    """A file that is named and lies in a folder that is named is read once, where it was named first."""
    for name in ("a.yaml", "b.yaml"):
        write(tmp_path, name, "")
    assert found(tmp_path / "b.yaml", tmp_path, tmp_path, below=tmp_path) == [
        ("b.yaml", "form"),
        ("a.yaml", "form"),
    ]
    assert find_files([tmp_path / "a.yaml", tmp_path / "b.yaml", tmp_path]).problems == ()


def test_a_named_file_is_taken_whatever_its_ending(tmp_path: Path) -> None:
    """A file named by itself is a form unless its ending says region, even one that is not there."""
    write(tmp_path, "a.txt", "")
    names = (tmp_path / "a.txt", tmp_path / "b.geojson", tmp_path / "nowhere")
    assert found(*names, below=tmp_path) == [("a.txt", "form"), ("b.geojson", "region"), ("nowhere", "form")]


def test_a_folder_without_forms_is_told(tmp_path: Path) -> None:
    """An empty folder is named with a warning."""
    assert [problem.code for problem in find_files([tmp_path]).problems] == ["no-forms"]


@pytest.mark.skipif(os.geteuid() == 0, reason="the superuser may read every folder")
def test_a_folder_that_may_not_be_read_is_told(tmp_path: Path) -> None:
    """A folder that cannot be opened is an error, and the others are gone through."""
    write(tmp_path, "a.yaml", "")
    closed = tmp_path / "closed"
    closed.mkdir(mode=0)
    try:
        told = find_files([tmp_path])
    finally:
        closed.chmod(0o700)
    assert [problem.code for problem in told.problems] == ["file-unreadable"]
    assert len(told.files) == 1


@pytest.mark.parametrize("name", ["forms/a.yaml", "a.yaml", "forms/deep/é b.yaml"])
def test_paths_are_kept_as_seen_from_the_registry(tmp_path: Path, name: str) -> None:
    """A path is kept relative to the registry's folder, and found again from it."""
    database = tmp_path / "bells.db"
    assert source_path(tmp_path / name, database) == name
    assert located(name, database) == (tmp_path / name).resolve()


def test_a_file_outside_the_folder_of_the_registry_is_found_again(tmp_path: Path) -> None:
    """A form that lies beside the registry's folder is kept with dots, and found again."""
    database = tmp_path / "registry" / "bells.db"
    kept = source_path(tmp_path / "forms" / "a.yaml", database)
    assert kept == "../forms/a.yaml"
    assert located(kept, database) == (tmp_path / "forms" / "a.yaml").resolve()


def test_being_below_a_folder(tmp_path: Path) -> None:
    """A file lies below its folder and all folders above, and not below one whose name begins alike."""
    assert is_below(tmp_path / "forms" / "a.yaml", [tmp_path])
    assert not is_below(tmp_path / "forms-old" / "a.yaml", [tmp_path / "forms"])


def test_pipes_are_refused_and_not_waited_for(tmp_path: Path) -> None:
    """A pipe among the files, whatever it is called, is named as one; nobody waits for what it may bring."""
    for name in ("pipe.yaml", "pipe.geojson"):
        os.mkfifo(tmp_path / name)
    assert [(each.code, each.read) for each in check([tmp_path], jobs=1).problems] == [
        ("file-not-a-form", "a device or pipe")
    ] * 2
