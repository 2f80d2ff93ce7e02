"""Hold what was found against every record of a registry at once."""

import math
from collections.abc import Sequence
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from registry.derive.identity.facts import Facts, Record
from registry.derive.identity.founders import Founders
from registry.derive.identity.inscriptions import Texts, without_digits
from registry.derive.identity.kinds import Kinds, crowns, loop_counts, materials
from registry.derive.identity.partial_tones import PartialTones, relative_cents
from registry.derive.identity.rules import rules
from registry.derive.identity.sizes import (
    LAWS,
    PARTS,
    General,
    expected,
    general_sizes,
    law_index,
    size_ratios,
    sizes_of,
)
from registry.derive.identity.whereabouts import status_weight
from registry.derive.identity.years import Castings

Real = NDArray[np.float64]
Rows = NDArray[np.int64]

FACTS = (*PARTS, "partials_hz", "inscription", "cast_years", "material", "crown", "loops", "founder")
"""The facts that are compared, in the order they are shown."""


class Register:
    """The records of a registry, laid out to be compared with.

    Parameters
    ----------
    records : sequence of Record
        The bells.
    today_year : int
        The year of asking, for how long ago a bell was seen.
    """

    def __init__(self, records: Sequence[Record], today_year: int) -> None:
        self.records = list(records)
        bells = [record.facts for record in self.records]
        self.sizes = sizes_of(bells)
        self.texts = Texts(bells)
        self.castings = Castings(bell.cast_years for bell in bells)
        self.founders = Founders(bells)
        self.cents = relative_cents(bells)
        self.partial_tones = PartialTones(self.cents)
        self.kinds: dict[str, Kinds] = {
            "material": materials(bell.material for bell in bells),
            "crown": crowns(bell.crown for bell in bells),
            "loops": loop_counts(bell.loops for bell in bells),
        }
        self.places = {
            name: np.array([kind.place(getattr(bell, name)) for bell in bells], dtype=np.int64)
            for name, kind in self.kinds.items()
        }
        self.general: General = general_sizes(self.sizes, self.law_shares(None))
        self.expected = expected(self.sizes, self.general)
        weights = np.array([status_weight(record, today_year) for record in self.records])
        self.status_prior: Real = weights / weights.sum() if len(weights) else weights

    def law_shares(self, material: str | None) -> list[float]:
        """Give how likely each law of sizes is for a bell whose material a finder names, or does not."""
        kind = self.kinds["material"]
        likely = kind.truth(kind.place(material))
        shares = [0.0] * len(LAWS)
        for word, place in kind.places.items():
            shares[law_index(word)] += float(likely[place])
        return shares

    def ratios(self, found: Facts, rows: Rows | None = None) -> dict[str, Real]:
        """Give by fact what was found says for each record.

        Parameters
        ----------
        found : Facts
            What is known of the bell found.
        rows : array of int, optional
            The records to compare with; all unless given.

        Returns
        -------
        dict of array of float
            Logarithm of the likelihood ratio against bells in general, for each fact that was found and can
            be compared; 0 where a record lacks it.
        """
        rows = np.arange(len(self.records)) if rows is None else rows
        told: dict[str, Real] = {}
        sizes = sizes_of([found])
        if sizes.known.any():
            shares = self.law_shares(found.material)
            said = size_ratios(sizes, self.expected.take(rows), self.general, shares)
            told |= {name: said[:, place] for place, name in enumerate(PARTS) if sizes.known[0, place]}
        cents = relative_cents([found])
        if np.isfinite(cents).any():
            told["partials_hz"] = self.partial_tones.ratio(cents, self.cents[rows])
        meant = self.founders.find(found.founder) if found.founder else {}
        said_by_letters = self._words(found, meant)
        if said_by_letters is not None:
            told["inscription"] = said_by_letters[rows]
        if found.cast_years:
            told["cast_years"] = self._dates(found, meant, rows)
        for name, kind in self.kinds.items():
            place = kind.place(getattr(found, name))
            if place >= 0:
                told[name] = kind.ratio(np.array([place]), self.places[name][rows])
        if found.founder:
            told["founder"] = self.founders.ratio(meant)[rows]
        return {name: doubted(name, told[name]) for name in FACTS if name in told}

    def _words(self, found: Facts, meant: dict[int, float]) -> Real | None:
        """Compare words, so that what the founder and the date have said already is not said twice."""
        if found.cast_years and found.inscription:
            found = found._replace(inscription=tuple(map(without_digits, found.inscription)))
        said = self.texts.ratios(found)
        if said is None:
            return None
        for number in meant:
            own = self.founders.bells[number]
            said[own] = np.minimum(said[own], self.texts.most(int(self.texts.told[own].sum())))
        return said

    def _dates(self, found: Facts, meant: dict[int, float], rows: Rows) -> Real:
        """Compare dates; where record and find name a founder, against the years in which he cast."""
        stated = [self.records[row].facts.cast_years for row in rows]
        said = self.castings.ratio(found.cast_years, stated)
        if not found.founder:
            return said
        own = [self.records[row].facts.cast_years for number in meant for row in self.founders.bells[number]]
        usual = self.castings.of_founder([spans for spans in own if spans])
        return np.where(
            self.founders.of_bell[rows] >= 0, self.castings.ratio(found.cast_years, stated, usual), said
        )


