"""Name the tones of a bell by what the physics of its shape allows.

In a bell of conventional shape the five lowest partials come in one order, each within bounds, and the
partials of
the rim above them are tied to each other: where the octave nominal stands tells where the superquint and
those above
must stand. Every tone is tried as the nominal. The best reading of all tones together is weighed against the
next best
and against the answer that this is no such bell, so that a name is never given because a tone happens to be
near a
ratio.

References
----------
N. H. Fletcher and T. D. Rossing, The Physics of Musical Instruments, ch. 21. W. A. Hibbert, D. B. Sharp,
S. Taherzadeh and R. Perrin, Open Journal of Acoustics 4 (2014) 70-77.
"""

import math
from collections.abc import Iterator, Sequence
from typing import NamedTuple

from registry.derive.sound.limits import limits
from registry.model.pitch import cents_between

LOWER = ("hum", "prime", "tierce", "quint")
BETWEEN = ("tenth", "eleventh", "superquint")
NAMES = (*LOWER, "nominal", *BETWEEN, "octave-nominal")
SURE_OF_ONE = ("hum", "prime", "tierce", "nominal", "superquint")
"""Names whose tone no second bell is given; any tone of a second one may stand where a first has its quint or tenth."""


class Heard(NamedTuple):
    """What the naming goes by: a tone's frequency [Hz] and its level under the loudest [dB]."""

    frequency_hz: float
    level_db: float


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


class Reading(NamedTuple):
    """One way to understand the tones: what each name is given to, and how well that explains them."""

    score: float
    named: dict[str, int]


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
    readings = sorted(_readings(tones), key=lambda each: -each.score)
    if not readings:
        return Naming((), 0.0)
    best, rules = readings[0], limits("labels")
    others = sum(math.exp(min(each.score - best.score, 0.0)) for each in readings[1:])
    none = math.exp(min(-best.score - rules["bell_expected"], 600.0))
    this = 1.0 / (1.0 + others + none)
    bell = (1.0 + others) / (1.0 + others + none)
    if bell < rules["bell_doubtful"]:
        return Naming((), bell)
    labels = [
        Label(name, place, this * _share(tones, best, name), _is_usual(tones, best, name))
        for name, place in best.named.items()
    ]
    labels += _upper_rim(tones, best, this)
    return Naming(tuple(sorted(labels, key=lambda each: tones[each.tone].frequency_hz)), bell)


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
    first = sorted(
        (each for each in _readings(tones) if _core(each) >= rules["fewest_named"]),
        key=lambda each: -_without_strays(tones, each),
    )
    best, found = -math.inf, None
    for one in first[: rules["tried"]]:
        taken = {place for name, place in one.named.items() if name in SURE_OF_ONE}
        left = [place for place in range(len(tones)) if place not in taken]
        others = _readings([tones[place] for place in left])
        for other in others:
            if _core(other) < rules["fewest_named"]:
                continue
            score = _without_strays(tones, one) + other.score
            if score > best:
                best = score
                found = one.named["nominal"], left[other.named["nominal"]]
    if found is None or best < rules["sure"]:
        return None
    return tones[found[0]].frequency_hz, tones[found[1]].frequency_hz


def _core(reading: Reading) -> int:
    """Count the names that say most for a bell."""
    return len({*SURE_OF_ONE, "octave-nominal"} & reading.named.keys())


def _readings(tones: Sequence[Heard]) -> list[Reading]:
    return [each for place in range(len(tones)) if _can_be_a_bell(each := _read(tones, place))]


def _without_strays(tones: Sequence[Heard], reading: Reading) -> float:
    """Give the score of a reading as it were if all tones without a name were another bell's."""
    nominal = tones[reading.named["nominal"]].frequency_hz
    return reading.score - sum(
        _stray(cents_between(tone.frequency_hz, nominal), tone.level_db)
        for place, tone in enumerate(tones)
        if place not in reading.named.values()
    )


