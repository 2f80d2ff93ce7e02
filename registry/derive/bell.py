"""Everything that is computed of one bell, from the plain facts of it."""

from collections.abc import Iterable, Iterator, Sequence

from registry.derive.agreement import mass_agreement
from registry.derive.inputs import range_of
from registry.derive.mass import mass_estimates
from registry.derive.partials import partial_deviations, third_of, true_harmonic
from registry.derive.strike import strike_estimate, strike_from_nominal
from registry.derive.wear import soundbow_loss
from registry.model.bell_facts import BellFacts, Computed, HeardSound, Told
from registry.model.derived import Derived
from registry.model.edtf import parse_edtf

STATED_INDEPENDENTLY = frozenset({"weighed", "founder-record", "inscribed"})
"""Ways to obtain a mass that do not rest on the sizes, so that an estimate can contradict it."""


def derive_bell(facts: BellFacts) -> list[Computed]:
    """Compute all that the facts allow: mass, strike note, years of casting, partials, wear.

    A steel or iron bell never takes the constants of bronze, and a bell of unknown material gets no mass.
    """
    computed = [*_size_and_note(facts), *_date(facts)]
    for sound in facts.sounds:
        computed.extend(_sound(sound))
    for point in facts.strike_points:
        loss = soundbow_loss(
            thickness_at_pit_mm=point.thickness_at_pit_mm,
            thickness_beside_mm=point.thickness_beside_mm,
            pit_depth_mm=point.pit_depth_mm,
            tolerance_mm=point.tolerance_mm,
        )
        if loss.inputs:
            computed.append(Computed(f"strike-point:{point.number}", point.survey_id, 1, loss))
    return computed


def _one_survey(*told: Told | None) -> str | None:
    """Give the survey all values come from; None where there are several."""
    surveys = {value.survey_id for value in told if value is not None}
    return surveys.pop() if len(surveys) == 1 else None


def _ranked(derived: Iterable[Derived], survey_id: str | None) -> Iterator[Computed]:
    for rank, each in enumerate(derived, start=1):
        yield Computed("bell", survey_id, rank, each)


def _size_and_note(facts: BellFacts) -> Iterator[Computed]:
    """Estimate strike note and mass, and hold a mass that was stated against the estimate."""
    nominal = facts.nominal_hz
    from_nominal = strike_from_nominal(nominal.value) if nominal is not None else None
    strikes: list[Computed] = []
    if nominal is not None and from_nominal is not None:
        strikes.append(Computed("bell", nominal.survey_id, 1, from_nominal))
    diameter = facts.mouth_diameter_mm
    if diameter is None:
        yield from strikes
        return
    material = facts.material.value if facts.material else None
    profile = facts.profile_class.value if facts.profile_class else None
    by_size = strike_estimate(diameter.value, profile, material)
    if by_size is not None:
        survey_id = _one_survey(diameter, facts.profile_class, facts.material)
        strikes.append(Computed("bell", survey_id, len(strikes) + 1, by_size))
    yield from strikes

    strike = facts.strike_hz
    if strike is None and nominal is not None and from_nominal is not None:
        strike = Told(from_nominal.value, nominal.survey_id)
    strike_hz = strike.value if strike is not None and _can_be_struck(strike.value) else None
    estimates = mass_estimates(diameter.value, strike_hz, profile, material)
    yield from _ranked(estimates, _one_survey(diameter, strike, facts.profile_class, facts.material))
    if facts.mass_kg is not None and facts.mass_basis in STATED_INDEPENDENTLY:
        agreement = mass_agreement(facts.mass_kg.value, estimates[0])
        if agreement is not None:
            survey_id = _one_survey(facts.mass_kg, diameter, strike, facts.profile_class, facts.material)
            yield Computed("bell", survey_id, 1, agreement.ratio)


def _can_be_struck(strike_hz: float) -> bool:
    low, high = range_of("strike_hz")
    return low <= strike_hz <= high


def _date(facts: BellFacts) -> Iterator[Computed]:
    """Give the years the date of casting can mean."""
    if facts.cast_date is None:
        return
    date = parse_edtf(facts.cast_date.value)
    first, last = date.earliest_year, date.latest_year
    marks = [
        word for word, marked in (("uncertain", date.uncertain), ("approximate", date.approximate)) if marked
    ]
    note = f"marked {' and '.join(marks)}: the bounds are those of the text" if marks else ""
    derived = Derived(
        "cast_year",
        float(first) if first is not None and first == last else None,
        None if first is None else float(first),
        None if last is None else float(last),
        1.0,
        "edtf-bounds",
        1,
        {"cast_date": facts.cast_date.value},
        "Library of Congress, Extended Date/Time Format (EDTF) Specification, 4 February 2019",
        note,
    )
    yield Computed("bell", facts.cast_date.survey_id, 1, derived)


def _sound(sound: HeardSound) -> Iterator[Computed]:
    """Give the deviations of the partials of one survey, the third and the octaves."""
    read = sound.partials_hz
    tolerance = sound.tolerance_hz
    frequencies: Sequence[float] = [*read.values(), *([sound.strike_hz] if sound.strike_hz else [])]
    if tolerance is not None and tolerance >= min(frequencies, default=0.0):
        tolerance = None
    for deviation in partial_deviations(read, sound.strike_hz, tolerance):
        name = deviation.quantity.removesuffix("_deviation_cents").replace("_", "-")
        yield Computed(f"partial:{name}", sound.survey_id, 1, deviation)
    third = third_of(read, tolerance)
    if third is not None:
        yield Computed("bell", sound.survey_id, 1, third.below_nominal)
    octaves = true_harmonic(read, tolerance)
    if octaves is not None:
        yield Computed("bell", sound.survey_id, 1, octaves.worst)
