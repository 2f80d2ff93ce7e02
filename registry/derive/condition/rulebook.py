"""The rules of grading, read from ``schema/rules/condition.yaml``: fact, threshold, grade, wording."""

from collections.abc import Mapping
from functools import cache
from typing import Any, Literal, NamedTuple

import yaml

from registry.model.vocabulary import label_of, vocabulary
from registry.resources import shipped_text

Compare = Literal["above", "from", "below", "up_to", "one_of"]
COMPARISONS: tuple[Compare, ...] = ("above", "from", "below", "up_to", "one_of")


class Steps(NamedTuple):
    """Condition, urgency and recommendation, each from 0 to 3."""

    condition: int
    urgency: int
    recommendation: int


class Rule(NamedTuple):
    """One rule.

    Parameters
    ----------
    id : str
        Its permanent name.
    fact : str
        What it looks at.
    compare : str
        ``above``, ``from``, ``below`` or ``up_to`` the ``limit``, or ``one_of`` the ``words``.
    limit : float or None
        The threshold, in the unit of the fact.
    words : tuple of str
        The words it fires on.
    of_worst : bool
        Whether the worse end of the interval is compared instead of its middle.
    given : mapping of str to tuple of str
        Facts that must have one of these words for the rule to be asked at all.
    grades : Steps or None
        The grades it gives; None for a rule whose finding is told beside the grade.
    or_worse : bool
        Whether these grades are a lower bound only.
    unless : tuple of str
        Rules, at least as grave, that say it already where they fired on the same fact.
    ringing : str or None
        ``reduced`` or ``stop``.
    expert : bool
        Whether it calls for a bell expert.
    found, do : str
        What was seen, and what to do; with places to fill.
    asks_for : tuple of str
        Options of ``judgement.yaml`` that it speaks for.
    cautions : tuple of str
        Entries of ``cautions.yaml`` that go with it.
    source : str
        What it rests on.
    """

    id: str
    fact: str
    compare: Compare
    limit: float | None
    words: tuple[str, ...]
    of_worst: bool
    given: Mapping[str, tuple[str, ...]]
    grades: Steps | None
    or_worse: bool
    unless: tuple[str, ...]
    ringing: Literal["reduced", "stop"] | None
    expert: bool
    found: str
    do: str
    asks_for: tuple[str, ...]
    cautions: tuple[str, ...]
    source: str

    def fires_on(self, value: float | str) -> bool:
        """Say whether a value is on the side of the threshold that the rule is about."""
        if isinstance(value, str) or self.limit is None:
            return self.compare == "one_of" and value in self.words
        if self.compare == "above":
            return value > self.limit
        if self.compare == "from":
            return value >= self.limit
        if self.compare == "below":
            return value < self.limit
        return value <= self.limit


class FactKind(NamedTuple):
    """What a fact is: the component it belongs to, and the parts it cannot be known without."""

    name: str
    component: str
    label: str
    unit: str
    parts: frozenset[str]
    aside: bool
    vocabulary: str | None
    words: tuple[str, ...]

    def word_for(self, value: float | str | None) -> str:
        """Write a value of this fact for people to read."""
        if value is None:
            return ""
        if isinstance(value, str):
            return label_of(self.vocabulary, value) if self.vocabulary else value.replace("-", " ")
        return plain_number(value)


class Component(NamedTuple):
    """A component that is graded."""

    name: str
    safety_critical: bool
    hung: bool
    never_complete: str


class Rulebook(NamedTuple):
    """All that ``condition.yaml`` lays down; ``settings`` holds the sections that are plain numbers.

    ``of_component`` has the rules once more, by the component that their fact belongs to.
    """

    version: int
    pattern: str
    steps: Mapping[str, tuple[str, ...]]
    components: Mapping[str, Component]
    ringing: Mapping[str, Mapping[str, str]]
    facts: Mapping[str, FactKind]
    rules: tuple[Rule, ...]
    of_component: Mapping[str, tuple[Rule, ...]]
    settings: Mapping[str, Any]


def plain_number(value: float) -> str:
    """Write a number with about three significant digits and no exponent: 12.3, 0.55, 160, 1240."""
    size = abs(value)
    digits = 0 if size >= 100 else 1 if size >= 10 else 2
    text = f"{value:.{digits}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


@cache
def rulebook() -> Rulebook:
    """Give the shipped rules."""
    return read_rulebook(shipped_text("schema", "rules", "condition.yaml"))


def read_rulebook(text: str) -> Rulebook:
    """Read rules.

    Raises
    ------
    ValueError
        When a rule names no known fact, has no or several comparisons, or a key that nothing reads.
    """
    data = yaml.load(text, Loader=yaml.CSafeLoader)
    facts = {name: _fact_kind(name, entry) for name, entry in data.pop("facts").items()}
    components = {
        name: Component(
            name,
            entry["safety_critical"],
            entry.get("hung", False),
            entry.get("never_complete", ""),
        )
        for name, entry in data.pop("components").items()
    }
    rules = tuple(_rule(name, dict(entry), facts) for name, entry in data.pop("rules").items())
    return Rulebook(
        data.pop("version"),
        data.pop("pattern"),
        {name: tuple(words) for name, words in data.pop("steps").items()},
        components,
        data.pop("ringing"),
        facts,
        rules,
        {name: tuple(rule for rule in rules if facts[rule.fact].component == name) for name in components},
        data,
    )


def _fact_kind(name: str, entry: dict[str, Any]) -> FactKind:
    terms = entry.get("vocabulary")
    words = tuple(vocabulary(terms).terms) if terms else tuple(entry.get("words", ()))
    return FactKind(
        name,
        entry["component"],
        entry["label"],
        entry.get("unit", ""),
        frozenset(entry["parts"]),
        entry.get("aside", False),
        terms,
        words,
    )


def _rule(name: str, entry: dict[str, Any], facts: Mapping[str, FactKind]) -> Rule:
    fact = entry.pop("fact")
    if fact not in facts:
        raise ValueError(f"rule {name} looks at {fact!r}, which is no fact")
    compared = [each for each in COMPARISONS if each in entry]
    if len(compared) != 1:
        raise ValueError(f"rule {name} needs one of {', '.join(COMPARISONS)}")
    against = entry.pop(compared[0])
    words = tuple(against) if compared[0] == "one_of" else ()
    unknown = set(words) - set(facts[fact].words)
    if unknown:
        raise ValueError(f"rule {name}: {fact} never is {', '.join(sorted(unknown))}")
    grades = entry.pop("grades", None)
    rule = Rule(
        name,
        fact,
        compared[0],
        None if words else float(against),
        words,
        entry.pop("of", "value") == "worst",
        {each: tuple(told) for each, told in entry.pop("given", {}).items()},
        None if grades is None else Steps(*grades),
        entry.pop("or_worse", False),
        tuple(entry.pop("unless", ())),
        entry.pop("ringing", None),
        entry.pop("expert", False),
        entry.pop("found"),
        entry.pop("do"),
        tuple(entry.pop("asks_for", ())),
        tuple(entry.pop("cautions", ())),
        entry.pop("source"),
    )
    if entry:
        raise ValueError(f"rule {name} has {', '.join(sorted(entry))}, which nothing reads")
    return rule
