"""How many strokes a strike point takes a year, from hours, rate and the clock."""

from collections.abc import Sequence
from datetime import date
from itertools import pairwise
from typing import NamedTuple

from registry.derive.condition.seen import AT_REST, BellSeen
from registry.model.condition import StrikePoint
from registry.model.hanging import Ringing

DAYS_OF_CLOCK = 365.25
BY_CLAPPER, BY_HAMMER, BY_BOTH = "clapper", "hammer", "both"


class Strokes(NamedTuple):
    """Strokes of a year.

    Parameters
    ----------
    a_year : float
        Best value [1/a].
    share_unsure : float
        The true number may be this share more or less.
    method : str
        How it was found.
    """

    a_year: float
    share_unsure: float
    method: str


def strokes_a_minute(ringing: Ringing | None) -> float | None:
    """Give the strokes counted in a minute; None where they were not counted."""
    if ringing is None or not ringing.strokes or not ringing.strokes_in_s:
        return None
    return 60.0 * ringing.strokes / ringing.strokes_in_s


def clapper_strokes_a_year(ringing: Ringing | None) -> float | None:
    """Give the clapper's strokes in a year, both sides together; None where hours or rate are unknown."""
    if ringing is None or ringing.hours_a_year is None:
        return None
    if ringing.hours_a_year == 0.0:
        return 0.0
    rate = strokes_a_minute(ringing)
    return None if rate is None else ringing.hours_a_year * 60.0 * rate


def clock_strokes_a_year(ringing: Ringing | None) -> float | None:
    """Give the strokes of the clock's hammer in a year; None where they are unknown."""
    if ringing is None or ringing.clock_strikes_a_day is None:
        return None
    return ringing.clock_strikes_a_day * DAYS_OF_CLOCK


def strokes_at(point: StrikePoint, seen: BellSeen) -> float | None:
    """Give the strokes that one strike point takes a year, as one survey tells.

    Strokes of a swinging bell's clapper are shared by all its points in use, commonly two; those of a clapper
    that is pulled, and those of the hammer, all fall on the points told for them.

    Parameters
    ----------
    point : StrikePoint
        The point.
    seen : BellSeen
        The survey.

    Returns
    -------
    float or None
        None where the survey does not tell what strikes there, how often, or for how long.
    """
    ringing = seen.entry.ringing
    if point.struck_by not in (BY_CLAPPER, BY_HAMMER, BY_BOTH):
        return None
    parts = []
    for striker, total in (
        (BY_CLAPPER, clapper_strokes_a_year(ringing)),
        (BY_HAMMER, clock_strokes_a_year(ringing)),
    ):
        if point.struck_by not in (striker, BY_BOTH):
            continue
        if total is None:
            return None
        parts.append(total / max(_points(seen, striker, ringing), 1))
    return sum(parts)


def _points(seen: BellSeen, striker: str, ringing: Ringing | None) -> int:
    """Count the points in use that share the strokes of a striker; a swinging bell has at least two."""
    told = sum(
        each.use != "old" and each.struck_by in (striker, BY_BOTH) for each in seen.entry.strike_points
    )
    swings = ringing is not None and ringing.style is not None and ringing.style not in AT_REST
    return max(told, 2) if striker == BY_CLAPPER and swings else told


def mean_strokes(told: Sequence[tuple[date, float | None]], share_unsure: float) -> Strokes | None:
    """Give the mean strokes a year over a time, from what the surveys along it tell.

    Between two surveys the mean of both counts; where only one tells, that one.

    Parameters
    ----------
    told : sequence of (date, float or None)
        Day and strokes a year [1/a] of each survey, the oldest first.
    share_unsure : float
        How far such numbers may be off, as a share.
    """
    known = [(day, rate) for day, rate in told if rate is not None]
    if not known:
        return None
    if len(told) < 2 or told[0][0] == told[-1][0]:
        return Strokes(known[-1][1], share_unsure, "as told")
    total = 0.0
    for (start, before), (end, after) in pairwise(told):
        rates = [rate for rate in (before, after) if rate is not None] or [_nearest(known, start)]
        total += (end - start).days * sum(rates) / len(rates)
    days = (told[-1][0] - told[0][0]).days
    return Strokes(total / days, share_unsure, "mean over the visits")


def _nearest(known: Sequence[tuple[date, float]], day: date) -> float:
    return min(known, key=lambda each: abs((each[0] - day).days))[1]
