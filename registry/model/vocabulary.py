"""The terms a field may hold: code, label and definition, read from ``schema/vocabularies``."""

from functools import cache
from typing import NamedTuple

import yaml

from registry.resources import shipped_folder, shipped_text


class Term(NamedTuple):
    """One word of a vocabulary."""

    code: str
    label: str
    definition: str


class Vocabulary(NamedTuple):
    """The terms of one kind of field, in the order of the form."""

    name: str
    title: str
    source: str
    terms: dict[str, Term]


@cache
def vocabulary(name: str) -> Vocabulary:
    """Read the vocabulary called ``name``.

    Raises
    ------
    FileNotFoundError
        When there is none of this name.
    """
    # Every scalar stays text: a term may well be "no" or "none".
    data = yaml.load(shipped_text("schema", "vocabularies", f"{name}.yaml"), Loader=yaml.CBaseLoader)  # noqa: S506
    terms = {code: Term(code, term["label"], term["definition"]) for code, term in data["terms"].items()}
    return Vocabulary(name, data["title"], data["source"], terms)


@cache
def vocabulary_names() -> tuple[str, ...]:
    """List the names of all vocabularies, sorted."""
    folder = shipped_folder("schema") / "vocabularies"
    return tuple(sorted(path.name.removesuffix(".yaml") for path in folder.iterdir()))


def label_of(name: str, code: str | None) -> str:
    """Give the label of a term for people to read; empty for None, the code itself if the term is gone."""
    if code is None:
        return ""
    term = vocabulary(name).terms.get(code)
    return term.label if term else code
