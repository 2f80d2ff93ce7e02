"""Everything that is computed of one bell, from the plain facts of it and the known bells of its registry."""

from collections.abc import Iterator, Mapping, Sequence

from registry.derive.dating.of_bell import readings_of_bell
from registry.derive.dating.settings import circa_words, circa_years
from registry.derive.partials import partial_deviations, third_of, true_harmonic
from registry.derive.sisters import Sisters
from registry.derive.size_and_note import size_and_note
from registry.derive.wear import soundbow_loss
from registry.model.bell_facts import BellFacts, Computed, HeardSound
from registry.model.derived import Derived
from registry.model.edtf import parse_edtf
from registry.model.edtf_circa import widened

NOBODY: Mapping[str, Sisters] = {}
"""No other bells."""


def derive_bell(facts: BellFacts, kindred: Mapping[str, Sisters] = NOBODY) -> list[Computed]:
    """Compute all that the facts allow: mass, strike note, class, years, partials, wear, dates it bears.

    A steel or iron bell never takes the constants of bronze, and a bell of unknown material gets no mass.

    Parameters
    ----------
    facts : BellFacts
        The facts of the bell.
    kindred : mapping, optional
        The known bells of its registry by material, from ``registry.derive.size_and_note.kindred_of``.
    """
    computed = [*size_and_note(facts, kindred), *_date(facts)]
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
    computed.extend(readings_of_bell(facts.texts))
    return computed


def _date(facts: BellFacts) -> Iterator[Computed]:
    """Give the years the date of casting can mean."""
    if facts.cast_date is None:
        return
    date = widened(parse_edtf(facts.cast_date.value), circa_years())
    first, last = date.earliest_year, date.latest_year
    marks = [
        word for word, marked in (("uncertain", date.uncertain), ("approximate", date.approximate)) if marked
    ]
    note = f"marked {' and '.join(marks)}: the bounds are those of the text" if marks else ""
    if date.approximate and circa_years():
        note = circa_words(circa_years())
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
