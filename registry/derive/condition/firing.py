"""Asking the rules of the facts: each rule that fires keeps the fact it saw and its words, filled in."""

from collections.abc import Mapping, Sequence
from typing import NamedTuple

from registry.derive.condition.fact import Fact
from registry.derive.condition.rulebook import Rule, Rulebook, Steps


class Fired(NamedTuple):
    """A rule that fired, the fact it saw, and its words with the values filled in."""

    rule: Rule
    fact: Fact
    found: str
    do: str


def fire(rules: Sequence[Rule], facts: Mapping[str, Sequence[Fact]], book: Rulebook) -> tuple[Fired, ...]:
    """Ask rules of facts.

    Parameters
    ----------
    rules : sequence of Rule
        The rules to ask.
    facts : mapping of str to sequence of Fact
        All facts of the bell by their names, also those that rules only take as given.
    book : Rulebook
        For the words of values.
    """
    fired: list[Fired] = []
    for rule in rules:
        if any(_word(facts.get(name, ())) not in wanted for name, wanted in rule.given.items()):
            continue
        fired += [
            Fired(rule, fact, _filled(rule.found, rule, fact, book), rule.do)
            for fact in facts.get(rule.fact, ())
            if _fires(rule, fact)
        ]
    said = {(each.rule.id, each.fact) for each in fired}
    return tuple(each for each in fired if not any((name, each.fact) in said for name in each.rule.unless))


def _word(facts: Sequence[Fact]) -> str | None:
    """Give the last word that facts of one name tell; None where they tell no word."""
    return next((fact.value for fact in reversed(facts) if isinstance(fact.value, str)), None)


def _fires(rule: Rule, fact: Fact) -> bool:
    """Say whether a rule fires; one on the worse end only where the value itself is not there yet."""
    if fact.value is None:
        return False
    if not rule.of_worst:
        return rule.fires_on(fact.value)
    return fact.worst is not None and rule.fires_on(fact.worst) and not rule.fires_on(fact.value)


def _filled(text: str, rule: Rule, fact: Fact, book: Rulebook) -> str:
    kind = book.facts[fact.name]
    limit = "" if rule.limit is None else kind.word_for(rule.limit)
    for name, value in (
        ("{where}", fact.where or kind.label),
        ("{value}", kind.word_for(fact.value)),
        ("{worst}", kind.word_for(fact.worst)),
        ("{limit}", limit),
    ):
        text = text.replace(name, value)
    return text[:1].upper() + text[1:]


def gravest_first(fired: Sequence[Fired]) -> tuple[Fired, ...]:
    """Put the rules that gave the gravest grades first, keeping the order of the rules among equals."""
    return tuple(sorted(fired, key=lambda each: each.rule.grades or Steps(0, 0, 0), reverse=True))
