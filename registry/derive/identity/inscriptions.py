"""A fragment of an inscription: how probable it is to be read on each bell, and on bells in general.

A finder reads a passage somewhere in the text, and mistakes a letter now and then. Bells without a record
bear the formulas that others bear, or words that no record has: for the first speak the texts of the
registry, each the less the rarer its words are there; for the second a model of its letters. So a formula
that stands on fifty bells speaks fifty times less for one of them than words that stand on one.

References
----------
H. Ney, U. Essen, R. Kneser, On structuring probabilistic dependences in stochastic language modelling,
Computer Speech and Language 8 (1994) 1-38: absolute discounting, D = n1 / (n1 + 2 n2).
"""

import math
import re
from collections import Counter, defaultdict
from collections.abc import Iterable, Sequence
from functools import cached_property, lru_cache

import numpy as np
from numpy.typing import NDArray

from registry.derive.identity.alignment import Fragment
from registry.derive.identity.facts import Facts
from registry.derive.identity.letters import UNREAD, pieces
from registry.derive.identity.rules import rules

Real = NDArray[np.float64]

_DIGITS = re.compile("[0-9]")

RUN = 3
"""Letters of the runs by which texts are looked up."""

PASSAGE, SAMPLED = 12, frozenset("aeno")
"""Letters of the passages that are counted, and first letters of those that are: a sample of them all."""

SHARED = 0.3
"""Share of the runs of one text that another has at least, if both are readings of one inscription."""

NEGLIGIBLE = 1e-5
"""Of the likelihood of the best text over the number of texts: less than this changes nothing."""


