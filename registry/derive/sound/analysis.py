"""From the samples of a recording to partials, strike note and signs, or to the reason why not."""

from collections.abc import Mapping
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from registry.derive.partials import Third, TrueHarmonic, partial_deviations, third_of, true_harmonic
from registry.derive.sound.company import refused_other_bell, refused_other_strokes
from registry.derive.sound.labels import Naming, named
from registry.derive.sound.limits import limits
from registry.derive.sound.motion import wander_of
from registry.derive.sound.partial_tones import Measured, PartialTone, Sounding, best_stroke, sounding_of
from registry.derive.sound.places import NAMES
from registry.derive.sound.readings import Heard
from registry.derive.sound.refusing import (
    Refusal,
    refused_as_recorded,
    refused_motion,
    refused_sound,
    refused_strokes,
)
from registry.derive.sound.rows import derived_of
from registry.derive.sound.signs import Sign, signs_of
from registry.derive.sound.strike_note import secondary_strike_of, strike_of
from registry.derive.sound.strokes import Stroke, strokes_of
from registry.model.derived import Derived
from registry.model.vocabulary import vocabulary


class NamedPartial(NamedTuple):
    """A partial with its name.

    Parameters
    ----------
    name : str
        Word of the vocabulary ``partial``, or ``I-7`` and so on for a partial of the rim above the octave
        nominal.
    partial : PartialTone
        What was measured.
    confidence : float
        Probability of the name [-], as far as the shipped ranges of published bells go.
    answer : str
        ``present``, or ``doubtful`` where the confidence is low or it stands where published bells have it
        not.
    """

    name: str
    partial: PartialTone
    confidence: float
    answer: str


class SoundAnalysis(NamedTuple):
    """What the sound of a bell tells.

    Parameters
    ----------
    duration_s, rate_hz : float
        Length [s] and sampling rate [Hz] of the recording.
    strokes : tuple of Stroke
        The strokes found.
    followed : int or None
        Place in ``strokes`` of the one that was measured.
    followed_s : float
        How long it was followed [s].
    refusals : tuple of Refusal
        Why nothing, or not all, can be judged; with one of them there are no partials.
    partials : tuple of NamedPartial
        Partials with a name, lowest first.
    unnamed : tuple of PartialTone
        Tones of the bell that no name fits.
    steady : tuple of Measured
        Tones that do not die away: mains hum, ventilation.
    absent : tuple of str
        Names of the vocabulary ``partial`` that no tone bears.
    bell_of_usual_shape : float
        Probability that the partials are those of a bell of conventional shape [-].
    noise_db : float
        Level below which a partial would not have been found, over the loudest one [dB].
    strike, secondary_strike : Derived or None
        The strike note [Hz]; None, or without a value, where there is no basis for one.
    third : Third or None
        Which third the bell has.
    true_harmonic : TrueHarmonic or None
        Whether hum, prime and nominal stand in octaves.
    deviations : tuple of Derived
        Cents of each partial from its ideal place.
    signs : tuple of Sign
        Worth a closer look. None clears a bell, and none condemns it.
    inputs : dict
        What else the analysis was given.
    """

    duration_s: float
    rate_hz: float
    strokes: tuple[Stroke, ...]
    followed: int | None
    followed_s: float
    refusals: tuple[Refusal, ...]
    partials: tuple[NamedPartial, ...]
    unnamed: tuple[PartialTone, ...]
    steady: tuple[Measured, ...]
    absent: tuple[str, ...]
    bell_of_usual_shape: float
    noise_db: float
    strike: Derived | None
    secondary_strike: Derived | None
    third: Third | None
    true_harmonic: TrueHarmonic | None
    deviations: tuple[Derived, ...]
    signs: tuple[Sign, ...]
    inputs: dict[str, Any]

    def as_derived(self, **about: Any) -> tuple[Derived, ...]:
        """Give the values for the registry, with what identifies the recording among their inputs.

        Parameters
        ----------
        **about : Any
            Such as ``recording="strike.wav"`` and ``sha256="…"``.
        """
        return tuple(derived_of(self, about))


def analyse(
    samples: NDArray[np.floating[Any]],
    rate_hz: float,
    *,
    mouth_diameter_mm: float | None = None,
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
        Outer diameter at the lip [mm], to judge how long the bell rings.
    temperature_c : float, optional
        Temperature of the bell [°C]; kept with the result, for a later recording to be held against.

    Returns
    -------
    SoundAnalysis
        With ``refusals`` and no partials where nothing can be judged.

    Raises
    ------
    ValueError
        When the samples are not one row of finite numbers, or the rate is not positive.
    """
    sound = np.asarray(samples, np.float32)
    if sound.ndim != 1 or not np.all(np.isfinite(sound)):
        raise ValueError("samples must be one row of finite numbers")
    if not rate_hz > 0.0:
        raise ValueError(f"rate_hz must be positive, not {rate_hz!r}")
    inputs = {"mouth_diameter_mm": mouth_diameter_mm, "temperature_c": temperature_c}
    inputs = {name: value for name, value in inputs.items() if value is not None}
    empty = _empty(len(sound) / rate_hz, rate_hz, inputs)
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
    refusal = refused_motion(wander_of(sound, rate_hz, stroke), sounding) or refused_sound(sounding)
    if refusal is not None:
        return begun._replace(refusals=(refusal,))
    naming = named([Heard(each.tone.frequency_hz, each.level_db) for each in sounding.partials])
    refusal = refused_other_strokes(sound, rate_hz, strokes, place) or refused_other_bell(sounding, naming)
    if refusal is not None:
        return begun._replace(refusals=(refusal,))
    return _judged(begun, sounding, naming, mouth_diameter_mm)


def _empty(duration_s: float, rate_hz: float, inputs: dict[str, Any]) -> SoundAnalysis:
    return SoundAnalysis(
        duration_s=duration_s,
        rate_hz=rate_hz,
        strokes=(),
        followed=None,
        followed_s=0.0,
        refusals=(),
        partials=(),
        unnamed=(),
        steady=(),
        absent=(),
        bell_of_usual_shape=0.0,
        noise_db=0.0,
        strike=None,
        secondary_strike=None,
        third=None,
        true_harmonic=None,
        deviations=(),
        signs=(),
        inputs=inputs,
    )


def _judged(
    begun: SoundAnalysis, sounding: Sounding, naming: Naming, mouth_diameter_mm: float | None
) -> SoundAnalysis:
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
        signs=signs_of(sounding, by_name, mouth_diameter_mm),
    )


def _for_tables(partials: Mapping[str, PartialTone]) -> dict[str, float]:
    """Give the frequencies [Hz] of the partials that the vocabulary knows, louder tone of a doublet."""
    return {
        name: each.tone.frequency_hz for name, each in partials.items() if name in vocabulary("partial").terms
    }
