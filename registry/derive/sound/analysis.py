"""From the samples of a recording to partials, strike note and signs, or to the reason why not."""

from collections.abc import Mapping
from typing import Any

import numpy as np
from numpy.typing import NDArray

from registry.derive.inputs import checked, checked_term
from registry.derive.partials import partial_deviations, third_of, true_harmonic
from registry.derive.sound.company import refused_other_bell, refused_other_strokes
from registry.derive.sound.found import NamedPartial, SoundAnalysis, nothing_found
from registry.derive.sound.labels import Naming, named
from registry.derive.sound.later import sounding_of
from registry.derive.sound.limits import limits
from registry.derive.sound.motion import wander_of
from registry.derive.sound.partial_tones import PartialTone, Sounding, best_stroke
from registry.derive.sound.places import NAMES
from registry.derive.sound.readings import Heard
from registry.derive.sound.refusing import (
    refused_as_recorded,
    refused_motion,
    refused_sound,
    refused_strokes,
)
from registry.derive.sound.signs import signs_of
from registry.derive.sound.size import strike_from_size
from registry.derive.sound.strike_note import secondary_strike_of, strike_of
from registry.derive.sound.strokes import strokes_of
from registry.model.vocabulary import vocabulary


def analyse(
    samples: NDArray[np.floating[Any]],
    rate_hz: float,
    *,
    mouth_diameter_mm: float | None = None,
    material: str | None = "bronze",
    temperature_c: float | None = None,
) -> SoundAnalysis:
    """Analyse the recording of one bell.

    Parameters
    ----------
    samples : array of float
        One channel, full scale ±1.
    rate_hz : float
        Sampling rate [Hz].
    mouth_diameter_mm : float, optional
        Outer diameter at the lip [mm], to judge how long the bell rings, and its strike note.
    material : str, optional
        Word of the vocabulary ``material``, for what a size tells.
    temperature_c : float, optional
        Temperature of the bell [°C]; kept with the result, for a later recording to be held against.

    Returns
    -------
    SoundAnalysis
        With ``refusals`` and no partials where nothing can be judged.

    Raises
    ------
    ValueError
        When the samples are not one row of finite numbers, the rate is not positive, the diameter lies
        outside the range of the form, or the material is not in its vocabulary.
    """
    sound = np.asarray(samples, np.float32)
    if sound.ndim != 1 or not np.all(np.isfinite(sound)):
        raise ValueError("samples must be one row of finite numbers")
    if not rate_hz > 0.0:
        raise ValueError(f"rate_hz must be positive, not {rate_hz!r}")
    if mouth_diameter_mm is not None:
        checked("mouth_diameter_mm", mouth_diameter_mm)
        checked_term("material", material)
    inputs = {"mouth_diameter_mm": mouth_diameter_mm, "temperature_c": temperature_c}
    inputs = {name: value for name, value in inputs.items() if value is not None}
    empty = nothing_found(len(sound) / rate_hz, rate_hz, inputs)
    refusal = refused_as_recorded(sound, rate_hz)
    if refusal is not None:
        return empty._replace(refusals=(refusal,))
    strokes = strokes_of(sound, rate_hz)
    place = best_stroke(strokes) if strokes else 0
    refusal = refused_strokes(strokes, place)
    if refusal is not None:
        return empty._replace(strokes=strokes, refusals=(refusal,))
    stroke = strokes[place]
    begun = empty._replace(strokes=strokes, followed=place)
    sounding = sounding_of(sound, rate_hz, stroke)
    begun = begun._replace(followed_s=sounding.followed_s, noise_db=sounding.noise_db, steady=sounding.steady)
    wander = wander_of(sound, rate_hz, stroke)
    refusal = refused_motion(wander, sounding) or refused_sound(sounding)
    if refusal is not None:
        return begun._replace(refusals=(refusal,))
    naming = named([Heard(each.tone.frequency_hz, each.level_db) for each in sounding.partials])
    refusal = refused_other_strokes(sound, rate_hz, strokes, place) or refused_other_bell(sounding, naming)
    if refusal is not None:
        return begun._replace(refusals=(refusal,))
    found = _judged(begun, sounding, naming)
    by_name = {each.name: each.partial for each in found.partials}
    found = found._replace(signs=signs_of(sounding, by_name, mouth_diameter_mm, wander))
    if mouth_diameter_mm is None or found.strike is None or found.strike.value is None:
        return found
    return found._replace(from_size=strike_from_size(found.strike.value, mouth_diameter_mm, material))


def _judged(begun: SoundAnalysis, sounding: Sounding, naming: Naming) -> SoundAnalysis:
    partials = tuple(
        NamedPartial(
            label.name,
            sounding.partials[label.tone],
            label.confidence,
            "present" if label.usual and label.confidence >= limits("labels")["sure"] else "doubtful",
        )
        for label in naming.labels
    )
    taken = {label.tone for label in naming.labels}
    by_name = {each.name: each.partial for each in partials}
    heard = _for_tables(by_name)
    half = max((each.tone.frequency_half_hz for each in by_name.values()), default=1.0)
    reading = max(half, 1e-6)
    return begun._replace(
        partials=partials,
        unnamed=tuple(each for number, each in enumerate(sounding.partials) if number not in taken),
        absent=tuple(name for name in NAMES if name not in by_name),
        bell_of_usual_shape=naming.bell,
        strike=strike_of(by_name),
        secondary_strike=secondary_strike_of(by_name),
        third=third_of(heard, reading) if heard else None,
        true_harmonic=true_harmonic(heard, reading) if heard else None,
        deviations=partial_deviations(heard, None, reading) if heard else (),
    )


def _for_tables(partials: Mapping[str, PartialTone]) -> dict[str, float]:
    """Give the frequencies [Hz] of the partials that the vocabulary knows, louder tone of a doublet."""
    return {
        name: each.tone.frequency_hz for name, each in partials.items() if name in vocabulary("partial").terms
    }
