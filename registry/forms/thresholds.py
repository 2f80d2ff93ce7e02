"""The bands that rules across fields go by, read from ``schema/rules/plausibility.yaml``."""

import math
from functools import cache
from typing import NamedTuple

import yaml

from registry.resources import shipped_text


class Band(NamedTuple):
    """The values that pass without a question, what is compared, and what the band rests on."""

    low: float
    high: float
    what: str
    source: str

    def holds(self, value: float) -> bool:
        """Say whether a value lies in the band, ends included."""
        return self.low <= value <= self.high


@cache
def bands() -> dict[str, Band]:
    """Read all bands, by name.

    Raises
    ------
    KeyError, ValueError
        When an entry of the file lacks what it must have.
    """
    # Every scalar stays text: what is no number must be found out here.
    data = yaml.load(shipped_text("schema", "rules", "plausibility.yaml"), Loader=yaml.CBaseLoader)  # noqa: S506
    return {
        name: Band(
            float(entry.get("low", -math.inf)),
            float(entry.get("high", math.inf)),
            entry["what"],
            entry["source"],
        )
        for name, entry in data.items()
    }


def band(name: str) -> Band:
    """Give the band called ``name``.

    Raises
    ------
    KeyError
        When the file has none of this name.
    """
    return bands()[name]
