"""What the tests of the report share: the sample registry, open to read."""

import sqlite3
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path

import pytest

from registry.store.database import open_registry


@pytest.fixture(scope="module")
def conn(sample_registry: Path) -> Iterator[sqlite3.Connection]:
    """Open the sample registry to read from."""
    with closing(open_registry(sample_registry)) as connection:
        yield connection
