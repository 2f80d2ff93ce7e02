"""Castings over time: how many bells a decade saw, when their dates leave room.

A bell whose date leaves several years counts in parts, evenly over all its years: nothing on record makes one
likelier than another. The parts of a period add up to the number of bells expected in it. Taken as
independent, each bell falls into a period or not, so that the number has the distribution of a sum of such
trials; its 5 % and 95 % points are the interval. A date with an open end has no such parts, and is counted
beside.

References
----------
Poisson, S. D. (1837), Recherches sur la probabilité des jugements; the sum of independent trials that differ
in their chance is called Poisson's binomial distribution. Mean sum(p), variance sum(p (1 - p)).
"""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from math import ceil, floor, sqrt
from typing import NamedTuple

Span = tuple[int | None, int | None]
"""First and last year; None where that end is open or unknown."""

MOST_EXACT = 200
"""Bells in doubt up to which the distribution of a period is computed whole; above, it is near the normal."""
Z_90 = 1.6448536269514722
"""95 % point of the normal distribution."""


class Dated(NamedTuple):
    """Bells spread over periods: the parts of each bell, and those that could not be spread.

    ``parts`` gives for each bell that was spread its parts by the first year of the period.
    """

    parts: dict[str, dict[int, float]]
    open_ended: int
    undated: int


class Castings(NamedTuple):
    """The castings of one period.

    Parameters
    ----------
    first_year, last_year : int
        The period.
    certain : int
        Bells that were cast in it for certain.
    expected : float
        Bells expected in it.
    low, high : int
        Ends of the 90 % interval of their number.
    possible : int
        Bells that may have been cast in it.
    """

    first_year: int
    last_year: int
    certain: int
    expected: float
    low: int
    high: int
    possible: int


def spread(spans: Mapping[str, Sequence[Span]], years: int) -> Dated:
    """Spread bells over periods.

    Parameters
    ----------
    spans : mapping
        By bell the spans its date may mean; none where it is undated.
    years : int
        Length of a period; periods begin with the years it divides.
    """
    parts: dict[str, dict[int, float]] = {}
    known: dict[tuple[Span, ...], dict[int, float]] = {}
    open_ended = undated = 0
    for bell, every in spans.items():
        key = tuple(every)
        if key in known:
            parts[bell] = known[key]
            continue
        if not every or all(span == (None, None) for span in every):
            undated += 1
            continue
        closed = [(first, last) for first, last in every if first is not None and last is not None]
        if len(closed) < len(every):
            open_ended += 1
            continue
        parts[bell] = known[key] = _parts(_merged(closed), years)
    return Dated(parts, open_ended, undated)


def _merged(spans: Iterable[tuple[int, int]]) -> list[tuple[int, int]]:
    """Join spans that share years, so that none counts twice."""
    merged: list[tuple[int, int]] = []
    for first, last in sorted(spans):
        if merged and first <= merged[-1][1] + 1:
            merged[-1] = merged[-1][0], max(merged[-1][1], last)
        else:
            merged.append((first, last))
    return merged


def _parts(spans: Sequence[tuple[int, int]], years: int) -> dict[int, float]:
    total = sum(last - first + 1 for first, last in spans)
    parts: dict[int, float] = defaultdict(float)
    for first, last in spans:
        for period in range(first // years, last // years + 1):
            begin, end = max(first, period * years), min(last, period * years + years - 1)
            parts[period * years] += (end - begin + 1) / total
    return dict(parts)


def castings(dated: Dated, years: int) -> list[Castings]:
    """Count castings by period, from the first with a bell to the last, those without any between them."""
    chances: dict[int, list[float]] = defaultdict(list)
    for parts in dated.parts.values():
        for first_year, part in parts.items():
            chances[first_year].append(part)
    if not chances:
        return []
    made = []
    for first_year in range(min(chances), max(chances) + 1, years):
        every = chances.get(first_year, [])
        doubtful = [part for part in every if part < 1.0 - 1e-12]
        certain = len(every) - len(doubtful)
        low, high = _interval(doubtful)
        made.append(
            Castings(
                first_year,
                first_year + years - 1,
                certain,
                certain + sum(doubtful),
                certain + low,
                certain + high,
                len(every),
            )
        )
    return made


def _interval(chances: Sequence[float]) -> tuple[int, int]:
    """Give the 5 % and 95 % points of how many of some independent trials succeed."""
    if not chances:
        return 0, 0
    if len(chances) > MOST_EXACT:
        mean = sum(chances)
        half = Z_90 * sqrt(sum(chance * (1.0 - chance) for chance in chances))
        return max(floor(mean - half), 0), min(ceil(mean + half), len(chances))
    counts = [1.0]
    for chance in chances:
        counts = [
            stay * (1.0 - chance) + come * chance
            for stay, come in zip([*counts, 0.0], [0.0, *counts], strict=True)
        ]
    below, low, high = 0.0, None, len(chances)
    for count, share in enumerate(counts):
        below += share
        if low is None and below >= 0.05:
            low = count
        if below >= 0.95:
            high = count
            break
    return low or 0, high
