"""Survival: which share of the bells cast in a period still exists.

Bells whose fate nobody tells count neither way; how far they could move the share is given beside it.

References
----------
Wilson, E. B. (1927), Probable inference, the law of succession, and statistical inference, Journal of the
American Statistical Association 22 (158), 209-212, https://doi.org/10.1080/01621459.1927.10502953: the score
interval of a share. It holds for few cases and for shares near 0 and 1, where the usual one fails.
"""

from collections import defaultdict
from collections.abc import Mapping
from math import sqrt
from typing import Literal, NamedTuple

from registry.derive.castings import Z_90, Dated

Fate = Literal["exists", "gone", "unknown"]

FATES: dict[str, Fate] = {
    "hanging": "exists",
    "standing": "exists",
    "in-workshop": "exists",
    "on-display": "exists",
    "moved": "exists",
    "destroyed": "gone",
    "recast": "gone",
}
"""What has become of a bell by its status. Lost, stolen and requisitioned bells may exist or not."""


class Survival(NamedTuple):
    """The bells of one period.

    Parameters
    ----------
    first_year, last_year : int
        The period.
    exist, gone, unknown : float
        Bells that exist, are gone, or of unknown fate; those whose date spans several periods in parts.
    share, low, high : float or None
        Share of those of known fate that exist with its 90 % interval; None where no fate is known.
    least, most : float or None
        The share if all of unknown fate were gone, and if all of them existed.
    """

    first_year: int
    last_year: int
    exist: float
    gone: float
    unknown: float
    share: float | None
    low: float | None
    high: float | None
    least: float | None
    most: float | None


def survival(dated: Dated, statuses: Mapping[str, str | None], years: int) -> list[Survival]:
    """Count what has become of the bells of each period.

    Parameters
    ----------
    dated : Dated
        Bells spread over periods.
    statuses : mapping
        Status of each bell, a term of ``bell_status``; None where nobody tells.
    years : int
        Length of a period.
    """
    counted: dict[int, dict[Fate, float]] = defaultdict(lambda: {"exists": 0.0, "gone": 0.0, "unknown": 0.0})
    for bell, parts in dated.parts.items():
        fate = FATES.get(statuses.get(bell) or "", "unknown")
        for first_year, part in parts.items():
            counted[first_year][fate] += part
    if not counted:
        return []
    return [
        _of_period(first_year, years, counted[first_year])
        for first_year in range(min(counted), max(counted) + 1, years)
    ]


def _of_period(first_year: int, years: int, counted: Mapping[Fate, float]) -> Survival:
    exist, gone, unknown = counted["exists"], counted["gone"], counted["unknown"]
    known, every = exist + gone, exist + gone + unknown
    share = low = high = least = most = None
    if known > 0:
        share = exist / known
        low, high = wilson(exist, known)
    if every > 0:
        least, most = exist / every, (exist + unknown) / every
    return Survival(first_year, first_year + years - 1, exist, gone, unknown, share, low, high, least, most)


def wilson(successes: float, trials: float, z: float = Z_90) -> tuple[float, float]:
    """Give the ends of the score interval of a share.

    Parameters
    ----------
    successes, trials : float
        How many of how many, more than 0; parts of cases are allowed.
    z : float
        Point of the normal distribution; that of a 90 % interval unless given.
    """
    share = successes / trials
    middle = share + z * z / (2.0 * trials)
    half = z * sqrt(share * (1.0 - share) / trials + z * z / (4.0 * trials * trials))
    whole = 1.0 + z * z / trials
    return max((middle - half) / whole, 0.0), min((middle + half) / whole, 1.0)
