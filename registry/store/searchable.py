"""The words under which a bell is found."""

import re
from collections.abc import Iterable
from typing import Any

from registry.store.history import BellHistory
from registry.store.rows import Row

_LEIDEN_SIGNS = re.compile(r"[()\[\]{}⟨⟩⟦⟧<>|]|\u0323")
"""Signs of an edition inside words, which no one types into a search: m(a)g(ist)er is found as magister."""


def text_row(history: BellHistory, current: dict[str, Any]) -> Row:
    """Make the row of ``bell_text``: words of all surveys, so that an older reading finds the bell too."""
    seen = history.bell_seen
    return (
        history.bell_id,
        _joined(row[field] for row in seen for field in ("name", "title")),
        _joined(current[field] for field in ("place", "tower_name", "region")),
        _joined(row["founder"] for row in seen),
        _joined(
            _LEIDEN_SIGNS.sub("", row[field])
            for row in history.inscription
            for field in ("transcription", "expansion", "translation")
            if row[field] is not None
        ),
    )


def _joined(texts: Iterable[str | None]) -> str:
    return "\n".join(dict.fromkeys(text for text in texts if text))
