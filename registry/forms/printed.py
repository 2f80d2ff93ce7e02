"""The files that are written from the model and shipped: blank forms, list of words, JSON Schema.

``python -m registry.forms.printed`` writes them into the checkout; a test holds them equal to what it would
write.
"""

import json
from pathlib import Path

from registry.forms.blank import blank_form
from registry.forms.blank_founders import blank_founders
from registry.forms.json_schema import SchemaKind, json_schema
from registry.model.dictionary import data_dictionary
from registry.model.founders import Founders
from registry.model.vocabulary import vocabulary, vocabulary_names

SCHEMA_FROM_SURVEYS = "../schema/forms/survey.schema.json"
"""Path from a form in ``surveys/`` to the JSON Schema."""
FOUNDERS_SCHEMA_FROM_SURVEYS = "../schema/forms/founders.schema.json"

_ABOUT_WORDS = (
    "A field that takes a word takes one of its list, as written here. Written from `schema/vocabularies` by "
    "`python -m registry.forms.printed`; change those files, not this one."
)


def printed_files() -> dict[str, str]:
    """Write every such file; the keys are paths from the top of the checkout."""
    return {
        "surveys/tower_visit.yaml": blank_form("visit", schema=SCHEMA_FROM_SURVEYS),
        "surveys/document.yaml": blank_form("document", schema=SCHEMA_FROM_SURVEYS),
        "surveys/founders.yaml": blank_founders(schema=FOUNDERS_SCHEMA_FROM_SURVEYS),
        "surveys/words.md": words(),
        "schema/forms/survey.schema.json": json_schema_text(),
        "schema/forms/founders.schema.json": json_schema_text("founders"),
    }


def json_schema_text(kind: SchemaKind = "survey") -> str:
    """Write the JSON Schema of a form as text, to be kept beside a form."""
    return json.dumps(json_schema(kind), ensure_ascii=False, indent=1) + "\n"


def words() -> str:
    """Write every list of words with what they mean, as Markdown."""
    lines = ["# Words of the forms", "", _ABOUT_WORDS]
    used: dict[str, list[str]] = {}
    for entry in (*data_dictionary(), *data_dictionary(Founders)):
        if entry.vocabulary:
            place = f"`{entry.path}.{entry.field}`"
            used.setdefault(entry.vocabulary, []).append(place)
    for name in vocabulary_names():
        terms = vocabulary(name)
        lines += ["", f"## {terms.title}", "", f"For {', '.join(used[name])}. Source: {terms.source}.", ""]
        lines += ["| word | said as | meaning |", "|---|---|---|"]
        lines += [f"| `{term.code}` | {term.label} | {term.definition} |" for term in terms.terms.values()]
    return "\n".join(lines) + "\n"


if __name__ == "__main__":
    checkout = Path(__file__).resolve().parents[2]
    for path, text in printed_files().items():
        (checkout / path).write_text(text, encoding="utf-8")
