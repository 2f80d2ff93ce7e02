"""Partials against the strike note: the same bell within a few cents, another one within tens of them.

They are held against half the nominal, or the strike note where there is no nominal, so that temperature and
reference pitch, which move all partials alike, fall out. What the strike note itself says is said elsewhere.
"""

import math
from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from registry.derive.identity.facts import Facts
from registry.derive.identity.rules import rules

Real = NDArray[np.float64]


def names() -> list[str]:
    """Name the partials that are compared."""
    return list(rules()["partials"]["general"])


def relative_cents(bells: Sequence[Facts]) -> Real:
    """Give the partials of bells in cents against the strike note, shape (n, partials); nan where unknown."""
    columns = names()
    answer = np.full((len(bells), len(columns)), np.nan)
    for row, bell in enumerate(bells):
        reference_hz = bell.strike_reference_hz
        if reference_hz and bell.partials_hz:
            for column, name in enumerate(columns):
                hertz = bell.partials_hz.get(name)
                if hertz:
                    answer[row, column] = 1200.0 * math.log2(hertz / reference_hz)
    return answer


class PartialTones:
    """How partials lie on bells in general: as published, and as in the registry.

    Parameters
    ----------
    cents : array of float, shape (n, partials)
        Those of the registry, from :func:`relative_cents`.
    """

    def __init__(self, cents: Real, counts_as: float = 20.0) -> None:
        rule = rules()["partials"]
        self.reading = math.sqrt(2.0) * float(rule["sd_cents"])
        means, spreads = [], []
        for column, name in enumerate(names()):
            mean, spread = rule["general"][name]
            own = cents[:, column][np.isfinite(cents[:, column])]
            own = own[np.abs(own - mean) < 5.0 * spread]
            total = counts_as + len(own)
            middle = (counts_as * mean + own.sum()) / total
            squares = counts_as * (spread**2 + (mean - middle) ** 2) + ((own - middle) ** 2).sum()
            means.append(middle)
            spreads.append(math.sqrt(squares / total))
        self.mean, self.spread = np.array(means), np.array(spreads)

    def ratio(self, found: Real, stated: Real) -> Real:
        """Give what partials found say for records, all together; 0 where none is shared. Rows pair up."""
        found, stated = np.broadcast_arrays(found, stated)
        rule = rules()["partials"]["tuned"]
        known = np.isfinite(found) & np.isfinite(stated)
        apart = np.where(known, found - stated, 0.0)
        same = _density(apart, np.full(len(self.mean), self.reading), known)
        read = self.reading / math.sqrt(2.0)
        free = _density(np.where(known, found - self.mean, 0.0), np.hypot(self.spread, read), known)
        at = np.array([float(rule["at"][name]) for name in names()])
        spread = np.full(len(at), math.hypot(float(rule["spread"]), read))
        tuned = _density(np.where(known, found - at, 0.0), spread, known)
        share = float(rule["share"])
        other = np.logaddexp(math.log1p(-share) + free, math.log(share) + tuned)
        return np.asarray(np.where(known.any(axis=1), same - other, 0.0))


def _density(apart: Real, spread: Real, known: NDArray[np.bool_]) -> Real:
    """Give the logarithm of a normal density of what is known, but for a constant that all of them share."""
    each = -0.5 * (apart / spread) ** 2 - np.log(spread)
    return np.asarray(np.where(known, each, 0.0).sum(axis=1))
