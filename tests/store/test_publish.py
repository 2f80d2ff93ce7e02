"""Publishing: one writer, one step, and the disk's refusals told as such."""

import os
import sqlite3
import subprocess
import sys
from contextlib import closing
from pathlib import Path

import pytest
from serving import CHECKOUT

from registry.problems import InputError
from registry.store.database import APPLICATION_ID, fingerprint, is_registry, open_registry, schema_of
from registry.store.publish import BrokenRegistryError, draft, draft_path, lock_path, writing


def publish(path: Path, statement: str = "INSERT INTO tower VALUES ('oster')") -> None:
    """Make a registry, or change one."""
    with writing(path) as held, draft(held) as conn:
        conn.execute(statement)


def towers(path: Path) -> list[str]:
    """List the towers of a registry."""
    with closing(open_registry(path)) as conn:
        return [row[0] for row in conn.execute("SELECT id FROM tower ORDER BY id")]


def code_of(error: pytest.ExceptionInfo[InputError]) -> list[str]:
    """Give the codes that an error carries."""
    return [problem.code for problem in error.value.problems]


def test_a_registry_says_what_it_is(tmp_path: Path) -> None:
    """A new registry carries our application id and its schema's fingerprint, and versions that follow it."""
    path = tmp_path / "bells.db"
    publish(path)
    assert is_registry(path)
    with closing(open_registry(path)) as conn:
        pragmas = [
            conn.execute(f"PRAGMA {name}").fetchone()[0]
            for name in ("application_id", "user_version", "schema_version", "journal_mode")
        ]
        assert schema_of(conn) == fingerprint()
    number = int(fingerprint()[:7], 16)
    assert pragmas == [APPLICATION_ID, number, number, "delete"]


def test_reading_cannot_write(tmp_path: Path) -> None:
    """A registry opened to read from refuses to be written, and gets no files beside it."""
    path = tmp_path / "bells.db"
    publish(path)
    with closing(open_registry(path)) as conn, pytest.raises(sqlite3.OperationalError, match="readonly"):
        conn.execute("DELETE FROM tower")
    assert [each.name for each in tmp_path.iterdir()] == ["bells.db"]


def test_readers_keep_what_they_opened(tmp_path: Path) -> None:
    """A reader sees the registry it opened until it opens the new one."""
    path = tmp_path / "bells.db"
    publish(path)
    with closing(open_registry(path)) as conn:
        publish(path, "INSERT INTO tower VALUES ('wester')")
        assert conn.execute("SELECT count(*) FROM tower").fetchone() == (1,)
    assert towers(path) == ["oster", "wester"]


def test_a_failure_publishes_nothing(tmp_path: Path) -> None:
    """An error inside the block leaves the registry, and no litter."""
    path = tmp_path / "bells.db"
    publish(path)
    before = path.read_bytes()
    with pytest.raises(sqlite3.IntegrityError):
        publish(path, "INSERT INTO tower VALUES ('wester'), ('No Id')")
    assert path.read_bytes() == before
    assert [each.name for each in tmp_path.iterdir()] == ["bells.db"]


def test_what_a_crash_left_does_no_harm(tmp_path: Path) -> None:
    """A private copy and a lock file that a killed process left behind do not trouble the next run."""
    path = tmp_path / "bells.db"
    draft_path(path).write_bytes(b"half a registry")
    lock_path(path).touch()
    publish(path)
    assert towers(path) == ["oster"]
    assert [each.name for each in tmp_path.iterdir()] == ["bells.db"]


def test_broken_references_are_not_published(tmp_path: Path) -> None:
    """Rows that refer to nothing stop the run: that is a fault of the program."""
    path = tmp_path / "bells.db"
    with pytest.raises(BrokenRegistryError, match="refer to nothing"):
        publish(path, "INSERT INTO cast_span VALUES ('no-such-bell', 1, 1500, 1600)")
    assert list(tmp_path.iterdir()) == []


