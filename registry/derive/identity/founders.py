"""The founder: one name in several spellings, and attributions that are wrong."""

import unicodedata
from collections import defaultdict
from collections.abc import Sequence
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from registry.derive.identity.facts import Facts
from registry.derive.identity.rules import rules

Real = NDArray[np.float64]

NOBODY = {"unknown", "unbekannt", "inconnu", "onbekend", "anonymous"}
"""Words that stand in the place of a name."""


@lru_cache(maxsize=65536)
def name_letters(name: str) -> tuple[str, ...]:
    """Give the words of a name or id in plain small letters, in the order of the alphabet."""
    taken = unicodedata.normalize("NFKD", name).casefold()
    words = "".join(
        letter if letter.isalnum() else " " for letter in taken if not unicodedata.combining(letter)
    )
    return tuple(sorted(words.split()))


def likeness(one: tuple[str, ...], other: tuple[str, ...]) -> float:
    """Give how alike two names are, 0 to 1: twice the letter pairs they share over all (Dice 1945)."""
    mine, yours = _pairs(one), _pairs(other)
    return 2.0 * len(mine & yours) / max(len(mine) + len(yours), 1)


@lru_cache(maxsize=65536)
def _pairs(words: tuple[str, ...]) -> frozenset[str]:
    return frozenset(pair for word in words for pair in zip_pairs(f" {word} "))


def zip_pairs(word: str) -> list[str]:
    """Give the pairs of neighbouring letters of a word."""
    return [word[at : at + 2] for at in range(len(word) - 1)]


class Founders:
    """The founders of a registry.

    Parameters
    ----------
    bells : sequence of Facts
        The records; those that give an id and a name of one founder tie the two together.
    """

    def __init__(self, bells: Sequence[Facts]) -> None:
        self._number: dict[tuple[str, ...], int] = {}
        self.of_bell = np.full(len(bells), -1, dtype=np.int64)
        self.bells: defaultdict[int, list[int]] = defaultdict(list)
        self.names: dict[int, tuple[str, ...]] = {}
        for row, bell in enumerate(bells):
            names = [name_letters(name) for name in bell.founder if name.casefold() not in NOBODY]
            names = [name for name in names if name]
            if not names:
                continue
            known = next((self._number[name] for name in names if name in self._number), len(self._number))
            for name in names:
                self._number.setdefault(name, known)
            self.of_bell[row] = self._number[names[0]]
            self.names.setdefault(known, names[-1])
            self.bells[int(self.of_bell[row])].append(row)
        wrong = rules()["founder"]["wrong"]
        self.wrong: Real = np.array([wrong.get(bell.founder_certainty, wrong["unknown"]) for bell in bells])
        self.count = int((self.of_bell >= 0).sum())

    def find(self, names: Sequence[str]) -> dict[int, float]:
        """Give the founders that a name may mean, by their number, with the likeness of the spelling."""
        least: float = rules()["founder"]["same_name_from"]
        asked = [name_letters(name) for name in names if name.casefold() not in NOBODY]
        found: dict[int, float] = {}
        for name in filter(None, asked):
            for known, number in self._number.items():
                alike = 1.0 if known == name else likeness(known, name)
                if alike >= least:
                    found[number] = max(found.get(number, 0.0), alike)
        return found

    def pair_ratios(self, left: NDArray[np.int64], right: NDArray[np.int64]) -> Real:
        """Give what the founders of two records say for being one bell; 0 where either has none."""
        rule = rules()["founder"]
        answer = np.zeros(len(left))
        for place, (row, other) in enumerate(zip(left.tolist(), right.tolist(), strict=True)):
            one, two = int(self.of_bell[row]), int(self.of_bell[other])
            if one < 0 or two < 0:
                continue
            alike = 1.0 if one == two else likeness(self.names[one], self.names[two])
            if alike < rule["same_name_from"]:
                alike = 0.0
            general = len(self.bells[two]) / (self.count + float(rule["counts_as"]))
            wrong = 1.0 - (1.0 - self.wrong[row]) * (1.0 - self.wrong[other])
            answer[place] = np.log((1.0 - wrong) * alike / general + wrong)
        return answer

    def ratio(self, meant: dict[int, float]) -> Real:
        """Give what a founder found says for each record; 0 where it has none."""
        rule = rules()["founder"]
        bells = sum(len(self.bells[number]) * alike for number, alike in meant.items())
        new, counts_as = float(rule["new_founder"]), float(rule["counts_as"])
        general = ((1.0 - new) * bells + counts_as * new) / (self.count + counts_as)
        same = np.zeros(len(self.of_bell))
        for number, alike in meant.items():
            same[self.of_bell == number] = alike
        ratio = np.log((1.0 - self.wrong) * same / general + self.wrong)
        return np.where(self.of_bell >= 0, ratio, 0.0)
