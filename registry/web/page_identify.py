"""Which bell of the registry a bell without papers is, asked by a form whose address can be cited."""

import sqlite3
from collections.abc import Collection, Mapping
from dataclasses import dataclass
from typing import Annotated, Any, NamedTuple

from datasette.utils.asgi import Response

from registry.derive.identity.comparison import Answer, identify
from registry.derive.identity.next_measurement import Next, open_bits, what_next
from registry.derive.identity.rules import rules
from registry.derive.identity.telling import FIELDS, PARTIALS, Fault, read_told
from registry.derive.identity.twins import Twins
from registry.model.vocabulary import vocabulary
from registry.store.identity import read_named, read_transcriptions
from registry.store.pages import Row
from registry.web import rendering
from registry.web.asking import Ask
from registry.web.registers import register_of, twins_at_hand, twins_of
from registry.wording import identity_data
from registry.wording.identity import (
    CAUTIONS,
    FACTS,
    TO_DO,
    Stated,
    factor_lines,
    percent,
    slip_words,
    verdict_words,
)

CANDIDATES_SHOWN = 8
FEWEST_SHOWN = 3
LEAST_SHOWN = 0.001
"""Bells listed at most and at least; between them those with this probability or more."""
NEXT_SHOWN = 4


class Shown(NamedTuple):
    """One bell in question: its row, its probability in words and as a share, its factors in words."""

    bell: Row
    chance: str
    share: float
    factors: list[dict[str, Any]]


class Answered(NamedTuple):
    """An answer in words."""

    verdict: str
    none: str
    none_share: float
    before: str
    rest: str
    compared: list[str]
    candidates: list[Shown]
    still_open: str
    next: list[tuple[str, str]]


@dataclass(frozen=True)
class IdentifyPage:
    """A bell without papers."""

    title: Annotated[str, "Heading of the page."]
    values: Annotated[Mapping[str, str], "What stands in the fields of the form."]
    pairs: Annotated[list[tuple[str, str]], "What was asked, as in the address."]
    partials: Annotated[list[tuple[str, str]], "Fields for partials, with their words."]
    materials: Annotated[list[tuple[str, str]], "Materials to choose from."]
    crowns: Annotated[list[tuple[str, str]], "Kinds of crown to choose from."]
    bases: Annotated[list[tuple[str, str]], "Ways to obtain a mass to choose from."]
    usual: Annotated[float, "Chance that the bell has no record, unless someone sets it."]
    faults: Annotated[tuple[Fault, ...], "Fields that could not be read."]
    records: Annotated[int, "Bells compared with."]
    answer: Annotated[Answered | None, "The answer; None where nothing was asked."]
    cautions: Annotated[tuple[str, ...], "What to know before acting on it."]
    slips: Annotated[list[str], "Slips that are allowed for."]


class Pair(NamedTuple):
    """Two records that may be one bell, in words."""

    bells: tuple[Row, Row]
    chance: str
    share: float
    possible: bool
    why: str
    factors: list[dict[str, Any]]


@dataclass(frozen=True)
class TwinsPage:
    """Records that may be one bell."""

    title: Annotated[str, "Heading of the page."]
    records: Annotated[int, "Records compared."]
    proposed: Annotated[list[Pair], "Pairs that may be one bell, the likeliest first."]
    others: Annotated[list[Pair], "Pairs that would be, if their lives allowed it, or that an event ties."]


def identify_page(conn: sqlite3.Connection, ask: Ask) -> Response:
    """Make the page; what cannot be read is told, and the answer is made of the rest."""
    page = _page(conn, ask)[0]
    return rendering.page(ask, "identify", page, 422 if page.faults else 200)


def identify_json(conn: sqlite3.Connection, ask: Ask) -> Response:
    """Give the answer as data."""
    page, answer, further = _page(conn, ask)
    if page.faults:
        return rendering.as_json({"problems": [fault._asdict() for fault in page.faults]}, 422)
    if answer is None:
        return rendering.as_json({"problems": [{"expected": "at least one fact", "remedy": "tell one"}]}, 422)
    ids = [each.bell_id for each in answer.candidates]
    told = identity_data.Answered(
        answer, read_named(conn, ids), _stated(conn, ids), further, open_bits(answer), page.records
    )
    return rendering.as_json(identity_data.answer_data(told))


