"""The blank forms, the words and the JSON Schema as they are shipped."""

import json
from pathlib import PurePosixPath

import pytest
from serving import CHECKOUT

from registry.forms.printed import SCHEMA_FROM_SURVEYS, printed_files, words
from registry.model.vocabulary import vocabulary, vocabulary_names
from registry.resources import shipped_text


@pytest.mark.parametrize("path", printed_files())
def test_shipped_file_is_what_the_model_gives(golden, path) -> None:
    """The committed file is the one that the model writes today."""
    golden(CHECKOUT / path, printed_files()[path])


@pytest.mark.parametrize("path", printed_files())
def test_shipped_file_is_reached_through_resources(path) -> None:
    """An installed program finds the file."""
    folder, *parts = PurePosixPath(path).parts
    assert shipped_text(folder, *parts) == printed_files()[path]


@pytest.mark.parametrize("name", ["tower_visit.yaml", "document.yaml"])
def test_shipped_form_finds_its_schema(name) -> None:
    """The first line of a shipped form leads to the JSON Schema that is shipped beside it."""
    form = CHECKOUT / "surveys" / name
    first = form.read_text(encoding="utf-8").splitlines()[0]
    assert first.endswith(f"$schema={SCHEMA_FROM_SURVEYS}")
    schema = json.loads((form.parent / SCHEMA_FROM_SURVEYS).read_text(encoding="utf-8"))
    assert schema["title"] == "soundbow survey 1"


def test_words_are_all_there() -> None:
    """The list of words holds every word of every vocabulary, under its title."""
    text = words()
    for name in vocabulary_names():
        _, _, after = text.partition(f"\n## {vocabulary(name).title}\n")
        rows = after.partition("\n## ")[0]
        for term in vocabulary(name).terms.values():
            assert f"| `{term.code}` | {term.label} | {term.definition} |" in rows


def test_words_cannot_break_their_table() -> None:
    """No label or definition holds a bar, which would begin another column."""
    for name in vocabulary_names():
        for term in vocabulary(name).terms.values():
            assert "|" not in term.label + term.definition


def test_field_guide_tells_what_the_forms_ask_for() -> None:
    """The guide to filling in speaks of every measuring that the form asks for."""
    guide = (CHECKOUT / "surveys" / "README.md").read_text(encoding="utf-8")
    for said in (
        "Mouth.",
        "Height.",
        "Sound-bow.",
        "Strike points.",
        "Bearings.",
        "Temperatures.",
        "## Cracks",
    ):
        assert said in guide
    for name in ("tower_visit.yaml", "document.yaml", "words.md"):
        assert f"`{name}`" in guide
        assert (CHECKOUT / "surveys" / name).is_file()