def _can_be_a_bell(reading: Reading) -> bool:
    """Say whether the tones without which no bell of this shape sounds are there.

    The tierce is one, often the loudest. Below it hum or prime, unless the recording has lost the low tones,
    and then
    the rim above must speak.
    """
    has = reading.named.keys()
    enough = len(has) >= limits("labels")["fewest_named"]
    return (
        enough
        and "tierce" in has
        and (bool({"hum", "prime"} & has) or {"superquint", "octave-nominal"} <= has)
    )


def _read(tones: Sequence[Heard], nominal: int) -> Reading:
    """Give the best reading in which one tone is the nominal; its score is over the answer that it is no bell."""
    rules = limits("labels")
    places = [cents_between(tone.frequency_hz, tones[nominal].frequency_hz) for tone in tones]
    stray = [_stray(place, tone.level_db) for place, tone in zip(places, tones, strict=True)]
    score = math.log(rules["nominal_density"] / rules["any_density"]) + _loudness(
        "nominal", tones[nominal].level_db
    )
    gain, chosen = _in_order(LOWER, tones, places, stray, None)
    score += gain
    assigned = {"nominal": nominal, **chosen}
    best_gain, best_above = -math.inf, {}
    for octave in [None, *_within("octave-nominal", places, None)]:
        above, gain = {}, _missed("octave-nominal")
        span = None
        if octave is not None:
            above = {"octave-nominal": octave}
            span = places[octave]
            gain = _gain("octave-nominal", tones[octave], span, None) - stray[octave]
        more, between = _in_order(BETWEEN, tones, places, stray, span)
        if gain + more > best_gain:
            best_gain, best_above = gain + more, {**above, **between}
    assigned |= best_above
    score += best_gain
    score += sum(each for place, each in enumerate(stray) if place != nominal)
    return Reading(score, assigned)


def _in_order(
    names: Sequence[str],
    tones: Sequence[Heard],
    places: Sequence[float],
    stray: Sequence[float],
    span: float | None,
) -> tuple[float, dict[str, int]]:
    """Give names to tones in rising order, so that the sum of the gains is largest; a name may stay without."""

    def best(number: int, above: float) -> tuple[float, dict[str, int]]:
        if number == len(names):
            return 0.0, {}
        name = names[number]
        gain, chosen = best(number + 1, above)
        top = gain + _missed(name), chosen
        for place in _within(name, places, span):
            if places[place] <= above:
                continue
            gain, chosen = best(number + 1, places[place])
            gain += _gain(name, tones[place], places[place], span) - stray[place]
            if gain > top[0]:
                top = gain, {name: place, **chosen}
        return top

    return best(0, -math.inf)


def _within(name: str, places: Sequence[float], span: float | None) -> list[int]:
    low, high = _bounds(name, span)
    return [number for number, place in enumerate(places) if low <= place <= high]


def _bounds(name: str, span: float | None) -> tuple[float, float]:
    rule = limits("labels")["partials"][name]
    low, high = rule["bounds"]
    if name == "superquint" and span is not None:
        middle, spread = superquint_from(span), limits("labels")["rim"]["superquint_spread"]
        return max(low, middle - 4.0 * spread), min(high, middle + 4.0 * spread)
    return low, high


def superquint_from(span: float) -> float:
    """Give where the superquint must stand, in cents above the nominal, from where the octave nominal does."""
    rim = limits("labels")["rim"]
    place: float = rim["superquint_at_octave"] + rim["superquint_slope"] * (span - 1200.0)
    return place


def rim_place(order: int, span: float) -> tuple[float, float]:
    """Give where the rim partial I-``order`` is to be expected, from where the octave nominal stands, and its spread.

    Both in cents above the nominal.
    """
    rim = limits("labels")["rim"]
    middle, slope, spread = rim["upper"][order]
    return middle + slope * (span - rim["upper_at_span"]), spread


def _gain(name: str, tone: Heard, place: float, span: float | None) -> float:
    """Give how much better a tone is explained by a name than by none."""
    rules = limits("labels")
    rule = rules["partials"][name]
    density = rule["seen"] * _density(name, place, span) / rules["any_density"]
    return math.log(density) + _loudness(name, tone.level_db)


