"""Registered codes of languages (BCP 47), scripts (ISO 15924) and countries (ISO 3166-1).

A language tag is checked part by part: language (ISO 639, shortest code, historical languages of ISO 639-3
such as ``gmh`` included, families of ISO 639-5), script and region against the registers as ``pycountry``
carries them; variants and extensions only for their form (RFC 5646, section 2.1). Extended language subtags
and grandfathered tags are refused: each has a plain tag that RFC 5646 prefers.
"""

import re
from difflib import get_close_matches
from functools import cache, lru_cache
from typing import Any

LONGEST = 80
"""Characters a tag may have."""

_TAG = re.compile(
    r"(?P<language>[a-z]{2,3})"
    r"(?:-(?P<script>[a-z]{4}))?"
    r"(?:-(?P<region>[a-z]{2}|[0-9]{3}))?"
    r"(?P<variants>(?:-(?:[a-z0-9]{5,8}|[0-9][a-z0-9]{3}))*)"
    r"(?P<extensions>(?:-[a-wyz0-9](?:-[a-z0-9]{2,8})+)*)"
    r"(?:-x(?:-[a-z0-9]{1,8})+)?",
    re.ASCII,
).fullmatch
_PRIVATE = re.compile(r"x(?:-[a-z0-9]{1,8})+", re.ASCII).fullmatch


@cache
def _register(name: str) -> Any:
    """Give a register; the library loads slowly, so only when it is first asked."""
    import pycountry  # noqa: PLC0415

    return getattr(pycountry, name)


def _found(register: str, **key: str) -> Any:
    return _register(register).get(**key)


def _language(code: str) -> Any:
    """Find a language or family by its shortest code, in small letters."""
    if len(code) == 2:
        return _found("languages", alpha_2=code)
    language = _found("languages", alpha_3=code)
    if language is not None:
        return None if hasattr(language, "alpha_2") else language
    return _found("language_families", alpha_3=code)


def _is_local_language(code: str) -> bool:
    """Say whether a code is one of those that ISO 639-2 leaves for private use."""
    return len(code) == 3 and "qaa" <= code <= "qtz"


@lru_cache(maxsize=4096)
def is_language(tag: str) -> bool:
    """Say whether a language tag is well formed and its parts are registered; capitals do not matter.

    ``x-`` tags and the codes left for private use count as registered.
    """
    if len(tag) > LONGEST:
        return False
    lower = tag.lower() if tag.isascii() else tag
    if _PRIVATE(lower):
        return True
    parts = _TAG(lower)
    if parts is None:
        return False
    language, script, region = parts["language"], parts["script"], parts["region"]
    variants = parts["variants"].split("-")[1:]
    singletons = re.findall(r"-([a-wyz0-9])(?=-)", parts["extensions"])
    return (
        (_language(language) is not None or _is_local_language(language))
        and (script is None or is_script(script.capitalize()))
        and (region is None or region.isdigit() or _is_or_was_country(region.upper()))
        and len(set(variants)) == len(variants)
        and len(set(singletons)) == len(singletons)
    )


def canonical_language(tag: str) -> str:
    """Write a tag with the capitals that RFC 5646, section 2.1.1, recommends: ``DE-latf`` as ``de-Latf``."""
    parts = tag.lower().split("-")
    for place, part in enumerate(parts):
        if len(part) == 1:  # a singleton: what follows keeps small letters
            break
        if place and len(part) == 4 and part.isalpha():
            parts[place] = part.capitalize()
        elif place and len(part) == 2:
            parts[place] = part.upper()
    return "-".join(parts)


@lru_cache(maxsize=1024)
def is_script(code: str) -> bool:
    """Say whether a script code is registered or left for private use, written as in ISO 15924: ``Latf``."""
    return bool(re.fullmatch("[A-Z][a-z]{3}", code)) and (
        "Qaaa" <= code <= "Qabx" or _found("scripts", alpha_4=code) is not None
    )


_OF_USERS = re.compile("AA|Q[M-Z]|X[A-Z]|ZZ").fullmatch


@lru_cache(maxsize=1024)
def is_country(code: str) -> bool:
    """Say whether a two-letter code names a present country or is left to users: ``AT``, ``XK``.

    ISO 3166-1 leaves AA, QM to QZ, XA to XZ and ZZ to its users.
    """
    return bool(_OF_USERS(code)) or _is_registered_country(code)


