"""What a finder writes is read, and everything that cannot be read is told."""

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from registry.derive.identity.facts import Years
from registry.derive.identity.telling import FIELDS, read_told

TODAY = date(2026, 3, 1)


def test_everything_that_can_be_told() -> None:
    """Units, note names, EDTF and words are read as on the form."""
    told = read_told(
        {
            "mouth_diameter_mm": "46 1/2 in",
            "mouth_diameter_tolerance_mm": "5",
            "note": "cis'",
            "note_cents": "-12",
            "reference_hz": "435",
            "mass_kg": "12-3-14",
            "mass_basis": "weighed",
            "nominal_hz": "546",
            "octave_nominal_hz": "1150",
            "inscription": "ave [---] gratia",
            "cast": "15XX",
            "founder": "Somebody",
            "material": "bronze",
            "crown": "canons",
            "loops": "6",
            "unregistered": "40 %",
            "status_counts": "no",
        },
        TODAY,
    )
    facts = told.facts
    assert told.faults == ()
    assert (told.unregistered, told.by_status) == (0.4, False)
    assert facts.mouth_diameter_mm == pytest.approx(1181.1)
    assert facts.mass_kg == pytest.approx(12.875 * 50.80234544, abs=0.01)
    assert facts.strike_hz == pytest.approx(435 * 2 ** (-8 / 12 - 12 / 1200))
    assert facts.partials_hz == {"nominal": 546.0, "octave-nominal": 1150.0}
    assert facts.cast_years == (Years(1500, 1599),)
    assert (facts.material, facts.crown, facts.loops) == ("bronze", "canons", 6)


def test_the_nominal_stands_in_for_the_strike_note() -> None:
    """Where only the nominal is known, the strike note is half of it."""
    assert read_told({"nominal_hz": "880"}).facts.strike_hz == 440.0
    assert read_told({"nominal_hz": "880", "strike_hz": "430"}).facts.strike_hz == 430.0


def test_a_note_without_its_deviation_is_trusted_less() -> None:
    """A bare note name may be half a semitone off."""
    bare, exact = (read_told({"note": "A4", "note_cents": cents}).facts for cents in ("", "0"))
    assert bare.strike_hz == exact.strike_hz == 440.0
    assert bare.strike_sd_cents > 2 * exact.strike_sd_cents


@pytest.mark.parametrize(
    ("field", "text"),
    [
        ("mouth_diameter_mm", "about 80"),
        ("mouth_diameter_mm", "1"),
        ("mouth_diameter_mm", "1,180"),
        ("mass_kg", "5 Zentner"),
        ("strike_hz", "-440"),
        ("note", "A"),
        ("note", "c4"),
        ("cast", "last year"),
        ("cast", "2027"),
        ("material", "gold"),
        ("crown", "<script>"),
        ("loops", "6.5"),
        ("loops", "99999999999999999999"),
        ("loops", "²"),
        ("inscription", "a [---] b"),
        ("unregistered", "0"),
        ("unregistered", "100 %"),
        ("unregistered", "nan"),
        ("hum_hz", "1e9"),
    ],
)
def test_what_cannot_be_read_is_told(field: str, text: str) -> None:
    """Each faulty field gives one fault with what was read, what is expected and what to do, and no fact."""
    told = read_told({field: text}, TODAY)
    assert [fault.field for fault in told.faults] == [field]
    assert told.faults[0].read == text[:60]
    assert told.faults[0].expected
    assert told.faults[0].remedy
    assert told.facts._replace(strike_sd_cents=0.0) == read_told({}).facts._replace(strike_sd_cents=0.0)


@pytest.mark.parametrize(
    ("written", "field"),
    [
        ({"note_cents": "5"}, "note_cents"),
        ({"reference_hz": "435", "strike_hz": "430"}, "reference_hz"),
        ({"mouth_diameter_tolerance_mm": "5", "mass_kg": "300"}, "mouth_diameter_tolerance_mm"),
        ({"mass_tolerance_kg": "5"}, "mass_tolerance_kg"),
        ({"mass_basis": "weighed"}, "mass_basis"),
        ({"wordless": "yes", "inscription": "ave maria"}, "wordless"),
        ({"strike_hz": "440", "note": "H flat"}, "note"),
        ({"loops": "000013"}, "loops"),
    ],
)
def test_nothing_told_is_passed_over(written: dict[str, str], field: str) -> None:
    """What says something of a fact that is missing, or speaks against another, is named."""
    assert [fault.field for fault in read_told(written, TODAY).faults] == [field]


def test_a_word_for_unknown_needs_nothing_beside_it() -> None:
    """A basis that nobody knows says nothing, and asks for no mass."""
    assert read_told({"mass_basis": "unknown"}, TODAY).faults == ()


def test_all_faults_at_once() -> None:
    """Three faulty fields give three faults, and what is right beside them is read."""
    told = read_told({"mass_kg": "x", "cast": "x", "loops": "x", "material": "bronze"}, TODAY)
    assert len(told.faults) == 3
    assert told.facts.material == "bronze"


@given(st.dictionaries(st.sampled_from(FIELDS), st.text(max_size=40)))
def test_any_text_is_read_or_told(written: dict[str, str]) -> None:
    """Nothing that anyone can write stops the reading."""
    told = read_told(written, TODAY)
    assert {fault.field for fault in told.faults} <= set(written)
    assert 0.0 < told.unregistered < 1.0
