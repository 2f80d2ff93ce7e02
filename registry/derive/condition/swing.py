"""What a swinging bell does to its fittings and its tower at the present swing, as bands.

The time of a swing comes from counted strokes, two to every full swing to and fro; the forces from the swing
angle, the kind of headstock and the mass. All bands are hard bounds from errors of counting, angle, headstock
and mass together. Always with the sentence that this is no structural certificate.
"""

import math
from collections.abc import Sequence
from itertools import product
from typing import Any, NamedTuple

from registry.derive.condition.pendulum import GRAVITY_M_S2, largest_forces, pendulum_length_m
from registry.derive.condition.rulebook import Rulebook, rulebook
from registry.derive.condition.seen import BellSeen, newest_told, weighed_kg
from registry.model.derived import Derived

TWO_BLOWS_A_SWING = frozenset({"swinging", "swinging-low", "full-circle"})
"""Ways of ringing in which the clapper strikes once each way."""

SOURCE = (
    "rigid pendulum on a fixed axle, T = 4 sqrt(l/g) K(sin(a/2)); K: NIST Digital Library of Mathematical"
    " Functions, section 19.8"
)
VERSION = 1


class Multiple(NamedTuple):
    """One multiple of the bell's frequency held against the tower's.

    Parameters
    ----------
    multiple : int
        How many times the bell's frequency.
    low_hz, high_hz : float
        Band of that frequency [Hz].
    apart_percent : float
        How far its middle is from the tower's frequency, in per cent of that.
    close : bool
        Whether it may be close to the tower's frequency.
    feared : bool
        Whether it is close, and the multiple that is feared most.
    """

    multiple: int
    low_hz: float
    high_hz: float
    apart_percent: float
    close: bool
    feared: bool


class Swing(NamedTuple):
    """What is known of a bell's swing.

    Parameters
    ----------
    strokes_a_minute, period_s, pendulum_length_m : Derived or None
        From the strokes counted; the length needs the swing angle too.
    vertical_kn, horizontal_kn : Derived or None
        Largest forces on both bearings together [kN].
    vertical_share, horizontal_share : Derived or None
        The same as multiples of the weight.
    tower_hz : float or None
        Lowest frequency of the tower, as measured [Hz].
    multiples : tuple of Multiple
        Multiples of the bell's frequency against the tower's.
    unknown : tuple of str
        What is missing, and for what.
    caution : str
        That this is no certificate.
    source : str
        What the comparison with the tower rests on.
    """

    strokes_a_minute: Derived | None
    period_s: Derived | None
    pendulum_length_m: Derived | None
    vertical_share: Derived | None
    horizontal_share: Derived | None
    vertical_kn: Derived | None
    horizontal_kn: Derived | None
    tower_hz: float | None
    multiples: tuple[Multiple, ...]
    unknown: tuple[str, ...]
    caution: str
    source: str


class _Band(NamedTuple):
    """A best value with hard bounds."""

    value: float
    low: float
    high: float


def swing_of(
    history: Sequence[BellSeen], mass: Derived | None = None, book: Rulebook | None = None
) -> Swing | None:
    """Tell what a bell does to its fittings when it swings.

    Parameters
    ----------
    history : sequence of BellSeen
        What the surveys tell of the bell, the oldest first.
    mass : Derived, optional
        An estimate of the mass [kg], used where no survey has a weighing.
    book : Rulebook, optional
        Other rules than the shipped ones.

    Returns
    -------
    Swing or None
        None for a bell that is not known to swing.
    """
    rules = (book or rulebook()).settings["swing"]
    told = newest_told(history, lambda seen: getattr(seen.entry.ringing, "style", None))
    if told is None or told[0] not in TWO_BLOWS_A_SWING:
        return None
    style = str(told[0])
    unknown: list[str] = []
    rate = _rate(history, rules)
    if rate is None:
        unknown.append("strokes were not counted: no time of swing, and nothing on the tower's frequency")
    angle = _angle(history, style, rules)
    if angle is None:
        unknown.append("the swing angle was not told: no forces and no length of the pendulum")
    head = newest_told(history, lambda seen: getattr(seen.entry.fittings, "headstock", None))
    kind = str(head[0]) if head else "otherwise"
    if kind not in rules["c"]:
        kind = "otherwise"
    if kind == "otherwise":
        unknown.append("the kind of headstock is not known: wide bands of force")
    weight = _weight_kn(history, mass)
    if weight is None:
        unknown.append("the mass is not known: forces as multiples of the weight only")
    inputs: dict[str, Any] = {"ringing_style": style, "headstock": kind}
    if angle is not None:
        inputs["swing_angle_deg"] = angle.value
    shares = _shares(angle, rules["c"][kind])
    tower = newest_told(history, lambda seen: seen.tower.natural_frequency_hz)
    if tower is None:
        unknown.append("the tower's frequency was not measured: no word on resonance")
    period = None if rate is None else _Band(120.0 / rate.value, 120.0 / rate.high, 120.0 / rate.low)
    return Swing(
        _derived("strokes_a_minute", rate, "counted", inputs, rules["errors_source"]),
        _derived("period_s", period, "counted", inputs, rules["errors_source"]),
        _derived("pendulum_length_m", _length(period, angle, style), "pendulum", inputs, SOURCE),
        _derived("vertical_share", shares and shares[0], "pendulum", inputs, rules["c_source"]),
        _derived("horizontal_share", shares and shares[1], "pendulum", inputs, rules["c_source"]),
        _derived("vertical_kn", _times(shares and shares[0], weight), "pendulum", inputs, rules["c_source"]),
        _derived(
            "horizontal_kn", _times(shares and shares[1], weight), "pendulum", inputs, rules["c_source"]
        ),
        None if tower is None else float(tower[0]),
        () if tower is None or rate is None else _multiples(rate, float(tower[0]), rules),
        tuple(unknown),
        rules["caution"],
        rules["multiples_source"],
    )


