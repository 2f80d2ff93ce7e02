"""What the analysis of a recording finds."""

from typing import Any, NamedTuple

from registry.derive.partials import Third, TrueHarmonic
from registry.derive.sound.partial_tones import Measured, PartialTone
from registry.derive.sound.refusing import Refusal
from registry.derive.sound.signs import Sign
from registry.derive.sound.strokes import Stroke
from registry.model.derived import Derived


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
    from_size : Derived or None
        How far the strike note stands from what the size leads one to expect [cents]; None without a size.
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
    from_size: Derived | None
    third: Third | None
    true_harmonic: TrueHarmonic | None
    deviations: tuple[Derived, ...]
    signs: tuple[Sign, ...]
    inputs: dict[str, Any]


def nothing_found(duration_s: float, rate_hz: float, inputs: dict[str, Any]) -> SoundAnalysis:
    """Give the outcome before anything was looked for."""
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
        from_size=None,
        third=None,
        true_harmonic=None,
        deviations=(),
        signs=(),
        inputs=inputs,
    )