class Texts:
    """The inscriptions of a registry, laid out to be searched.

    Parameters
    ----------
    bells : sequence of Facts
        What the records state.
    """

    def __init__(self, bells: Sequence[Facts]) -> None:
        rule = rules()["inscription"]
        inscriptions = [bell.inscription for bell in bells]
        self.gaps: Real = np.array([bell.inscription_gaps for bell in bells])
        self.wordless = np.array([bell.wordless for bell in bells], dtype=bool)
        self.texts = [
            tuple(dict.fromkeys(each for text in own for each in pieces(text))) for own in inscriptions
        ]
        self.told = np.array([any(own) for own in self.texts], dtype=bool)
        self.count = int(self.told.sum())
        # Where nobody ever wrote that there are none, the registry does not tell how many bells have none.
        bare, usual = int(self.wordless.sum()), float(rule["wordless_counts_as"])
        told = self.count + bare if bare else 0
        self.bare = (bare + usual * float(rule["wordless"])) / (told + usual)
        rows: defaultdict[str, list[int]] = defaultdict(list)
        for row, own in enumerate(self.texts):
            for run in {run for text in own for run in _runs(text)}:
                rows[run].append(row)
        self._rows = {run: np.array(found, dtype=np.int64) for run, found in rows.items()}
        self._letters = _Letters(text for own in self.texts for text in own)
        times = Counter(self._passages().values())
        # Two passages of either kind more, so that a small registry claims nothing.
        self.discount = (times[1] + 2.0) / (times[1] + 2.0 * times[2] + 4.0)
        total = sum(number * passages for number, passages in times.items())
        self.new = self.discount * (sum(times.values()) + 4.0) / (total + 4.0)

    def _passages(self) -> Counter[str]:
        """Count on how many bells each passage stands; of all passages those with certain first letters."""
        found: Counter[str] = Counter()
        for own in self.texts:
            found.update(
                {
                    text[at : at + PASSAGE]
                    for text in own
                    for at in range(len(text) - PASSAGE + 1)
                    if text[at] in SAMPLED
                }
            )
        return found

    def ratios(self, found: Facts) -> Real | None:
        """Give what words found, or their absence, say for each bell; None where nothing can be said.

        Returns
        -------
        array of float, or None
            Logarithm of the likelihood ratio; 0 where no inscription is on record.
        """
        rule = rules()["inscription"]
        overlooked = float(rule["overlooked"])
        if found.wordless:
            for_bare = math.log((1.0 - overlooked) / self.bare)
            against = math.log(overlooked / self.bare)
            return np.asarray(np.where(self.told, against, np.where(self.wordless, for_bare, 0.0)))
        read = [piece for text in found.inscription for piece in pieces(text)]
        read = [piece for piece in read if _length(piece) >= rule["least_letters"]]
        if not read:
            return None
        total = np.zeros(len(self.texts))
        for piece in dict.fromkeys(read):
            total += self._of_piece(piece)
        against = math.log(overlooked / (1.0 - self.bare))
        return np.where(self.told, total, np.where(self.wordless, against, 0.0))

    @cached_property
    def long_runs(self) -> dict[str, set[int]]:
        """The bells that bear each long run of letters; of all runs a sample, by their first letter."""
        length: int = rules()["twins"]["run"]
        rows: defaultdict[str, set[int]] = defaultdict(set)
        for row, own in enumerate(self.texts):
            for text in own:
                for run in _long_runs(text, length):
                    rows[run].add(row)
        return dict(rows)

    def most(self, bells: int) -> float:
        """Give the most that words can say for a bell among so many that could bear them.

        Who knows the founder knows his formulas and his name: words are then those of his bells.
        """
        return math.log((bells + 2.0) / (1.0 - self.discount))

    def pair_ratios(
        self, left: NDArray[np.int64], right: NDArray[np.int64], dated: NDArray[np.bool_]
    ) -> Real:
        """Give what the inscriptions of two records say for being one; 0 where either is not on record.

        How many bells bear what they share is judged by the rarest run of letters in it. Where the dates of a
        pair are compared too (``dated``), digits say nothing more.
        """
        overlooked = float(rules()["inscription"]["overlooked"])
        answer = np.zeros(len(left))
        for place, (row, other) in enumerate(zip(left.tolist(), right.tolist(), strict=True)):
            if self.told[row] and self.told[other]:
                gap = 1.0 - (1.0 - self.gaps[row]) * (1.0 - self.gaps[other])
                ratios = (
                    self._of_texts(*sorted((one, two), key=len), dated=bool(dated[place]))
                    for one in self.texts[row]
                    for two in self.texts[other]
                )
                answer[place] = math.log((1.0 - gap) * max(ratios) + gap)
            elif self.wordless[row] and self.wordless[other]:
                answer[place] = math.log((1.0 - overlooked) / self.bare)
            elif self.wordless[row] != self.wordless[other] and (self.told[row] or self.told[other]):
                answer[place] = math.log(overlooked / (1.0 - self.bare))
        return answer

    def _of_texts(self, shorter: str, longer: str, *, dated: bool) -> float:
        """Give the likelihood ratio of two texts, one perhaps a part of the other."""
        shorter, longer = (without_digits(text) for text in (shorter, longer)) if dated else (shorter, longer)
        if _length(shorter) < rules()["inscription"]["least_letters"]:
            return 0.0
        common = _runs(shorter) & _runs(longer)
        if len(common) < SHARED * len(_runs(shorter)) or not common:
            return 0.0
        new = self.new * 0.5 * self._letters.likelihood(shorter)
        length: int = rules()["twins"]["run"]
        long = _long_runs(shorter, length) & _long_runs(longer, length)
        bears = min((len(self.long_runs.get(run, ())) for run in long), default=0)
        bears = bears or min(len(self._rows.get(run, ())) for run in common)
        likely, varied = reading_likelihood(Fragment(shorter), longer)
        exact = _likelihood(shorter, 0, len(longer))
        # The two records are among those that bear the rarest run.
        others = max(bears - 1.0 - self.discount, 1.0 - self.discount)
        unseen = new + self.new * 0.5 * varied / max(self.count, 1)
        return likely / max(exact * others / max(self.count, 1) + unseen, 1e-300)

    def _of_piece(self, piece: str) -> Real:
        likely, varied = self._likelihoods(piece)
        hits, count = float(likely.sum()), max(self.count, 1)
        borne = 0.0
        if hits > 0.0:
            alike = hits / float(likely.max())
            borne = hits * max(alike - self.discount, 0.0) / alike / count
        unseen = 0.5 * (self._letters.likelihood(piece) + varied / count)
        general = max(borne + self.new * unseen, 1e-300)
        return np.asarray(np.log((1.0 - self.gaps) * likely / general + self.gaps))

    def _likelihoods(self, piece: str) -> tuple[Real, float]:
        """Give how probable it is to read a piece on each bell, 0 where no three letters agree.

        Beside it, the sum over all bells of how probable it is in a text that varies theirs: another year,
        another name.
        """
        likely, varied = np.zeros(len(self.texts)), 0.0
        found = [self._rows[run] for run in _runs(piece) if run in self._rows]
        if not found:
            return likely, varied
        shared = np.bincount(np.concatenate(found), minlength=len(self.texts))
        rows = np.flatnonzero(shared)
        fragment, by_text = Fragment(piece), dict[str, tuple[float, float]]()
        best = 0.0
        for row in rows[np.argsort(-shared[rows], kind="stable")]:
            # Each letter changed can part no more than RUN of the runs that two texts share.
            runs_apart = len(piece) - RUN + 1 - int(shared[row])
            if _likelihood(piece, math.ceil(runs_apart / RUN), RUN) < NEGLIGIBLE * best / len(self.texts):
                break
            for text in self.texts[row]:
                if text not in by_text:
                    by_text[text] = reading_likelihood(fragment, text)
            likely[row] = max(by_text[text][0] for text in self.texts[row])
            varied += max(by_text[text][1] for text in self.texts[row])
            best = max(best, float(likely[row]))
        return likely, varied


