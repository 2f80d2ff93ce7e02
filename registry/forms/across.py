"""Rules across surveys: what new forms say, held against each other and against the registry.

Surveys are gone through in the order of their dates, whichever came first to the registry; what is wrong is
reported at a new form, never at one that is loaded already.
"""

from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import NamedTuple

from registry.forms.across_lives import Lives
from registry.forms.finding import Finding
from registry.forms.footprints import footprint
from registry.forms.thresholds import band
from registry.geography import distance_m
from registry.model.footprint import BellFootprint, Footprint
from registry.problems import Problem

__all__ = ["check_across", "footprint"]


def check_across(new: Sequence[Footprint], known: Sequence[Footprint]) -> list[Problem]:
    """Hold new surveys against each other and against those already known.

    Parameters
    ----------
    new : sequence of Footprint
        Forms about to be loaded. One whose file is known too replaces that one.
    known : sequence of Footprint
        Surveys in the registry.

    Returns
    -------
    list of Problem
        All at places of new forms, in the order of these.
    """
    replaced = {survey.file for survey in new}
    kept = [survey for survey in known if survey.file not in replaced]
    problems = list(_duplicates(new, kept))
    history = _History({survey.file for survey in new})
    in_order = sorted([*kept, *new], key=lambda survey: (survey.date, survey.survey_id, survey.file))
    for survey in in_order:
        problems += history.add(survey)
    problems += history.bells_in_two_towers()
    problems += Lives(in_order, {survey.file for survey in new}).problems()
    order = {survey.file: place for place, survey in enumerate(new)}
    return sorted(problems, key=lambda problem: (order[problem.file], problem.line, problem.column))


def _duplicates(new: Sequence[Footprint], known: Sequence[Footprint]) -> Iterator[Problem]:
    """Report survey ids and visits that another form has already."""
    by_id = {survey.survey_id: survey for survey in known}
    by_visit = {_visit_key(survey): survey for survey in known if survey.kind == "visit"}
    for survey in new:
        other = by_id.setdefault(survey.survey_id, survey)
        if other is not survey:
            remedy = "give this survey an id of its own, or leave out the form that is wrong"
            finding = Finding(
                "duplicate-survey", survey.survey_id, f"an id that {other.file} has not", remedy
            )
            yield finding.at(survey.file, survey, "survey.id")
        elif survey.kind == "visit":
            other = by_visit.setdefault(_visit_key(survey), survey)
            if other is not survey:
                yield Finding(
                    "duplicate-visit",
                    f"{survey.tower_id} on {survey.date}, as in {other.survey_id}",
                    "one form for one visit",
                    "put both into one form, or check the date and the surveyors",
                ).at(survey.file, survey, "survey.id")


def _visit_key(survey: Footprint) -> tuple[str, str, frozenset[str]]:
    return survey.tower_id, survey.date, frozenset(name.casefold() for name in survey.surveyors)


class _Sighting(NamedTuple):
    """A bell in a survey; ``position`` counts from 0 among the bells of the form."""

    survey: Footprint
    bell: BellFootprint
    position: int

    def told(self, finding: Finding, field: str) -> Problem:
        """Make the problem a finding is at this bell."""
        return finding.at(self.survey.file, self.bell, f"bells[{self.position + 1}].{field}")


