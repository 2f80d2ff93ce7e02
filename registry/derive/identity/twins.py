"""Two records that may be one bell: lost from one list, found in another.

Not every pair is compared. Pairs come together where they share a rare run of letters, or agree in three of
size, note, date and founder so closely that they may be one. Each is then held against bells in general like
a bell that turned up, and against the other pairs of its two records.
"""

import math
from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from itertools import combinations, product
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from registry.derive.identity.comparison import FACTS, Register, doubted
from registry.derive.identity.facts import Years
from registry.derive.identity.lives import Life, Verdict, verdict
from registry.derive.identity.rules import rules
from registry.derive.identity.sizes import PARTS, size_ratios

Real = NDArray[np.float64]
Rows = NDArray[np.int64]
Key = tuple[float | str, ...]

BATCH = 4000
"""Pairs compared at a time."""


class Twins(NamedTuple):
    """Two records that may be one bell.

    Parameters
    ----------
    first, second : str
        Their ids, in the order of the alphabet.
    probability : float
        That they are one bell; 0 where that cannot be.
    factors : dict of float
        By fact, the logarithm of the likelihood ratio.
    verdict : Verdict
        What their lives say.
    """

    first: str
    second: str
    probability: float
    factors: dict[str, float]
    verdict: Verdict


Lives = Callable[[Iterable[str]], Mapping[str, Life]]
Progress = Callable[[int, int], None]


def find_twins(register: Register, lives: Lives, progress: Progress | None = None) -> list[Twins]:
    """Propose pairs of records that may be one bell.

    Parameters
    ----------
    register : Register
        The records.
    lives : callable
        Gives the lives of some bells by their ids.
    progress : callable, optional
        Told how many pairs are compared, and of how many.

    Returns
    -------
    list of Twins
        The likeliest first; at their end those that would be proposed if visits had not seen them in two
        towers at one time, or if an event did not tie them already. Two bells of one survey are never listed.
    """
    rule = rules()["twins"]
    pairs = sorted(pairs_to_compare(register))
    if not pairs:
        return []
    left, right = (np.array(side, dtype=np.int64) for side in zip(*pairs, strict=True))
    factors: dict[str, list[Real]] = defaultdict(list)
    for start in range(0, len(pairs), BATCH):
        if progress:
            progress(start, len(pairs))
        part = slice(start, start + BATCH)
        for name, said in pair_ratios(register, left[part], right[part]).items():
            factors[name].append(said)
    told = {name: np.concatenate(parts) for name, parts in factors.items()}
    weight = sum(told.values(), np.full(len(pairs), _before(register)))
    likely = weight > _least_odds()
    ids = [record.bell_id for record in register.records]
    known = lives({ids[row] for row in (*left[likely].tolist(), *right[likely].tolist())})
    odds, judged = [], []
    for place in np.flatnonzero(likely).tolist():
        one, other = ids[left[place]], ids[right[place]]
        lived = (
            verdict(one, known[one], other, known[other]) if one in known and other in known else Verdict()
        )
        judged.append((place, lived))
        odds.append(math.exp(min(float(weight[place]), 300.0)) * (lived.ratio if lived.possible else 0.0))
    if progress:
        progress(len(pairs), len(pairs))
    found = [
        Twins(
            min(ids[left[place]], ids[right[place]]),
            max(ids[left[place]], ids[right[place]]),
            chance,
            {name: float(told[name][place]) for name in FACTS if name in told},
            lived,
        )
        for (place, lived), chance in zip(judged, _shared(odds, left[likely], right[likely]), strict=True)
    ]
    kept = [
        each
        for each in found
        if each.probability >= rule["propose_from"]
        or (not each.verdict.possible and not each.verdict.told_apart)
    ]
    return sorted(kept, key=lambda each: (-each.probability, each.verdict.tied, each.first, each.second))


def _shared(odds: list[float], left: Rows, right: Rows) -> list[float]:
    """Give the probability of each pair: a record is one bell with one other at most, so pairs compete."""
    total: defaultdict[int, float] = defaultdict(float)
    for each, one, other in zip(odds, left.tolist(), right.tolist(), strict=True):
        total[one] += each
        total[other] += each
    single = 1.0 - float(rules()["twins"]["share"])
    return [
        each / (single + max(total[one], total[other]))
        for each, one, other in zip(odds, left.tolist(), right.tolist(), strict=True)
    ]


