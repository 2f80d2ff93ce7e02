"""A question as a link: one order, one spelling, and the same question when it is read again."""

import re
from collections.abc import Iterable, Sequence
from typing import Any, NamedTuple
from urllib.parse import parse_qsl, urlencode, urlsplit

from registry.questions.parameters import BY_NAME, PARAMETERS, Parameter
from registry.questions.query import BellQuery, usual_sort

Pairs = list[tuple[str, str]]
"""Names and values in the order of a link."""

PATH = "/bells"
MOST_VALUES = 200
"""Values one part of a question may have."""


_ASKS = re.compile(
    r"(.*/)?(bells(\.(csv|json|geojson))?|map|timeline|statistics(/[a-z]+\.(csv|json))?)"
).fullmatch
"""Addresses that answer a question on bells, below any ``base_url``."""


class LinkError(ValueError):
    """A text that is no link of a question."""


class Ignored(NamedTuple):
    """Something in a link that asks nothing of bells: its name, its value, and why."""

    name: str
    value: str
    why: str


class Asked(NamedTuple):
    """A question that was read.

    ``pairs`` is the question again, as every link spells it; ``cited`` the mark of the registry that its link
    carried, empty without one.
    """

    query: BellQuery
    pairs: Pairs
    ignored: list[Ignored]
    cited: str = ""


def read_link(given: Iterable[tuple[str, str]], beside: Sequence[str] = ()) -> Asked:
    """Read a question from names and values.

    Parameters
    ----------
    given : iterable of (str, str)
        Names and values as they stand in a link; of a part that has one value the last one counts. Empty
        values ask nothing.
    beside : sequence of str
        Names that belong to the page and not to the question.

    Returns
    -------
    Asked
        The question; whatever made no sense is left out and named in ``ignored``.
    """
    texts: dict[str, list[str]] = {}
    for name, text in given:
        if text.strip():
            texts.setdefault(name, []).append(text.strip())
    fields: dict[str, Any] = {}
    ignored: list[Ignored] = []
    for parameter in PARAMETERS:
        read = _values(parameter, texts.pop(parameter.name, []), ignored)
        if not read:
            continue
        if parameter.many:
            fields[parameter.field] = tuple(sorted(set(read), key=parameter.kind.rank))
        elif parameter.end is None:
            fields[parameter.field] = read[-1]
        else:
            pair = list(fields.get(parameter.field, (None, None)))
            pair[parameter.end] = read[-1]
            fields[parameter.field] = tuple(pair)
    ignored += [
        Ignored(name[:40], values[-1][:40], "nothing of this name can be asked")
        for name, values in texts.items()
        if name not in beside
    ]
    query = _sensible(BellQuery(**{"sort": ""} | fields), ignored)
    return Asked(query, write_link(query), ignored)


def _values(parameter: Parameter, texts: list[str], ignored: list[Ignored]) -> list[Any]:
    """Read the values of one part; those without sense are named."""
    read = []
    for text in texts[-MOST_VALUES:] if parameter.many else texts[-1:]:
        try:
            value = parameter.kind.read(text)
        except ValueError as error:
            ignored.append(Ignored(parameter.name, text[:40], str(error)))
            continue
        if value != "":
            read.append(value)
    return read


def _sensible(query: BellQuery, ignored: list[Ignored]) -> BellQuery:
    """Leave out what means nothing beside the rest of the question."""
    for low, high in RANGES:
        first, last = _end(query, low), _end(query, high)
        if first is not None and last is not None and low.kind.rank(first) > high.kind.rank(last):
            text = f"{low.kind.write(first)} to {high.kind.write(last)}"
            ignored.append(Ignored(low.name, text, "it ends before it begins"))
            query = query._replace(**{low.field: _EMPTY[low.field], high.field: _EMPTY[high.field]})
    if query.exact and not query.text:
        ignored.append(Ignored("exact", "yes", "it goes with words"))
        query = query._replace(exact=False)
    if query.region_at and not query.region:
        ignored.append(Ignored("at", query.region_at, "it goes with a region"))
        query = query._replace(region_at=None)
    bounded = (
        query.founder_id or None,
        query.founder_name or None,
        query.region_at,
        query.century,
        query.from_year,
        query.to_year,
        *query.mass_kg,
    )
    if query.certain and all(each is None for each in bounded):
        ignored.append(
            Ignored(
                "certain", "yes", "it goes with years of casting, a mass, a founder or a region at a date"
            )
        )
        query = query._replace(certain=False)
    usual = usual_sort(query)
    if query.sort.removeprefix("-") == "distance" and not (query.near or query.nearest):
        ignored.append(Ignored("sort", query.sort, "a distance needs a place to measure from"))
        return query._replace(sort=usual)
    return query._replace(sort=query.sort or usual)


RANGES = tuple(
    (BY_NAME[low], BY_NAME[high])
    for low, high in (
        ("from", "to"), ("note_from", "note_to"), ("diameter_from", "diameter_to"), ("mass_from", "mass_to")
    )
)  # fmt: skip
"""Parts that are the two ends of a range."""

_EMPTY = BellQuery()._asdict()


def _end(query: BellQuery, parameter: Parameter) -> Any:
    value = getattr(query, parameter.field)
    return value if parameter.end is None else value[parameter.end]


def write_link(query: BellQuery) -> Pairs:
    """Write a question as names and values; read again they give the same question."""
    pairs: Pairs = []
    for parameter in PARAMETERS:
        value = _end(query, parameter)
        if parameter.field == "sort" and value == usual_sort(query):
            continue
        values = (
            value if parameter.many else [] if value is None or value is False or value == "" else [value]
        )
        pairs += [(parameter.name, parameter.kind.write(each)) for each in values]
    return pairs


def encoded(pairs: Iterable[tuple[str, Any]]) -> str:
    """Write names and values as they stand behind the question mark of an address."""
    return urlencode(list(pairs), safe=",", errors="replace")


def link_of(query: BellQuery, path: str = PATH) -> str:
    """Give the link of a question, below the address of the pages."""
    text = encoded(write_link(query))
    return f"{path}?{text}" if text else path


def pairs_of(link: str) -> Pairs:
    """Take names and values from a link, with its address or without.

    Raises
    ------
    LinkError
        When it is no link, or one that asks nothing of bells; an answer would be to another question.
    """
    try:
        parts = urlsplit(link.strip())
        alone = not parts.query and "=" in parts.path
        pairs = parse_qsl(
            parts.path if alone else parts.query, keep_blank_values=True, max_num_fields=MOST_VALUES
        )
    except ValueError as error:
        raise LinkError(str(error)) from error
    if not (alone or _ASKS(parts.path) or (pairs and not parts.path)):
        raise LinkError("its address asks nothing of bells")
    return pairs
