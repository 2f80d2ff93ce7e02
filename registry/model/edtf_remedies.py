"""What to write instead of a date that cannot be read."""

import re

from registry.model.edtf_parts import EXPECTED, EdtfError, span_of

_MONTHS = r"(0?[1-9]|1[0-2])"
_DAYS = r"(0?[1-9]|[12][0-9]|3[01])"


def _two(match: re.Match[str]) -> str:
    """Write day.month.year the other way round."""
    day, month, year = match.groups()
    return f"{year}-{int(month):02d}-{int(day):02d}"


def _padded(match: re.Match[str]) -> str:
    year, month, day = match.groups()
    return f"{year}-{int(month):02d}" + (f"-{int(day):02d}" if day else "")


REWRITES = [
    # The draft of 2012
    (re.compile(r"(.*)\?~(.*)"), r"\1%\2"),
    (re.compile(r"unknown/(.+)"), r"/\1"),
    (re.compile(r"(.+)/unknown"), r"\1/"),
    (re.compile(r"(.+)/open"), r"\1/.."),
    (re.compile(r"open/(.+)"), r"../\1"),
    (re.compile(r"y(-?[0-9]+)"), r"Y\1"),
    # Everyday forms
    (re.compile(r"(?:c|ca|circa|about|um)\.? ?([0-9][^/]*)"), r"\1~"),
    (re.compile(r"(?:before|vor|avant) ([0-9][^/]*)"), r"../\1"),
    (re.compile(r"(?:after|nach|après) ([0-9][^/]*)"), r"\1/.."),
    (re.compile(r"([0-9]{3})0s"), r"\1X"),
    (re.compile(r"([0-9]{4}) *[-\u2013] *([0-9]{4})"), r"\1/\2"),
    (re.compile(rf"{_DAYS}\. ?{_MONTHS}\. ?([0-9]{{4}})"), _two),
    (re.compile(rf"([0-9]{{4}})-{_MONTHS}(?:-{_DAYS})?"), _padded),
]
"""Forms that people write, each with the expression that says the same."""


def remedy_for(text: str) -> str:
    """Say what to write instead of a text that is no date expression."""
    plain = text.strip().casefold()
    plain = re.sub(r"[ux](?=[ux?~%/.,\]}-]|$)", "X", plain) if re.search("[0-9]", plain) else plain
    candidates = [plain, plain.replace(" ", "")]
    candidates += [rewrite for pattern, form in REWRITES if (rewrite := _rewritten(pattern, form, plain))]
    for candidate in candidates:
        if candidate != text and _is_date(candidate):
            return f"write {candidate}"
    return f"write {EXPECTED}; the words of the source have their own field"


def _rewritten(pattern: re.Pattern[str], form: object, text: str) -> str | None:
    match = pattern.fullmatch(text)
    if match is None:
        return None
    return form(match) if callable(form) else match.expand(str(form))


def _is_date(text: str) -> bool:
    try:
        return all(part in ("", "..") or span_of(part) is not None for part in text.split("/"))
    except EdtfError:
        return False
