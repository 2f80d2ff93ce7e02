"""Mass, strike note and weight class of one bell from all its facts, the best way first."""

import math
from collections.abc import Iterable, Iterator, Mapping

from registry.derive.agreement import contradiction, mass_agreement
from registry.derive.inputs import range_of
from registry.derive.mass import mass_estimates
from registry.derive.profile_class import class_of
from registry.derive.section import Allowed, section_mass
from registry.derive.sisters import Sisters
from registry.derive.slips import Readings
from registry.derive.strike import strike_estimate, strike_from_nominal
from registry.model.bell_facts import BellFacts, Computed, MeasuredSection, Told
from registry.model.derived import Derived
from registry.model.known_bell import EXACT, KnownBell

STATED_INDEPENDENTLY = frozenset({"weighed", "founder-record", "inscribed"})
"""Ways to obtain a mass that do not rest on the sizes, so that an estimate can contradict it."""

Kindred = Mapping[str, Sisters]
"""The known bells of a registry by material."""


def size_and_note(facts: BellFacts, kindred: Kindred) -> Iterator[Computed]:
    """Estimate strike note, mass and class, and hold what was stated against the estimates."""
    nominal = facts.nominal_hz
    from_nominal = strike_from_nominal(nominal.value) if nominal is not None else None
    if nominal is not None and from_nominal is not None:
        yield Computed("bell", nominal.survey_id, 1, from_nominal)
    size = facts.mouth_diameter_mm
    strike = facts.strike_hz
    if strike is None and nominal is not None and from_nominal is not None:
        strike = Told(from_nominal.value, nominal.survey_id)
    if strike is not None and not _can_be_struck(strike.value):
        strike = None
    masses: list[Computed] = []
    if facts.section is not None:
        masses.extend(_section(facts, facts.section))
    if size is not None:
        yield from _notes(facts, size, kindred, first=2 if from_nominal else 1)
        by_law, by_sisters = [*_by_law(facts, size, strike)], [*_by_sisters(facts, size, strike, kindred)]
        best = [*masses, *by_sisters[:1], by_law[0]]
        # What has no value comes last. The sisters' first way, by the note if it is known, has the smaller
        # errors even where its interval is the wider; what the law trusts less stays behind what it trusts.
        masses = sorted([*sorted(best, key=_openness), *by_sisters[1:], *by_law[1:]], key=_without_value)
    for rank, (subject, survey_id, _, derived) in enumerate(masses, start=1):
        yield Computed(subject, survey_id, rank, derived)
    if masses:
        yield from _held_against(facts, size, strike, masses[0].derived)
    if size is not None and strike is not None:
        yield from _class(facts, size, strike)


def one_survey(*told: Told | None) -> str | None:
    """Give the survey all values come from; None where there are several."""
    surveys = {value.survey_id for value in told if value is not None}
    return surveys.pop() if len(surveys) == 1 else None


def _openness(computed: Computed) -> float:
    """Give how much an estimate leaves open; one without value leaves all."""
    low, high = computed.derived.low, computed.derived.high
    return math.log(high / low) if low and high else math.inf


def _without_value(computed: Computed) -> bool:
    return computed.derived.value is None


def _word(told: Told | None) -> str | None:
    return None if told is None else told.value


def _can_be_struck(strike_hz: float) -> bool:
    low, high = range_of("strike_hz")
    return low <= strike_hz <= high


def _notes(facts: BellFacts, size: Told, kindred: Kindred, *, first: int) -> Iterator[Computed]:
    """Estimate the strike note from size, class and sound-bow, and from the founder's other bells."""
    bow = facts.soundbow_thickness_mm
    by_law = strike_estimate(
        size.value,
        _word(facts.profile_class),
        _word(facts.material),
        soundbow_thickness_mm=None if bow is None else bow.value,
        tolerances=EXACT if facts.kin is None else facts.kin.tolerances,
    )
    found: list[Computed] = []
    if by_law is not None:
        survey_id = one_survey(size, facts.profile_class, bow, facts.material)
        found.append(Computed("bell", survey_id, 1, by_law))
    sisters = _sisters(facts, kindred)
    # Whose note is known need not ask.
    if sisters is not None and facts.kin is not None and facts.kin.strike_hz is None:
        told = sisters.strike(facts.kin)
        if told is not None:
            found.append(Computed("bell", None, 1, told))
    for rank, each in enumerate(sorted(found, key=_openness), start=first):
        yield each._replace(rank=rank)