def test_one_writer_at_a_time(tmp_path: Path) -> None:
    """While one load holds the registry another one is told that it is busy, and nothing happens."""
    path = tmp_path / "bells.db"
    publish(path)
    with writing(path):
        with pytest.raises(InputError) as busy, writing(path):
            pass
        assert code_of(busy) == ["registry-busy"]
        assert lock_path(path).exists()
    publish(path, "INSERT INTO tower VALUES ('wester')")
    assert towers(path) == ["oster", "wester"]


HOLD = """
import sys, time
from pathlib import Path
from registry.store.publish import writing
with writing(Path(sys.argv[1])):
    print("held", flush=True)
    time.sleep(600)
"""


def test_the_lock_of_a_killed_process_is_void(tmp_path: Path) -> None:
    """The lock ends with the process that holds it, however it ends."""
    path = tmp_path / "bells.db"
    command = [sys.executable, "-c", HOLD, str(path)]
    with subprocess.Popen(command, stdout=subprocess.PIPE, cwd=CHECKOUT) as other:
        try:
            assert other.stdout is not None
            assert other.stdout.readline() == b"held\n"
            with pytest.raises(InputError), writing(path):
                pass
        finally:
            other.kill()
    publish(path)
    assert towers(path) == ["oster"]


@pytest.mark.parametrize("content", [b"", b"form: soundbow survey 1\n", b"SQLite format 3\0" + bytes(100)])
def test_other_files_are_left_alone(tmp_path: Path, content: bytes) -> None:
    """A file that is no registry of ours is neither read nor written, be it a database or not."""
    path = tmp_path / "bells.db"
    path.write_bytes(content)
    for attempt in (lambda: publish(path), lambda: open_registry(path)):
        with pytest.raises(InputError) as refused:
            attempt()
        assert code_of(refused) == ["not-a-registry"]
    assert path.read_bytes() == content


def test_a_damaged_registry_is_told(tmp_path: Path) -> None:
    """A registry that was cut off, as by a broken copy, is refused and left as it is."""
    path = tmp_path / "bells.db"
    publish(path)
    path.write_bytes(path.read_bytes()[:3000])
    with pytest.raises(InputError) as refused:
        open_registry(path)
    assert code_of(refused) == ["not-a-registry"]
    assert "damaged" in refused.value.problems[0].read


def test_a_folder_is_no_registry(tmp_path: Path) -> None:
    """A folder in the place of the registry is refused."""
    with pytest.raises(InputError) as refused:
        publish(tmp_path)
    assert code_of(refused) == ["not-a-registry"]


def test_a_missing_folder_is_told(tmp_path: Path) -> None:
    """A registry cannot be made in a folder that is not there."""
    with pytest.raises(InputError) as refused:
        publish(tmp_path / "nowhere" / "bells.db")
    assert code_of(refused) == ["registry-unwritable"]


@pytest.mark.skipif(os.geteuid() == 0, reason="the superuser may write everywhere")
def test_a_folder_that_may_not_be_written_is_told(tmp_path: Path) -> None:
    """A registry in a folder without permission to write is told as such."""
    tmp_path.chmod(0o500)
    try:
        with pytest.raises(InputError) as refused:
            publish(tmp_path / "bells.db")
    finally:
        tmp_path.chmod(0o700)
    assert code_of(refused) == ["registry-unwritable"]


def test_a_full_disk_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """An error of the disk on the way to the new name is told as such, and the old registry stays."""
    path = tmp_path / "bells.db"
    publish(path)

    def full(_descriptor: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("registry.store.publish.os.fsync", full)
    with pytest.raises(InputError) as refused:
        publish(path, "INSERT INTO tower VALUES ('wester')")
    assert code_of(refused) == ["registry-unwritable"]
    assert towers(path) == ["oster"]


def test_links_and_permissions_stay(tmp_path: Path) -> None:
    """A registry reached through a link is replaced where it lies, and keeps its permissions."""
    path, link = tmp_path / "bells.db", tmp_path / "link.db"
    publish(path)
    path.chmod(0o640)
    link.symlink_to(path)
    publish(link, "INSERT INTO tower VALUES ('wester')")
    assert link.is_symlink()
    assert path.stat().st_mode & 0o777 == 0o640
    assert towers(path) == ["oster", "wester"]
