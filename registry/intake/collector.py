"""Work without the collector of cyclic garbage, where hardly any is made."""

import gc
from collections.abc import Iterator
from contextlib import contextmanager


@contextmanager
def collector_paused() -> Iterator[None]:
    """Keep the cyclic garbage collector off within the block, and leave it as it was, whatever happens there.

    Forms, rows and computed values hold each other as trees, so what is no longer used goes at once by its
    count of references. The collector would still walk through all that lives, again and again. Blocks are
    to be of bounded size: what little is cyclic, such as the frames of a caught error, stays until the block
    ends.
    """
    was_on = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was_on:
            gc.enable()