def reading_likelihood(fragment: Fragment, text: str) -> tuple[float, float]:
    """Give the probability to read a fragment at some place in a text, and in one that varies it.

    Mistakes are allowed for. A variation of a text has other letters in more places.
    """
    changes = fragment.least_changes(text)
    return (
        _likelihood(fragment.letters, changes, len(text)),
        _likelihood(fragment.letters, changes, len(text), "varied"),
    )


def _likelihood(piece: str, changes: int, text_length: int, kind: str = "misread") -> float:
    """Give the same for so many letters changed and a text of some length."""
    rule = rules()["inscription"]
    length = _length(piece)
    changes = min(max(changes, 0), length)
    changed = float(rule[kind])
    right = (length - changes) * math.log1p(-changed) + changes * math.log(changed / rule["letters"])
    # A short text may be a part of a longer one: it is not the likelier for being short.
    return math.exp(right) / max(text_length - length + 1, int(rule["usual_length"]))


def _length(piece: str) -> int:
    """Count the letters of a piece that were read."""
    return len(piece) - piece.count(UNREAD)


@lru_cache(maxsize=1 << 17)
def _runs(text: str) -> frozenset[str]:
    """Give the runs of letters of a text, those with an unread letter left out."""
    runs = {text[at : at + RUN] for at in range(len(text) - RUN + 1)}
    return frozenset(run for run in runs if UNREAD not in run)


@lru_cache(maxsize=1 << 17)
def _long_runs(text: str, length: int) -> frozenset[str]:
    """Give the runs of some length in a text that begin with a letter of the sample."""
    return frozenset(text[at : at + length] for at in range(len(text) - length + 1) if text[at] in SAMPLED)


def without_digits(text: str) -> str:
    """Give a text with its digits as letters unread: they agree with any."""
    return _DIGITS.sub(UNREAD, text).strip(UNREAD)


class _Letters:
    """How letters follow each other in inscriptions: trigrams, backed by pairs, letters and any letter."""

    WEIGHTS = (0.55, 0.3, 0.13, 0.02)
    ALPHABET = 40

    def __init__(self, texts: Iterable[str]) -> None:
        self._counts: tuple[Counter[str], ...] = (Counter(), Counter(), Counter())
        for text in texts:
            for size, counts in enumerate(self._counts, start=1):
                counts.update(text[at : at + size] for at in range(len(text) - size + 1))
        self._all = sum(self._counts[0].values())
        self._known: dict[str, float] = {}

    def likelihood(self, piece: str) -> float:
        """Give the probability of a piece among pieces of its length, read with mistakes."""
        if piece in self._known:
            return self._known[piece]
        misread = float(rules()["inscription"]["misread"])
        total = 0.0
        for at, letter in enumerate(piece):
            if letter != UNREAD:
                follows = self._follows(piece[max(at - 2, 0) : at], letter)
                total += math.log((1.0 - misread) * follows + misread / self.ALPHABET)
        self._known[piece] = math.exp(total)
        return self._known[piece]

    def _follows(self, before: str, letter: str) -> float:
        three, two, one, any_letter = self.WEIGHTS
        singles, pairs, triples = self._counts
        chance = any_letter / self.ALPHABET
        if self._all:
            chance += one * singles[letter] / self._all
        if before and singles[before[-1]]:
            chance += two * pairs[before[-1] + letter] / singles[before[-1]]
        if len(before) == 2 and pairs[before]:
            chance += three * triples[before + letter] / pairs[before]
        return chance
