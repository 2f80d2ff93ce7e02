"""Rules on sound: note, frequency, partials and size against each other."""

from collections.abc import Iterator
from itertools import pairwise

from registry.forms.finding import Finding
from registry.forms.rules_sizes import law_band
from registry.forms.ruling import Form, Found, between
from registry.forms.thresholds import band
from registry.model.bell import Sound
from registry.model.pitch import (
    CENTS_PER_SIXTEENTH,
    GERMAN_A_HZ,
    ISO_A_HZ,
    cents_between,
    frequency_of,
    note_of,
)
from registry.model.survey import BellEntry, Path
from registry.model.vocabulary import vocabulary


def partials_stand_in_order(form: Form, path: Path, bell: BellEntry) -> Iterator[Found]:
    """Expect that partials rise in the order of their names.

    Source: Hibbert, Sharp, Taherzadeh and Perrin, Open Journal of Acoustics 4 (2014) 70-77.
    """
    if bell.sound is None or len(bell.sound.partials) < 2:
        return
    order = {code: place for place, code in enumerate(vocabulary("partial").terms)}
    told = [
        (order[partial.name], index, partial)
        for index, partial in enumerate(bell.sound.partials)
        if partial.name is not None and partial.frequency_hz is not None
    ]
    told.sort(key=lambda entry: entry[0])
    for (rank, _, lower), (higher_rank, index, higher) in pairwise(told):
        if rank < higher_rank and higher.frequency_hz <= lower.frequency_hz:
            here = (*path, "sound", "partials", index)
            finding = Finding(
                "partials-out-of-order",
                f"{higher.name} {form.as_written(here, 'frequency_hz')}",
                f"more than the {lower.name}, {lower.frequency_hz:g} Hz",
                "check both names; if the bell has them so, say so in heard",
            )
            yield Found(here, "frequency_hz", finding)


def strike_is_half_the_nominal(form: Form, path: Path, bell: BellEntry) -> Iterator[Found]:
    """Expect that where the nominal is heard as the strike note, the strike note is half of it."""
    sound = bell.sound
    if sound is None or sound.strike_hz is None:
        return
    nominal = next((one.frequency_hz for one in sound.partials if one.name == "nominal"), None)
    if nominal is None or not band("nominal-that-gives-strike-hz").holds(nominal):
        return
    cents = cents_between(sound.strike_hz, nominal / 2)
    if not band("strike-against-nominal-cents").holds(cents):
        here = (*path, "sound")
        finding = Finding(
            "strike-against-nominal",
            form.as_written(here, "strike_hz"),
            f"about {nominal / 2:.5g} Hz, half the nominal of {nominal:g} Hz",
            "check both: the nominal here is the partial an octave above the strike note",
        )
        yield Found(here, "strike_hz", finding)


def note_fits_the_frequency(form: Form, path: Path, bell: BellEntry) -> Iterator[Found]:
    """Expect that the note with its deviation is the frequency that stands beside it."""
    sound = bell.sound
    if sound is None or sound.note is None or sound.strike_hz is None:
        return
    deviation, references = _stated(sound)
    limits = band("note-alone-misfit-cents" if deviation is None else "note-misfit-cents")
    cents = [
        cents_between(sound.strike_hz, frequency_of(sound.note, deviation or 0.0, reference))
        for reference in references
    ]
    if any(limits.holds(value) for value in cents):
        return
    here = (*path, "sound")
    near = note_of(sound.strike_hz, references[0])
    finding = Finding(
        "note-against-frequency",
        f"{sound.note} beside {form.as_written(here, 'strike_hz')}",
        f"{near.scientific} {near.cents:+.0f} cents (a' = {references[0]:g} Hz)",
        "check note, octave, deviation, reference_hz and frequency",
    )
    yield Found(here, "note", finding)


def _stated(sound: Sound) -> tuple[float | None, tuple[float, ...]]:
    """Give the deviation of the note [cents], if stated, and the frequencies of a' it can be against [Hz]."""
    deviation = sound.note_cents
    usual: tuple[float, ...] = (ISO_A_HZ, GERMAN_A_HZ)
    if sound.note_sixteenths is not None and deviation is None:
        deviation = CENTS_PER_SIXTEENTH * sound.note_sixteenths
        usual = (GERMAN_A_HZ, ISO_A_HZ)
    return deviation, (sound.reference_hz,) if sound.reference_hz else usual


def strike_fits_the_size(form: Form, path: Path, bell: BellEntry) -> Iterator[Found]:
    """Expect that the strike note is one that a bell of this size and material can have."""
    sound, sizes = bell.sound, bell.dimensions
    limits = law_band(bell, "strike-times-diameter")
    if sound is None or sizes is None or sizes.mouth_diameter_mm is None or limits is None:
        return
    here = (*path, "sound")
    if sound.strike_hz is not None:
        field, strike, read = "strike_hz", sound.strike_hz, form.as_written(here, "strike_hz")
    elif sound.note is not None:
        strike = frequency_of(sound.note, 0.0, sound.reference_hz or ISO_A_HZ)
        field, read = "note", f"{sound.note} ({strike:.4g} Hz)"
    else:
        return
    mouth_m = sizes.mouth_diameter_mm / 1000
    if limits.holds(strike * mouth_m):
        return
    remedy = "check the octave, the diameter and the material; if all are right, say so in heard"
    if limits.holds(strike * mouth_m / 2):
        remedy = "check whether this is the nominal: the strike note lies an octave lower"
    elif limits.holds(strike * mouth_m * 2):
        remedy = "check whether this is the hum: the strike note lies an octave higher"
    finding = Finding(
        "strike-against-diameter",
        read,
        f"{between(limits.low / mouth_m, limits.high / mouth_m, 'hz')} at a mouth of "
        f"{sizes.mouth_diameter_mm:g} mm",
        remedy,
    )
    yield Found(here, field, finding)
