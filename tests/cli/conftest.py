"""Run the command line in this process, as the console command does."""

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any, NamedTuple

import pytest

from registry.__main__ import papers
from registry.cli.entrances import Entrances
from registry.cli.group import ended


class Ended(NamedTuple):
    """How a run ended, and what it said."""

    code: int
    out: str
    err: str
    served: list[tuple[Path, str, int]]
    """What it would have served: registry, host, port."""

    @property
    def data(self) -> Any:
        """What it said, as JSON."""
        return json.loads(self.out)


Run = Callable[..., Ended]


@pytest.fixture
def soundbow(capfd: pytest.CaptureFixture[str]) -> Run:
    """Give a function that runs ``soundbow`` with the words of its command line; serving is only noted."""

    def run(*words: object) -> Ended:
        served: list[tuple[Path, str, int]] = []

        def serve(registry: Path, *, host: str, port: int) -> None:
            served.append((registry, host, port))

        capfd.readouterr()
        code = ended(Entrances(serve, papers), [str(word) for word in words])
        return Ended(code, *capfd.readouterr(), served)

    return run
