"""What the tests of the printed paper share: small documents."""

from collections.abc import Callable

import pytest

from registry.report.blocks import Block, Document, Heading


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
