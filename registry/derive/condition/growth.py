"""How fast pits and cracks grow, and when a limit is reached, from the visits of one bell.

A pit is followed until the bell is turned away from it or it is built up. A crack is followed until it is
mended. The rate is a mean over the visits; nobody knows that it will stay.
"""

import math
from collections.abc import Iterable, Sequence
from typing import NamedTuple

from registry.derive.condition.cracks import crack_states
from registry.derive.condition.following import Sighting, Track, follow_strike_points
from registry.derive.condition.loss import tolerance_mm
from registry.derive.condition.rim_facts import soundbow_mm
from registry.derive.condition.rulebook import Rulebook, rulebook
from registry.derive.condition.seen import BellSeen, newest_told, visits_of
from registry.derive.condition.slope import Measured, Rate, decimal_year, yearly_rate
from registry.derive.condition.strokes import Strokes, mean_strokes, strokes_at
from registry.model.condition import Crack, StrikePoint

GROWS, SHRINKS, CANNOT_TELL, ONE_VISIT = "grows", "shrinks", "cannot tell yet", "one reading only"
ALREADY, PERHAPS, LATER, BEYOND = "already", "perhaps already", "later", "beyond the horizon"


class LimitYear(NamedTuple):
    """When a limit is reached if the rate stays: a range of years.

    Parameters
    ----------
    limit_mm : float
        The limit, in the quantity that is followed [mm].
    reached : str
        ``already``, ``perhaps already``, ``later``, ``beyond the horizon`` (even at the fastest rate), or
        ``cannot tell yet``.
    soonest, best, latest : float or None
        Decimal years; None where there is no such year within the horizon.
    source : str
        What the limit rests on.
    """

    limit_mm: float
    reached: str
    soonest: float | None
    best: float | None
    latest: float | None
    source: str


class Growth(NamedTuple):
    """The growth of one thing in one quantity.

    Parameters
    ----------
    subject : str
        ``strike point 1`` or ``crack 2``.
    number : int
        Its number at the newest visit.
    quantity : str
        ``pit_depth_mm``, ``wall_lost_mm`` (the wall at the pit, thinner than at first) or ``length_mm``.
    readings : tuple of Measured
        The readings used, the oldest first [mm].
    survey_ids : tuple of str
        Their surveys.
    per_year : Rate or None
        Rate [mm/a]; None with a single reading.
    per_100k : Rate or None
        The same for 100,000 strokes [mm]; None where strokes are unknown or it is a crack.
    strokes : Strokes or None
        The strokes a year it rests on.
    telling : str
        ``grows``, ``shrinks``, ``cannot tell yet`` or ``one reading only``.
    limit : LimitYear or None
        When the limit of wear is reached; None for a crack, which has none.
    notes : tuple of str
        What the numbers do not say.
    source : str
        Citation of the method.
    """

    subject: str
    number: int
    quantity: str
    readings: tuple[Measured, ...]
    survey_ids: tuple[str, ...]
    per_year: Rate | None
    per_100k: Rate | None
    strokes: Strokes | None
    telling: str
    limit: LimitYear | None
    notes: tuple[str, ...]
    source: str


def growths_of(history: Sequence[BellSeen], book: Rulebook | None = None) -> tuple[Growth, ...]:
    """Give the growth of every pit in use and of every crack of a bell.

    Parameters
    ----------
    history : sequence of BellSeen
        What the surveys tell of the bell, the oldest first; only visits are used.
    book : Rulebook, optional
        Other rules than the shipped ones.

    Returns
    -------
    tuple of Growth
        Of a pit, by its depth and by the wall left, as far as each was read; then the cracks.
    """
    rules = book or rulebook()
    visits = visits_of(history)
    found: list[Growth] = []
    for track in follow_strike_points(visits, rules).tracks:
        if track.newest.item.use != "old":
            found.extend(_pit_growth(track, history, rules))
    for crack in crack_states(visits, rules):
        if crack.open:
            found.extend(_crack_growth(crack.track.sightings, crack.number, rules))
    return tuple(found)


