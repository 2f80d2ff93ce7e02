"""Bring everything that follows from the surveys up to date, for the bells and towers that were touched."""

import sqlite3

from registry.store.current import Compute, Judge, refresh_bells
from registry.store.current_towers import count_bells, refresh_founders, refresh_towers
from registry.store.write import forget_unseen, spread_touch


def refresh(conn: sqlite3.Connection, compute: Compute, judge: Judge) -> int:
    """Compute the current view anew where something was touched, and count the bells that were computed."""
    spread_touch(conn)
    forget_unseen(conn)
    refresh_founders(conn)
    refresh_towers(conn)
    bells = refresh_bells(conn, compute, judge)
    count_bells(conn)
    return bells
