"""Name the tones of a bell by what the physics of its shape allows, each name with its confidence.

The best reading of all tones together is weighed against the next best and against the answer that this is no
such bell, so that a name is never given because a tone happens to be near a ratio.
"""

import math
from collections.abc import Iterator, Sequence
from typing import NamedTuple

from registry.derive.sound import places
from registry.derive.sound.limits import limits
from registry.derive.sound.readings import Heard, Reading, readings_of


class Label(NamedTuple):
    """A name given to a tone.

    Parameters
    ----------
    name : str
        Word of the vocabulary ``partial``, or ``I-7`` and so on for a partial of the rim above them.
    tone : int
        Place of the tone in the list that was asked about.
    confidence : float
        Probability of the name [-], as far as the shipped ranges of published bells go.
    usual : bool
        Whether it stands where published bells have it.
    """

    name: str
    tone: int
    confidence: float
    usual: bool


class Naming(NamedTuple):
    """The outcome of the naming.

    Parameters
    ----------
    labels : tuple of Label
        Empty where the tones are not those of a bell of conventional shape.
    bell : float
        Probability that they are [-].
    """

    labels: tuple[Label, ...]
    bell: float


def named(tones: Sequence[Heard]) -> Naming:
    """Name the tones of one bell.

    Parameters
    ----------
    tones : sequence of Heard
        Tones of the bell, lowest first; a doublet counts as one.

    Returns
    -------
    Naming
        The names, each with its confidence.
    """
    readings, rules = readings_of(tones), limits("labels")
    if not readings:
        return Naming((), 0.0)
    best = readings[0]
    others = sum(math.exp(each.score - best.score) for each in readings[1:])
    none = math.exp(min(-best.score - rules["bell_expected"], 600.0))
    this = 1.0 / (1.0 + others + none)
    bell = (1.0 + others) * this
    if bell < rules["bell_doubtful"]:
        return Naming((), bell)
    labels = [
        Label(name, tone, this * _share(tones, best, name), places.is_usual(name, best.cents[tone]))
        for name, tone in best.named.items()
    ]
    labels += _upper_rim(tones, best, this)
    return Naming(tuple(sorted(labels, key=lambda each: tones[each.tone].frequency_hz)), bell)


def _share(tones: Sequence[Heard], reading: Reading, name: str) -> float:
    """Give the probability of one name against the other tones it could be given to, and against none."""
    if name == "nominal":
        return 1.0
    span = None if name == "octave-nominal" else reading.span
    low, high = places.bounds(name, span)
    taken = {tone for other, tone in reading.named.items() if other != name}
    weights = {
        tone: math.exp(places.gain(name, place, tones[tone].level_db, span) - reading.strays[tone])
        for tone, place in enumerate(reading.cents)
        if low <= place <= high and tone not in taken
    }
    return weights.get(reading.named[name], 0.0) / (sum(weights.values()) + math.exp(places.missed(name)))


def _upper_rim(tones: Sequence[Heard], reading: Reading, this: float) -> Iterator[Label]:
    """Name the partials of the rim above the octave nominal, as far as they follow without a gap."""
    span = reading.span
    if span is None:
        return
    for order in limits("labels")["rim"]["upper"]:
        expected, spread = places.rim_place(order, span)
        near = {
            tone: tones[tone].level_db - 0.5 * ((place - expected) / spread) ** 2
            for tone, place in enumerate(reading.cents)
            if abs(place - expected) <= 2.0 * spread
        }
        if not near:
            return
        yield Label(f"I-{order}", max(near, key=lambda tone: near[tone]), this / len(near), usual=True)