def pair_ratios(register: Register, left: Rows, right: Rows) -> dict[str, Real]:
    """Give by fact what each pair of records says for being one bell; 0 where either lacks the fact.

    Words, which take longest to compare, are left at 0 where even the same words could not bear a proposal.
    """
    sizes = size_ratios(register.sizes.take(right), register.expected.take(left), register.general)
    told = {name: sizes[:, place] for place, name in enumerate(PARTS)}
    told["partials_hz"] = register.partial_tones.ratio(register.cents[right], register.cents[left])
    one, other = ([register.records[row].facts.cast_years for row in side] for side in (left, right))
    founders = register.founders.of_bell[left]
    shared = np.where(founders == register.founders.of_bell[right], founders, -1)
    told["cast_years"] = register.castings.pair_ratios(one, other, _years_of(register, shared))
    for name, kind in register.kinds.items():
        places = register.places[name]
        told[name] = kind.ratio(places[right], places[left])
    told["founder"] = register.founders.pair_ratios(left, right)
    told = {name: doubted(name, said) for name, said in told.items()}
    most = np.array([_most_words(register, number) for number in shared.tolist()])
    worth = np.flatnonzero(sum(told.values(), _before(register) + most) > _least_odds())
    words = np.zeros(len(left))
    dated = told["cast_years"][worth] != 0.0
    words[worth] = np.minimum(register.texts.pair_ratios(left[worth], right[worth], dated), most[worth])
    return told | {"inscription": doubted("inscription", words)}


def _before(register: Register) -> float:
    """Give the logarithm of the odds of a pair before anything is compared."""
    return math.log(float(rules()["twins"]["share"]) / max(len(register.records) - 1, 1))


def _least_odds() -> float:
    """Give the logarithm of the odds below which a pair is not looked at further."""
    return math.log(float(rules()["twins"]["propose_from"]) / 2.0)


def _most_words(register: Register, founder: int) -> float:
    """Give the most that words can say for two bells of one founder, or of no one founder (-1)."""
    count = register.texts.count if founder < 0 else len(register.founders.bells[founder])
    return register.texts.most(count)


def _years_of(register: Register, founders: Rows) -> list[Real | None]:
    """Give for each pair of one founder how his castings spread over the years; None for others."""
    spread: dict[int, Real] = {}
    for number in set(founders.tolist()) - {-1}:
        own = [register.records[row].facts.cast_years for row in register.founders.bells[number]]
        spread[number] = register.castings.of_founder([spans for spans in own if spans])
    return [spread.get(number) for number in founders.tolist()]


def pairs_to_compare(register: Register) -> set[tuple[int, int]]:
    """Give the pairs of rows that share enough to be compared, the lower row first."""
    return {pair for rows in _blocks(register) for pair in combinations(sorted(rows), 2)}


def _blocks(register: Register) -> Iterator[set[int]]:
    rule = rules()["twins"]
    runs = register.texts.long_runs.values()
    yield from (rows for rows in runs if 1 < len(rows) <= rule["rare_run"])
    keys: defaultdict[Key, set[int]] = defaultdict(set)
    for row in range(len(register.records)):
        for key in _keys(register, row):
            keys[key].add(row)
    yield from (rows for rows in keys.values() if 1 < len(rows) <= rule["crowded"])


def _keys(register: Register, row: int) -> Iterator[Key]:
    """Give the cells a record lies in, each with a neighbour, so that near ones meet."""
    rule = rules()["twins"]
    known, value = register.sizes.known[row], register.sizes.value[row]
    size = _cells(value[0], float(rule["closest"])) if known[0] else ()
    note = _cells(value[1], float(rule["closest_cents"]) * math.log(2.0) / 1200.0) if known[1] else ()
    year = _year_cells(register.records[row].facts.cast_years, float(rule["closest_years"]))
    founder = int(register.founders.of_bell[row])
    yield from (("size note year", *cells) for cells in product(size, note, year))
    if founder >= 0:
        yield from (("size founder year", founder, *cells) for cells in product(size, year))
        yield from (("size founder note", founder, *cells) for cells in product(size, note))


def _year_cells(spans: Sequence[Years], width: float) -> tuple[int, ...]:
    """Give the cells of a date that leaves a few years open at most."""
    if len(spans) != 1:
        return ()
    first, last = spans[0]
    return _cells(first, width) if first is not None and last is not None and last - first <= width else ()


def _cells(value: float, width: float) -> tuple[int, int]:
    """Give the two cells, of twice the width and half overlapping, in which a value lies."""
    place = math.floor(value / width)
    return place, place + 1
