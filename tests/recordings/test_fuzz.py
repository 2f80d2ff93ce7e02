"""Files of every format, harmed or not, give a result or a problem: a small part of the benchmark's cases."""

import importlib
from pathlib import Path
from typing import Any

import pytest

BENCHMARKS = Path(__file__).resolve().parents[2] / "benchmarks"


@pytest.fixture(scope="module")
def fuzz() -> Any:
    """Give the module that draws the files."""
    with pytest.MonkeyPatch.context() as patch:
        patch.syspath_prepend(str(BENCHMARKS))
        return importlib.import_module("fuzz_recordings")


@pytest.mark.parametrize("tens", range(6))
def test_every_file_gives_a_result_or_a_problem(fuzz: Any, tens: int) -> None:
    """No exception, no warning: each of ten files is judged, or refused with a code of the catalogue."""
    for number in range(10 * tens, 10 * tens + 10):
        came = fuzz.outcome_of(fuzz.case_of(number, seed=7).data)
        assert came.startswith(("recording-", "named", "measured"))


def test_a_header_that_asks_for_a_place_before_the_first_is_a_problem(fuzz: Any) -> None:
    """The decoder may not run into the file's beginning, nor print of it."""
    assert fuzz.outcome_of(fuzz.case_of(49, seed=1).data) == "recording-unreadable"