def _pit_growth(track: Track[StrikePoint], history: Sequence[BellSeen], rules: Rulebook) -> list[Growth]:
    sightings = _since_built_up(track.sightings)
    unworn = _unworn_mm(sightings, history)
    percent = float(rules.settings["wear_limit"]["percent"])
    walls = [each for each in sightings if each.item.thickness_at_pit_mm is not None]
    first_mm = walls[0].item.thickness_at_pit_mm if walls else None
    found = []
    for quantity, read in (
        ("pit_depth_mm", [(each, each.item.pit_depth_mm) for each in sightings]),
        (
            "wall_lost_mm",
            [(each, _lost(first_mm, each.item.thickness_at_pit_mm)) for each in sightings],
        ),
    ):
        told = [(each, value) for each, value in read if value is not None]
        if not told or (quantity == "wall_lost_mm" and len(told) < 2):
            continue
        kind = "pit" if quantity == "pit_depth_mm" else "wall"
        readings = tuple(
            Measured(each.seen.day, value, tolerance_mm(each.seen, kind, rules)) for each, value in told
        )
        strokes = mean_strokes(
            [(each.seen.day, strokes_at(each.item, each.seen)) for each, _ in told],
            float(rules.settings["growth"]["strokes_uncertain_by"]),
        )
        limit_mm = None
        if unworn is not None:
            limit_mm = percent / 100.0 * unworn
            if quantity == "wall_lost_mm" and first_mm is not None:
                # The first reading was already below the unworn wall.
                limit_mm -= max(unworn - first_mm, 0.0)
        found.append(
            _growth(
                f"strike point {track.number}",
                track.number,
                quantity,
                readings,
                tuple(each.seen.survey_id for each, _ in told),
                strokes,
                limit_mm,
                (),
                rules,
            )
        )
    return found


def _lost(first_mm: float | None, wall_mm: float | None) -> float | None:
    return None if first_mm is None or wall_mm is None else first_mm - wall_mm


def _since_built_up(sightings: Sequence[Sighting[StrikePoint]]) -> Sequence[Sighting[StrikePoint]]:
    """Leave out what was read before the pit was built up."""
    for place in range(len(sightings) - 1, 0, -1):
        if sightings[place].item.built_up == "yes" and sightings[place - 1].item.built_up != "yes":
            return sightings[place:]
    return sightings


def _unworn_mm(sightings: Sequence[Sighting[StrikePoint]], history: Sequence[BellSeen]) -> float | None:
    """Give the unworn wall [mm]: first read beside the pit, else the thickest wall of the sound-bow."""
    beside = [
        each.item.thickness_beside_mm for each in sightings if each.item.thickness_beside_mm is not None
    ]
    if beside:
        return beside[0]
    thickest = newest_told(history, soundbow_mm)
    return None if thickest is None else float(thickest[0])


def _crack_growth(sightings: Sequence[Sighting[Crack]], number: int, rules: Rulebook) -> list[Growth]:
    told = [each for each in sightings if each.item.state != "none" and each.item.length_mm is not None]
    if not told:
        return []
    methods = dict.fromkeys(each.item.method or "untold" for each in told)
    notes = []
    if len(methods) > 1:
        notes.append(
            f"looked for in different ways ({', '.join(methods)}): part of the growth may be sharper sight"
        )
    readings = tuple(
        Measured(each.seen.day, each.item.length_mm or 0.0, tolerance_mm(each.seen, "crack", rules))
        for each in told
    )
    ids = tuple(each.seen.survey_id for each in told)
    return [_growth(f"crack {number}", number, "length_mm", readings, ids, None, None, tuple(notes), rules)]


