"""The rules of spelling, read from ``schema/rules/spelling.yaml``."""

import re
from collections.abc import Mapping
from functools import cache
from typing import Any, NamedTuple

import yaml

from registry.resources import shipped_text


class Rule(NamedTuple):
    """One replacement inside words: pattern, what is put, its source, and two spellings it makes one."""

    name: str
    find: re.Pattern[str]
    put: str
    source: str
    same: tuple[str, str]


class Spelling(NamedTuple):
    """All rules.

    ``signs`` gives the readings of a character, ``name_signs`` those that also hold in names, ``lookalikes``
    what a letter of another alphabet stands for in a word of Latin ones.
    ``abbreviations`` gives the words an abbreviation without a mark is read as, ``stopped`` those of single
    letters with a stop, ``lexicon`` lists words that a mark can shorten; all in common spelling. ``doubtful``
    lists pairs of letters that are taken for each other. ``sources`` names every source used.
    """

    signs: Mapping[str, tuple[str, ...]]
    name_signs: Mapping[str, tuple[str, ...]]
    lookalikes: Mapping[str, str]
    sequences: tuple[Rule, ...]
    abbreviations: Mapping[str, tuple[str, ...]]
    stopped: Mapping[str, tuple[str, ...]]
    lexicon: tuple[str, ...]
    doubtful: tuple[str, ...]
    sources: tuple[str, ...]


@cache
def spelling() -> Spelling:
    """Read the rules."""
    # Every scalar stays text: a reading may be empty, or a word such as "no".
    text = shipped_text("schema", "rules", "spelling.yaml")
    data: dict[str, Any] = yaml.load(text, Loader=yaml.CBaseLoader)  # noqa: S506
    signs: dict[str, tuple[str, ...]] = {}
    name_signs: dict[str, tuple[str, ...]] = {}
    for group in data["signs"]:
        readings = {sign: tuple(each) for sign, each in group["of"].items()}
        signs |= readings
        if group.get("names") == "true":
            name_signs |= readings
    abbreviations: dict[str, tuple[str, ...]] = {}
    for group in data["abbreviations"]:
        for word, forms in group["of"].items():
            for form in forms:
                abbreviations[form] = (*abbreviations.get(form, ()), word)
    sequences = tuple(
        Rule(each["name"], re.compile(each["find"]), each["put"], each["source"], tuple(each["same"]))
        for each in data["sequences"]
    )
    groups = (
        *data["signs"],
        *data["lookalikes"],
        *data["sequences"],
        *data["abbreviations"],
        *data["doubtful"],
    )
    groups += (data["stopped"], data["lexicon"])
    return Spelling(
        signs,
        name_signs,
        {sign: letter for group in data["lookalikes"] for sign, letter in group["of"].items()},
        sequences,
        abbreviations,
        {letter: tuple(words) for letter, words in data["stopped"]["of"].items()},
        tuple(data["lexicon"]["words"].split()),
        tuple(pair for group in data["doubtful"] for pair in group["of"]),
        tuple(dict.fromkeys(group["source"] for group in groups)),
    )