def doubted(name: str, said: Real) -> Real:
    """Allow for a statement that is wrong altogether, and trust none without end; nothing stays nothing."""
    said = np.minimum(said, float(rules()["most_bits"]) * math.log(2.0))
    if name in ("inscription", "founder"):
        # Their own likelihoods allow for it.
        return said
    wrong = float(rules()["blunder"][name])
    return np.where(said == 0.0, 0.0, np.logaddexp(math.log1p(-wrong) + said, math.log(wrong)))


class Candidate(NamedTuple):
    """One record as a candidate.

    Parameters
    ----------
    row : int
        Its place among the records.
    bell_id : str
        Its id.
    probability : float
        That it is the bell found.
    prior : float
        What was believed before comparing, by its status.
    factors : dict of float
        By fact, the logarithm of the likelihood ratio.
    """

    row: int
    bell_id: str
    probability: float
    prior: float
    factors: dict[str, float]


class Answer(NamedTuple):
    """Which bell it may be.

    Parameters
    ----------
    candidates : list of Candidate
        The likeliest first, as many as were asked for.
    none : float
        Probability that it is no bell of the registry.
    rest : float
        Probability of all records that are not listed.
    compared : tuple of str
        The facts that could be compared.
    unregistered : float
        What was believed of "none" before comparing.
    by_status : bool
        Whether what became of the bells was weighed.
    probabilities : array of float
        Of every record, in order.
    """

    candidates: list[Candidate]
    none: float
    rest: float
    compared: tuple[str, ...]
    unregistered: float
    by_status: bool
    probabilities: Real


def identify(
    register: Register,
    found: Facts,
    *,
    unregistered: float | None = None,
    by_status: bool = True,
    most: int = 10,
) -> Answer:
    """Rank the bells of a registry by how likely each is the one found.

    Parameters
    ----------
    register : Register
        The records.
    found : Facts
        What is known of the bell found.
    unregistered : float, optional
        Chance, before anything is compared, that it has no record; that of the rules unless given.
    by_status : bool
        Whether a bell known to hang in its tower is held less likely than one that was stolen or lost.
    most : int
        Candidates to list.

    Returns
    -------
    Answer
        Probabilities of all records and of "none of them", which sum to one.

    Raises
    ------
    ValueError
        When ``unregistered`` is not between 0 and 1, ends left out.
    """
    none = float(rules()["prior"]["unregistered"]) if unregistered is None else unregistered
    if not 0.0 < none < 1.0:
        raise ValueError(f"a chance between 0 and 1, not {none}")
    count = len(register.records)
    if not count:
        return Answer([], 1.0, 0.0, (), none, by_status, np.zeros(0))
    told = register.ratios(found)
    prior = register.status_prior if by_status else np.full(count, 1.0 / count)
    weight = np.log(np.maximum((1.0 - none) * prior, 1e-300)) + sum(told.values(), np.zeros(count))
    whole = np.logaddexp(np.logaddexp.reduce(weight), math.log(none))
    probabilities = np.exp(weight - whole)
    # Ties stand in the order of the records.
    first = np.argsort(-probabilities, kind="stable")[:most]
    candidates = [
        Candidate(
            int(row),
            register.records[row].bell_id,
            float(probabilities[row]),
            float(prior[row]),
            {name: float(said[row]) for name, said in told.items()},
        )
        for row in first
    ]
    of_none = float(np.exp(math.log(none) - whole))
    rest = max(float(probabilities.sum()) - sum(each.probability for each in candidates), 0.0)
    return Answer(candidates, of_none, rest, tuple(told), none, by_status, probabilities)
