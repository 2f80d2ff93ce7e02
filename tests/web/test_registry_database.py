"""A registry under a running site: never a mixture of two loads, never too much for one statement."""

import asyncio
import os
import sqlite3
import threading
from pathlib import Path

import pytest

from registry.web.app import make_datasette
from registry.web.registry_database import LIMITS, RegistryDatabase, shown


def opened(path: Path) -> tuple[object, RegistryDatabase]:
    """Make a Datasette for a registry and give it with its database."""
    datasette = make_datasette(path)
    database = shown(datasette)
    assert database is not None
    return datasette, database


def closed(datasette: object) -> None:
    """Close what a Datasette opened."""
    for database in datasette.databases.values():  # type: ignore[attr-defined]
        database.close()
    datasette.executor.shutdown()  # type: ignore[attr-defined]


@pytest.fixture
def versions(tmp_path: Path, form_texts: dict[str, str], loading) -> list[Path]:
    """Make two registries that differ in the name, mass and survey of one bell."""
    made = []
    for number in (1, 2):
        texts = dict(form_texts)
        texts["hill-2024.yaml"] = (
            texts["hill-2024.yaml"]
            .replace("Tom <script>alert('name')</script>", f"Tom of load {number}")
            .replace("mass_kg: 1100", f"mass_kg: 110{number}")
            .replace("purpose: ", f"weather: load {number}\n  purpose: ")
        )
        made.append(loading(texts, tmp_path / f"load-{number}.db"))
    return made


def test_a_replaced_file_is_seen_at_once(tmp_path: Path, versions: list[Path], asking) -> None:
    """After the file was replaced the next page is of the new load, in every thread."""
    path = tmp_path / "registry.db"
    path.write_bytes(versions[0].read_bytes())
    with asking(make_datasette(path)) as get:
        for _ in range(5):
            assert "Tom of load 1" in get("/bell/hill-church-tom").text
        fresh = tmp_path / "fresh.db"
        fresh.write_bytes(versions[1].read_bytes())
        os.replace(fresh, path)  # noqa: PTH105 - what the load does
        for _ in range(8):
            assert "Tom of load 2" in get("/bell/hill-church-tom").text
            assert get("/data/dimensions.json?mass_kg=1102").json()


def test_no_page_mixes_two_loads(tmp_path: Path, versions: list[Path]) -> None:
    """While the file is replaced again and again, every page and file is of one load throughout."""
    path = tmp_path / "registry.db"
    path.write_bytes(versions[0].read_bytes())
    datasette, database = opened(path)

    def look(conn: sqlite3.Connection) -> tuple[str, ...]:
        questions = (
            "SELECT substr(name, -1) FROM bell_current WHERE id = 'hill-church-tom'",
            "SELECT substr(CAST(mass_kg AS INTEGER), -1) FROM dimensions WHERE mass_kg > 1000",
            "SELECT substr(weather, -1) FROM survey WHERE weather IS NOT NULL",
        )
        return tuple(str(conn.execute(question).fetchone()[0]) for question in questions)

    async def readers(count: int) -> list[tuple[str, ...]]:
        return await asyncio.gather(*(database.execute_fn(look) for _ in range(count)))

    stop = threading.Event()

    def replace() -> None:
        turn = 0
        while not stop.is_set():
            turn += 1
            fresh = tmp_path / "fresh.db"
            fresh.write_bytes(versions[turn % 2].read_bytes())
            os.replace(fresh, path)  # noqa: PTH105

    writer = threading.Thread(target=replace)
    writer.start()
    try:
        seen: set[tuple[str, ...]] = set()
        for turn in range(500):
            seen.update(asyncio.run(readers(6)))
            if turn >= 40 and len(seen) > 1:
                break
    finally:
        stop.set()
        writer.join()
        closed(datasette)
    assert seen == {("1", "1", "1"), ("2", "2", "2")}


