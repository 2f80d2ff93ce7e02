"""Read the tones of a bell: with one of them as the nominal, which names explain all of them best.

In a bell of conventional shape the five lowest partials come in one order, each within bounds, and the
partials of the rim above them are tied to each other: where the octave nominal stands tells where the
superquint must stand.

References
----------
N. H. Fletcher and T. D. Rossing, The Physics of Musical Instruments, ch. 21. W. A. Hibbert, D. B. Sharp,
S. Taherzadeh and R. Perrin, Open Journal of Acoustics 4 (2014) 70-77.
"""

import math
from collections.abc import Iterator, Sequence
from typing import NamedTuple

from registry.derive.sound import places
from registry.derive.sound.limits import limits
from registry.derive.sound.places import BETWEEN, LOWER
from registry.model.pitch import cents_between

SURE_OF_ONE = frozenset({"hum", "prime", "tierce", "nominal", "superquint"})
"""Names whose tone no second bell is given; where the first has its quint or tenth, one of its may stand."""


class Heard(NamedTuple):
    """What the naming goes by: a tone's frequency [Hz] and its level over the loudest [dB]."""

    frequency_hz: float
    level_db: float


class Reading(NamedTuple):
    """One way to understand the tones.

    Parameters
    ----------
    score : float
        How well it explains them all: logarithm of a probability, over the answer that they are no bell's.
    named : dict
        Place of the tone that each name is given to.
    cents : tuple of float
        Where each tone stands from the nominal [cents].
    strays : tuple of float
        What each tone would cost without a name.
    """

    score: float
    named: dict[str, int]
    cents: tuple[float, ...]
    strays: tuple[float, ...]

    @property
    def span(self) -> float | None:
        """Where the octave nominal stands [cents]; None where there is none."""
        return self.cents[self.named["octave-nominal"]] if "octave-nominal" in self.named else None

    @property
    def without_strays(self) -> float:
        """The score as it were if all tones without a name were another bell's."""
        taken = self.named.values()
        return self.score - sum(each for place, each in enumerate(self.strays) if place not in taken)


def readings_of(tones: Sequence[Heard]) -> list[Reading]:
    """Give the readings that may be a bell's, best first; every tone is tried as the nominal."""
    tried = (_read(tones, nominal) for nominal in range(len(tones)))
    return sorted((each for each in tried if _can_be_a_bell(each)), key=lambda each: -each.score)


def two_bells(tones: Sequence[Heard]) -> tuple[float, float] | None:
    """Tell whether two bells explain the tones where one does not.

    Parameters
    ----------
    tones : sequence of Heard
        The loud tones, lowest first.

    Returns
    -------
    tuple of float or None
        The nominals of both [Hz].
    """
    rules = limits("labels")["two_bells"]
    likely = [each for each in readings_of(tones) if _core(each) >= rules["fewest_named"]]
    likely.sort(key=lambda each: -each.without_strays)
    both = max(
        (pair for one in likely[: rules["tried"]] for pair in _with_another(tones, one)),
        default=(-math.inf, 0.0, 0.0),
    )
    return (both[1], both[2]) if both[0] >= rules["sure"] else None


def _with_another(tones: Sequence[Heard], one: Reading) -> Iterator[tuple[float, float, float]]:
    """Give the readings of what one bell leaves: score of both together, and their nominals [Hz]."""
    taken = {place for name, place in one.named.items() if name in SURE_OF_ONE}
    left = [tone for place, tone in enumerate(tones) if place not in taken]
    for other in readings_of(left):
        if _core(other) >= limits("labels")["two_bells"]["fewest_named"]:
            nominal_hz = tones[one.named["nominal"]].frequency_hz
            yield one.without_strays + other.score, nominal_hz, left[other.named["nominal"]].frequency_hz


def _core(reading: Reading) -> int:
    """Count the names that say most for a bell."""
    return len({*SURE_OF_ONE, "octave-nominal"} & reading.named.keys())


def _can_be_a_bell(reading: Reading) -> bool:
    """Say whether the tones without which no bell of this shape sounds are there.

    The tierce is one, often the loudest. Below it hum or prime, unless the recording has lost the low tones,
    and then the rim above must speak.
    """
    has = reading.named.keys()
    if len(has) < limits("labels")["fewest_named"] or "tierce" not in has:
        return False
    return bool({"hum", "prime"} & has) or {"superquint", "octave-nominal"} <= has


def _read(tones: Sequence[Heard], nominal: int) -> Reading:
    """Give the best reading in which one tone is the nominal."""
    rules = limits("labels")
    cents = tuple(cents_between(tone.frequency_hz, tones[nominal].frequency_hz) for tone in tones)
    strays = tuple(places.stray(place, tone.level_db) for place, tone in zip(cents, tones, strict=True))
    score = math.log(rules["nominal_density"] / rules["any_density"])
    score += places.loudness("nominal", tones[nominal].level_db)
    begun = Reading(score, {"nominal": nominal}, cents, strays)
    gain, named = _in_order(LOWER, tones, begun, None)
    named["nominal"] = nominal
    best = max((_above(tones, begun, octave) for octave in _octaves(cents)), key=lambda each: each[0])
    score += gain + best[0] + sum(each for place, each in enumerate(strays) if place != nominal)
    return begun._replace(score=score, named=named | best[1])


def _octaves(cents: Sequence[float]) -> list[int | None]:
    """Give the tones that may be the octave nominal, and the answer that none is."""
    low, high = places.bounds("octave-nominal", None)
    return [None, *(number for number, place in enumerate(cents) if low <= place <= high)]


def _above(tones: Sequence[Heard], begun: Reading, octave: int | None) -> tuple[float, dict[str, int]]:
    """Give the best names above the nominal, with one tone, or none, as the octave nominal."""
    if octave is None:
        gain, named = _in_order(BETWEEN, tones, begun, None)
        return gain + places.missed("octave-nominal"), named
    span = begun.cents[octave]
    gain, named = _in_order(BETWEEN, tones, begun, span)
    gain += places.gain("octave-nominal", span, tones[octave].level_db, None) - begun.strays[octave]
    return gain, {**named, "octave-nominal": octave}


def _in_order(
    names: Sequence[str], tones: Sequence[Heard], begun: Reading, span: float | None
) -> tuple[float, dict[str, int]]:
    """Give names to tones in rising order, so that the sum of the gains is largest; a name may go unused."""

    def best(number: int, above: float) -> tuple[float, dict[str, int]]:
        if number == len(names):
            return 0.0, {}
        name = names[number]
        gain, chosen = best(number + 1, above)
        top = gain + places.missed(name), chosen
        low, high = places.bounds(name, span)
        for tone, place in enumerate(begun.cents):
            if low <= place <= high and place > above:
                gain, chosen = best(number + 1, place)
                gain += places.gain(name, place, tones[tone].level_db, span) - begun.strays[tone]
                if gain > top[0]:
                    top = gain, {name: tone, **chosen}
        return top

    return best(0, -math.inf)