def _sisters(facts: BellFacts, kindred: Kindred) -> Sisters | None:
    return kindred.get(facts.material.value) if facts.material is not None else None


def _by_law(facts: BellFacts, size: Told, strike: Told | None) -> Iterator[Computed]:
    bow, kin = facts.soundbow_thickness_mm, facts.kin
    survey_id = one_survey(size, strike, bow, facts.profile_class, facts.material)
    for derived in mass_estimates(
        size.value,
        None if strike is None else strike.value,
        _word(facts.profile_class),
        _word(facts.material),
        cast_year=None if kin is None else kin.cast_year,
        soundbow_thickness_mm=None if bow is None else bow.value,
        tolerances=EXACT if kin is None else kin.tolerances,
    ):
        yield Computed("bell", survey_id, 1, derived)


def _by_sisters(facts: BellFacts, size: Told, strike: Told | None, kindred: Kindred) -> Iterator[Computed]:
    """Estimate the mass from what the registry's own bells weigh."""
    sisters = _sisters(facts, kindred)
    if sisters is None or facts.kin is None:
        return
    bell: KnownBell = facts.kin._replace(
        mouth_diameter_mm=size.value, strike_hz=None if strike is None else strike.value
    )
    for derived in sisters.masses(bell):
        yield Computed("bell", None, 1, derived)


def _section(facts: BellFacts, section: MeasuredSection) -> Iterator[Computed]:
    tolerances = None
    if section.outside_tolerance_mm is not None or section.thickness_tolerance_mm is not None:
        usual = Allowed.usual()
        tolerances = Allowed(
            usual.outside_mm if section.outside_tolerance_mm is None else section.outside_tolerance_mm,
            usual.thickness_mm if section.thickness_tolerance_mm is None else section.thickness_tolerance_mm,
        )
    derived = section_mass(
        section.points,
        material=_word(facts.material),
        head_thickness_mm=section.head_thickness_mm,
        crown_kind=section.crown_kind,
        tolerances=tolerances,
    )
    if derived is not None:
        yield Computed("bell", section.survey_id, 1, derived)


def _held_against(
    facts: BellFacts, size: Told | None, strike: Told | None, best: Derived
) -> Iterator[Computed]:
    """Hold a mass that was stated against the best estimate, and all readings against each other."""
    stated = facts.mass_kg if facts.mass_basis in STATED_INDEPENDENTLY else None
    if stated is not None:
        agreement = mass_agreement(stated.value, best)
        if agreement is not None:
            survey_id = one_survey(stated, size, strike, facts.profile_class, facts.material)
            yield Computed("bell", survey_id, 1, agreement.ratio)
    if size is None or facts.material is None:
        return
    bow = facts.soundbow_thickness_mm
    mass_kg = stated.value if stated is not None else best.value if best.method == "section" else None
    found = contradiction(
        Readings(
            facts.material.value,
            size.value,
            None if strike is None else strike.value,
            None if bow is None else bow.value,
            mass_kg,
            _word(facts.profile_class) or "unknown",
            None if facts.kin is None else facts.kin.cast_year,
        )
    )
    if found is not None:
        yield Computed("bell", one_survey(size, strike, bow, stated, facts.material), 1, found)


def _class(facts: BellFacts, size: Told, strike: Told) -> Iterator[Computed]:
    judged = class_of(
        size.value,
        strike.value,
        material=_word(facts.material),
        tolerances=EXACT if facts.kin is None else facts.kin.tolerances,
    )
    if judged is not None:
        yield Computed("bell", one_survey(size, strike, facts.material), 1, judged.step)


def kindred_of(bells: Iterable[tuple[str, KnownBell]]) -> Kindred:
    """Make the known bells of a registry, each with its material, ready to speak for others."""
    by_material: dict[str, list[KnownBell]] = {}
    for material, bell in bells:
        by_material.setdefault(material, []).append(bell)
    return {
        material: Sisters(known, material)
        for material, known in by_material.items()
        if mass_estimates(1000.0, material=material)[0].value is not None
    }
