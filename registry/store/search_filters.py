"""What each part of a question means in SQL: its condition, when it cannot be judged, when it is sure."""

import sqlite3
from collections.abc import Callable, Iterator
from typing import Any, NamedTuple

from registry.inscriptions.names import name_readings
from registry.model.validity import read_validity
from registry.questions.kinds import limits_hz
from registry.questions.query import BellQuery, years_of
from registry.store.rows import to_json
from registry.store.text_search import formula_condition, text_condition


class Condition(NamedTuple):
    """A condition on ``bell_current AS bell``.

    Parameters
    ----------
    name : str
        What it judges by.
    sql, values : str, tuple
        The condition and what stands for its question marks.
    lacks, lack_values : str, tuple
        The condition that a bell gives no data for it; empty where every bell does.
    sure, sure_values : str, tuple
        The condition that a bell which meets it does so for certain; empty where there is no doubt.
    """

    name: str
    sql: str
    values: tuple[Any, ...] = ()
    lacks: str = ""
    sure: str = ""
    sure_values: tuple[Any, ...] = ()
    lack_values: tuple[Any, ...] = ()

    def lacking(self) -> "Condition":
        """Give the condition for bells that cannot be judged."""
        return Condition(self.name, self.lacks, self.lack_values)

    def doubted(self) -> "Condition":
        """Give the condition for bells that are found, but may not hold."""
        sql = f"({self.sql}) AND NOT coalesce({self.sure}, FALSE)"
        return Condition(self.name, sql, self.values + self.sure_values)


MASS = "coalesce(bell.mass_kg, bell.mass_estimate_kg)"

TERMS = {
    "material": "bell.material",
    "status": "bell.status",
    "country": "bell.country",
    "note": "bell.note_name",
    "crack_state": "bell.crack_state",
    "profile_class": "bell.profile_class",
    "wartime_class": "bell.wartime_class",
}
"""Filters that take a list of words, with the column they ask."""

UNGRADED = {"condition": "not-assessed", "grade": "not-graded"}
"""Filters that take grades, with their word for bells without one."""


def conditions(conn: sqlite3.Connection, query: BellQuery) -> list[Condition]:
    """Turn a question, but for its places, into conditions; its words are looked up in the registry."""
    words = text_condition(conn, query.text, exact=query.exact)
    made = [Condition("text", *words)] if words else []
    return [*made, *_founders(conn, query), *(condition for make in _MAKERS for condition in make(query))]


def _formulas(query: BellQuery) -> Iterator[Condition]:
    if query.formula:
        yield Condition("formula", *formula_condition(query.formula))


def _tower(query: BellQuery) -> Iterator[Condition]:
    if query.tower_id is not None:
        yield Condition("tower_id", "bell.tower_id = ?", (query.tower_id,))


def _terms(query: BellQuery) -> Iterator[Condition]:
    for name, column in TERMS.items():
        wanted: tuple[str, ...] = getattr(query, name)
        if wanted:
            lacks = f"{column} IS NULL" + ("" if "unknown" in wanted else f" OR {column} = 'unknown'")
            yield Condition(name, f"{column} IN ({', '.join('?' * len(wanted))})", wanted, f"({lacks})")


