"""Measure a reverberant stroke a second time, later, when the room has given back most of the blow.

What a room adds to a tone that dies away is a tone of the same pole and sounds of its own, which die at the
speed of the room. Bells ring longer than rooms: some time after the blow the tone is left alone. The late
measure is noisier and less bent; of the two, each partial keeps the one that is surer.
"""

from collections.abc import Sequence

from registry.derive.sound.decaying import Samples
from registry.derive.sound.limits import limits
from registry.derive.sound.partial_tones import (
    Measured,
    PartialTone,
    Sounding,
    sounding_in,
    stretch_of,
)
from registry.derive.sound.strokes import Stroke
from registry.model.pitch import cents_between


def sounding_of(samples: Samples, rate_hz: float, stroke: Stroke) -> Sounding:
    """Measure the partials of one stroke, twice where it is reverberant.

    Parameters
    ----------
    samples : array of float
        The whole recording.
    rate_hz : float
        Its sampling rate [Hz].
    stroke : Stroke
        The stroke to follow.

    Returns
    -------
    Sounding
        Its tones.
    """
    rules = limits("later")
    stretch, rate = stretch_of(samples, rate_hz, stroke)
    early = sounding_in(stretch, rate)
    seconds = len(stretch) / rate
    later_by_s = min(rules["share"] * seconds, rules["most_s"])
    if not early.reverberant or seconds < rules["shortest_s"]:
        return early
    return with_later(early, sounding_in(stretch[round(later_by_s * rate) :], rate, wholly=True), later_by_s)


def with_later(early: Sounding, late: Sounding, later_by_s: float) -> Sounding:
    """Put the surer of two measures in the place of each partial.

    Parameters
    ----------
    early, late : Sounding
        The stroke from its beginning, and from some time after it.
    later_by_s : float
        How much later [s].

    Returns
    -------
    Sounding
        The partials of ``early``, with the levels they had at the blow.
    """
    partials = [_surer(each, late.partials, later_by_s) for each in early.partials]
    return early._replace(
        partials=tuple(sorted(partials, key=lambda each: each.tone.frequency_hz)),
        followed_s=max(early.followed_s, later_by_s + late.followed_s),
    )


def _surer(early: PartialTone, late: Sequence[PartialTone], later_by_s: float) -> PartialTone:
    """Give the late measure of a partial if there is one and it is surer than the early one.

    With it goes its answer on the doublet: beside an early tone the room makes others that look like one.
    """
    within = limits("later")["same_within_cents"]
    near = [
        each for each in late if abs(cents_between(each.tone.frequency_hz, early.tone.frequency_hz)) < within
    ]
    if not near:
        return early
    same = max(near, key=lambda each: each.level_db)
    if _doubt(same.tone) >= _doubt(early.tone):
        return early
    tone = _with_what_is_left(same.tone, early.tone)._replace(level_db=early.tone.level_db)
    if same.doublet is None:
        return PartialTone(tone, None)
    fell_more_db = _fallen_db(same.doublet, later_by_s) - _fallen_db(same.tone, later_by_s)
    level_db = tone.level_db + same.doublet.level_db - same.tone.level_db + fell_more_db
    return PartialTone(tone, same.doublet._replace(level_db=level_db))


def _with_what_is_left(late: Measured, early: Measured) -> Measured:
    """Widen the interval of the decay half-way to the early one: some of the room may be left in the late."""
    if late.t60_s is None or early.t60_s is None:
        return late
    half_way = 2.0 / (_rate(late) + _rate(early))
    high = late.t60_high_s
    return late._replace(
        t60_low_s=min(late.t60_low_s, half_way), t60_high_s=None if high is None else max(high, half_way)
    )


def _doubt(tone: Measured) -> float:
    """Give the width of the interval of the decay over the decay itself."""
    least = 0.0 if tone.t60_high_s is None else 1.0 / tone.t60_high_s
    return (1.0 / tone.t60_low_s - least) / max(_rate(tone), 1e-9)


def _fallen_db(tone: Measured, seconds: float) -> float:
    return 60.0 * seconds * _rate(tone)


def _rate(tone: Measured) -> float:
    """Give the decay in 60 dB a second."""
    return 1.0 / tone.t60_s if tone.t60_s else 0.0
