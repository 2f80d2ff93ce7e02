"""The garbage collector is off only within its block."""

import gc
from contextlib import suppress

import pytest

from registry.intake.collector import collector_paused


@pytest.mark.parametrize("fails", [False, True])
def test_the_collector_is_off_within_and_on_again_behind(fails: bool) -> None:
    """Expect the collector to be off in the block and on behind it, also where the block fails."""
    gc.enable()
    with suppress(RuntimeError), collector_paused():
        assert not gc.isenabled()
        if fails:
            raise RuntimeError
    assert gc.isenabled()


def test_a_collector_that_was_off_stays_off() -> None:
    """Expect a program that works without the collector to go on without it."""
    gc.disable()
    try:
        with collector_paused():
            pass
        assert not gc.isenabled()
    finally:
        gc.enable()
