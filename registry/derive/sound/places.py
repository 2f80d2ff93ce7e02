"""Where the partials of a bell may stand, in cents from the nominal, and what a tone there says for a name.

All weights are logarithms of probabilities, over the answer that the tone is none of a bell's.
"""

import math

from registry.derive.sound.limits import limits

LOWER = ("hum", "prime", "tierce", "quint")
BETWEEN = ("tenth", "eleventh", "superquint")
NAMES = (*LOWER, "nominal", *BETWEEN, "octave-nominal")


def bounds(name: str, span: float | None) -> tuple[float, float]:
    """Give the bounds of a partial [cents]; ``span`` is where the octave nominal stands, if it is known."""
    rules = limits("labels")
    low, high = rules["partials"][name]["bounds"]
    if name == "superquint" and span is not None:
        middle, spread = superquint_from(span), rules["rim"]["superquint_spread"]
        return max(low, middle - 4.0 * spread), min(high, middle + 4.0 * spread)
    return low, high


def is_usual(name: str, place: float) -> bool:
    """Say whether a partial stands where published bells have it; the nominal is where it is."""
    if name == "nominal":
        return True
    low, high = limits("labels")["partials"][name]["usual"]
    return bool(low <= place <= high)


def superquint_from(span: float) -> float:
    """Give where the superquint must stand [cents] if the octave nominal is at ``span``."""
    rim = limits("labels")["rim"]
    place: float = rim["superquint_at_octave"] + rim["superquint_slope"] * (span - 1200.0)
    return place


def rim_place(order: int, span: float) -> tuple[float, float]:
    """Give where the rim partial I-``order`` is to be expected if the octave nominal is at ``span``.

    Place and standard deviation, both in cents above the nominal.
    """
    rim = limits("labels")["rim"]
    middle, slope, spread = rim["upper"][order]
    return middle + slope * (span - rim["upper_at_span"]), spread


def gain(name: str, place: float, level_db: float, span: float | None) -> float:
    """Give how much better a tone is explained by a name than by none."""
    rules = limits("labels")
    density = rules["partials"][name]["seen"] * _density(name, place, span) / rules["any_density"]
    return math.log(density) + loudness(name, level_db)


def _density(name: str, place: float, span: float | None) -> float:
    """Give the probability a cent of a place: published bells, and a share for others."""
    rules = limits("labels")
    rule = rules["partials"][name]
    low, high = rule["bounds"]
    parts = rule["places"]
    if name == "superquint" and span is not None:
        parts = [[1.0, superquint_from(span), rules["rim"]["superquint_spread"]]]
    normal = sum(
        weight / (spread * math.sqrt(2.0 * math.pi)) * math.exp(-0.5 * ((place - middle) / spread) ** 2)
        for weight, middle, spread in parts
    )
    density: float = rules["anywhere"] / (high - low) + (1.0 - rules["anywhere"]) * normal
    return density


def loudness(name: str, level_db: float) -> float:
    """Give what the level says for a name: partials of a bell are louder than stray tones."""
    rule = limits("labels")["levels"]
    usual = rule["quint"] if name == "quint" else rule["named"]
    weight = ((level_db - rule["stray"]) ** 2 - (level_db - usual) ** 2) / (2.0 * rule["spread"] ** 2)
    most: float = rule["most"]
    return min(max(float(weight), -most), most)


def missed(name: str) -> float:
    """Give what it costs that a partial is not heard."""
    return math.log(1.0 - limits("labels")["partials"][name]["seen"])


def stray(place: float, level_db: float) -> float:
    """Give what a tone without a name costs: below the nominal a bell has four partials and no others."""
    rules = limits("labels")["stray"]
    loud = min(max((level_db - rules["weak_db"]) / (rules["loud_db"] - rules["weak_db"]), 0.0), 1.0)
    for region in rules["regions"]:
        if place < region["below"]:
            cost: float = loud * region["loud"] + (1.0 - loud) * region["weak"]
            return cost
    return 0.0
