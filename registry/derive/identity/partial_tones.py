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
        wide = self.spread**2 + self.reading**2 / 2.0
        same = -0.5 * ((found - stated) / self.reading) ** 2 - math.log(self.reading)
        other = -0.5 * (found - self.mean) ** 2 / wide - 0.5 * np.log(wide)
        return np.asarray(np.nansum(same - other, axis=1))
