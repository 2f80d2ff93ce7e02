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
from collections import Counter, defaultdict
from collections.abc import Iterable, Sequence

import numpy as np
from numpy.typing import NDArray

from registry.derive.identity.alignment import Fragment
from registry.derive.identity.letters import UNREAD, pieces
from registry.derive.identity.rules import rules

Real = NDArray[np.float64]

RUN = 3
"""Letters of the runs by which texts are looked up."""


class Texts:
    """The inscriptions of a registry, laid out to be searched.

    Parameters
    ----------
    inscriptions : sequence of sequences of str
        Readings of each bell; empty where none is on record.
    gaps : sequence of float
        Of each bell the chance that a passage of its inscription is not among them.
    """

    def __init__(self, inscriptions: Sequence[Sequence[str]], gaps: Sequence[float]) -> None:
        self.gaps: Real = np.array(gaps)
        self.texts = [
            tuple(dict.fromkeys(each for text in own for each in pieces(text))) for own in inscriptions
        ]
        self.told = np.array([any(own) for own in self.texts], dtype=bool)
        self.count = int(self.told.sum())
        rows: defaultdict[str, list[int]] = defaultdict(list)
        for row, own in enumerate(self.texts):
            for run in {run for text in own for run in _runs(text)}:
                rows[run].append(row)
        self._rows = {run: np.array(found, dtype=np.int64) for run, found in rows.items()}
        self._letters = _Letters(text for own in self.texts for text in own)
        once = Counter("|".join(own) for own in self.texts if own)
        times = Counter(once.values())
        # Two texts of either kind more, so that a small registry claims nothing.
        self.discount = (times[1] + 2.0) / (times[1] + 2.0 * times[2] + 4.0)
        self.new = min((times[1] + 2.0) / (self.count + 4.0), 0.95)

    def ratios(self, readings: Iterable[str]) -> Real | None:
        """Give what a fragment says for each bell; None where it is too short to say anything.

        Returns
        -------
        array of float, or None
            Logarithm of the likelihood ratio; 0 where no inscription is on record.
        """
        rule = rules()["inscription"]
        read = [
            piece for text in readings for piece in pieces(text) if _length(piece) >= rule["least_letters"]
        ]
        if not read:
            return None
        total = np.zeros(len(self.texts))
        for piece in dict.fromkeys(read):
            total += self._of_piece(piece)
        return np.where(self.told, total, 0.0)

    def _of_piece(self, piece: str) -> Real:
        likely = self._likelihoods(piece)
        hits = float(likely.sum())
        bears = 0.0
        if hits > 0.0:
            alike = hits / float(likely.max())
            bears = hits * max(alike - self.discount, 0.0) / alike / max(self.count, 1)
        general = max(bears + self.new * self._letters.likelihood(piece), 1e-300)
        return np.asarray(np.log((1.0 - self.gaps) * likely / general + self.gaps))

    def _likelihoods(self, piece: str) -> Real:
        """Give how probable it is to read a piece on each bell; 0 where no three letters agree."""
        likely = np.zeros(len(self.texts))
        found = [self._rows[run] for run in _runs(piece) if run in self._rows]
        if not found:
            return likely
        shared = np.bincount(np.concatenate(found), minlength=len(self.texts))
        rows = np.flatnonzero(shared)
        most: int = rules()["inscription"]["aligned_most"]
        if len(rows) > most:
            rows = rows[np.argsort(-shared[rows], kind="stable")[:most]]
        fragment, by_text = Fragment(piece), dict[str, float]()
        for row in rows:
            for text in self.texts[row]:
                if text not in by_text:
                    by_text[text] = reading_likelihood(fragment, text)
            likely[row] = max(by_text[text] for text in self.texts[row])
        return likely


def reading_likelihood(fragment: Fragment, text: str) -> float:
    """Give the probability to read a fragment at a place chosen at random in a text, mistakes allowed for."""
    rule = rules()["inscription"]
    length = _length(fragment.letters)
    changes = min(fragment.least_changes(text), length)
    misread = float(rule["misread"])
    right = (length - changes) * math.log1p(-misread) + changes * math.log(misread / rule["letters"])
    # A short text may be a part of a longer one: it is not the likelier for being short.
    return math.exp(right) / max(len(text) - length + 1, int(rule["usual_length"]))


def _length(piece: str) -> int:
    """Count the letters of a piece that were read."""
    return len(piece) - piece.count(UNREAD)


def _runs(text: str) -> set[str]:
    """Give the runs of letters of a text, those with an unread letter left out."""
    runs = {text[at : at + RUN] for at in range(len(text) - RUN + 1)}
    return {run for run in runs if UNREAD not in run}


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

    def likelihood(self, piece: str) -> float:
        """Give the probability of a piece among pieces of its length, read with mistakes."""
        misread = float(rules()["inscription"]["misread"])
        total = 0.0
        for at, letter in enumerate(piece):
            if letter != UNREAD:
                follows = self._follows(piece[max(at - 2, 0) : at], letter)
                total += math.log((1.0 - misread) * follows + misread / self.ALPHABET)
        return math.exp(total)

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