class _History:
    """What the surveys so far say, in the order of their dates."""

    def __init__(self, new_files: set[str]) -> None:
        self.new_files = new_files
        self.towers: dict[str, Footprint] = {}
        self.homes: dict[str, str] = {}
        self.present: dict[str, dict[str, str]] = {}
        self.diameters: dict[str, _Sighting] = {}
        self.materials: dict[str, _Sighting] = {}
        self.cracks: dict[str, dict[int, str]] = {}
        self.sightings: dict[str, list[_Sighting]] = {}

    def add(self, survey: Footprint) -> Iterator[Problem]:
        """Take up one survey and report what does not fit the ones before."""
        yield from self._place_of_tower(survey)
        if survey.file in self.new_files and survey.kind == "visit":
            yield from self._bells_left_out(survey)
        for position, bell in enumerate(survey.bells):
            here = _Sighting(survey, bell, position)
            if survey.kind == "visit":
                yield from self._diameter(here)
                yield from self._cracks(here)
            yield from self._material(here)
            self.sightings.setdefault(bell.bell_id, []).append(here)
            self._settle(here)

    def _newer_first(self, earlier: _Sighting, later: _Sighting) -> tuple[_Sighting, _Sighting] | None:
        """Put first the sighting at which a problem of the two is reported; None if neither is new."""
        if later.survey.file in self.new_files:
            return later, earlier
        return (earlier, later) if earlier.survey.file in self.new_files else None

    def _place_of_tower(self, survey: Footprint) -> Iterator[Problem]:
        if survey.latitude_deg is None or survey.longitude_deg is None:
            return
        before = self.towers.get(survey.tower_id)
        self.towers[survey.tower_id] = survey
        if before is None or before.latitude_deg is None or before.longitude_deg is None:
            return
        told, other = (survey, before) if survey.file in self.new_files else (before, survey)
        if told.file not in self.new_files:
            return
        distance = distance_m(
            (before.latitude_deg, before.longitude_deg), (survey.latitude_deg, survey.longitude_deg)
        )
        allowed = sum(one.accuracy_m or band("coordinate-accuracy-m").high for one in (before, survey))
        if distance > allowed:
            yield Finding(
                "tower-moved",
                f"{distance:.0f} m from where {other.survey_id} has the tower",
                f"within {allowed:.0f} m, by the accuracies stated",
                "check both coordinates; give another tower an id of its own",
            ).at(told.file, told, "tower")

    def _bells_left_out(self, survey: Footprint) -> Iterator[Problem]:
        mentioned = {bell.bell_id for bell in survey.bells}
        for bell_id, said_by in self.present.get(survey.tower_id, {}).items():
            if bell_id not in mentioned:
                yield Finding(
                    "bell-not-mentioned",
                    "no entry",
                    f"{bell_id}, which {said_by} has in this tower",
                    "add an entry with at least its id and status, if anything is known of it",
                ).at(survey.file, survey, "bells")

    def _settle(self, here: _Sighting) -> None:
        """Note in which tower a bell is now, if in any."""
        bell_id = here.bell.bell_id
        if home := self.homes.pop(bell_id, None):
            del self.present[home][bell_id]
        if not here.bell.gone:
            self.homes[bell_id] = here.survey.tower_id
            self.present.setdefault(here.survey.tower_id, {})[bell_id] = here.survey.survey_id

    def _diameter(self, here: _Sighting) -> Iterator[Problem]:
        diameter = here.bell.mouth_diameter_mm
        if diameter is None:
            return
        before = self.diameters.get(here.bell.bell_id)
        self.diameters[here.bell.bell_id] = here
        if before is None or before.bell.mouth_diameter_mm is None:
            return
        pair = self._newer_first(before, here)
        allowed = _tolerance(before.bell) + _tolerance(here.bell)
        if pair and abs(diameter - before.bell.mouth_diameter_mm) > allowed:
            told, other = pair
            before_or_after = f"{other.bell.mouth_diameter_mm:.6g} mm, as in {other.survey.survey_id}"
            finding = Finding(
                "diameter-changed",
                f"{told.bell.mouth_diameter_mm:.6g} mm",
                f"{before_or_after}, within {allowed:.2g} mm",
                "measure again, or check that it is the same bell",
            )
            yield told.told(finding, "dimensions.mouth_diameter_mm")

    def _material(self, here: _Sighting) -> Iterator[Problem]:
        if here.bell.material in (None, "unknown"):
            return
        before = self.materials.get(here.bell.bell_id)
        self.materials[here.bell.bell_id] = here
        pair = self._newer_first(before, here) if before else None
        if pair and pair[0].bell.material != pair[1].bell.material:
            told, other = pair
            finding = Finding(
                "material-changed",
                str(told.bell.material),
                f"{other.bell.material}, as in {other.survey.survey_id}",
                "look again, or check that it is the same bell",
            )
            yield told.told(finding, "identity.material")

    def _cracks(self, here: _Sighting) -> Iterator[Problem]:
        cracks = self.cracks.setdefault(here.bell.bell_id, {})
        if here.survey.file in self.new_files:
            for number, said_by in sorted(cracks.items()):
                if number not in here.bell.cracks_mentioned and not here.bell.gone:
                    finding = Finding(
                        "crack-not-mentioned",
                        "no entry",
                        f"crack {number}, which {said_by} tells of",
                        "add an entry with its number; state none says that it was not found again",
                    )
                    yield here.told(finding, "cracks")
        for number in here.bell.cracks_mentioned:
            cracks.pop(number, None)
        cracks |= dict.fromkeys(here.bell.crack_numbers, here.survey.survey_id)

    def bells_in_two_towers(self) -> Iterator[Problem]:
        """Report bells that were first in one tower and then in another, with nothing that moved them."""
        for sightings in self.sightings.values():
            arrived = {one.survey.tower_id for one in sightings if one.bell.came_from_elsewhere}
            left = {one.survey.tower_id for one in sightings if one.bell.gone}
            for earlier, later in pairwise(sightings):
                towers = earlier.survey.tower_id, later.survey.tower_id
                pair = self._newer_first(earlier, later)
                if towers[0] == towers[1] or towers[1] in arrived or towers[0] in left or pair is None:
                    continue
                told, other = pair
                finding = Finding(
                    "bell-in-another-tower",
                    f"{told.bell.bell_id} in {told.survey.tower_id}",
                    f"a bell of {other.survey.tower_id}, as {other.survey.survey_id} has it",
                    "give another bell an id of its own; if it was moved, add the event",
                )
                yield told.told(finding, "id")


def _tolerance(bell: BellFootprint) -> float:
    """Give the largest error a diameter can have: as stated, or as is usual [mm]."""
    if bell.diameter_tolerance_mm is not None:
        return bell.diameter_tolerance_mm
    usual = band("diameter-repeatability").high * (bell.mouth_diameter_mm or 0.0)
    return max(usual, band("diameter-repeatability-mm").high)