def _is_registered_country(code: str) -> bool:
    return bool(re.fullmatch("[A-Z]{2}", code)) and _found("countries", alpha_2=code) is not None


def _is_or_was_country(code: str) -> bool:
    """Say whether a code names a country or named one once, as language tags may keep it."""
    return _is_registered_country(code) or _found("historic_countries", alpha_2=code) is not None


def language_name(tag: str) -> str | None:
    """Give the English name of a tag: ``German, Austria`` for ``de-AT``; None if unknown."""
    if not is_language(tag):
        return None
    parts = _TAG(tag.lower())
    if parts is None or _is_local_language(parts["language"]):
        return f"private use ({tag})"
    names = [_language(parts["language"]).name]
    if parts["script"]:
        names.append(script_name(parts["script"].capitalize()))
    if parts["region"]:
        names.append(country_name(parts["region"].upper()) or parts["region"].upper())
    return ", ".join(name for name in names if name)


def script_name(code: str) -> str | None:
    """Give the English name of a script; None if unknown."""
    if not is_script(code):
        return None
    script = _found("scripts", alpha_4=code)
    return script.name if script else f"private use ({code})"


def country_name(code: str) -> str | None:
    """Give the usual English name of a country; None if unknown."""
    if not is_country(code):
        return None
    if _OF_USERS(code):
        return f"code of the users' own ({code})"
    country = _found("countries", alpha_2=code)
    return str(getattr(country, "common_name", country.name))


_BY_OTHER_NAME = {
    "countries": {
        "uk": "GB", "england": "GB", "scotland": "GB", "wales": "GB", "great britain": "GB", "britain": "GB",
        "holland": "NL", "el": "GR",
    },
    "scripts": {"fraktur": "Latf", "blackletter": "Latf", "gothic": "Latf", "roman": "Latn"},
    "languages": {"ancient greek": "grc", "old german": "goh"},
}  # fmt: skip
_CODES = {"languages": ("alpha_2", "alpha_3"), "scripts": ("alpha_4",), "countries": ("alpha_2",)}
_ALSO = (
    "name",
    "common_name",
    "official_name",
    "inverted_name",
    "alpha_3",
    "bibliographic",
    "alpha_2",
    "alpha_4",
)


@cache
def _by_name(register: str) -> dict[str, str]:
    """Give the code for every name and other code of a register, in small letters."""
    index: dict[str, str] = {}
    short: dict[str, str] = {}
    for entry in _register(register):
        code = next(getattr(entry, key) for key in _CODES[register] if hasattr(entry, key))
        for name in (getattr(entry, key).casefold() for key in _ALSO if hasattr(entry, key)):
            index.setdefault(name, code)
            short.setdefault(name.partition(" (")[0], code)
    return short | index | _BY_OTHER_NAME[register]


def _suggestion(register: str, text: str) -> str | None:
    """Find the code that a wrong one may have meant."""
    index = _by_name(register)
    wanted = text.strip().casefold()[:LONGEST]
    if wanted in index:
        return index[wanted]
    rivals = [name for name in index if len(name) > 3 and name[:1] == wanted[:1]]
    near = get_close_matches(wanted, rivals, 1, 0.8)
    return index[near[0]] if near else None


def suggest_language(text: str) -> str | None:
    """Suggest a tag for one that is wrong: ``de`` for ``ger``; None if nothing is near."""
    tag = canonical_language(text.strip().replace("_", "-"))
    if is_language(tag):
        return tag
    first, _, rest = tag.partition("-")
    language = _suggestion("languages", first) if rest else None
    if language and is_language(f"{language}-{rest}"):
        return f"{language}-{rest}"
    return _suggestion("languages", text)


def suggest_script(text: str) -> str | None:
    """Suggest a script code for one that is wrong: ``Latf`` for ``Fraktur``; None if nothing is near."""
    return _suggestion("scripts", text)


def suggest_country(text: str) -> str | None:
    """Suggest a country code for one that is wrong: ``GB`` for ``UK``; None if nothing is near."""
    return _suggestion("countries", text)
