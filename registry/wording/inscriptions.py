"""Inscriptions for people: the diplomatic text with what was asked marked in it, and what follows from it."""

from collections.abc import Iterable, Mapping, Sequence
from typing import Any, NamedTuple

from registry.inscriptions.answers import NOTHING_ASKED, AskedWords
from registry.inscriptions.formulas import Formula, Recognised, recognise
from registry.inscriptions.leiden import Kind, Status, parse
from registry.inscriptions.matching import Part, excerpt, parts_of
from registry.inscriptions.normalising import normalise
from registry.inscriptions.reading import reading_text
from registry.store.text_hits import Hit

SIGNS = {
    "expanded": ("(abc)", "abbreviation filled in"),
    "restored": ("[abc]", "lost, restored"),
    "gap-known": ("[...]", "lost, a dot for each letter"),
    "gap-unknown": ("[---]", "lost, nobody knows how much"),
    "traces": ("+++", "traces that cannot be read"),
    "unclear": ("ạ", "uncertain letter"),
    "erased": ("⟦abc⟧", "erased"),
    "added": ("`abc´", "added above"),
    "superfluous": ("{abc}", "too much on the bell"),
    "omitted": ("<abc>", "left out by the founder"),
    "ligature": ("a͡b", "joined letters"),
    "line": ("|", "end of a line"),
    "field": ("||", "end of a field"),
}
"""Leiden signs as they are explained to readers, in this order."""


class Sign(NamedTuple):
    """A sign and what it means."""

    sign: str
    meaning: str


class FormulaShown(NamedTuple):
    """A formula recognised in an inscription, and how: in words for people."""

    formula: Formula
    how: str


class InscriptionShown(NamedTuple):
    """One inscription. ``row`` is what the survey tells; all else follows from its transcription.

    ``parts`` are the diplomatic text, cut where it answers a question. ``reading`` is the text for reading,
    None where it is no other than the diplomatic one; ``backwards`` says that it was read from the end.
    ``normalised`` is what the search compares.
    """

    row: dict[str, Any]
    parts: tuple[Part, ...]
    reading: str | None
    backwards: bool
    normalised: str
    formulas: tuple[FormulaShown, ...]

    @property
    def answers(self) -> bool:
        """Whether anything in it is marked."""
        return any(part.marked for part in self.parts)


def inscription_shown(row: dict[str, Any], asked: AskedWords = NOTHING_ASKED) -> InscriptionShown:
    """Make what is shown of an inscription from its row."""
    text = row["transcription"] or ""
    found = recognise(text)
    backwards = _runs_backwards(row["direction"], found)
    reading = reading_text(text, backwards=backwards).text
    return InscriptionShown(
        row,
        parts_of(text, asked.places(text, row["direction"])),
        reading if reading != " ".join(text.split()) else None,
        backwards,
        normalise(text, backwards=backwards).text,
        tuple(FormulaShown(each.formula, how_recognised(each)) for each in found),
    )


def _runs_backwards(direction: str | None, found: Sequence[Recognised]) -> bool:
    """Say whether a transcription stands in the order of a line that runs backwards.

    A formula in it tells; without one, the line that is said to run so is shown from its end.
    """
    if found:
        return all(each.backwards for each in found)
    return direction in ("retrograde", "mirrored")


class HitShown(NamedTuple):
    """One inscription among those found: its place, what kind of text answers, and an excerpt of it."""

    hit: Hit
    parts: tuple[Part, ...]


def hits_shown(found: Mapping[str, Sequence[Hit]]) -> dict[str, list[HitShown]]:
    """Cut what answers into excerpts, by bell."""
    return {
        bell_id: [HitShown(hit, excerpt(parts_of(hit.text, hit.marks))) for hit in hits]
        for bell_id, hits in found.items()
    }


def how_recognised(found: Recognised) -> str:
    """Say how much of a formula stands, and how."""
    return told_how(found.share, found.how, backwards=found.backwards)


def told_how(share: float, how: str, *, backwards: bool) -> str:
    """Say how much of a formula stands, and how, from what is stored of it."""
    said = []
    if how == "initials":
        said.append("by its initials")
    elif share < 0.995:
        said.append(f"{share:.0%} of its letters")
    if backwards:
        said.append("read from the end")
    return ", ".join(said) or "whole"


def signs_in(transcriptions: Iterable[str | None]) -> list[Sign]:
    """List the Leiden signs that stand in some transcriptions, each with what it means."""
    found: set[str] = set()
    for text in transcriptions:
        for piece in parse(text or "").pieces:
            match piece.kind:
                case Kind.GAP if piece.text.startswith("+"):
                    found.add("traces")
                case Kind.GAP:
                    found.add("gap-unknown" if piece.letters is None else "gap-known")
                case Kind.FIELD:
                    found.add("field")
                case Kind.SEAM | Kind.LINE if piece.text in "|/":
                    found.add("line")
                case Kind.LETTER if piece.status is not Status.CLEAR:
                    found.add(piece.status)
            if piece.ligature:
                found.add("ligature")
    return [Sign(*SIGNS[name]) for name in SIGNS if name in found]
