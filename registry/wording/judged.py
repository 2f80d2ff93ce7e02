"""What is judged of a bell, in words: steps of a grade, advice, growth, options, inspections."""

from registry.derive.condition.growth import Growth
from registry.derive.condition.rulebook import rulebook
from registry.derive.condition.slope import Rate
from registry.units import format_estimate, format_quantity
from registry.wording.words import heading

RINGING = {
    "normal": "Ringing as usual",
    "reduced": "Ring less",
    "stop": "Do not ring",
    "cannot-say": "Inspect first",
    "not-hung": "Does not hang",
}
"""The advice on ringing in a few words."""

FOLLOWED = {
    "pit_depth_mm": "depth of the pit",
    "wall_lost_mm": "wall lost since first measured",
    "length_mm": "length",
}
"""What is followed through the visits, in words."""

INSPECTIONS = {
    "expert": "Call an expert",
    "soon": "Look soon",
    "technical": "Technical inspection",
    "by-eye": "Look by eye",
}
"""Kinds of inspection in words."""

RATES = {"two-readings": "first and last", "theil-sen": "Theil–Sen"}
"""Ways to find a rate, in words."""

OPTIONS = {
    "leave-and-watch": "Leave and watch",
    "ring-less": "Ring less",
    "clapper": "Put the clapper right",
    "turn": "Turn",
    "weld": "Weld",
    "retire-and-display": "Retire and display",
    "recast": "Recast",
}
"""Options in a word or two."""

SWING_LINES = {
    "strokes_a_minute": ("Strokes a minute", "number"),
    "period_s": ("Time of a full swing to and fro", "s"),
    "pendulum_length_m": ("Length of the equal pendulum", "m"),
    "vertical_share": ("Largest vertical force, in weights of the bell", "number"),
    "horizontal_share": ("Largest horizontal force, in weights of the bell", "number"),
    "vertical_kn": ("Largest vertical force", "kn"),
    "horizontal_kn": ("Largest horizontal force", "kn"),
}
"""What is told of a swing, and its unit."""


def step_words(step: str, value: int | None, at_least: int) -> str:
    """Word one step of a grade; one that is not known is never good, and says what is at least the case."""
    words = rulebook().steps[step]
    if value is not None:
        return f"{value} – {words[value]}"
    return f"not known; at least {at_least} – {words[at_least]}" if at_least else "not known"


def urgency_words(urgency: int) -> str:
    """Word how urgent an action is."""
    return rulebook().steps["urgency"][urgency]


def rate_words(rate: Rate | None) -> str:
    """Word a rate."""
    return "" if rate is None else format_estimate(rate.value, "number", rate.low, rate.high)


def interval_words(rate: Rate | None) -> str:
    """Word the interval of a rate, and how sure it is."""
    if rate is None:
        return ""
    low, high = (format_estimate(end, "number", rate.low, rate.high) for end in (rate.low, rate.high))
    return f"{low} to {high}, {'certain bounds' if rate.level == 1 else f'{rate.level:.0%}'}"


def limit_words(growth: Growth) -> str:
    """Word when the limit of wear is reached: a range of years, never one."""
    limit = growth.limit
    if limit is None:
        return "no limit of wear"
    if limit.reached != "later":
        return heading(limit.reached)
    soonest, best, latest = (
        "" if year is None else str(int(year)) for year in (limit.soonest, limit.best, limit.latest)
    )
    end = f"to {latest}" if latest else "or much later"
    return f"{soonest} {end}" + (f", likely {best}" if best else "")


def limit_size(growth: Growth) -> str:
    """Say which limit is meant."""
    limit = growth.limit
    return "" if limit is None else f"limit {format_quantity(limit.limit_mm, 'mm', 2)}"


def option_words(code: str) -> str:
    """Word an option."""
    return OPTIONS.get(code, code)


def inspection_words(kind: str) -> str:
    """Word a kind of inspection."""
    return INSPECTIONS.get(kind, kind)


GLOBALS = {
    "option_words": option_words,
    "inspection_words": inspection_words,
    "urgency_words": urgency_words,
}
"""Functions of the templates."""