def life_factor(lower_by_deg: float, book: Rulebook | None = None) -> float:
    """Give how many times longer the same bell lasts with the same clapper when it swings less far.

    Parameters
    ----------
    lower_by_deg : float
        By how much the swing to one side is lowered [deg]; negative for a higher swing.
    book : Rulebook, optional
        Other rules than the shipped ones.

    Returns
    -------
    float
        Factor [-]; 1.16 for one degree. It says nothing across bells or clappers.
    """
    share = float((book or rulebook()).settings["swing"]["life_a_degree"])
    return math.pow(share, -lower_by_deg)


def _rate(history: Sequence[BellSeen], rules: dict[str, Any]) -> _Band | None:
    """Give the strokes a minute with the errors of counting and timing."""

    def counted(seen: BellSeen) -> tuple[int, float] | None:
        ringing = seen.entry.ringing
        if ringing is None or not ringing.strokes or not ringing.strokes_in_s:
            return None
        return ringing.strokes, ringing.strokes_in_s

    told = newest_told(history, counted)
    if told is None:
        return None
    strokes, seconds = told[0]
    miss, late = float(rules["count_error"]), float(rules["time_error_s"])
    if strokes <= miss or seconds <= late:
        return None
    return _Band(
        60.0 * strokes / seconds,
        60.0 * (strokes - miss) / (seconds + late),
        60.0 * (strokes + miss) / (seconds - late),
    )


def _angle(history: Sequence[BellSeen], style: str, rules: dict[str, Any]) -> _Band | None:
    told = newest_told(history, lambda seen: getattr(seen.entry.ringing, "swing_angle_deg", None))
    if style == "full-circle":
        return _Band(180.0, 180.0, 180.0)
    if told is None or not 0.0 < told[0] <= 180.0:
        return None
    error = float(rules["angle_error_deg"])
    return _Band(told[0], max(told[0] - error, 0.5), min(told[0] + error, 179.5))


def _length(period: _Band | None, angle: _Band | None, style: str) -> _Band | None:
    """Give the length of the pendulum [m]; a bell that rests mouth up keeps no time by it."""
    if period is None or angle is None or style == "full-circle":
        return None
    ends = [pendulum_length_m(t, a) for t, a in product(period[1:], angle[1:])]
    middle = pendulum_length_m(period.value, min(angle.value, 179.5))
    return _Band(middle, min(ends), max(ends))


def _shares(angle: _Band | None, c: Sequence[float]) -> tuple[_Band, _Band] | None:
    """Give the largest forces as multiples of the weight; both grow with angle and c."""
    if angle is None:
        return None
    middle = largest_forces(angle.value, (c[0] + c[1]) / 2.0)
    low, high = largest_forces(angle.low, c[0]), largest_forces(angle.high, c[1])
    return (
        _Band(middle.vertical, low.vertical, high.vertical),
        _Band(middle.horizontal, low.horizontal, high.horizontal),
    )


def _weight_kn(history: Sequence[BellSeen], mass: Derived | None) -> _Band | None:
    """Give the weight [kN] from a weighing, within 2 %, else from the estimate."""
    weighed = weighed_kg(history)
    to_kn = GRAVITY_M_S2 / 1000.0
    if weighed is not None:
        return _Band(weighed[0] * to_kn, weighed[0] * 0.98 * to_kn, weighed[0] * 1.02 * to_kn)
    if mass is None or mass.value is None or mass.low is None or mass.high is None:
        return None
    return _Band(mass.value * to_kn, mass.low * to_kn, mass.high * to_kn)


def _times(share: _Band | None, weight: _Band | None) -> _Band | None:
    if share is None or weight is None:
        return None
    return _Band(share.value * weight.value, share.low * weight.low, share.high * weight.high)


def _derived(
    quantity: str, band: _Band | None, method: str, inputs: dict[str, Any], source: str
) -> Derived | None:
    if band is None:
        return None
    return Derived(quantity, band.value, band.low, band.high, 1.0, method, VERSION, inputs, source)


def _multiples(rate: _Band, tower_hz: float, rules: dict[str, Any]) -> tuple[Multiple, ...]:
    """Hold multiples of the bell's frequency, half the strokes of a second, against the tower's."""
    within = float(rules["close_within"])
    found = []
    for multiple in rules["multiples"]:
        value, low, high = (multiple * each / 120.0 for each in rate)
        close = low * (1.0 - within) <= tower_hz <= high * (1.0 + within)
        apart = 100.0 * (value / tower_hz - 1.0)
        found.append(Multiple(multiple, low, high, apart, close, close and multiple == rules["feared"]))
    return tuple(found)
