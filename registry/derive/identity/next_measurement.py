"""What to measure next: how much each further fact is expected to tell of which bell it is.

For each bell that it may be, and for none of them, one imagines what would be found, and by how much the
answer would become surer. The mean over all is the information that the measurement is expected to give.

References
----------
D. V. Lindley, On a measure of the information provided by an experiment, Annals of Mathematical Statistics 27
(1956) 986-1005.
"""

import math
from collections.abc import Iterator
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from registry.derive.identity.comparison import FACTS, Answer, Register
from registry.derive.identity.facts import CENTS, Facts, Years, diameter_sd, mass_sd, strike_sd_cents
from registry.derive.identity.letters import pieces
from registry.derive.identity.partial_tones import names
from registry.derive.identity.rules import rules
from registry.derive.identity.sizes import PARTS, expected, sizes_of

Real = NDArray[np.float64]

NOBODY = -1
"""Stands for "none of them" among the rows."""

NEGLIGIBLE = 0.003
"""Chance below which nothing is imagined of a bell."""

UNHEARD = "xqzkfxqzkfxqzk"
"""A fragment that no bell bears."""


class Next(NamedTuple):
    """A measurement, and the information [bits] it is expected to give."""

    fact: str
    bits: float


def open_bits(answer: Answer) -> float:
    """Give how much is still open, the entropy of the answer [bits]."""
    shares = np.append(answer.probabilities, answer.none)
    shares = shares[shares > 0.0]
    return float(-(shares * np.log2(shares)).sum())


def what_next(register: Register, found: Facts, answer: Answer) -> list[Next]:
    """Rank the facts that were not found by what each is expected to tell; what tells nothing is left out."""
    if not register.records:
        return []
    most: int = rules()["next"]["candidates"]
    rows = np.argsort(-answer.probabilities, kind="stable")[:most]
    chances = np.append(answer.probabilities[rows], answer.none)
    chances = chances / chances.sum()
    imagined = _Imagined(register, found)
    told = []
    for fact in FACTS:
        if fact in answer.compared:
            continue
        bits = 0.0
        for place, row in enumerate([*rows.tolist(), NOBODY]):
            if chances[place] < NEGLIGIBLE:
                continue
            for way, share in _equally(list(imagined.of(fact, row))):
                said = register.ratios(way, rows).get(fact, np.zeros(len(rows)))
                likely = np.append(np.exp(np.minimum(said, 300.0)), 1.0)
                bits += chances[place] * share * math.log2(likely[place] / float(chances @ likely))
        if bits > 0.05:
            told.append(Next(fact, float(bits)))
    return sorted(told, key=lambda each: -each.bits)


def _equally(ways: list[Facts]) -> Iterator[tuple[Facts, float]]:
    """Give each way with its share."""
    for way in ways:
        yield way, 1.0 / len(ways)


class _Imagined:
    """What would be found, fact by fact, if it were one bell or another."""

    def __init__(self, register: Register, found: Facts) -> None:
        self.register = register
        # Of what was found the sizes alone count on: what they leave open of each other.
        self.found = Facts(
            **{name: getattr(found, name) for name in (*PARTS, "diameter_sd", "strike_sd_cents", "mass_sd")},
            material=found.material,
        )
        self.general = expected(sizes_of([found]), register.general)

    def of(self, fact: str, row: int) -> Iterator[Facts]:
        """Give some ways in which a fact could be found on the bell of a row, or on one of no record."""
        record = self.register.records[row].facts if row != NOBODY else Facts()
        if fact in PARTS:
            yield from self._sizes(fact, row)
        elif fact == "partials_hz":
            yield from self._partials(record)
        elif fact == "inscription":
            yield from _words(record, self.register.texts.bare)
        elif fact == "cast_years":
            yield from self._years(record)
        elif fact == "founder":
            yield Facts(founder=record.founder or ("?",))
        else:
            yield from self._kinds(fact, record)

    def _sizes(self, fact: str, row: int) -> Iterator[Facts]:
        place = PARTS.index(fact)
        model, at = (self.general, 0) if row == NOBODY else (self.register.expected, row)
        middle, spread = model.mean[at, place], math.sqrt(model.covariance[at, place, place])
        for away in (-1.2, 0.0, 1.2):
            value = math.exp(middle + away * math.hypot(spread, 0.004))
            match fact:
                case "mouth_diameter_mm":
                    mm = 1000.0 * value
                    yield self.found._replace(mouth_diameter_mm=mm, diameter_sd=diameter_sd(mm, 2.0))
                case "strike_hz":
                    yield self.found._replace(strike_hz=value, strike_sd_cents=strike_sd_cents(5.0))
                case _:
                    yield self.found._replace(mass_kg=value, mass_sd=mass_sd(value, "weighed"))

    def _partials(self, record: Facts) -> Iterator[Facts]:
        if record.partials_hz and record.strike_reference_hz:
            yield Facts(partials_hz=record.partials_hz, strike_hz=record.strike_hz)
            return
        tones = self.register.partial_tones
        for away in (-1.0, 1.0):
            cents = dict(zip(names(), tones.mean + away * tones.spread, strict=True))
            told = {name: 500.0 * math.exp(cents[name] / CENTS) for name in ("hum", "prime", "tierce")}
            yield Facts(partials_hz=told | {"nominal": 1000.0})

    def _years(self, record: Facts) -> Iterator[Facts]:
        spans = [span for span in record.cast_years if span.first is not None and span.last is not None]
        if spans:
            years = [(span.first + span.last) // 2 for span in spans]  # type: ignore[operator]
        else:
            castings = self.register.castings
            below = np.cumsum(castings.density)
            years = [
                int(np.searchsorted(below, share)) + castings.first for share in (0.1, 0.3, 0.5, 0.7, 0.9)
            ]
        for year in years[:5]:
            yield Facts(cast_years=(Years(year, year),))

    def _kinds(self, fact: str, record: Facts) -> Iterator[Facts]:
        kind = self.register.kinds[fact]
        place = kind.place(getattr(record, fact))
        shares = kind.general if place < 0 else kind.confused[place]
        words = list(kind.places)
        # Ten ways in proportion to their chances.
        for share in np.arange(0.05, 1.0, 0.1):
            word = words[int(np.searchsorted(np.cumsum(shares), share))]
            yield Facts(**{fact: word})


def _words(record: Facts, bare: float) -> Iterator[Facts]:
    """Give what would be read on a bell: a passage, nothing, or either where the record does not tell."""
    passage = _passage(record)
    if not passage and (record.wordless or bare > 0.25):
        yield Facts(wordless=True)
    if not record.wordless:
        yield Facts(inscription=(passage or UNHEARD,))


def _passage(record: Facts) -> str:
    """Give a passage from the middle of an inscription."""
    texts = [piece for text in record.inscription for piece in pieces(text)]
    if not texts:
        return ""
    text, length = max(texts, key=len), int(rules()["next"]["fragment_letters"])
    start = max((len(text) - length) // 2, 0)
    return text[start : start + length]
