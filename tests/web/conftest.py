"""A small registry with everything that could break a page, and a way to ask for pages without a server."""

import asyncio
from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager, contextmanager
from datetime import date
from pathlib import Path
from typing import Any

import httpx
import pytest

from registry.intake import load
from registry.web.app import make_datasette

FORMS = Path(__file__).resolve().parent / "forms"

Load = Callable[[dict[str, str], Path], Path]
Get = Callable[..., httpx.Response]


def load_texts(texts: dict[str, str], path: Path) -> Path:
    """Load forms, given as text by file name, into a registry at ``path``."""
    folder = path.with_suffix(".forms")
    folder.mkdir()
    (folder / "region.geojson").write_bytes((FORMS / "region.geojson").read_bytes())
    for name, text in texts.items():
        (folder / name).write_text(text, encoding="utf-8")
    report = load([folder], path, jobs=1, today=date(2026, 3, 1))
    assert not report.has_errors, report.problems
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
def loading() -> Load:
    """Load forms given as text into a registry."""
    return load_texts
