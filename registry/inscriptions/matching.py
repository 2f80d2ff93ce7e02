"""What is asked held against one inscription: which letters of the diplomatic text answer it."""

from collections.abc import Iterable, Sequence
from functools import lru_cache
from typing import NamedTuple

from registry.inscriptions.alike import alike, matches
from registry.inscriptions.folding import GAP, beginnings, name_keys
from registry.inscriptions.formulas import Recognised, recognise
from registry.inscriptions.leiden import end_of_letter
from registry.inscriptions.normalising import Normalised, Word, normalise
from registry.inscriptions.reading import letters_on_bell

COMPANY = 3
"""Words of a question that bear each other out, so that each may hold a slip."""

LEAST_JOINED = 8
"""Letters of a question that are also looked for with the words parted otherwise."""

LEAST_BEGINNING = 3
"""Letters of an unfinished last word that are enough to look for all words beginning so."""

LEAST_STANDING = 5
SHARE_STANDING = 0.4
"""Letters, and their share of what is asked, that must stand beside a gap in which the rest may have been."""

LONGEST_QUESTION = 2000
"""Characters of a question that are looked for."""

Span = tuple[int, int]


class Asked(NamedTuple):
    """One word of a question.

    ``keys`` are those of inscriptions, ``names`` those of names, ``begins`` what the keys of longer words
    begin with if this one is unfinished (the last word of a question may be).
    """

    word: Word
    keys: tuple[str, ...]
    names: tuple[str, ...]
    begins: tuple[str, ...]


class Question(NamedTuple):
    """A question for words. ``formulas`` are those it names, in whatever spelling or part."""

    text: str
    words: tuple[Asked, ...]
    joined: str
    formulas: tuple[Recognised, ...]

    @property
    def freely(self) -> bool:
        """Whether its words bear each other out."""
        return len(self.words) >= COMPANY


@lru_cache(maxsize=64)
def question(text: str) -> Question:
    """Read a question; any text is one."""
    text = text[:LONGEST_QUESTION]
    normal = normalise(text)
    standing = [word for word in normal.words if not word.is_gap]
    asked = []
    for number, word in enumerate(standing, start=1):
        letters = tuple(letter for letter in word.letters if letter != GAP)
        begins = beginnings(letters) if number == len(standing) and not word.is_damaged else ()
        asked.append(
            Asked(
                word,
                word.keys,
                name_keys(letters),
                tuple(each for each in begins if len(each) >= LEAST_BEGINNING),
            )
        )
    return Question(text, tuple(asked), normal.joined.text, recognise(text))


def spans(asked: Question, transcription: str, *, also_backwards: bool = False) -> tuple[Span, ...]:
    """Give the places in a transcription that answer a question, apart and in order.

    Parameters
    ----------
    asked : Question
        From `question`.
    transcription : str
        The diplomatic text.
    also_backwards : bool
        Whether the line may be read from its end.
    """
    found: list[Span] = []
    for backwards in (False, True)[: 1 + also_backwards]:
        text = normalise(transcription, backwards=backwards)
        found += [
            (word.start, word.end)
            for word in text.words
            if any(_answers(asked, each, word) for each in asked.words)
        ]
        found += _run_together(asked, text)
    wanted = {each.formula.id for each in asked.formulas}
    found += [(each.start, each.end) for each in recognise(transcription) if each.formula.id in wanted]
    return together(transcription, found)


def exact_spans(text: str, transcription: str, *, also_backwards: bool = False) -> tuple[Span, ...]:
    """Give the places where exactly the letters asked for stand on the bell, case kept."""
    asked, letters = letters_on_bell(text).text, letters_on_bell(transcription)
    found: list[Span] = []
    for wanted in (asked, asked[::-1])[: 1 + also_backwards]:
        at = letters.text.find(wanted) if wanted else -1
        while at >= 0:
            found.append((letters.origins[at], letters.origins[at + len(wanted) - 1] + 1))
            at = letters.text.find(wanted, at + len(wanted))
    return together(transcription, found)


def together(transcription: str, found: Iterable[Span]) -> tuple[Span, ...]:
    """Widen places by the brackets that belong to their letters, and join those that touch or overlap."""
    return apart(_whole(transcription, span) for span in found)


def _answers(asked: Question, wanted: Asked, word: Word) -> bool:
    if word.is_gap:
        return False
    both = (word, *word.parts)
    keys = [key for each in both for key in each.keys]
    if any(key.startswith(each) for key in keys for each in wanted.begins):
        return True
    if word.is_damaged and wanted.word.is_damaged:
        return bool(set(word.keys) & set(wanted.keys))
    return any(answers_key(mine, key, freely=asked.freely) for mine in wanted.keys for key in keys)


