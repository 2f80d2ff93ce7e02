"""Whether recasting may be spoken of at all: only of a bell known to be young and known to be unprotected.

Everything that is not known counts against it, and so does a single survey that says "protected".
"""

from collections.abc import Mapping, Sequence
from datetime import date
from functools import cache
from typing import Any, NamedTuple

import yaml

from registry.derive.condition.seen import BellSeen
from registry.model.edtf import EdtfError, parse_edtf
from registry.model.vocabulary import vocabulary
from registry.resources import shipped_text


class CountryRule(NamedTuple):
    """From which age a bell is kept.

    Parameters
    ----------
    older_than_years : int or None
        A bell of this age or more is kept [a].
    cast_before : int or None
        A bell cast before this year is kept.
    always_ask : bool
        Whether the authority is asked in every case.
    source, as_of : str
        What it rests on, and the time it is of.
    """

    older_than_years: int | None
    cast_before: int | None
    always_ask: bool
    source: str
    as_of: str


class ProtectionSettings(NamedTuple):
    """The rules of all countries; ``otherwise`` holds everywhere."""

    otherwise: CountryRule
    countries: Mapping[str, CountryRule]
    firm_dates: frozenset[str]


class Recasting(NamedTuple):
    """Whether recasting may be proposed, and why not."""

    allowed: bool
    reasons: tuple[str, ...]
    sources: tuple[str, ...]


@cache
def protection_settings() -> ProtectionSettings:
    """Give the shipped settings."""
    return read_protection(shipped_text("schema", "rules", "protection.yaml"))


def read_protection(text: str) -> ProtectionSettings:
    """Read settings, shipped or of a user's own.

    A user's own stand in place of the shipped ones for the countries and sections that they name.

    Raises
    ------
    ValueError
        When it is no such table, a rule names nothing to go by, or lacks source or date.
    """
    shipped = yaml.safe_load(shipped_text("schema", "rules", "protection.yaml"))
    try:
        own = yaml.safe_load(text)
    except yaml.YAMLError as error:
        raise ValueError(f"it is not YAML: {error}") from error
    if not isinstance(own, dict) or not own or set(own) - set(shipped):
        raise ValueError(f"give {', '.join(shipped)}, one or more, and nothing else")
    countries, firm = own.get("countries", {}), own.get("firm_dates", shipped["firm_dates"])
    if not isinstance(countries, dict) or not all(isinstance(code, str) for code in countries):
        raise ValueError("countries: give rules by the two letters of the country, in quotes where need be")
    if not isinstance(firm, list) or set(map(str, firm)) - set(vocabulary("dating_basis").terms):
        raise ValueError("firm_dates: give a list of words of the vocabulary dating_basis")
    return ProtectionSettings(
        _country_rule("otherwise", own.get("otherwise", shipped["otherwise"])),
        {code: _country_rule(code, entry) for code, entry in (shipped["countries"] | countries).items()},
        frozenset(firm),
    )


def _country_rule(code: str, entry: Any) -> CountryRule:
    known = {"older_than_years", "cast_before", "always_ask", "source", "as_of"}
    if not isinstance(entry, dict):
        raise ValueError(f"{code}: give one of older_than_years, cast_before, always_ask")
    for name in ("older_than_years", "cast_before"):
        if name in entry and (isinstance(entry[name], bool) or not isinstance(entry[name], int)):
            raise ValueError(f"{code}: {name} is a whole number")
    if not isinstance(entry.get("always_ask", False), bool):
        raise ValueError(f"{code}: always_ask is true or false")
    if set(entry) - known or not set(entry) & {"older_than_years", "cast_before", "always_ask"}:
        raise ValueError(
            f"{code}: give one of older_than_years, cast_before, always_ask, and nothing unknown"
        )
    if not entry.get("source") or not entry.get("as_of"):
        raise ValueError(f"{code}: say what the rule rests on (source) and the time it is of (as_of)")
    return CountryRule(
        entry.get("older_than_years"),
        entry.get("cast_before"),
        bool(entry.get("always_ask", False)),
        str(entry["source"]),
        str(entry["as_of"]),
    )


