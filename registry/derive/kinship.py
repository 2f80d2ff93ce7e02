"""How much a bell has in common with others, and what their deviations from the law tell of its own.

Bells deviate from the similarity law partly together: those that one founder cast for one tower within a few
years and of about one size share most of what is theirs in common, his other bells part of it, and all bells
of a registry a little. From the deviations of bells that were weighed follows the deviation to expect of one
that was not: the best linear prediction of a normal model, which falls back to the law where nothing is
known.

References
----------
The shares stand in ``schema/rules/estimates.yaml``; ``benchmarks/estimates.py`` measures what they are worth.
"""

import bisect
import heapq
import math
import operator
from collections import defaultdict
from collections.abc import Iterable, Sequence
from functools import cache
from typing import NamedTuple

from registry.derive.constants import constants
from registry.derive.law import Scatter

MOST = 12
"""Bells of one founder that are listened to, the closest ones: more add nothing."""

ROOT_3 = math.sqrt(3.0)
A_SISTER = 0.35
"""Closeness in tower and time from which a bell of the founder is called a sister: about ten years."""


class Kin(NamedTuple):
    """Where a bell comes from.

    Parameters
    ----------
    founder : str
        The founder's id or name; empty where nobody knows.
    tower : str
        The tower it was cast for, or hangs in.
    cast_year : int or None
        Year of casting, the middle one of those it may be.
    diameter_m : float
        Mouth diameter [m].
    """

    founder: str
    tower: str
    cast_year: int | None
    diameter_m: float

    @property
    def family(self) -> str:
        """The founder; without one, the bells of the tower, of which those of one time belong together."""
        return self.founder.casefold() or f"? {self.tower}"


class Deviation(NamedTuple):
    """How far a known bell lies from the law [ln], and how uncertain that is beside its own scatter [ln]."""

    kin: Kin
    value: float
    uncertainty: float = 0.0
    bell_id: str = ""


class Expected(NamedTuple):
    """The deviation [ln] to expect of a bell, its standard deviation, and who told it.

    ``sisters`` are of the same founder, tower and decade, ``family`` other bells of the founder, ``others``
    the rest of the registry.
    """

    value: float
    deviation: float
    sisters: int
    family: int
    others: int

    @property
    def bells(self) -> int:
        """How many bells spoke."""
        return self.sisters + self.family + self.others

    @property
    def speaker(self) -> str:
        """Whose voice is the closest: ``sisters``, ``founder`` or ``registry``."""
        return "sisters" if self.sisters else "founder" if self.family else "registry"


class _Shares(NamedTuple):
    reach_by_size: float
    reach_by_years: float
    of_founder: float
    of_registry: float


@cache
def _shares() -> _Shares:
    rule = constants("kinship")
    return _Shares(
        rule["reach_by_size"], rule["reach_by_years"], rule["share_of_founder"], rule["share_of_registry"]
    )


def kinship(one: Kin, other: Kin) -> float:
    """Give the share [0..1] of what kindred bells have in common that two of them do."""
    return _share(one, other) if one.family == other.family else 0.0


def _share(one: Kin, other: Kin) -> float:
    """Give the kinship of two bells of one family."""
    if one is other:
        return 1.0
    shares = _shares()
    # Matern's covariance of order 3/2: smooth, but not so smooth that a few bells would seem to tell all.
    apart = abs(math.log(one.diameter_m / other.diameter_m)) * ROOT_3 / shares.reach_by_size
    of_founder = shares.of_founder if one.founder else 0.0
    share = of_founder + (1.0 - of_founder) * _closeness(one, other)
    return share * (1.0 + apart) * math.exp(-apart)


def _closeness(one: Kin, other: Kin) -> float:
    """Tell how near two bells of a founder are in tower and time: 1 for one year, 0 for another tower."""
    if one.tower != other.tower or one.cast_year is None or other.cast_year is None:
        return 0.0
    apart = (one.cast_year - other.cast_year) / _shares().reach_by_years
    return math.exp(-0.5 * apart * apart)


