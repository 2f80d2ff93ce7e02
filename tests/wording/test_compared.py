"""A bell set beside others: the words and the numbers under the drawings."""

import math

import pytest

from registry.derive.law import law_of
from registry.store.pages_sound import MassOnRecord, NoteOfRing
from registry.wording.compared import ideal_cents, mass_picture, ring_picture, spectrum_of_readings

BELL = {
    "id": "maria",
    "name": "Maria",
    "material": "bronze",
    "mouth_diameter_mm": 1000.0,
    "mass_kg": None,
    "mass_estimate_kg": 600.0,
    "mass_estimate_low_kg": 550.0,
    "mass_estimate_high_kg": 660.0,
}


def equal_ring(a_hz: float, *, basis: str = "measured", exactly: bool = False) -> list[NoteOfRing]:
    """Make five bells of an equal-tempered major scale on C4 at a pitch."""
    return [
        NoteOfRing(f"bell-{step}", None, a_hz * 2.0 ** ((step - 9) / 12.0), basis, exactly, None)
        for step in (0, 2, 4, 5, 7)
    ]


def test_a_mass_on_the_law_stands_in_the_middle_of_its_band() -> None:
    """The words tell the interval of the law, and how many bells are shown."""
    law = law_of("bronze")
    assert law is not None
    expected = law.mass_by_size(1.0)
    others = [MassOnRecord("anna", "Anna", 1200.0, 1000.0, "weighed")]
    picture = mass_picture({**BELL, "mass_kg": expected.value}, others)
    assert picture is not None
    assert "1 other" in picture.words
    assert picture.drawing.dots[0].weighed
    assert picture.drawing.seen is not None
    assert picture.drawing.bar is not None


@pytest.mark.parametrize("missing", ["material", "mouth_diameter_mm"])
def test_without_size_or_law_no_mass_is_drawn(missing: str) -> None:
    """A bell of unknown material has no band, and one without a diameter no place in it."""
    assert mass_picture({**BELL, missing: None}, []) is None


@pytest.mark.parametrize("a_hz", [435.0, 440.0, 446.5])
def test_an_equal_ring_shows_its_pitch_and_no_deviation(a_hz: float) -> None:
    """Whatever its pitch, a ring in equal temperament deviates by nothing from the equal scale."""
    picture = ring_picture(equal_ring(a_hz))
    assert picture is not None
    assert picture.scale == "equal"
    assert picture.reference_hz == pytest.approx(a_hz, rel=1e-9)
    assert all(abs(bell.deviation_cents) < 1e-6 for bell in picture.bells)
    assert all(bell.low_cents < -0.5 < 0.5 < bell.high_cents for bell in picture.bells)
    assert not picture.coarse


def test_a_bare_note_leaves_much_more_open_than_a_measured_one() -> None:
    """The interval of a note without its deviation is told, and the page says so."""
    measured, bare = ring_picture(equal_ring(440.0)), ring_picture(equal_ring(440.0, basis="note"))
    exact = ring_picture(equal_ring(440.0, basis="note", exactly=True))
    assert measured is not None
    assert bare is not None
    assert exact is not None
    widths = [each.bells[0].high_cents - each.bells[0].low_cents for each in (measured, exact, bare)]
    assert widths == sorted(widths)
    assert widths[2] > 10.0 * widths[0]
    assert bare.coarse
    assert not exact.coarse


def test_one_bell_is_no_ring() -> None:
    """A note that no bell can have does not count, and one bell alone has no intervals."""
    ring = equal_ring(440.0)
    assert ring_picture(ring[:1]) is None
    assert ring_picture([ring[0], ring[1]._replace(strike_hz=1e6)]) is None


def test_partials_are_counted_from_the_nominal() -> None:
    """Ideal partials stand on their ideal places; without a nominal there is nothing to count from."""
    ideal = {"hum": 200.0, "prime": 400.0, "tierce": 480.0, "quint": 600.0, "nominal": 800.0}
    picture = spectrum_of_readings(ideal, {"prime": 2.0})
    assert picture is not None
    assert len(picture.wide.stems) == len(ideal)
    assert [stem.x for stem in picture.wide.stems] == pytest.approx(sorted(picture.wide.ideals))
    assert [stem.pair_x is not None for stem in picture.wide.stems] == [False, True, False, False, False]
    del ideal["nominal"]
    assert spectrum_of_readings(ideal, {}) is None


def test_a_major_third_bell_is_held_against_its_own_third() -> None:
    """The ideal tierce of a major-third bell stands a major third over the prime."""
    major = ideal_cents({"tierce": 500.0, "nominal": 800.0})
    minor = ideal_cents({"tierce": 480.0, "nominal": 800.0})
    assert major["tierce"] == pytest.approx(1200.0 * math.log2(1.25 / 2.0))
    assert minor["tierce"] == pytest.approx(1200.0 * math.log2(1.2 / 2.0))