def _growth(  # noqa: PLR0913, PLR0917 - the parts of one result
    subject: str,
    number: int,
    quantity: str,
    readings: tuple[Measured, ...],
    survey_ids: tuple[str, ...],
    strokes: Strokes | None,
    limit_mm: float | None,
    notes: tuple[str, ...],
    rules: Rulebook,
) -> Growth:
    rule = rules.settings["growth"]
    rate = yearly_rate(readings, float(rule["level"]))
    if rate is None:
        telling = ONE_VISIT
    elif not rate.told_from_zero:
        telling = CANNOT_TELL
    else:
        telling = GROWS if rate.low > 0.0 else SHRINKS
    if telling == SHRINKS:
        notes = (*notes, "it cannot have become less: another place, another instrument, or a slip")
    limit = None
    if limit_mm is not None:
        limit = limit_year(
            readings[-1], rate, limit_mm, float(rule["horizon_years"]), rules.settings["wear_limit"]["source"]
        )
    return Growth(
        subject,
        number,
        quantity,
        readings,
        survey_ids,
        rate,
        per_100k_strokes(rate, strokes),
        strokes,
        telling,
        limit,
        notes,
        rule["source"],
    )


def per_100k_strokes(rate: Rate | None, strokes: Strokes | None) -> Rate | None:
    """Give a yearly rate for 100,000 strokes, its interval widened by what is unsure of the strokes.

    Parameters
    ----------
    rate : Rate or None
        Rate a year.
    strokes : Strokes or None
        Strokes a year.

    Returns
    -------
    Rate or None
        None where one of them is unknown, or the bell is silent.
    """
    if rate is None or strokes is None or strokes.a_year <= 0.0:
        return None
    most = strokes.a_year * (1.0 + strokes.share_unsure) / 100_000.0
    least = strokes.a_year * (1.0 - strokes.share_unsure) / 100_000.0
    low, high = min(rate.low / most, rate.low / least), max(rate.high / most, rate.high / least)
    return rate._replace(value=rate.value / (strokes.a_year / 100_000.0), low=low, high=high)


def limit_year(
    newest: Measured, rate: Rate | None, limit_mm: float, horizon_years: float, source: str
) -> LimitYear:
    """Tell when a limit is reached if the rate stays.

    Parameters
    ----------
    newest : Measured
        The newest reading [mm].
    rate : Rate or None
        Rate [mm/a].
    limit_mm : float
        The limit [mm].
    horizon_years : float
        Years beyond which nothing is named [a].
    source : str
        What the limit rests on.
    """
    if newest.value - newest.error >= limit_mm:
        return LimitYear(limit_mm, ALREADY, None, None, None, source)
    now = decimal_year(newest.day)

    def year(missing_mm: float, per_year: float) -> float | None:
        if missing_mm <= 0.0:
            return now
        wait = missing_mm / per_year if per_year > 0.0 else horizon_years + 1.0
        return now + wait if wait <= horizon_years else None

    perhaps = newest.value + newest.error >= limit_mm
    if rate is None:
        word = PERHAPS if perhaps else CANNOT_TELL
        return LimitYear(limit_mm, word, now if perhaps else None, None, None, source)
    soonest = year(limit_mm - newest.value - newest.error, rate.high)
    best = year(limit_mm - newest.value, rate.value)
    latest = year(limit_mm - newest.value + newest.error, rate.low)
    if perhaps:
        word = PERHAPS
    elif soonest is None and rate.high > 0.0:
        word = BEYOND
    else:
        word = LATER if rate.low > 0.0 else CANNOT_TELL
    return LimitYear(limit_mm, word, soonest, best, latest, source)


def soonest_limit(growths: Iterable[Growth]) -> float:
    """Give the soonest year in which any limit of wear may be reached.

    Parameters
    ----------
    growths : iterable of Growth
        What grows at one bell.

    Returns
    -------
    float
        Decimal year; minus infinity where a limit is passed or may be, infinity where none is in sight.
    """
    years = [math.inf]
    for growth in growths:
        if growth.limit is None:
            continue
        if growth.limit.reached in (ALREADY, PERHAPS):
            years.append(-math.inf)
        elif growth.limit.soonest is not None:
            years.append(growth.limit.soonest)
    return min(years)
