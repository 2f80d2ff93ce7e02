"""Bring everything that follows from the surveys up to date, for the bells and towers that were touched."""

import sqlite3
from collections.abc import Callable, Iterable

from registry.model.known_bell import KnownBell
from registry.store.current import Compute, Judge, refresh_bells
from registry.store.current_towers import count_bells, refresh_founders, refresh_towers
from registry.store.founders import refresh_attributions
from registry.store.kin import read_kin, refresh_kin
from registry.store.lineage import refresh_lineage
from registry.store.lives import refresh_stays
from registry.store.places import refresh_places
from registry.store.write import forget_unseen, spread_touch

Computing = Callable[[Iterable[tuple[str, KnownBell]]], Compute]
"""Makes what computes the values of a bell, from the known bells of the registry and their materials."""


def refresh(conn: sqlite3.Connection, computing: Computing, judge: Judge) -> int:
    """Compute the current view anew where something was touched, and count the bells that were computed."""
    spread_touch(conn)
    refresh_kin(conn)
    forget_unseen(conn)
    refresh_founders(conn)
    refresh_towers(conn)
    refresh_places(conn)
    refresh_stays(conn)
    bells = refresh_bells(conn, computing(read_kin(conn)), judge)
    count_bells(conn)
    refresh_attributions(conn)
    refresh_lineage(conn)
    return bells
