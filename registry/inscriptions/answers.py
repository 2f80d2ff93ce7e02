"""What in a transcription answers what was asked: words in any spelling, exact letters, or a formula."""

from collections.abc import Sequence
from typing import NamedTuple

from registry.inscriptions.formulas import recognise
from registry.inscriptions.matching import Span, apart, exact_spans, question, spans, together
from registry.inscriptions.normalising import normalise_names

BACKWARDS = frozenset({"retrograde", "mirrored", "mixed"})
"""Words of ``writing_direction`` for lines whose letters may answer from their end."""


class AskedWords(NamedTuple):
    """Words that were asked for, whether exactly their letters, and formulas by their ids."""

    text: str = ""
    exact: bool = False
    formulas: Sequence[str] = ()

    @property
    def is_anything(self) -> bool:
        """Whether anything was asked."""
        return bool(self.text.strip() or self.formulas)

    def places(self, transcription: str, direction: str | None = None) -> tuple[Span, ...]:
        """Give the places in a transcription that answer, apart and in order."""
        found: list[Span] = []
        text = self.text.encode("utf-8", "replace").decode()
        if text.strip():
            backwards = direction in BACKWARDS
            found += (
                exact_spans(text, transcription, also_backwards=backwards)
                if self.exact
                else spans(question(text), transcription, also_backwards=backwards)
            )
        if self.formulas:
            named = (each for each in recognise(transcription) if each.formula.id in self.formulas)
            found += [(each.start, each.end) for each in named]
        return together(transcription, found)

    def places_in_translation(self, translation: str) -> tuple[Span, ...]:
        """Give the places in a translation that answer: words of today, freed from case and accents."""
        if self.exact or not self.text.strip():
            return ()
        asked = question(self.text.encode("utf-8", "replace").decode())
        wanted = {name for word in asked.words for name in word.names}
        begins = asked.words[-1].names if asked.words else ()
        found = [
            (word.start, word.end)
            for word in normalise_names(translation).words
            if wanted & set(word.keys) or any(key.startswith(each) for key in word.keys for each in begins)
        ]
        return apart(found)


NOTHING_ASKED = AskedWords()
