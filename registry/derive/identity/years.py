"""The date of casting: how two statements of it go together, against the castings of a registry at large.

A statement is a span of years, or several. The year itself lies within it, or misses it by a little now and
then. A record whose span is wide says little, and one without a date nothing at all: its year is then as
likely as that of any bell.
"""

from collections.abc import Iterable, Sequence

import numpy as np
from numpy.typing import NDArray

from registry.derive.identity.facts import Years
from registry.derive.identity.rules import rules

Real = NDArray[np.float64]


class Castings:
    """How castings spread over the years: those of a registry, smoothed, and some anywhere.

    Parameters
    ----------
    dated : iterable of sequences of Years
        The spans of each bell of the registry that has any.
    """

    def __init__(self, dated: Iterable[Sequence[Years]]) -> None:
        rule = rules()["cast_years"]
        self.first: int = rule["first_year"]
        self.length: int = rule["last_year"] - self.first + 1
        density, _ = self._spread(dated)
        # Two bells more, of any date since the twelfth century, keep every year possible.
        anywhere = np.where(np.arange(self.length) + self.first >= 1100, 1.0, 0.02)
        density = density + 2.0 * anywhere / anywhere.sum()
        self.density: Real = density / density.sum()
        self._below = np.concatenate([[0.0], np.cumsum(self.density)])

    def _bounds(self, span: Years) -> tuple[int, int]:
        """Give the places of a span, cut to the years that are told apart; at least one of them."""
        first = 0 if span.first is None else span.first - self.first
        last = self.length - 1 if span.last is None else span.last - self.first
        start = min(max(first, 0), self.length - 1)
        return start, min(max(last, start), self.length - 1) + 1

    def fit(self, spans: Sequence[Years]) -> Real:
        """Give how well each year agrees with a statement: 1 within, less outside, never nothing."""
        rule = rules()["cast_years"]
        years = np.arange(self.length)
        outside = np.full(self.length, float(self.length))
        for span in spans:
            start, end = self._bounds(span)
            outside = np.minimum(outside, np.maximum(np.maximum(start - years, years - (end - 1)), 0))
        missed, edge = float(rule["missed"]), float(rule["edge_years"])
        width = float((outside == 0).sum())
        # The share that misses lies beyond the ends, as an exponential of that scale on either side.
        fit = np.where(outside == 0, 1.0 - missed, missed * width / (2.0 * edge) * np.exp(-outside / edge))
        return np.asarray(np.clip(fit, 1e-12, 1.0 - missed))

    def ratio(
        self, found: Sequence[Years], stated: Sequence[Sequence[Years]], usual: Real | None = None
    ) -> Real:
        """Give what a date found says for each of some records.

        Parameters
        ----------
        found : sequence of Years
            Spans that the finder gives.
        stated : sequence of sequences of Years
            Spans of each record; an empty one is as good as no date.
        usual : array of float, optional
            How likely each year is of bells in general, where more is known of them than this registry tells.

        Returns
        -------
        array of float
            Logarithm of the likelihood ratio for each record.
        """
        fit = self.fit(found)
        general = float((fit * (self.density if usual is None else usual)).sum())
        weighted = np.concatenate([[0.0], np.cumsum(fit * self.density)])
        places = [[self._bounds(span) for span in spans] for spans in stated]
        answer = np.zeros(len(stated))
        for row, bounds in enumerate(places):
            if bounds:
                hit = sum(weighted[end] - weighted[start] for start, end in bounds)
                mass = sum(self._below[end] - self._below[start] for start, end in bounds)
                answer[row] = np.log(hit / mass / general)
        return answer

    def pair_ratios(
        self,
        one: Sequence[Sequence[Years]],
        other: Sequence[Sequence[Years]],
        usual: Sequence[Real | None] | None = None,
    ) -> Real:
        """Give what two statements say for being of one bell, pair by pair; 0 where either is empty.

        ``usual`` gives for a pair how likely each year is of bells in general, where its founder tells more.
        """
        made: dict[tuple[Years, ...], tuple[float, Real, Real]] = {}
        answer = np.zeros(len(one))
        for row, (stated, found) in enumerate(zip(one, other, strict=True)):
            if not stated or not found:
                continue
            key = tuple(found)
            if key not in made:
                fit = self.fit(found)
                weighted = fit * self.density
                made[key] = float(weighted.sum()), np.concatenate([[0.0], np.cumsum(weighted)]), fit
            general, below, fit = made[key]
            own = usual[row] if usual else None
            general = general if own is None else float((fit * own).sum())
            bounds = [self._bounds(span) for span in stated]
            hit = sum(below[end] - below[start] for start, end in bounds)
            mass = sum(self._below[end] - self._below[start] for start, end in bounds)
            answer[row] = np.log(hit / mass / general)
        return answer

    def of_founder(self, own: Iterable[Sequence[Years]], weight: float = 2.0) -> Real:
        """Give how castings of one founder spread: those known, with years about each, and some at large."""
        spread, bells = self._spread(own)
        return np.asarray((spread + weight * self.density) / (bells + weight))

    def _spread(self, dated: Iterable[Sequence[Years]]) -> tuple[Real, int]:
        """Spread each bell evenly over its years and smooth the whole; give it with the number of bells."""
        counts, bells = np.zeros(self.length), 0
        for spans in dated:
            inside = [self._bounds(span) for span in spans if None not in span]
            years = sum(end - start for start, end in inside)
            for start, end in inside:
                counts[start:end] += 1.0 / years
            bells += bool(inside)
        return _smoothed(counts, float(rules()["cast_years"]["smoothing_years"])), bells


def _smoothed(counts: Real, scale: float) -> Real:
    """Spread counts by a normal curve of this standard deviation, cut at three."""
    reach = np.arange(-int(3 * scale), int(3 * scale) + 1)
    kernel = np.exp(-0.5 * (reach / scale) ** 2)
    return np.convolve(counts, kernel / kernel.sum(), mode="same")
