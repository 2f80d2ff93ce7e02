"""How the partials of a bell deviate from the ideal, which third it has, and whether it is true-harmonic.

Partials are physical tones and keep their physical names; the *nominal* is one of them. Deviations are told
from the strike note, or from half the nominal where none is given. Those of historic bells are character, not
fault.

References
----------
N. H. Fletcher and T. D. Rossing, The Physics of Musical Instruments, ch. 21 (ideal ratios). The other limits
and their sources stand in ``schema/rules/estimates.yaml``.
"""

import math
from collections.abc import Mapping
from typing import NamedTuple

from registry.derive.constants import constants
from registry.derive.inputs import checked, checked_term
from registry.derive.strike import reading_uncertainty
from registry.model.derived import Derived


class Third(NamedTuple):
    """Which third a bell has.

    Parameters
    ----------
    kind : str
        ``minor``, ``neutral`` or ``major``; empty where the tierce lies far from all three.
    below_nominal : Derived
        Cents of the tierce below the nominal.
    """

    kind: str
    below_nominal: Derived


class TrueHarmonic(NamedTuple):
    """Whether hum, prime and nominal stand in octaves.

    Parameters
    ----------
    answer : bool or None
        None where the readings are too coarse to tell.
    worst : Derived
        The larger deviation of hum and prime from the octaves below the nominal, in cents, without sign.
    """

    answer: bool | None
    worst: Derived


def partial_deviations(
    partials_hz: Mapping[str, float],
    strike_hz: float | None = None,
    uncertainty_hz: float | None = None,
) -> tuple[Derived, ...]:
    """Give the deviation of each partial from its ideal place.

    Parameters
    ----------
    partials_hz : mapping
        Frequency [Hz] by the partial's word in the vocabulary ``partial``.
    strike_hz : float, optional
        Strike note [Hz]; half the nominal if absent.
    uncertainty_hz : float, optional
        Half-width of the 90 % interval of each reading [Hz].

    Returns
    -------
    tuple of Derived
        ``hum_deviation_cents`` and so on, positive where the partial is sharp, lowest partial first. The
        nominal is left out where it is itself the reference; empty where there is no reference at all.

    Raises
    ------
    ValueError
        When a frequency lies outside the range of the form, or a partial is not in the vocabulary.
    """
    read = _checked(partials_hz)
    if strike_hz is not None:
        method, reference_name, reference_hz = "from-strike", "strike_hz", checked("strike_hz", strike_hz)
        octaves = 0
    elif "nominal" in read:
        method, reference_name, reference_hz = "from-half-nominal", "nominal_hz", read.pop("nominal")
        octaves = 1
    else:
        return ()
    half = reading_uncertainty(uncertainty_hz, min([reference_hz, *read.values()]))
    rules = constants("partials")
    ideal = dict(rules["ratios"])
    third = third_of(partials_hz, uncertainty_hz)
    if third is not None and third.kind == "major":
        ideal["tierce"] = rules["major_tierce"]

    deviations = []
    for name in sorted(read, key=lambda each: ideal[each]):
        value = cents(read[name] * 2.0**octaves / (ideal[name] * reference_hz))
        spread = math.hypot(_half_cents(half, read[name]), _half_cents(half, reference_hz))
        word = name.replace("-", "_")
        deviations.append(
            Derived(
                f"{word}_deviation_cents",
                value,
                value - spread,
                value + spread,
                rules["level"],
                method,
                rules["version"],
                {
                    f"{word}_hz": read[name],
                    reference_name: reference_hz,
                    "ideal_ratio": ideal[name],
                    "uncertainty_hz": half,
                },
                rules["source"],
                third.below_nominal.note if third is not None and name == "tierce" else "",
            )
        )
    return tuple(deviations)


def third_of(partials_hz: Mapping[str, float], uncertainty_hz: float | None = None) -> Third | None:
    """Tell which third the tierce makes with the prime that stands an octave below the nominal.

    Parameters
    ----------
    partials_hz : mapping
        Frequency [Hz] by the partial's word; ``tierce`` and ``nominal`` are needed.
    uncertainty_hz : float, optional
        Half-width of the 90 % interval of each reading [Hz].

    Returns
    -------
    Third or None
        None where tierce or nominal was not read.

    Raises
    ------
    ValueError
        As ``partial_deviations``.
    """
    read = _checked(partials_hz)
    if "tierce" not in read or "nominal" not in read:
        return None
    rules = constants("partials")
    below = _below_nominal(
        "tierce", read, uncertainty_hz, "tierce_below_nominal_cents", rules["thirds_source"]
    )
    value, low, high = _ends(below)
    kind, beyond = _nearest_third(value)
    note = f"{kind} third" if kind else "neither minor, neutral nor major third"
    if kind and beyond > 0.5:  # the published limits are whole cents
        note += ", outside the published range"
    if _nearest_third(low)[0] != kind or _nearest_third(high)[0] != kind:
        note += "; the readings leave another kind possible"
    return Third(kind, below._replace(note=note))