def _page(conn: sqlite3.Connection, ask: Ask) -> tuple[IdentifyPage, Answer | None, list[Next]]:
    written = {name: ask.one(name) for name in FIELDS if ask.one(name)}
    told = read_told(written)
    register = register_of(conn)
    answer, further, answered = None, [], None
    if written:
        found = identify(
            register,
            told.facts,
            unregistered=told.unregistered,
            by_status=told.by_status,
            most=CANDIDATES_SHOWN,
        )
        if found.compared or not register.records:
            answer, further = found, what_next(register, told.facts, found)
            answered = _answered(conn, answer, further)
    page = IdentifyPage(
        title="A bell without papers",
        values=dict.fromkeys(FIELDS, "") | written,
        pairs=list(written.items()),
        partials=[
            (f"{name.replace('-', '_')}_hz", vocabulary("partial").terms[name].label) for name in PARTIALS
        ],
        materials=_terms("material"),
        crowns=_terms("crown_kind"),
        bases=_terms("mass_basis"),
        usual=float(rules()["prior"]["unregistered"]),
        faults=told.faults,
        records=len(register.records),
        answer=answered,
        cautions=CAUTIONS,
        slips=slip_words(),
    )
    return page, answer, further


def _terms(name: str) -> list[tuple[str, str]]:
    return [
        (code, term.label)
        for code, term in vocabulary(name).terms.items()
        if code not in ("unknown", "other")
    ]


def _answered(conn: sqlite3.Connection, answer: Answer, further: list[Next]) -> Answered:
    """Put an answer into words."""
    ids = [each.bell_id for each in answer.candidates]
    named, stated = read_named(conn, ids), _stated(conn, ids)
    best = answer.candidates[0].probability if answer.candidates else 0.0
    return Answered(
        verdict_words(answer.none, best),
        percent(answer.none),
        answer.none,
        percent(answer.unregistered),
        percent(answer.rest) if answer.rest >= 0.0005 else "",
        [FACTS[name] for name in answer.compared],
        [
            Shown(
                named[each.bell_id],
                percent(each.probability),
                each.probability,
                factor_lines(each.factors, stated[each.bell_id]),
            )
            for number, each in enumerate(answer.candidates)
            if each.bell_id in named and (number < FEWEST_SHOWN or each.probability >= LEAST_SHOWN)
        ],
        f"{open_bits(answer):.1f}",
        [(TO_DO[each.fact], f"{each.bits:.1f}") for each in further[:NEXT_SHOWN]],
    )


def twins_page(conn: sqlite3.Connection, ask: Ask) -> Response:
    """Make the page of records that may be one bell."""
    found = twins_of(conn)
    named = read_named(conn, [bell_id for pair in found for bell_id in (pair.first, pair.second)])
    stated = _stated(conn, list(named))
    pairs = [_pair(each, named, stated) for each in found if each.first in named and each.second in named]
    return rendering.page(
        ask,
        "twins",
        TwinsPage(
            title="Records that may be one bell",
            records=len(register_of(conn).records),
            proposed=[pair for pair in pairs if pair.possible],
            others=[pair for pair in pairs if not pair.possible],
        ),
    )


def _stated(conn: sqlite3.Connection, ids: Collection[str]) -> dict[str, Stated]:
    """Give what the records of some bells state."""
    words = read_transcriptions(conn, ids)
    wanted = set(ids)
    records = (record for record in register_of(conn).records if record.bell_id in wanted)
    return {each.bell_id: Stated(each.facts, words.get(each.bell_id, "")) for each in records}


def _pair(twins: Twins, named: Mapping[str, Row], stated: Mapping[str, Stated]) -> Pair:
    lines = [
        line
        for line in factor_lines(twins.factors, stated[twins.first], stated[twins.second])
        if line["signed"] != "0"
    ]
    return Pair(
        (named[twins.first], named[twins.second]),
        percent(twins.probability),
        twins.probability,
        twins.verdict.possible,
        twins.verdict.why,
        lines,
    )


def twins_of_bell(conn: sqlite3.Connection, bell_id: str) -> list[Pair]:
    """Give the proposals that name a bell."""
    found = [
        each for each in twins_at_hand(conn) if bell_id in (each.first, each.second) and each.verdict.possible
    ]
    named = read_named(conn, [name for pair in found for name in (pair.first, pair.second)])
    stated = _stated(conn, list(named))
    return [_pair(each, named, stated) for each in found if each.first in named and each.second in named]