def _density(name: str, place: float, span: float | None) -> float:
    """Give the probability a cent that a partial stands here, after published bells and a share for all the rest."""
    rules = limits("labels")
    rule = rules["partials"][name]
    low, high = rule["bounds"]
    if name == "superquint" and span is not None:
        parts = [[1.0, superquint_from(span), rules["rim"]["superquint_spread"]]]
    else:
        parts = rule["places"]
    anywhere = rules["anywhere"] / (high - low)
    normal = sum(
        weight / (spread * math.sqrt(2.0 * math.pi)) * math.exp(-0.5 * ((place - middle) / spread) ** 2)
        for weight, middle, spread in parts
    )
    density: float = anywhere + (1.0 - rules["anywhere"]) * normal
    return density


def _loudness(name: str, level_db: float) -> float:
    """Give what the level says for a name: partials of a bell are louder than stray tones."""
    rule = limits("labels")["levels"]
    usual = rule["quint"] if name == "quint" else rule["named"]
    spread = rule["spread"]
    weight = ((level_db - rule["stray"]) ** 2 - (level_db - usual) ** 2) / (2.0 * spread**2)
    most: float = rule["most"]
    return float(min(max(weight, -most), most))


def _missed(name: str) -> float:
    return math.log(1.0 - limits("labels")["partials"][name]["seen"])


def _stray(place: float, level_db: float) -> float:
    """Give what a tone without a name costs: below the nominal a bell has four partials and no others."""
    rules = limits("labels")["stray"]
    for region in rules["regions"]:
        if place < region["below"]:
            loud = min(max((level_db - rules["weak_db"]) / (rules["loud_db"] - rules["weak_db"]), 0.0), 1.0)
            return float(loud * region["loud"] + (1.0 - loud) * region["weak"])
    return 0.0


def _share(tones: Sequence[Heard], reading: Reading, name: str) -> float:
    """Give the probability of one name against the other tones it could be given to, and against none."""
    if name == "nominal":
        return 1.0
    nominal = tones[reading.named["nominal"]].frequency_hz
    places = [cents_between(tone.frequency_hz, nominal) for tone in tones]
    octave = reading.named.get("octave-nominal")
    span = None if octave is None or name == "octave-nominal" else places[octave]
    taken = {place for other, place in reading.named.items() if other != name}
    weights = {
        place: math.exp(
            _gain(name, tones[place], places[place], span) - _stray(places[place], tones[place].level_db)
        )
        for place in _within(name, places, span)
        if place not in taken
    }
    total = sum(weights.values()) + math.exp(_missed(name))
    return weights.get(reading.named[name], 0.0) / total


def _is_usual(tones: Sequence[Heard], reading: Reading, name: str) -> bool:
    if name == "nominal":
        return True
    nominal = tones[reading.named["nominal"]].frequency_hz
    place = cents_between(tones[reading.named[name]].frequency_hz, nominal)
    low, high = limits("labels")["partials"][name]["usual"]
    return bool(low <= place <= high)


def _upper_rim(tones: Sequence[Heard], reading: Reading, this: float) -> Iterator[Label]:
    """Name the partials of the rim above the octave nominal, as far as one follows the other without a gap."""
    octave = reading.named.get("octave-nominal")
    if octave is None:
        return
    nominal = tones[reading.named["nominal"]].frequency_hz
    places = [cents_between(tone.frequency_hz, nominal) for tone in tones]
    rim = limits("labels")["rim"]
    span = places[octave]
    for order in rim["upper"]:
        expected, spread = rim_place(order, span)
        near = [number for number, place in enumerate(places) if abs(place - expected) <= 2.0 * spread]
        if not near:
            return
        chosen = max(
            near,
            key=lambda number: tones[number].level_db - 0.5 * ((places[number] - expected) / spread) ** 2,
        )
        share = 1.0 / len(near)
        yield Label(f"I-{order}", chosen, this * share, usual=True)
