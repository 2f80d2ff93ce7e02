"""Rules on inscriptions."""

from collections.abc import Iterator

from registry.forms.finding import Finding
from registry.forms.ruling import Form, Found
from registry.inscriptions.leiden import SignProblem, parse
from registry.model.survey import BellEntry, Path

AROUND = 12
"""Characters shown on either side of a sign."""


def signs_have_their_partners(_form: Form, path: Path, bell: BellEntry) -> Iterator[Found]:
    """Expect that every bracket of a transcription is closed, and closed in its turn."""
    for index, inscription in enumerate(bell.inscriptions):
        text = inscription.transcription
        for problem in parse(text).problems if text else ():
            finding = Finding(
                "leiden-sign-alone",
                _shown(text or "", problem),
                "brackets in pairs, one inside the other",
                f"{problem.what}: add what is missing or take it away; its letters are found all the same",
            )
            yield Found((*path, "inscriptions", index), "transcription", finding)


OF_WORDS = ("transcription", "expansion", "translation", "language", "lettering", "letter_height_mm")
"""Fields that only an inscription can have."""


def where_there_are_none_no_words_are_read(_form: Form, path: Path, bell: BellEntry) -> Iterator[Found]:
    """Expect that a bell said to bear no words has none on the form, in this entry or another."""
    worded = [each.number for each in bell.inscriptions if each.legibility != "none"]
    for index, inscription in enumerate(bell.inscriptions):
        if inscription.legibility != "none":
            continue
        named = [name for name in OF_WORDS if getattr(inscription, name) is not None]
        if named or worded:
            others = [f"inscription {number}" for number in worded]
            finding = Finding(
                "words-where-none",
                "none, and " + ", ".join([*named, *others]),
                "none there, or words that are there",
                "correct the legibility, or delete what belongs to no words",
            )
            yield Found((*path, "inscriptions", index), "legibility", finding)


def _shown(text: str, problem: SignProblem) -> str:
    """Show a sign with what stands around it, and say where."""
    line = text.count("\n", 0, problem.at)
    column = problem.at - (text.rfind("\n", 0, problem.at) + 1)
    start, end = max(problem.at - AROUND, 0), problem.at + len(problem.sign) + AROUND
    around = " ".join(text[start:end].split())
    where = f"character {column + 1}" + (f" of its line {line + 1}" if "\n" in text.strip() else "")
    return f"{problem.sign} at {where}: {'…' if start else ''}{around}{'…' if end < len(text) else ''}"
