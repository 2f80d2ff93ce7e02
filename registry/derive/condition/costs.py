"""What options cost, from a table that the user gives; the project names no costs of its own."""

from collections.abc import Mapping
from typing import Any

import yaml

from registry.derive.condition.judgement import CostLine, judgement

PER = ("bell", "kg")
FIELDS = ("low", "high", "currency", "per", "source")


def read_costs(text: str) -> dict[str, CostLine]:
    """Read a table of costs: by option ``low``, ``high``, ``currency``, ``per`` (bell or kg) and ``source``.

    Parameters
    ----------
    text : str
        YAML, for instance ``turn: {low: 800, high: 1500, currency: EUR, per: bell, source: an offer}``.

    Raises
    ------
    ValueError
        When it is no such table, names no option of ours, or leaves out what a cost rests on.
    """
    try:
        data = yaml.safe_load(text)
    except yaml.YAMLError as error:
        raise ValueError(f"it is not YAML: {error}") from error
    if not isinstance(data, Mapping):
        raise ValueError("it holds no costs by option")
    options = judgement()["options"]
    unknown = sorted(str(name) for name in data if name not in options)
    if unknown:
        raise ValueError(f"{', '.join(unknown)}: no such option; there are {', '.join(options)}")
    return {str(name): _line(str(name), entry) for name, entry in data.items()}


def _line(name: str, entry: Any) -> CostLine:
    if not isinstance(entry, Mapping) or set(entry) != set(FIELDS):
        raise ValueError(f"{name}: give {', '.join(FIELDS)}, and nothing else")
    low, high = entry["low"], entry["high"]
    for amount in (low, high):
        if isinstance(amount, bool) or not isinstance(amount, (int, float)):
            raise ValueError(f"{name}: low and high are numbers")
    if not 0.0 <= low <= high < float("inf"):
        raise ValueError(f"{name}: low is not above high, and neither is below nought")
    if entry["per"] not in PER:
        raise ValueError(f"{name}: per is {' or '.join(PER)}")
    if not entry["currency"] or not entry["source"]:
        raise ValueError(f"{name}: say the currency, and what the cost rests on (source)")
    return CostLine(float(low), float(high), str(entry["currency"]), entry["per"], str(entry["source"]))
