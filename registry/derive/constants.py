"""The constants and limits of the estimates, read once from ``schema/rules/estimates.yaml``."""

from functools import cache
from typing import Any

import yaml

from registry.resources import shipped_text


@cache
def constants(section: str) -> dict[str, Any]:
    """Give one section of the constants, such as ``similarity``, ``partials`` or ``wear``.

    The mapping is shared: read it, do not change it.
    """
    section_of: dict[str, dict[str, Any]] = _all_constants()
    return section_of[section]


@cache
def _all_constants() -> dict[str, dict[str, Any]]:
    loaded: dict[str, dict[str, Any]] = yaml.load(
        shipped_text("schema", "rules", "estimates.yaml"),
        Loader=yaml.CSafeLoader,  # the safe loader
    )
    return loaded
