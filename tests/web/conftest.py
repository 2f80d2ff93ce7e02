"""A small registry with everything that could break a page, and a way to ask for pages without a server."""

import asyncio
from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager, contextmanager
from datetime import date
from hashlib import sha256
from pathlib import Path
from typing import Any

import httpx
import pytest

from registry.derive.bell import derive_bell
from registry.derive.condition.listing import judged_in_short
from registry.forms.check import check_bytes
from registry.geography import read_regions
from registry.store import write
from registry.store.publish import draft, writing
from registry.store.refresh import refresh
from registry.store.rows import rows_of
from registry.web.app import make_datasette

FORMS = Path(__file__).resolve().parent / "forms"
LOADED_AT = "2026-03-01T12:00:00Z"

Load = Callable[[dict[str, str], Path], Path]
Get = Callable[..., httpx.Response]


def load_texts(texts: dict[str, str], path: Path) -> Path:
    """Load forms, given as text by file name, into a registry at ``path``."""
    region = (FORMS / "region.geojson").read_text(encoding="utf-8")
    checked = [check_bytes(text.encode(), name, today=date(2026, 3, 1)) for name, text in texts.items()]
    with writing(path) as held, draft(held) as conn:
        write.begin_changes(conn)
        source = write.SourceFile(
            "region.geojson", "region", sha256(region.encode()).hexdigest(), region.encode()
        )
        write.put_source(conn, source, LOADED_AT)
        write.put_regions(conn, source.path, read_regions(region))
        surveys = []
        for each in checked:
            assert each.read is not None, [problem for problem in each.problems if problem.level == "error"]
            write.put_source(conn, write.SourceFile(each.file, "form", each.sha256, each.data), LOADED_AT)
            surveys.append(rows_of(each.read, each.file))
        write.put_surveys(conn, surveys)
        write.touch_all(conn)
        refresh(conn, derive_bell, judged_in_short)
    return path


@pytest.fixture(scope="session")
def form_texts() -> dict[str, str]:
    """Give the forms of the small registry by file name."""
    return {path.name: path.read_text(encoding="utf-8") for path in sorted(FORMS.glob("*.yaml"))}


@pytest.fixture(scope="session")
def small_registry(tmp_path_factory: pytest.TempPathFactory, form_texts: dict[str, str]) -> Path:
    """Load the small registry once; no test may change it."""
    return load_texts(form_texts, tmp_path_factory.mktemp("web") / "small.db")


@contextmanager
def asked_of(datasette: Any) -> Iterator[Get]:
    """Give a function that asks one application for an address, and close what it opened at the end."""
    app = datasette.app()

    def get(address: str, method: str = "GET", **more: Any) -> httpx.Response:
        async def asked() -> httpx.Response:
            async with httpx.AsyncClient(transport=httpx.ASGITransport(app=app)) as client:
                return await client.request(method, f"http://127.0.0.1{address}", **more)

        return asyncio.run(asked())

    try:
        yield get
    finally:
        for database in datasette.databases.values():
            database.close()
        if datasette.executor is not None:
            datasette.executor.shutdown()


@pytest.fixture(scope="session")
def get(small_registry: Path) -> Iterator[Get]:
    """Ask the site of the small registry for an address."""
    with asked_of(make_datasette(small_registry)) as function:
        yield function


@pytest.fixture(scope="session")
def asking() -> Callable[[Any], AbstractContextManager[Get]]:
    """Ask the application of any Datasette, within a ``with`` block."""
    return asked_of


@pytest.fixture(scope="session")
def load() -> Load:
    """Load forms given as text into a registry."""
    return load_texts
