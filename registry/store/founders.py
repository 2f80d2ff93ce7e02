"""Founders in a registry: what their files tell, and which bells are given to them."""

import sqlite3
from collections.abc import Iterable, Sequence

from registry.derive.attribution import Named, NameIndex, propose
from registry.inscriptions.names import name_readings
from registry.model.founders import Founder, Tie, Variant, Workshop
from registry.model.life import days_of
from registry.model.names import OwnedName, owned_names
from registry.model.validity import read_validity
from registry.store.rows import Row, to_json

_OF_FOUNDER = ("founder_variant", "founder_workshop", "founder_tie")


def put_founders(conn: sqlite3.Connection, path: str, founders: Sequence[Founder]) -> None:
    """Put the founders of one file in place of those it had before, and mark that names changed."""
    mine = "SELECT id FROM founder_told WHERE source_path = ?"
    conn.execute(f"INSERT OR IGNORE INTO touched_founder {mine}", (path,))
    for table in _OF_FOUNDER:
        conn.execute(f"DELETE FROM {table} WHERE founder_id IN ({mine})", (path,))
    conn.execute("DELETE FROM founder_told WHERE source_path = ?", (path,))
    ids = [(founder.id,) for founder in founders]
    conn.executemany("INSERT OR IGNORE INTO founder (id) VALUES (?)", ids)
    conn.executemany("INSERT OR IGNORE INTO touched_founder VALUES (?)", ids)
    for founder in founders:
        _put(conn, path, founder)


def _put(conn: sqlite3.Connection, path: str, founder: Founder) -> None:
    active = read_validity(founder.active or "")
    told: Row = (
        founder.id,
        founder.name,
        founder.kind,
        founder.active,
        active.first,
        active.last,
        founder.born,
        founder.died,
        to_json(list(founder.sources)),
        founder.remarks,
        path,
    )
    _insert(conn, "founder_told", [told])
    spellings = [Variant(founder.name), *founder.variants]
    _insert(
        conn,
        "founder_variant",
        (
            (founder.id, place, each.spelling, (*name_readings(each.spelling), "")[0], *each[1:])
            for place, each in enumerate(spellings)
        ),
    )
    _insert(
        conn,
        "founder_workshop",
        ((founder.id, place, *each) for place, each in enumerate(founder.workshops, start=1)),
    )
    _insert(
        conn, "founder_tie", ((founder.id, place, *each) for place, each in enumerate(founder.ties, start=1))
    )


def _insert(conn: sqlite3.Connection, table: str, rows: Iterable[Row]) -> None:
    rows = list(rows)
    if rows:
        conn.executemany(f"INSERT INTO {table} VALUES ({', '.join('?' * len(rows[0]))})", rows)


def known_founders(conn: sqlite3.Connection) -> list[tuple[Founder, str]]:
    """Give the founders of a registry, each with the file it comes from, by id."""
    parts: dict[str, dict[str, list[Row]]] = {table: {} for table in _OF_FOUNDER}
    for table in _OF_FOUNDER:
        for row in conn.execute(f"SELECT * FROM {table} ORDER BY founder_id, ordinal"):
            parts[table].setdefault(row[0], []).append(tuple(row))
    founders = []
    rows = conn.execute(
        "SELECT id, name, kind, active, born, died, source_path FROM founder_told ORDER BY id"
    )
    for id_, name, kind, active, born, died, path in rows.fetchall():
        founder = Founder(
            id_,
            name,
            kind,
            active,
            born,
            died,
            tuple(Variant(row[2], *row[4:]) for row in parts["founder_variant"].get(id_, ()) if row[1]),
            tuple(Workshop(*row[2:]) for row in parts["founder_workshop"].get(id_, ())),
            tuple(Tie(*row[2:]) for row in parts["founder_tie"].get(id_, ())),
        )
        founders.append((founder, path))
    return founders


def known_names(conn: sqlite3.Connection) -> list[OwnedName]:
    """Give every spelling that founders of a registry own, with the file it comes from."""
    return [
        name._replace(file=path) for founder, path in known_founders(conn) for name in owned_names(founder)
    ]


def refresh_attributions(conn: sqlite3.Connection) -> None:
    """Give bells to founders anew: the touched ones, or all where a file of founders changed.

    The current view of the bells must be refreshed before.
    """
    changed = conn.execute("SELECT 1 FROM touched_founder LIMIT 1").fetchone() is not None
    chosen = "" if changed else " AND id IN (SELECT id FROM touched_bell)"
    where = "" if changed else " WHERE bell_id IN (SELECT id FROM touched_bell)"
    conn.execute(f"DELETE FROM attribution{where}")
    index = NameIndex(known_names(conn))
    active = dict(conn.execute("SELECT id, active FROM founder_told WHERE active IS NOT NULL").fetchall())
    rows: list[Row] = []
    for bell_id, text, stated, certainty, cast_date in conn.execute(
        "SELECT id, founder, founder_id, founder_certainty, cast_date FROM bell_current"
        f" WHERE (founder IS NOT NULL OR founder_id IS NOT NULL){chosen} ORDER BY id"
    ):
        if stated is not None:
            cast = days_of(cast_date or "")
            reason = "the newest survey that tells names this founder"
            if stated in active and cast_date and not read_validity(active[stated]).overlaps(cast):
                reason += f"; but the founder worked {active[stated]}, and the bell is of {cast_date}"
            rows.append((bell_id, stated, "stated", certainty, text, reason))
        bell = Named(text or "", days_of(cast_date or ""), cast_date or "", certainty or "", stated or "")
        proposals = propose(bell, index)
        rows += [
            (bell_id, each.founder_id, "proposed", each.certainty, text, each.reason) for each in proposals
        ]
    _insert(conn, "attribution", rows)
