"""What the tests of the store share: a registry of some forms."""

from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest
from specimens import write

from registry.intake import load

TODAY = date(2026, 1, 1)

Loaded = Callable[..., Path]


@pytest.fixture
def loaded(tmp_path: Path) -> Loaded:
    """Load forms given as texts and give their registry."""

    def load_texts(*texts: str) -> Path:
        for number, text in enumerate(texts):
            write(tmp_path / "forms", f"{number}.yaml", text)
        report = load([tmp_path / "forms"], tmp_path / "bells.db", jobs=1, today=TODAY)
        assert not report.has_errors, report.problems
        return tmp_path / "bells.db"

    return load_texts
