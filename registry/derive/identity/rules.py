"""The constants of the comparison, read once from ``schema/rules/identity.yaml``."""

from functools import cache
from typing import Any

import yaml

from registry.resources import shipped_text


@cache
def rules() -> dict[str, Any]:
    """Give all constants of the comparison by section. The mapping is shared: read it, do not change it."""
    loaded: dict[str, Any] = yaml.load(
        shipped_text("schema", "rules", "identity.yaml"),
        Loader=yaml.CSafeLoader,  # the safe loader
    )
    return loaded