def answers_key(asked: str, key: str, *, freely: bool) -> bool:
    """Say whether a key of an inscription answers one of a question."""
    if GAP in asked:
        return GAP not in key and matches(asked, key)
    return alike(asked, key, freely=freely)


def _run_together(asked: Question, text: Normalised) -> Iterable[Span]:
    """Find what is asked where the words are parted otherwise."""
    if len(asked.joined) < LEAST_JOINED or GAP in asked.joined:
        return
    joined = text.joined
    at = joined.text.find(asked.joined)
    if at >= 0:
        places = joined.origins[at : at + len(asked.joined)]
        yield min(places), max(places) + 1


def stand_in_gaps(asked: Question, words: Sequence[Sequence[str]]) -> bool:
    """Say whether what is asked can have stood in a text of which parts are lost without number.

    Enough of the letters must stand, in their order, and what does not stand must meet a gap.

    Parameters
    ----------
    asked : Question
        Two words at least.
    words : sequence of sequences of str
        The keys of each word of the text in order, ``*`` for a gap.
    """
    placed: list[int | None] = []
    place = -1
    standing = total = 0
    for wanted in asked.words:
        length = len(wanted.keys[0].replace(GAP, ""))
        total += length
        at = next(
            (number for number in range(place + 1, len(words)) if set(words[number]) & set(wanted.keys)), None
        )
        placed.append(at)
        if at is not None:
            place = at
            standing += length
    if standing < LEAST_STANDING or standing < SHARE_STANDING * total or None not in placed:
        return False
    gaps = [any(GAP in key for key in keys) for keys in words]
    return all(_meets_gap(number, placed, gaps) for number, at in enumerate(placed) if at is None)


def _meets_gap(number: int, placed: Sequence[int | None], gaps: Sequence[bool]) -> bool:
    """Say whether a gap lies where a missing word belongs: between its neighbours, or beside the only one."""
    before = next((at for at in reversed(placed[:number]) if at is not None), None)
    after = next((at for at in placed[number + 1 :] if at is not None), None)
    if before is not None and after is not None:
        return any(gaps[before + 1 : after])
    if before is not None:
        return any(gaps[before + 1 : before + 2])
    return after is not None and any(gaps[max(after - 1, 0) : after])


_CLOSERS = {")": "(", "]": "[", "}": "{", ">": "<", "⟩": "⟨", "⟧": "⟦", "´": "`"}


def _whole(text: str, span: Span) -> Span:
    """Widen a place by the brackets that belong to its letters."""
    start, end = span[0], end_of_letter(text, span[1])
    while end < len(text) and text[end] in _CLOSERS:
        opener = _CLOSERS[text[end]]
        inside = text[start:end]
        if inside.count(opener) > inside.count(text[end]):
            end += 1
        elif start > 0 and text[start - 1] == opener:
            start, end = start - 1, end + 1
        else:
            break
    while start > 0 and text[start - 1] in _CLOSERS.values():
        closer = next(each for each, opener in _CLOSERS.items() if opener == text[start - 1])
        inside = text[start:end]
        if inside.count(closer) <= inside.count(text[start - 1]):
            break
        start -= 1
    return start, end


def apart(found: Iterable[Span]) -> tuple[Span, ...]:
    """Join places that touch or overlap."""
    joined: list[Span] = []
    for start, end in sorted(set(found)):
        if joined and start <= joined[-1][1]:
            joined[-1] = joined[-1][0], max(joined[-1][1], end)
        else:
            joined.append((start, end))
    return tuple(joined)


class Part(NamedTuple):
    """A stretch of a text, and whether it answers what was asked."""

    text: str
    marked: bool


def parts_of(text: str, found: Sequence[Span]) -> tuple[Part, ...]:
    """Cut a text at the places found; nothing of it is lost."""
    parts: list[Part] = []
    done = 0
    for start, end in found:
        parts += [Part(text[done:start], marked=False), Part(text[start:end], marked=True)]
        done = end
    parts.append(Part(text[done:], marked=False))
    return tuple(part for part in parts if part.text)


def excerpt(parts: Sequence[Part], around: int = 60) -> tuple[Part, ...]:
    """Shorten what lies between, before and behind the marked parts to some characters."""
    made = []
    for number, part in enumerate(parts):
        text = part.text
        if not part.marked:
            first, last = number == 0, number == len(parts) - 1
            if first and len(text) > around:
                text = "… " + text[-around:].partition(" ")[2]
            elif last and len(text) > around:
                text = text[:around].rpartition(" ")[0] + " …"
            elif len(text) > 2 * around:
                text = text[:around].rpartition(" ")[0] + " … " + text[-around:].partition(" ")[2]
        made.append(Part(text, part.marked))
    return tuple(made)
