"""The limits of the analysis of sound, read once from ``schema/rules/sound.yaml``."""

from functools import cache
from typing import Any

import yaml

from registry.resources import shipped_text


@cache
def limits(section: str) -> dict[str, Any]:
    """Give one section of the limits, such as ``search`` or ``labels``.

    The mapping is shared: read it, do not change it.
    """
    return _all_limits()[section]


@cache
def _all_limits() -> dict[str, dict[str, Any]]:
    loaded: dict[str, dict[str, Any]] = yaml.load(
        shipped_text("schema", "rules", "sound.yaml"),
        Loader=yaml.CSafeLoader,  # the safe loader
    )
    return loaded