def recasting(history: Sequence[BellSeen], on: date, settings: ProtectionSettings | None = None) -> Recasting:
    """Say whether recasting may be proposed for a bell.

    Parameters
    ----------
    history : sequence of BellSeen
        What the surveys tell of the bell.
    on : date
        The day of asking, for the age.
    settings : ProtectionSettings, optional
        Other settings than the shipped ones.

    Returns
    -------
    Recasting
        Allowed only where the newest word says that neither bell nor tower is protected, no survey ever said
        otherwise, the date rests on something firm, and the bell is younger than every age that applies.
    """
    rules = settings or protection_settings()
    reasons = [*_protection(history), *_age(history, on, rules)]
    country = _newest(history, lambda seen: seen.tower.country)
    applying = [rules.otherwise]
    if country is None:
        reasons.append("it is not known which country's rule applies")
    elif country in rules.countries:
        applying.append(rules.countries[country])
    if any(rule.always_ask for rule in applying):
        reasons.append("the heritage authority decides in every case here")
    sources = tuple(f"{rule.source} (as of {rule.as_of})" for rule in applying)
    return Recasting(not reasons, tuple(reasons), sources)


def _newest(history: Sequence[BellSeen], read: Any) -> Any:
    return next((value for value in map(read, reversed(history)) if value is not None), None)


def _protection(history: Sequence[BellSeen]) -> list[str]:
    """Give what speaks against recasting in the words on protection."""
    reasons = []
    told = [seen.entry.identity.protected for seen in history if seen.entry.identity]
    if "yes" in told:
        reasons.append("the bell is protected, by one survey at least")
    elif _newest(history, lambda seen: getattr(seen.entry.identity, "protected", None)) != "no":
        reasons.append("it is not known whether the bell is protected")
    towers = [seen.tower.protection for seen in history]
    if "protected" in towers or "pending" in towers:
        reasons.append("the tower or its bells are protected, or may be soon, by one survey at least")
    elif _newest(history, lambda seen: seen.tower.protection) != "not-protected":
        reasons.append("it is not known whether the tower or its bells are protected")
    if any(event.kind == "protected" for seen in history for event in seen.entry.events):
        reasons.append("an entry in a list of monuments is told among the events")
    return reasons


def _age(history: Sequence[BellSeen], on: date, rules: ProtectionSettings) -> list[str]:
    """Give what speaks against recasting in the date of casting; of several the oldest counts."""
    dated = [seen.entry.identity for seen in history if seen.entry.identity and seen.entry.identity.cast_date]
    years: list[int] = []
    for identity in dated:
        try:
            read = parse_edtf(identity.cast_date or "")
        except EdtfError:
            return ["the date of casting cannot be read"]
        if read.earliest_year is None or read.latest_year is None or read.uncertain or read.approximate:
            return ["the date of casting is not certain"]
        years.append(read.earliest_year)
    if not years:
        return ["the date of casting is not known"]
    if any(identity.dating_basis not in rules.firm_dates for identity in dated):
        return ["the date of casting does not rest on the bell or on a record of its time"]
    earliest = min(years)
    country = _newest(history, lambda seen: seen.tower.country)
    applying = [rules.otherwise, *([rules.countries[country]] if country in rules.countries else [])]
    reasons = []
    for rule in applying:
        if rule.older_than_years is not None and on.year - earliest >= rule.older_than_years:
            reasons.append(f"it may have been cast in {earliest}, {rule.older_than_years} years ago or more")
        if rule.cast_before is not None and earliest < rule.cast_before:
            reasons.append(f"it may have been cast in {earliest}, before {rule.cast_before}")
    return list(dict.fromkeys(reasons))