def test_old_connections_are_closed(tmp_path: Path, versions: list[Path]) -> None:
    """Each thread holds one connection, however often the file was replaced."""
    path = tmp_path / "registry.db"
    datasette = None
    for turn in range(6):
        fresh = tmp_path / "fresh.db"
        fresh.write_bytes(versions[turn % 2].read_bytes())
        os.replace(fresh, path)  # noqa: PTH105
        if datasette is None:
            datasette, database = opened(path)
        asyncio.run(database.execute_fn(lambda conn: conn.execute("SELECT count(*) FROM bell").fetchone()))
    assert len(database._all_file_connections) <= 3
    closed(datasette)


def test_a_missing_or_foreign_file_gives_a_page_that_says_so(
    tmp_path: Path, versions: list[Path], asking
) -> None:
    """The site answers 503 while there is no registry to read, and recovers when there is one again."""
    path = tmp_path / "registry.db"
    path.write_bytes(versions[0].read_bytes())
    with asking(make_datasette(path)) as get:
        assert get("/").status_code == 200
        path.unlink()
        assert get("/").status_code == get("/data/bell.csv").status_code == 503
        path.write_text("something else")
        assert get("/bells").status_code == 503
        conn = sqlite3.connect(tmp_path / "old.db")
        conn.executescript(
            f"PRAGMA application_id = {0x53424F57}; CREATE TABLE registry_meta (key TEXT, value TEXT)"
        )
        conn.close()
        os.replace(tmp_path / "old.db", path)  # noqa: PTH105
        answer = get("/bells")
        assert answer.status_code == 503
        assert "another version" in answer.text
        path.write_bytes(versions[1].read_bytes())
        assert get("/").status_code == 200


@pytest.mark.parametrize("name", ["a registry?.db", "100%25.db", "ü#.db"])
def test_any_file_name_can_be_served(tmp_path: Path, small_registry: Path, asking, name: str) -> None:
    """Signs that mean something in an address mean nothing in the name of the file."""
    path = tmp_path / name
    path.write_bytes(small_registry.read_bytes())
    with asking(make_datasette(path)) as get:
        assert get("/bell/hill-church-tom").status_code == 200


def test_nothing_can_be_written(small_registry: Path) -> None:
    """A connection of the site refuses every way to change or add a file."""
    before = small_registry.read_bytes()
    datasette, database = opened(small_registry)
    for statement in (
        "DELETE FROM bell",
        "CREATE TABLE x (y)",
        "ATTACH DATABASE '/nonexistent/x.db' AS x",
        "VACUUM INTO '/nonexistent/y.db'",
        "PRAGMA user_version = 1",
    ):
        with pytest.raises(sqlite3.Error):
            asyncio.run(database.execute_fn(lambda conn, sql=statement: conn.execute(sql).fetchall()))
    with pytest.raises(sqlite3.OperationalError):
        asyncio.run(database.execute_write("DELETE FROM bell"))
    closed(datasette)
    assert small_registry.read_bytes() == before
    assert not list(small_registry.parent.glob("*-wal")) + list(small_registry.parent.glob("*-journal"))


def test_one_statement_cannot_fill_the_memory_or_run_for_ever(small_registry: Path, monkeypatch) -> None:
    """A giant value is refused, and endless work is interrupted."""
    datasette, database = opened(small_registry)

    def ask(sql: str) -> object:
        return asyncio.run(database.execute_fn(lambda conn: conn.execute(sql).fetchall()))

    for sql in ("SELECT hex(zeroblob(300000000))", "SELECT length(randomblob(100000000))"):
        with pytest.raises((sqlite3.DataError, sqlite3.OperationalError)):
            ask(sql)
    monkeypatch.setattr("registry.web.registry_database.PAGE_TIME_LIMIT_MS", 20)
    endless = "WITH RECURSIVE n (i) AS (SELECT 1 UNION ALL SELECT i + 1 FROM n) SELECT max(i) FROM n"
    with pytest.raises(sqlite3.OperationalError, match="interrupted"):
        ask(endless)
    limits = asyncio.run(database.execute_fn(lambda conn: [conn.getlimit(limit) for limit, _ in LIMITS]))
    assert limits == [value for _, value in LIMITS]
    closed(datasette)
