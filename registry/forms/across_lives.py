"""Rules on the lives of bells across surveys: dates that exclude each other, and metal that cannot be."""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from itertools import combinations
from typing import NamedTuple

from registry.forms.finding import Finding
from registry.model.descent import circles
from registry.model.footprint import BellFootprint, Footprint
from registry.model.life import Happening, days_of
from registry.model.validity import Validity
from registry.problems import Problem

ONCE = ("cast", "recast-into", "destroyed")
ENDS = frozenset({"recast-into", "destroyed"})
AFTERWARDS = frozenset(
    {"found", "inspected", "protected", "recorded", "other", "companion-of", "replaced-by", "metal-into"}
)
"""Words of ``event_kind`` for what can be told of a bell that is no more."""


class Told(NamedTuple):
    """A bell in a survey; ``position`` counts from 0 among the bells of the form."""

    survey: Footprint
    bell: BellFootprint
    position: int


class Lives:
    """What all surveys tell of the lives of bells; problems stand at bells of new forms.

    Parameters
    ----------
    surveys : sequence of Footprint
        All of them, the oldest first.
    new_files : set of str
        The files of those about to be loaded.
    """

    def __init__(self, surveys: Sequence[Footprint], new_files: set[str]) -> None:
        self.new_files = new_files
        self.told: defaultdict[str, list[Told]] = defaultdict(list)
        for survey in surveys:
            for position, bell in enumerate(survey.bells):
                self.told[bell.bell_id].append(Told(survey, bell, position))

    def problems(self) -> Iterator[Problem]:
        """Report all that cannot be."""
        parents = self._parents()
        for bell_id in list(self.told):
            yield from self._dated_twice(bell_id)
            yield from self._after_its_end(bell_id, parents)
            yield from self._before_its_metal(bell_id, parents)
        for circle in circles(parents):
            read = " from ".join((*circle, circle[0]))
            finding = Finding(
                "lineage-circle",
                read,
                "metal that comes from older bells alone",
                "check which of them was recast from which",
            )
            yield from self._at(circle, finding, "events")

    def _at(self, bell_ids: Iterable[str], finding: Finding, field: str) -> Iterator[Problem]:
        """Put a finding at the newest of the new forms that has one of the bells."""
        sightings = [each for bell_id in bell_ids for each in self.told.get(bell_id, ())]
        new = [each for each in sightings if each.survey.file in self.new_files]
        if new:
            last = max(new, key=lambda each: (each.survey.date, each.survey.survey_id))
            yield finding.at(last.survey.file, last.bell, f"bells[{last.position + 1}].{field}")

    def _events(self, bell_id: str) -> list[tuple[Told, Happening]]:
        return [(each, event) for each in self.told.get(bell_id, ()) for event in each.bell.happenings]

    def _parents(self) -> dict[str, dict[str, Validity]]:
        """Give for each bell those it was recast from, with the days on which that can have been."""
        parents: defaultdict[str, dict[str, Validity]] = defaultdict(dict)
        for bell_id in list(self.told):
            for _, event in self._events(bell_id):
                link = {
                    "recast-from": (bell_id, event.other_bell),
                    "recast-into": (event.other_bell, bell_id),
                }
                child, parent = link.get(event.kind, ("", ""))
                if child and parent:
                    before = parents[child].get(parent, Validity())
                    parents[child][parent] = before if before != Validity() else days_of(event.date)
        return dict(parents)

    def _dated_twice(self, bell_id: str) -> Iterator[Problem]:
        for kind in ONCE:
            dates = {
                event.date: each for each, event in self._events(bell_id) if event.kind == kind and event.date
            }
            for (one, first), (other, second) in combinations(dates.items(), 2):
                if not days_of(one).overlaps(days_of(other)):
                    yield from self._at(
                        [bell_id],
                        Finding(
                            "event-dated-twice",
                            f"{kind} {one} in {first.survey.survey_id}, {other} in {second.survey.survey_id}",
                            "one date for what happens once",
                            "check both sources; say in the remarks which is to be trusted",
                        ),
                        "events",
                    )
                    break

    def _cast(self, bell_id: str) -> tuple[Validity, str]:
        """Give the days of casting as the newest survey has them, with the date as written."""
        for each in reversed(self.told.get(bell_id, ())):
            if each.bell.cast_date:
                return days_of(each.bell.cast_date), each.bell.cast_date
        return Validity(), ""

    def _after_its_end(self, bell_id: str, parents: dict[str, dict[str, Validity]]) -> Iterator[Problem]:
        """Report what is told of a bell after it was destroyed or recast."""
        told = [(days_of(event.date), event.kind, bell_id) for _, event in self._events(bell_id)]
        ends = [each for each in told if each[1] in ENDS]
        ends += [
            (of[bell_id], f"recast into {child}", child) for child, of in parents.items() if bell_id in of
        ]
        dated = [(days.last, words, teller) for days, words, teller in ends if days.last is not None]
        if not dated:
            return
        last, words, teller = min(dated)
        for each, event in self._events(bell_id):
            days = days_of(event.date)
            late = days.first is not None and days.first > last
            if late and event.kind not in AFTERWARDS and event.kind not in ENDS:
                read = f"{event.kind} {event.date} in {each.survey.survey_id}"
                yield from self._late((bell_id, teller), read, f"{words} by {last}")
        for each in self.told[bell_id]:
            if each.survey.kind == "visit" and not each.bell.gone and each.survey.date > last:
                read = f"{bell_id} seen in {each.survey.survey_id}"
                yield from self._late((bell_id, teller), read, f"{words} by {last}")
                break

    def _late(self, bell_ids: Iterable[str], read: str, end: str) -> Iterator[Problem]:
        finding = Finding(
            "event-after-end",
            f"{read}, and {end}",
            "nothing of a bell after its end",
            "check both dates; what happened to the newer bell belongs in the entry of that bell",
        )
        yield from self._at(bell_ids, finding, "events")

    def _before_its_metal(self, bell_id: str, parents: dict[str, dict[str, Validity]]) -> Iterator[Problem]:
        """Report a bell that was cast before the one it was recast from."""
        own, own_text = self._cast(bell_id)
        for parent, link in parents.get(bell_id, {}).items():
            cast, text = self._cast(parent)
            last = link.last or own.last
            if cast.first is not None and last is not None and last < cast.first:
                finding = Finding(
                    "recast-before-cast",
                    f"recast from {parent}, cast {text}, by {last}",
                    f"a bell older than this one{f', cast {own_text}' if own_text else ''}",
                    "check which of the two is the older, and both dates",
                )
                yield from self._at([bell_id, parent], finding, "events")
