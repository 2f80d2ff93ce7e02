"""Rules on sound: note, frequency, partials and size against each other."""

import pytest

from registry.forms.thresholds import band

NONE = "[{number: 1, state: none}]"


@pytest.fixture
def sound(bell, codes):
    """Check a bell with this sound and give the codes of what was found."""

    def check_sound(text: str, material: str = "bronze", mouth: float | None = None) -> list[str]:
        sizes = f"{{mouth_diameter_mm: {mouth}}}" if mouth else ""
        checked = bell(identity=f"{{material: {material}}}", dimensions=sizes, sound=text, cracks=NONE)
        return [code for code in codes(checked) if code != "unusual-value"]

    return check_sound


@pytest.mark.parametrize(
    ("partials", "found"),
    [
        ([("hum", 165), ("prime", 330), ("tierce", 392)], 0),
        ([("tierce", 392), ("hum", 165), ("prime", 330)], 0),
        ([("hum", 392), ("tierce", 165)], 1),
        ([("nominal", 660), ("superquint", 660)], 1),
        ([("hum", 400), ("prime", 300), ("tierce", 200)], 2),
    ],
)
def test_order_of_partials(sound, partials, found) -> None:
    """Partials rise in the order hum, prime, tierce, quint, nominal, however they are listed."""
    listed = ", ".join(f"{{name: {name}, frequency_hz: {hertz}}}" for name, hertz in partials)
    assert sound(f"{{partials: [{listed}]}}") == ["partials-out-of-order"] * found


@pytest.mark.parametrize(
    ("text", "found"),
    [
        # f = 435 * 2 ** (n / 12 + s / 192): e' +7 sixteenths is 334.08 Hz
        ("{note: e', note_sixteenths: 7, strike_hz: 334.1}", []),
        ("{note: e', note_sixteenths: 7, reference_hz: 435, strike_hz: 334.1}", []),
        ("{note: e', note_sixteenths: -7, strike_hz: 334.1}", ["note-against-frequency"]),
        ("{note: E4, note_cents: 24.9, reference_hz: 440, strike_hz: 334.4}", []),
        ("{note: E4, note_cents: -24.9, reference_hz: 440, strike_hz: 334.4}", ["note-against-frequency"]),
        ("{note: E4, strike_hz: 334.4}", []),
        ("{note: F4, reference_hz: 440, strike_hz: 334.4}", ["note-against-frequency"]),
        ("{note: E5, strike_hz: 334.4}", ["note-against-frequency"]),
        ("{note: E4, note_cents: 45, strike_hz: 334.4}", []),  # against a' = 435 Hz
        ("{note: E4, note_cents: 45, reference_hz: 440, strike_hz: 334.4}", ["note-against-frequency"]),
        ("{note: E4}", []),
    ],
)
def test_note_against_frequency(sound, text, found) -> None:
    """Note, deviation and reference give the frequency beside them; without a deviation the note will do."""
    assert sound(text) == found


@pytest.mark.parametrize(
    ("strike", "nominal", "found"),
    [(330, 660, []), (340, 660, []), (660, 660, ["strike-against-nominal"]),
     (165, 660, ["strike-against-nominal"]), (120, 180, []), (2000, 2200, [])],
)  # fmt: skip
def test_strike_against_nominal(sound, strike, nominal, found) -> None:
    """Where half the nominal is heard as the strike note the two agree; elsewhere they need not."""
    text = f"{{strike_hz: {strike}, partials: [{{name: nominal, frequency_hz: {nominal}}}]}}"
    assert sound(text) == found


@pytest.mark.parametrize(
    ("material", "mouth", "name"),
    [
        ("bronze", 1180, "bronze-strike-times-diameter"),
        ("bronze", 400, "bronze-small-strike-times-diameter"),
        ("cast-steel", 1180, "steel-strike-times-diameter"),
        ("cast-iron", 400, "steel-strike-times-diameter"),
    ],
)
def test_strike_against_size(sound, material, mouth, name) -> None:
    """The strike note is asked about beyond the band for the bell's material and size."""
    for end, within, beyond in ((band(name).low, 1.0001, 0.99), (band(name).high, 0.9999, 1.01)):
        inside, outside = end * within * 1000 / mouth, end * beyond * 1000 / mouth
        assert sound(f"{{strike_hz: {inside:.6f}}}", material, mouth) == []
        assert sound(f"{{strike_hz: {outside:.6f}}}", material, mouth) == ["strike-against-diameter"]


def test_strike_of_an_unknown_material(sound) -> None:
    """Where the material is not known, what any allows will do; where nothing is published, all will."""
    steel_only = 1000 * band("steel-strike-times-diameter").high / 1000
    assert sound(f"{{strike_hz: {steel_only}}}", "bronze", 1000) == ["strike-against-diameter"]
    assert sound(f"{{strike_hz: {steel_only}}}", "unknown", 1000) == []
    assert sound("{strike_hz: 3000}", "glass", 1000) == []


def test_note_stands_for_a_frequency_not_given(sound) -> None:
    """Without a frequency the note is held against the size."""
    assert sound("{note: E4}", "bronze", 1180) == []
    assert sound("{note: E5}", "bronze", 1180) == ["strike-against-diameter"]


@pytest.mark.parametrize(("strike", "word"), [(690, "nominal"), (172, "hum"), (1500, "octave")])
def test_octaves_are_named(bell, strike, word) -> None:
    """A note an octave off is told as what it may be: the nominal, or the hum."""
    checked = bell(dimensions="{mouth_diameter_mm: 1180}", sound=f"{{strike_hz: {strike}}}", cracks=NONE)
    (problem,) = checked.problems
    assert word in problem.remedy
    assert (problem.line, problem.path) == (15, "bells[1].sound.strike_hz")