class Witnesses:
    """The bells of a registry whose deviation from the law is known.

    Parameters
    ----------
    deviations : iterable of Deviation
        One for each bell; those that contradict themselves left out.
    scatter : Scatter
        The scatter about the law.
    by_family : bool
        Each family is heard alone: no other founder's bells tell of the habits of the registry.
    """

    def __init__(self, deviations: Iterable[Deviation], scatter: Scatter, *, by_family: bool = False) -> None:
        self._scatter = scatter
        families: dict[str, list[Deviation]] = defaultdict(list)
        for each in deviations:
            families[each.kin.family].append(each)
        self._families = {family: _Family(bells) for family, bells in families.items()}
        voting = {} if by_family else self._families
        self._bells = sum(len(family.bells) for family in voting.values())
        self._votes = {name: self._vote(family.bells[:MOST]) for name, family in voting.items()}
        self._weight = sum(vote.weight for vote in self._votes.values())
        self._sum = sum(vote.weighted for vote in self._votes.values())

    def expected(self, kin: Kin, without: str = "") -> Expected:
        """Give the deviation to expect of a bell; ``without`` names the witness that is the bell itself."""
        name = kin.family
        family, own = self._families.get(name, NOBODY), self._votes.get(name, _Vote(0.0, 0.0))
        # What the other families tell of the registry as a whole, which is expected to lie at the law.
        registry = _shares().of_registry * self._scatter.ring**2
        precision = 1.0 / registry + self._weight - own.weight
        habit, doubt = (self._sum - own.weighted) / precision, 1.0 / precision
        heard = [each for each in family.near(kin) if not without or each.bell_id != without]
        closest = heapq.nlargest(MOST, heard, key=lambda each: _share(kin, each.kin))
        alike = [self._alike(kin, each.kin) + doubt for each in closest]
        weights = solved(self._covariance(closest, doubt), alike)
        value = habit + sum(
            weight * (each.value - habit) for weight, each in zip(weights, closest, strict=True)
        )
        told = sum(map(operator.mul, weights, alike))
        variance = self._alike(kin, kin) + doubt - told + self._scatter.bell**2
        sisters = sum(_closeness(kin, each.kin) >= A_SISTER for each in heard)
        itself = bool(without) and without in family.ids
        of_family = len(family.bells) - itself - sisters
        others = max(self._bells - len(family.bells), 0)
        return Expected(value, math.sqrt(variance), sisters, of_family, others)

    def _covariance(self, bells: Sequence[Deviation], doubt: float) -> list[list[float]]:
        """Give the lower triangle of the covariance of some bells of one family, row by row."""
        rows = []
        for place, one in enumerate(bells):
            row = [self._alike(one.kin, other.kin) + doubt for other in bells[:place]]
            row.append(self._alike(one.kin, one.kin) + doubt + self._scatter.bell**2 + one.uncertainty**2)
            rows.append(row)
        return rows

    def _alike(self, one: Kin, other: Kin) -> float:
        """Give the covariance of two bells of a family, without what the whole registry has in common."""
        return (1.0 - _shares().of_registry) * self._scatter.ring**2 * _share(one, other)

    def _vote(self, bells: Sequence[Deviation]) -> "_Vote":
        """Give what one family tells of the mean of all; bells that are alike count for less."""
        weights = solved(self._covariance(bells, 0.0), [1.0] * len(bells))
        told = sum(weight * each.value for weight, each in zip(weights, bells, strict=True))
        return _Vote(sum(weights), told)


class _Family:
    """The bells of one founder, found by tower and by size."""

    def __init__(self, bells: Iterable[Deviation]) -> None:
        self.bells = sorted(bells, key=lambda each: (each.kin.diameter_m, each.bell_id))
        self.ids = {each.bell_id for each in self.bells}
        self._diameters = [each.kin.diameter_m for each in self.bells]
        self._towers: dict[str, list[Deviation]] = defaultdict(list)
        for each in self.bells:
            self._towers[each.kin.tower].append(each)

    def near(self, kin: Kin) -> list[Deviation]:
        """Give all bells of the tower, and of the others those that are nearest in size."""
        middle = bisect.bisect_left(self._diameters, kin.diameter_m)
        by_size = self.bells[max(middle - MOST, 0) : middle + MOST]
        of_tower = self._towers.get(kin.tower, [])
        return [*of_tower, *(each for each in by_size if each.kin.tower != kin.tower)]


NOBODY = _Family([])


class _Vote(NamedTuple):
    weight: float
    weighted: float


def factored(matrix: Sequence[Sequence[float]]) -> list[list[float]]:
    """Give the lower triangle L of a symmetric, positive definite matrix L·Lᵀ, after Cholesky.

    Of the matrix the lower triangle is looked at.
    """
    lower: list[list[float]] = []
    for row in matrix:
        new: list[float] = []
        for place, above in enumerate(lower):
            new.append((row[place] - sum(map(operator.mul, new, above))) / above[place])
        new.append(math.sqrt(row[len(lower)] - sum(each * each for each in new)))
        lower.append(new)
    return lower


def solved(matrix: Sequence[Sequence[float]], right: Sequence[float]) -> list[float]:
    """Solve a system of equations whose matrix is symmetric and positive definite."""
    lower = factored(matrix)
    half: list[float] = []
    for row, wanted in zip(lower, right, strict=True):
        half.append((wanted - sum(map(operator.mul, row, half))) / row[len(half)])
    answer = [0.0] * len(half)
    for place in reversed(range(len(half))):
        below = sum(lower[other][place] * answer[other] for other in range(place + 1, len(half)))
        answer[place] = (half[place] - below) / lower[place][place]
    return answer
