"""Languages and scripts of inscriptions, as browsers and readers need them."""

from registry.model import codes

RIGHT_TO_LEFT_SCRIPTS = frozenset({
    "Adlm", "Arab", "Aran", "Armi", "Avst", "Chrs", "Cprt", "Elym", "Hatr", "Hebr", "Hung", "Khar", "Lydi",
    "Mand", "Mani", "Mend", "Merc", "Mero", "Narb", "Nbat", "Nkoo", "Orkh", "Palm", "Phli", "Phlp", "Phnx",
    "Prti", "Rohg", "Samr", "Sarb", "Sogd", "Sogo", "Syrc", "Syre", "Syrj", "Syrn", "Thaa", "Yezi",
})  # fmt: skip
"""Scripts whose letters the Unicode standard gives the direction right to left (bidi classes R and AL)."""

RIGHT_TO_LEFT_LANGUAGES = frozenset({
    "ar", "ara", "arc", "ckb", "dv", "fa", "fas", "he", "heb", "ps", "sd", "syr", "ug", "ur", "urd", "yi",
    "yid",
})  # fmt: skip
"""Languages usually written so, for inscriptions whose script no one told."""


def html_language(tag: str | None, script: str | None) -> str:
    """Give the language tag for the page: the script joins it where the tag has none. Empty for unknown."""
    if not tag:
        return f"und-{script}" if script else ""
    parts = tag.split("-")
    if script and not any(len(part) == 4 and part.isalpha() for part in parts[1:]):
        parts.insert(1, script)
    return "-".join(parts)


def is_right_to_left(script: str | None, tag: str | None) -> bool:
    """Say whether a text runs from right to left, by its script, else by its language."""
    parts = (tag or "").split("-")
    in_tag = next((part.capitalize() for part in parts[1:] if len(part) == 4 and part.isalpha()), None)
    known = script or in_tag
    return known in RIGHT_TO_LEFT_SCRIPTS if known else parts[0].lower() in RIGHT_TO_LEFT_LANGUAGES


def language_name(tag: str | None) -> str:
    """Give the English name of a language; the tag itself where there is none, empty for None."""
    return (codes.language_name(tag) or tag) if tag else ""


def script_name(code: str | None) -> str:
    """Give the English name of a script with its code; empty for None."""
    return f"{codes.script_name(code) or code} ({code})" if code else ""


FILTERS = {
    "html_language": html_language,
    "is_right_to_left": is_right_to_left,
    "language_name": language_name,
    "script_name": script_name,
}
"""Filters of the templates."""
