"""The vocabularies: complete, unambiguous, and used."""

import re

import pytest
import yaml

from registry.model.dictionary import data_dictionary
from registry.model.founders import Founders
from registry.model.vocabulary import label_of, vocabulary, vocabulary_names
from registry.resources import shipped_text

NAMES = vocabulary_names()
LAST = ("other", "none", "unknown", "not-seen")


def test_every_vocabulary_is_used_and_every_used_one_is_there() -> None:
    """The files are those that fields of the form name, no more and no fewer."""
    entries = (*data_dictionary(), *data_dictionary(Founders))
    assert {entry.vocabulary for entry in entries if entry.vocabulary} == set(NAMES)


@pytest.mark.parametrize("name", NAMES)
def test_codes_are_plain(name) -> None:
    """A code is small letters, digits and single hyphens: it stands in YAML, SQL and URLs as it is."""
    for code in vocabulary(name).terms:
        assert re.fullmatch("[a-z0-9]+(?:-[a-z0-9]+)*", code), code


@pytest.mark.parametrize("name", NAMES)
def test_terms_can_be_told_apart(name) -> None:
    """Every term has a label of its own and a definition in one sentence that is not the label alone."""
    terms = vocabulary(name).terms.values()
    assert len({term.label for term in terms}) == len(terms)
    for term in terms:
        assert term.definition[:1] == term.definition[:1].upper()
        assert term.definition.endswith("."), term
        assert len(term.definition) <= 100, term


@pytest.mark.parametrize("name", NAMES)
def test_vocabulary_names_its_source(name) -> None:
    """Every list has a title, and a source or the words that there is none."""
    assert vocabulary(name).title
    assert vocabulary(name).source


@pytest.mark.parametrize("name", NAMES)
def test_last_resorts_stand_last(name) -> None:
    """What is chosen when nothing fits stands behind everything that may fit."""
    codes = list(vocabulary(name).terms)
    places = [codes.index(code) for code in ("other", "unknown") if code in codes]
    others = [place for place, code in enumerate(codes) if code not in LAST]
    assert places == sorted(places)
    assert all(place > max(others) for place in places)


@pytest.mark.parametrize("name", NAMES)
def test_words_that_yaml_takes_for_something_else_are_quoted(name) -> None:
    """Any reader of YAML, old ones too, gets every code and label of the file as text."""
    data = yaml.safe_load(shipped_text("schema", "vocabularies", f"{name}.yaml"))
    for code, term in data["terms"].items():
        assert isinstance(code, str)
        assert all(isinstance(value, str) for value in term.values()), code
    assert list(data["terms"]) == list(vocabulary(name).terms)


def test_words_with_a_published_meaning() -> None:
    """Bell bronze is defined by its alloy, and the nominal as the physical partial, not the note."""
    assert vocabulary("material").terms["bronze"].definition == "Copper with about a fifth of tin."
    assert "ASTM" in vocabulary("material").source
    assert "not the note" in vocabulary("partial").terms["nominal"].definition


def test_label_of_a_code() -> None:
    """A code is shown by its label, nothing as nothing, and a code no longer in the list as itself."""
    assert label_of("bell_status", "hanging") == "hanging in its tower"
    assert label_of("bell_status", None) == ""
    assert label_of("bell_status", "melted-down") == "melted-down"


def test_unknown_vocabulary_is_refused() -> None:
    """Asking for a list that is not there fails at once."""
    with pytest.raises(FileNotFoundError):
        vocabulary("moods")
