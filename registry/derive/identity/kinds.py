"""What is told in words or counted: material, crown, loops. One statement may be taken for another."""

from collections import Counter
from collections.abc import Callable, Iterable, Mapping, Sequence
from functools import cache
from typing import Any

import numpy as np
from numpy.typing import NDArray

from registry.derive.identity.rules import rules
from registry.model.vocabulary import vocabulary

Real = NDArray[np.float64]


class Kinds:
    """One fact told in words: how often each word is true of bells, and which is taken for which.

    Parameters
    ----------
    words : sequence
        The words it can have, in order.
    taken_for : callable
        The chance that what one statement calls the first word another calls the second.
    general : mapping
        Shares of the words among bells in general.
    counts_as : float
        Bells for which these shares count beside those of the registry.
    stated : iterable
        The words of the registry; None where a bell has none.
    """

    def __init__(
        self,
        words: Sequence[Any],
        taken_for: Callable[[Any, Any], float],
        general: Mapping[Any, float],
        counts_as: float,
        stated: Iterable[Any],
    ) -> None:
        self.places = {word: place for place, word in enumerate(words)}
        counts = Counter(word for word in stated if word in self.places)
        least = 0.01 / len(words)
        shares = np.array([counts[word] + counts_as * (general.get(word, 0.0) + least) for word in words])
        self.shares: Real = shares / shares.sum()
        self.confused: Real = np.array([[taken_for(one, other) for other in words] for one in words])
        self.confused /= self.confused.sum(axis=1, keepdims=True)
        self.general: Real = self.shares @ self.confused

    def place(self, word: Any) -> int:
        """Give the place of a word; -1 where it is none, or nothing is told."""
        return self.places.get(word, -1)

    def ratio(self, found: NDArray[np.int64], stated: NDArray[np.int64]) -> Real:
        """Give what words found say for records; 0 where either says nothing. Rows go together."""
        found, stated = np.broadcast_arrays(found, stated)
        known = (found >= 0) & (stated >= 0)
        ratio = np.log(self.confused[stated, found] / self.general[found])
        return np.where(known, ratio, 0.0)

    def truth(self, found: int) -> Real:
        """Give how likely each word is to be true after one was found; the shares where none was."""
        if found < 0:
            return self.shares
        likely = self.shares * self.confused[:, found]
        return np.asarray(likely / likely.sum())


def _words(name: str) -> list[str]:
    return [word for word in vocabulary(name).terms if word != "unknown"]


def materials(stated: Iterable[str | None]) -> Kinds:
    """Give the fact material."""
    rule = rules()["material"]
    return Kinds(_words("material"), _material_taken_for, rule["general"], rule["counts_as"], stated)


@cache
def _material_taken_for(one: str, other: str) -> float:
    rule = rules()["material"]
    words = _words("material")
    alike = next((group for group in rule["alike"] if one in group), [one])
    if one == other:
        return float(1.0 - rule["taken_for_alike"] - rule["taken_for_other"])
    if other in alike:
        return float(rule["taken_for_alike"] / (len(alike) - 1))
    return float(rule["taken_for_other"] / (len(words) - len(alike)))


def crowns(stated: Iterable[str | None]) -> Kinds:
    """Give the fact kind of crown."""
    rule = rules()["crown"]
    words = _words("crown_kind")

    def taken_for(one: str, other: str) -> float:
        becomes: dict[str, float] = rule["becomes"].get(one, {})
        if other in becomes:
            return becomes[other]
        if one == other:
            return float(1.0 - rule["otherwise"] - sum(becomes.values()))
        return float(rule["otherwise"] / (len(words) - 1 - len(becomes)))

    return Kinds(words, taken_for, rule["general"], rule["counts_as"], stated)


def loop_counts(stated: Iterable[int | None]) -> Kinds:
    """Give the fact number of loops."""
    rule = rules()["loops"]
    numbers = range(13)

    def taken_for(one: int, other: int) -> float:
        if one == other:
            return float(1.0 - rule["miscounted"] - rule["otherwise"])
        near = [number for number in numbers if 0 < abs(number - one) <= 2]
        if other in near:
            return float(rule["miscounted"] / len(near))
        return float(rule["otherwise"] / (len(numbers) - 1 - len(near)))

    return Kinds(list(numbers), taken_for, rule["general"], rule["counts_as"], stated)