def true_harmonic(
    partials_hz: Mapping[str, float], uncertainty_hz: float | None = None
) -> TrueHarmonic | None:
    """Tell whether hum and prime stand within 10 cents of octaves below the nominal.

    Parameters
    ----------
    partials_hz : mapping
        Frequency [Hz] by the partial's word; ``hum``, ``prime`` and ``nominal`` are needed.
    uncertainty_hz : float, optional
        Half-width of the 90 % interval of each reading [Hz].

    Returns
    -------
    TrueHarmonic or None
        None where one of the three was not read.

    Raises
    ------
    ValueError
        As ``partial_deviations``.

    References
    ----------
    W. A. Hibbert (2003).
    """
    read = _checked(partials_hz)
    if not {"hum", "prime", "nominal"} <= read.keys():
        return None
    rules = constants("partials")
    limit = rules["true_harmonic_cents"]
    off = []
    for name, octaves in (("hum", 2), ("prime", 1)):
        value, low, high = _ends(
            _below_nominal(
                name, read, uncertainty_hz, "octave_deviation_cents", rules["true_harmonic_source"]
            )
        )
        ideal = 1200.0 * octaves
        nearest = 0.0 if low <= ideal <= high else min(abs(low - ideal), abs(high - ideal))
        off.append((abs(value - ideal), nearest, max(abs(low - ideal), abs(high - ideal))))
    worst, nearest, farthest = (max(each) for each in zip(*off, strict=True))
    answer = None if nearest <= limit < farthest else farthest <= limit
    words = {True: "true-harmonic", False: "not true-harmonic", None: "the readings are too coarse to tell"}
    note = f"{words[answer]}: hum and prime within {limit} cents of octaves below the nominal"
    derived = Derived(
        "octave_deviation_cents",
        worst,
        nearest,
        farthest,
        rules["level"],
        "hum-and-prime-from-nominal",
        rules["version"],
        {f"{name}_hz": read[name] for name in ("hum", "prime", "nominal")}
        | {"uncertainty_hz": reading_uncertainty(uncertainty_hz, read["hum"])},
        rules["true_harmonic_source"],
        note,
    )
    return TrueHarmonic(answer, derived)


def cents(ratio: float) -> float:
    """Give an interval in cents: 1200 to the octave."""
    return 1200.0 * math.log2(ratio)


def _checked(partials_hz: Mapping[str, float]) -> dict[str, float]:
    return {
        checked_term("partial", name): checked(f"{name}_hz", frequency_hz, "frequency_hz")
        for name, frequency_hz in partials_hz.items()
    }


def _half_cents(half_hz: float, frequency_hz: float) -> float:
    """Give the half-width of a reading in cents, to the wider side."""
    return -cents(1.0 - half_hz / frequency_hz)


def _below_nominal(
    name: str, read: Mapping[str, float], uncertainty_hz: float | None, quantity: str, source: str
) -> Derived:
    rules = constants("partials")
    half = reading_uncertainty(uncertainty_hz, min(read[name], read["nominal"]))
    value = cents(read["nominal"] / read[name])
    spread = math.hypot(_half_cents(half, read[name]), _half_cents(half, read["nominal"]))
    return Derived(
        quantity,
        value,
        value - spread,
        value + spread,
        rules["level"],
        "from-nominal",
        rules["version"],
        {f"{name}_hz": read[name], "nominal_hz": read["nominal"], "uncertainty_hz": half},
        source,
    )


def _ends(derived: Derived) -> tuple[float, float, float]:
    if derived.value is None or derived.low is None or derived.high is None:
        raise TypeError(f"{derived.quantity} has no value")
    return derived.value, derived.low, derived.high


def _nearest_third(below_nominal_cents: float) -> tuple[str, float]:
    """Give the kind whose published range is nearest, and the cents beyond it; no kind where all are far."""
    rules = constants("partials")
    beyond, kind = min(
        (max(low - below_nominal_cents, below_nominal_cents - high, 0.0), kind)
        for kind, (low, high) in rules["thirds"].items()
    )
    return (kind if beyond <= rules["thirds_beyond_cents"] else ""), beyond
