"""What earlier surveys gave, as a new form recalls it beside the fields."""

import json
import re
from collections.abc import Iterable

from registry.forms.shown import shown
from registry.model.known import GONE, KnownBell, KnownFields, KnownValue

LONGEST_RECALLED = 200
"""Characters of an earlier value that a form repeats."""

_UNSEEN = re.compile("[\x7f-\x9f\u2028\u2029\ufeff]")
_PLAIN = re.compile(r"(?:[^\W_]|[+-][0-9])[\w .,;()/'’°+-]*").fullmatch


def recalled(last: KnownValue) -> str:
    """Write an earlier value on one line, with where it comes from."""
    return f"last: {_on_one_line(last.text)} {_origin(last)}"


def recalled_entry(values: Iterable[KnownValue]) -> str:
    """Write an entry of an earlier list on one line, with where it comes from."""
    told = list(values)
    return f"last: {'; '.join(_on_one_line(value.text) for value in told)} {_origin(told[0])}"


def named(bell: KnownBell) -> str:
    """Write the id of a bell, and its name if it has one."""
    return f"{bell.id}, {_on_one_line(bell.name)}" if bell.name else bell.id


def status_if_gone(bell: KnownBell) -> KnownValue | None:
    """Give the status of a bell that no longer is in its tower; None for any other bell."""
    status = _section(bell, "identity").get("status")
    return status if status is not None and status.text in GONE else None


def _section(bell: KnownBell, name: str) -> KnownFields:
    return bell.sections.get(name, {})


def _origin(last: KnownValue) -> str:
    return f"({last.survey_date}, {last.survey_id})"


def _on_one_line(text: str) -> str:
    return shown(" ".join(text.split()), LONGEST_RECALLED)


def as_scalar(text: str) -> str:
    """Write a text so that YAML reads the same text again."""
    if _PLAIN(text) and text == text.strip() and text.casefold() != "null":
        return text
    return _UNSEEN.sub(lambda sign: f"\\u{ord(sign[0]):04x}", json.dumps(text, ensure_ascii=False))
