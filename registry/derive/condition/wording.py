"""Sentences on growth and limits, the same wherever they are shown."""

import math
from collections.abc import Callable

from registry.derive.condition.growth import (
    ALREADY,
    BEYOND,
    CANNOT_TELL,
    GROWS,
    ONE_VISIT,
    PERHAPS,
    Growth,
)
from registry.derive.condition.rulebook import rulebook
from registry.derive.condition.slope import Rate

WHAT = {
    "pit_depth_mm": "depth of the pit",
    "wall_lost_mm": "wall lost at the pit",
    "length_mm": "length",
}


def growth_sentence(growth: Growth) -> str:
    """Say how fast something grows, with its interval and what it rests on."""
    what = f"{growth.subject}, {WHAT[growth.quantity]}"
    rate = growth.per_year
    if growth.telling == ONE_VISIT or rate is None:
        return f"{_upper(what)}: one reading only, so nothing can be said on growth."
    years = f"{growth.readings[0].day.year} to {growth.readings[-1].day.year}"
    basis = f"{len(growth.readings)} readings, {years}"
    if growth.telling == CANNOT_TELL:
        return f"{_upper(what)}: cannot tell yet whether it grows ({_band(rate)} mm a year; {basis})."
    verb = "grows" if growth.telling == GROWS else "was read as less than before, by"
    text = f"{_upper(what)} {verb} {_number(rate.value)} mm a year ({_band(rate)}; {basis})"
    if growth.per_100k is not None:
        strokes = growth.per_100k
        text += f", {_number(strokes.value)} mm for 100,000 strokes ({_band(strokes)})"
    return f"{text}."


def limit_sentence(growth: Growth) -> str:
    """Say when the limit of wear is reached, as a range; empty where there is no limit."""
    limit = growth.limit
    if limit is None:
        return ""
    horizon = int(rulebook().settings["growth"]["horizon_years"])
    named = f"the limit of {_number(limit.limit_mm)} mm"
    if limit.reached == ALREADY:
        return f"{_upper(named)} is passed."
    if limit.reached == PERHAPS:
        return f"{_upper(named)} may be passed already."
    if limit.reached == BEYOND:
        return f"{_upper(named)} is not reached within {horizon} years at this rate."
    soonest = "" if limit.soonest is None else f", {limit.soonest:.0f} at the soonest"
    if limit.reached == CANNOT_TELL:
        return f"When {named} is reached cannot be told yet{soonest}."
    latest = "later than can be named" if limit.latest is None else f"{limit.latest:.0f}"
    return f"If it goes on like this, {named} is reached between {limit.soonest:.0f} and {latest}."


def _number(value: float, rounded: Callable[[float], float] = round) -> str:
    """Write a number with two significant digits, as the readings bear no more, and no exponent."""
    if value == 0.0:
        return "0"
    places = 1 - math.floor(math.log10(abs(value)))
    # Twelve digits drop what binary fractions leave behind, lest 0.3 be rounded up to 0.31.
    kept = rounded(float(f"{value * 10.0**places:.12g}")) / 10.0**places
    text = f"{kept:.{max(places, 0)}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def _band(rate: Rate) -> str:
    """Write an interval, rounded outwards."""
    return f"{_number(rate.low, math.floor)} to {_number(rate.high, math.ceil)}"


def _upper(text: str) -> str:
    return text[:1].upper() + text[1:]
