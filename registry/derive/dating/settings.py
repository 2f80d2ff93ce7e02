"""The settings of dates, read once from ``schema/rules/dating.yaml``."""

from functools import cache

import yaml

from registry.resources import shipped_text


@cache
def circa_years() -> int:
    """Give how many years on either side a date marked approximate is widened by; 0 for none."""
    rules = yaml.load(
        shipped_text("schema", "rules", "dating.yaml"),
        Loader=yaml.CSafeLoader,  # the safe loader
    )
    return int(rules["circa_years"]["value"])


def circa_words(years: int) -> str:
    """Say that bounds were widened."""
    return f"approximate: widened by {years} years on either side, a setting and no part of the date"
