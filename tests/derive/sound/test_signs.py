"""Signs worth a closer look: what moved, what else sounds, and that a bell at rest shows neither."""

from registry.derive.sound.motion import AT_REST, Wander
from registry.derive.sound.partial_tones import Measured, PartialTone, Sounding
from registry.derive.sound.signs import signs_of

HERTZ = {
    "hum": 200.0,
    "prime": 400.0,
    "tierce": 480.0,
    "quint": 600.0,
    "nominal": 800.0,
    "superquint": 1200.0,
}


def measured(frequency_hz: float, level_db: float = -6.0) -> Measured:
    """Make a tone."""
    return Measured(frequency_hz, 0.01, 8.0, 7.9, 8.1, level_db)


def sounding(partials: list[PartialTone], left_over: float = 0.0) -> Sounding:
    """Make a stroke of these partials."""
    return Sounding(tuple(partials), (), 0.99, left_over, reverberant=False, followed_s=4.0, noise_db=-60.0)


def codes(
    beats_hz: list[float],
    *,
    wander: Wander = AT_REST,
    left_over: float = 0.0,
    others_hz: tuple[float, ...] = (),
) -> list[str]:
    """Give the signs of a bell whose first partials are doublets that beat so, with other loud tones."""
    named = {}
    for place, (name, hertz) in enumerate(HERTZ.items()):
        second = measured(hertz + beats_hz[place]) if place < len(beats_hz) else None
        named[name] = PartialTone(measured(hertz), second)
    others = [PartialTone(measured(hertz), None) for hertz in others_hz]
    found = signs_of(sounding([*named.values(), *others], left_over), named, None, wander)
    return [sign.code for sign in found]


def test_a_bell_at_rest_shows_no_sign() -> None:
    """Doublets that beat each at its own rate, and a slight wander that tones explain, are no sign."""
    assert codes([0.4, 1.1, 2.5, 0.8]) == []
    assert codes([], wander=Wander(1.2, 1.0)) == []


def test_one_rate_of_all_beats_is_a_swing() -> None:
    """Four partials with side tones at one rate, or twice that, are told as a bell that may have moved."""
    assert codes([0.45, 0.9, 0.46, 0.44]) == ["may-have-moved"]
    assert "may-have-moved" not in codes([3.7, 3.75, 3.7, 3.72])


def test_a_common_wander_that_still_tones_leave_over_is_motion() -> None:
    """Tones that waver together, with something left that still ones do not explain, may have moved."""
    assert codes([], wander=Wander(1.0, 1.0), left_over=0.01) == ["may-have-moved"]


def test_loud_tones_without_a_name_are_told() -> None:
    """Two loud tones below the octave nominal that bear no name may be another bell's; one is not told."""
    assert codes([], others_hz=(530.0, 700.0)) == ["other-tones"]
    assert codes([], others_hz=(530.0,)) == []