def _regions(query: BellQuery) -> Iterator[Condition]:
    """Ask for regions: those its tower lies in today, or those of its towers at a date."""
    if not query.region:
        return
    among = f"region_id IN ({', '.join('?' * len(query.region))})"
    if query.region_at is None:
        # Where a border is loaded and the tower has a place, the answer is known.
        unloaded = (
            f"EXISTS (SELECT 1 FROM ({_as_rows(len(query.region))}) WHERE id NOT IN (SELECT id FROM region))"
        )
        yield Condition(
            "region",
            f"bell.tower_id IN (SELECT tower_id FROM tower_region WHERE {among})",
            query.region,
            f"(bell.region IS NULL AND (bell.latitude_deg IS NULL OR {unloaded}))",
            lack_values=query.region,
        )
        return
    may, may_values = _then(query.region_at, "from_earliest", "until_latest")
    must, must_values = _then(query.region_at, "from_latest", "until_earliest")
    there = (
        "EXISTS (SELECT 1 FROM bell_stay JOIN tower_region ON tower_region.tower_id = bell_stay.tower_id"
        f" WHERE bell_id = bell.id AND state = 'there' AND {among} AND "
    )
    # Somewhere that nobody tells, or in a tower of which no region is known.
    unknown = (
        f"(EXISTS (SELECT 1 FROM bell_stay WHERE bell_id = bell.id AND {may} AND (state = 'unknown' OR"
        " (state = 'there' AND tower_id NOT IN (SELECT tower_id FROM tower_region))))"
        f" AND NOT {there}{may}))"
    )
    unknown_values = (*may_values, *query.region, *may_values)
    sure, sure_values = f"{there}{must})", (*query.region, *must_values)
    if query.certain:
        yield Condition("region", sure, sure_values, unknown, lack_values=unknown_values)
    else:
        yield Condition(
            "region",
            f"{there}{may})",
            (*query.region, *may_values),
            unknown,
            sure,
            sure_values,
            unknown_values,
        )


def _as_rows(count: int) -> str:
    """Write so many question marks as rows with an id."""
    return " UNION ALL ".join(["SELECT ? AS id"] * count)


def _then(text: str, begins: str, ends: str) -> tuple[str, tuple[str, ...]]:
    """Give the condition that a stay has a day in common with a date (``registry.model.life.Stay``)."""
    then = read_validity(text)
    parts, values = ["TRUE"], []
    if then.last is not None:
        parts.append(f"({begins} IS NULL OR {begins} <= ?)")
        values.append(then.last)
    if then.first is not None:
        parts.append(f"({ends} IS NULL OR {ends} >= ?)")
        values.append(then.first)
    return " AND ".join(parts), tuple(values)


def _founders(conn: sqlite3.Connection, query: BellQuery) -> Iterator[Condition]:
    """Ask for founders; a bell that is only proposed for one, by a spelling of the name, is not sure."""
    if query.founder_id:
        yield _founder("founder_id", query.founder_id, (), query.certain)
    if query.founder_name:
        readings = set(name_readings(query.founder_name))
        folded = to_json(sorted(readings))
        owners = (
            "SELECT DISTINCT founder_id FROM founder_variant WHERE folded IN (SELECT value FROM json_each(?))"
        )
        ids = tuple(row[0] for row in conn.execute(owners, (folded,)))
        written = conn.execute("SELECT DISTINCT founder FROM bell_current WHERE founder IS NOT NULL")
        texts = tuple(text for (text,) in written if readings.intersection(name_readings(text)))
        yield _founder("founder_name", ids, texts, query.certain)


def _founder(name: str, ids: tuple[str, ...], texts: tuple[str, ...], certain: bool) -> Condition:
    """Ask for founders by their ids, or by their names as surveys write them."""
    among = "IN (SELECT value FROM json_each(?))"
    stated = f"(coalesce(bell.founder_id {among}, FALSE) OR coalesce(bell.founder {among}, FALSE))"
    stated_values = (to_json(list(ids)), to_json(list(texts)))
    given = f"(bell.id IN (SELECT bell_id FROM attribution WHERE founder_id {among}) OR {stated})"
    lacks = "(bell.founder_id IS NULL AND bell.founder IS NULL)"
    if certain:
        return Condition(name, stated, stated_values, lacks)
    return Condition(name, given, (stated_values[0], *stated_values), lacks, stated, stated_values)


def _grades(query: BellQuery) -> Iterator[Condition]:
    for name, column in (("condition", "bell.condition"), ("grade", "bell.grade_at_least")):
        asked: tuple[int | str, ...] = getattr(query, name)
        grades = tuple(int(grade) for grade in asked if grade != UNGRADED[name])
        condition = f"{column} IN ({', '.join('?' * len(grades))})"
        if UNGRADED[name] in asked:
            yield Condition(name, f"({condition} OR {column} IS NULL)", grades)
        elif asked and name == "grade":
            listed = ", ".join(map(str, grades))
            yield Condition(name, condition, grades, f"(bell.grade IS NULL AND {column} NOT IN ({listed}))")
        elif asked:
            yield Condition(name, condition, grades, f"{column} IS NULL")


