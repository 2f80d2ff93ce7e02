"""The result of an analysis as derived values, each with interval, method and inputs, for the registry."""

from collections.abc import Iterator
from typing import Any

from registry.derive.sound.found import NamedPartial, SoundAnalysis
from registry.derive.sound.limits import limits
from registry.derive.sound.partial_tones import Measured
from registry.model.derived import Derived

METHOD = "recording"
DOUBTFUL = "doubtful: it stands where published bells have none, or another name is as likely"

Value = tuple[float | None, float | None, float | None]
"""A value and the ends of its interval."""
NONE: Value = (None, None, None)


def derived_of(analysis: SoundAnalysis, about: dict[str, Any]) -> Iterator[Derived]:
    """Give the derived values of one recording.

    Parameters
    ----------
    analysis : SoundAnalysis
        The result.
    about : dict
        What identifies the recording, such as file and SHA-256; it stands among the inputs of each value.

    Returns
    -------
    iterator of Derived
        Strike note first, then partials from the lowest: ``hum_hz``, ``hum_t60_s``, ``hum_level_db``,
        ``hum_doublet_hz``; a partial of the rim is ``rim_7_hz``. A partial that was not found, or a recording
        that was refused, has a row without a value whose note says why.
    """
    inputs = {**about, **analysis.inputs}
    if analysis.refusals:
        why = "; ".join(f"{each.code}: {each.read}" for each in analysis.refusals)
        yield _row("strike_hz", NONE, inputs, f"not judged: {why}")
        return
    if analysis.strike is None:
        yield _row("strike_hz", NONE, inputs, "none: no nominal was found")
    for each in (analysis.strike, analysis.secondary_strike):
        if each is not None:
            yield each._replace(inputs={**inputs, **each.inputs})
    for partial in analysis.partials:
        yield from _of_partial(partial, inputs)
    for name in analysis.absent:
        note = f"absent: no tone above {analysis.noise_db:.0f} dB of the loudest stands where it could"
        yield _row(f"{word_of(name)}_hz", NONE, inputs, note)
    third = analysis.third.below_nominal if analysis.third else None
    octaves = analysis.true_harmonic.worst if analysis.true_harmonic else None
    for each in (third, octaves, *analysis.deviations):
        if each is not None:
            yield each._replace(inputs={**inputs, **each.inputs})


def word_of(name: str) -> str:
    """Give the name of a partial as it stands in the name of a quantity: ``octave_nominal``, ``rim_7``."""
    return name.replace("I-", "rim_").replace("-", "_")


def _of_partial(partial: NamedPartial, inputs: dict[str, Any]) -> Iterator[Derived]:
    word = word_of(partial.name)
    told = {**inputs, "confidence": round(partial.confidence, 3)}
    tone, other = partial.partial
    yield _frequency(f"{word}_hz", tone, told, "" if partial.answer == "present" else DOUBTFUL)
    note = "" if tone.t60_s else f"at least {tone.t60_low_s:.1f} s: the recording is too short for more"
    yield _row(f"{word}_t60_s", (tone.t60_s, tone.t60_low_s, tone.t60_high_s), told, note)
    level = round(partial.partial.level_db, 2), None, None
    yield _row(f"{word}_level_db", level, told, "at the stroke, over the loudest")
    if other is not None:
        yield _frequency(f"{word}_doublet_hz", other, told, "")


def _frequency(quantity: str, tone: Measured, inputs: dict[str, Any], note: str) -> Derived:
    half = tone.frequency_half_hz
    return _row(
        quantity, (tone.frequency_hz, tone.frequency_hz - half, tone.frequency_hz + half), inputs, note
    )


def _row(quantity: str, value: Value, inputs: dict[str, Any], note: str) -> Derived:
    rules = limits("analysis")
    return Derived(quantity, *value, rules["level"], METHOD, rules["version"], inputs, rules["source"], note)
