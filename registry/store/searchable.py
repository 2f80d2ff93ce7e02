"""What is kept of the words of a bell, so that it is found by them in any spelling."""

from collections.abc import Iterable, Iterator
from functools import lru_cache
from typing import Any

from registry.inscriptions.answers import BACKWARDS
from registry.inscriptions.folding import GAP
from registry.inscriptions.formulas import recognise
from registry.inscriptions.normalising import Normalised, Word, normalise, normalise_names
from registry.inscriptions.reading import letters_on_bell
from registry.store.history import BellHistory
from registry.store.rows import Row


def rows_of_words(history: BellHistory, current: dict[str, Any]) -> dict[str, list[Row]]:
    """Make the rows by table: words of all surveys, so that an older reading finds the bell too."""
    seen = history.bell_seen
    called = [row[field] for row in seen for field in ("name", "title")]
    founders = [row["founder"] for row in seen]
    texts = [text for row in history.inscription for text in _texts(row)]
    damaged: dict[tuple[str, int, int], int | None] = {}
    for text in texts:
        for word in text.words:
            if word.is_damaged and not word.is_gap:
                for key in word.keys:
                    damaged[key, word.standing, word.least] = word.most
    text_row = (
        history.bell_id,
        _names(called),
        _names(current[field] for field in ("place", "tower_name", "region")),
        _names(founders),
        _names(row["translation"] for row in history.inscription),
        _keys(normalise(text) for text in (*called, *founders) if text),
        _keys(texts),
    )
    return {
        "bell_text": [text_row],
        "damaged_word": [(history.bell_id, *key, most) for key, most in damaged.items()],
        "inscription_normalised": list(_normalised(history)),
        "inscription_formula": list(_formulas(history)),
    }


def _texts(row: Any) -> Iterator[Normalised]:
    """Give an inscription as it is searched: what stands there, also from its end, and what it is read as."""
    if row["transcription"] is not None:
        yield normalise(row["transcription"])
        if row["direction"] in BACKWARDS:
            yield normalise(row["transcription"], backwards=True)
    if row["expansion"] is not None:
        yield normalise(row["expansion"])


def _normalised(history: BellHistory) -> Iterator[Row]:
    for row in history.inscription:
        text = row["transcription"]
        if text is None:
            continue
        for backwards in (False, True)[: 1 + (row["direction"] in BACKWARDS)]:
            kept = _kept(text, backwards=backwards)
            yield history.bell_id, row["survey_id"], row["number"], int(backwards), *kept


@lru_cache(maxsize=4096)
def _kept(text: str, *, backwards: bool) -> tuple[str, str, str, int]:
    """Give the words of an inscription, all as one, its letters, and whether uncounted ones are lost."""
    normal = normalise(text, backwards=backwards)
    letters = letters_on_bell(text).text
    return (
        " ".join("|".join(word.keys) for word in normal.words),
        normal.joined.text,
        letters[::-1] if backwards else letters,
        int(any(word.most is None for word in normal.words)),
    )


def _formulas(history: BellHistory) -> Iterator[Row]:
    for row in history.inscription:
        for each in recognise(row["transcription"] or ""):
            found = each.formula.id, each.share, each.how, int(each.backwards), each.start, each.end
            yield history.bell_id, row["survey_id"], row["number"], *found


def _names(texts: Iterable[str | None]) -> str:
    """Join the keys of names, each once."""
    words = (word for text in texts if text for word in normalise_names(text).words)
    return " ".join(dict.fromkeys(key for word in words for key in word.keys))


def _keys(texts: Iterable[Normalised]) -> str:
    """Join the keys of inscriptions, each once; damaged words have a table of their own."""
    words = (word for text in texts for each in text.words for word in _with_parts(each))
    return " ".join(dict.fromkeys(key for word in words for key in word.keys if GAP not in key))


def _with_parts(word: Word) -> tuple[Word, ...]:
    return word, *word.parts
