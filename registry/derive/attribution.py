"""Founders proposed for a bell whose form gives a name and no id.

A name is held letter by letter against the spellings that files of founders own, in the folding of names
(capitals, accents and punctuation do not count); the place of a workshop may stand behind it. Nothing is
guessed from likeness: a name that nobody owns stays without a founder. Common practice, no source.
"""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from typing import NamedTuple

from registry.inscriptions.names import name_readings
from registry.model.names import OwnedName
from registry.model.validity import Validity

CERTAINTIES = ("certain", "probable", "possible", "doubtful")
"""From sure to unsure, as in the vocabulary ``certainty``."""


class Proposal(NamedTuple):
    """A founder proposed for a bell: how certain, by which spelling, and why."""

    founder_id: str
    certainty: str
    spelling: str
    reason: str


class NameIndex:
    """The spellings of all founders, ready to be asked."""

    def __init__(self, names: Iterable[OwnedName]) -> None:
        self._by_reading: defaultdict[str, list[OwnedName]] = defaultdict(list)
        for name in names:
            for reading in name_readings(name.spelling):
                self._add(reading, name)
                for place in name.places:
                    for where in name_readings(place):
                        self._add(f"{reading} {where}", name)

    def _add(self, reading: str, name: OwnedName) -> None:
        if reading and name not in self._by_reading[reading]:
            self._by_reading[reading].append(name)

    def owners(self, text: str) -> list[OwnedName]:
        """Give the names that a text is, each once."""
        found = (name for reading in name_readings(text) for name in self._by_reading.get(reading, ()))
        return list(dict.fromkeys(found))


class Named(NamedTuple):
    """A bell as its newest survey names its founder.

    ``cast`` are the days on which it can have been cast, ``cast_text`` the date as written, empty where there
    is none. ``certainty`` is the surveyor's of the founder, ``stated`` the id the surveyor gives; both may be
    empty.
    """

    text: str
    cast: Validity
    cast_text: str = ""
    certainty: str = ""
    stated: str = ""


def propose(bell: Named, index: NameIndex) -> list[Proposal]:
    """Propose founders for a bell.

    Returns
    -------
    list of Proposal
        By id: the founders whose spelling it is and whose time fits; where no one's does, those it does not.
        None is more certain than the surveyor is of the founder; the one stated needs no proposal, and any
        other is doubtful then.
    """
    by_founder: dict[str, list[OwnedName]] = defaultdict(list)
    for name in index.owners(bell.text):
        by_founder[name.founder_id].append(name)
    judged = {founder_id: _judged(names, bell) for founder_id, names in by_founder.items()}
    fitting = {id_: each for id_, each in judged.items() if each.certainty != "doubtful"} or judged
    return [
        _in_company(proposal, sorted(fitting), bell)
        for founder_id, proposal in sorted(fitting.items())
        if founder_id != bell.stated
    ]


def _in_company(proposal: Proposal, fitting: Sequence[str], bell: Named) -> Proposal:
    """Take back certainty where others fit too, where another is stated, or the surveyor was unsure."""
    certainty, reason = proposal.certainty, proposal.reason
    others = [id_ for id_ in fitting if id_ != proposal.founder_id]
    if others:
        certainty = _weakest(certainty, "possible")
        reason += f"; the spelling is also that of {', '.join(others)}"
    if bell.stated:
        certainty = "doubtful"
        reason += f"; the form names {bell.stated}"
    return proposal._replace(certainty=_weakest(certainty, bell.certainty), reason=reason)


def _judged(names: Sequence[OwnedName], bell: Named) -> Proposal:
    """Judge one founder by the name whose time fits best."""
    return min((_one(name, bell) for name in names), key=lambda each: CERTAINTIES.index(each.certainty))


def _one(name: OwnedName, bell: Named) -> Proposal:
    same = f"the name is that spelling of {name.founder_id}"
    if not bell.cast_text:
        return Proposal(name.founder_id, "possible", name.spelling, f"{same}; the bell is not dated")
    if not name.time_text:
        return Proposal(name.founder_id, "possible", name.spelling, f"{same}, which has no time of its own")
    if not name.time.overlaps(bell.cast):
        reason = f"{same}, but of {name.time_text}, and the bell of {bell.cast_text}"
        return Proposal(name.founder_id, "doubtful", name.spelling, reason)
    reason = f"{same}, of {name.time_text}, and the bell of {bell.cast_text}"
    return Proposal(name.founder_id, "probable", name.spelling, reason)


def _weakest(*certainties: str) -> str:
    """Give the least certain of some words; a word that judges nothing counts for nothing."""
    return max((each for each in certainties if each in CERTAINTIES), key=CERTAINTIES.index)
