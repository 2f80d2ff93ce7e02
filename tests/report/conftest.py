"""What the tests of the report share: the sample registry, open to read, and small documents."""

import sqlite3
from collections.abc import Callable, Iterator
from contextlib import closing
from pathlib import Path

import pytest

from registry.report.blocks import Block, Document, Heading
from registry.store.database import open_registry


@pytest.fixture(scope="module")
def conn(sample_registry: Path) -> Iterator[sqlite3.Connection]:
    """Open the sample registry to read from."""
    with closing(open_registry(sample_registry)) as connection:
        yield connection


@pytest.fixture(scope="session")
def document() -> Callable[..., Document]:
    """Give a function that makes a document of some blocks below a heading."""

    def made(*blocks: Block) -> Document:
        return Document(
            "A bell",
            ("Ilse",),
            "About a bell.",
            ("bell",),
            "2026-01-02",
            "head",
            "record",
            "foot",
            (Heading("A bell", 0), Heading("First", 1), *blocks),
        )

    return made
