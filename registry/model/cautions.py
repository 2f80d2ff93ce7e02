"""The cautions printed wherever following the record could hurt, read from ``schema/rules/cautions.yaml``."""

from functools import cache
from typing import NamedTuple

import yaml

from registry.resources import shipped_text


class Caution(NamedTuple):
    """One caution: short sentences on what to do or leave, and what they rest on."""

    code: str
    title: str
    points: tuple[str, ...]
    source: str


@cache
def cautions() -> dict[str, Caution]:
    """Read every caution by its code, in the order of the file."""
    data = yaml.safe_load(shipped_text("schema", "rules", "cautions.yaml"))
    return {
        code: Caution(code, entry["title"], tuple(entry["points"]), entry["source"])
        for code, entry in data.items()
    }