def _years(query: BellQuery) -> Iterator[Condition]:
    """Ask for the years of casting; an end that is open or unknown may be anywhere, but is never certain."""
    first, last = years_of(query)
    possible: list[tuple[str, int]] = []
    certain: list[tuple[str, int]] = []
    if last is not None:
        possible.append(("(span.earliest_year IS NULL OR span.earliest_year <= ?)", last))
        certain.append(("bell.cast_latest_year <= ?", last))
    if first is not None:
        possible.append(("(span.latest_year IS NULL OR span.latest_year >= ?)", first))
        certain.append(("bell.cast_earliest_year >= ?", first))
    if not possible:
        return
    within = " AND ".join(limit for limit, _ in possible)
    may = f"EXISTS (SELECT 1 FROM cast_span AS span WHERE span.bell_id = bell.id AND {within})"
    sure = "(" + " AND ".join(limit for limit, _ in certain) + ")"
    values, sure_values = tuple(year for _, year in possible), tuple(year for _, year in certain)
    lacks = "bell.cast_date IS NULL"
    if query.certain:
        yield Condition("year", sure, sure_values, lacks)
    else:
        yield Condition("year", may, values, lacks, sure, sure_values)


def _limits(column: str, low: float | None, high: float | None) -> tuple[str, tuple[float, ...]]:
    """Give the condition that a column lies between two ends, and its values."""
    ends = [(sign, end) for sign, end in ((">=", low), ("<=", high)) if end is not None]
    return " AND ".join(f"{column} {sign} ?" for sign, _ in ends), tuple(end for _, end in ends)


def _sizes(query: BellQuery) -> Iterator[Condition]:
    """Ask for sizes; a mass that was computed is sure where its whole interval lies in the limits."""
    if query.diameter_mm != (None, None):
        column = "bell.mouth_diameter_mm"
        yield Condition("diameter_mm", *_limits(column, *query.diameter_mm), f"{column} IS NULL")
    if query.mass_kg != (None, None):
        low, high = query.mass_kg
        within, values = _limits(MASS, low, high)
        least, low_values = _limits("coalesce(bell.mass_kg, bell.mass_estimate_low_kg)", low, None)
        most, high_values = _limits("coalesce(bell.mass_kg, bell.mass_estimate_high_kg)", None, high)
        sure = "(" + " AND ".join(part for part in (least, most) if part) + ")"
        sure_values = low_values + high_values
        if query.certain:
            yield Condition("mass_kg", sure, sure_values, f"{MASS} IS NULL")
        else:
            yield Condition("mass_kg", within, values, f"{MASS} IS NULL", sure, sure_values)


def _notes(query: BellQuery) -> Iterator[Condition]:
    """Ask for the strike note between two notes: measured, or that of the note written down."""
    low = None if query.from_note is None else limits_hz(query.from_note)[0]
    high = None if query.to_note is None else limits_hz(query.to_note)[1]
    if low is not None or high is not None:
        yield Condition("notes", *_limits("bell.strike_hz", low, high), "bell.strike_hz IS NULL")


_HAS_RECORDING = "EXISTS (SELECT 1 FROM attachment WHERE bell = bell.id AND kind = 'recording')"
RECORDINGS = {
    "yes": _HAS_RECORDING,
    "no": f"NOT {_HAS_RECORDING}",
    "analysed": "EXISTS (SELECT 1 FROM recording WHERE bell_id = bell.id AND refused IS NULL)",
}


def _recordings(query: BellQuery) -> Iterator[Condition]:
    if query.recording is not None:
        yield Condition("recording", RECORDINGS[query.recording])


def _visits(query: BellQuery) -> Iterator[Condition]:
    if query.no_survey_since is not None:
        before = "(bell.last_visit_date IS NULL OR bell.last_visit_date < ?)"
        yield Condition("no_survey_since", before, (query.no_survey_since,))


_MAKERS: tuple[Callable[[BellQuery], Iterator[Condition]], ...] = (
    _formulas, _regions, _tower, _terms, _grades, _years, _sizes, _notes, _recordings, _visits,
)  # fmt: skip
