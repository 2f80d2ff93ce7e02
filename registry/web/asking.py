"""What a visitor asks for: the values in the address, read with care."""

import re
from collections.abc import Mapping, Sequence
from typing import Any, NamedTuple

from registry.questions.link import encoded

MOST_PAGES = 100_000
_NUMBER = re.compile(r"-?[0-9]{1,9}(\.[0-9]{1,9})?")


class Ask(NamedTuple):
    """One request for a page.

    ``names`` are the parts of the path, ``args`` the values after the question mark, ``prefix`` what stands
    before every path of ours (``base_url``), ``path`` the path below it, ``origin`` scheme and host as the
    visitor sees them.
    """

    path: str
    names: Mapping[str, str]
    args: Mapping[str, Sequence[str]]
    prefix: str = "/"
    origin: str = ""

    def url(self, path: str, query: Mapping[str, Any] | Sequence[tuple[str, Any]] | None = None) -> str:
        """Give the address of a page, with a query; values that are empty or None are left out."""
        pairs = query.items() if isinstance(query, Mapping) else query or ()
        text = encoded(pair for pair in pairs if pair[1] not in (None, ""))
        return f"{self.prefix}{path.lstrip('/')}{'?' if text else ''}{text}"

    def one(self, name: str) -> str:
        """Give the last value of an argument, without spaces around it; empty where there is none."""
        values = self.args.get(name, ())
        return values[-1].strip() if values else ""

    def many(self, name: str) -> tuple[str, ...]:
        """Give every value of an argument that is not empty."""
        return tuple(value.strip() for value in self.args.get(name, ()) if value.strip())

    def number(self, name: str) -> float | None:
        """Give an argument as a number; None where it is absent or no plain number."""
        text = self.one(name)
        return float(text) if _NUMBER.fullmatch(text) else None

    def whole(self, name: str) -> int | None:
        """Give an argument as a whole number; None where it is absent or none."""
        value = self.number(name)
        return int(value) if value is not None and value == int(value) else None

    def page(self) -> int:
        """Give the number of the page asked for, from 1."""
        return min(max(self.whole("page") or 1, 1), MOST_PAGES)
