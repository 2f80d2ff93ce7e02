"""What a wrong key or term may have meant."""

import pytest

from registry.forms.suggest import advice_on_key, sections_with, suggest_key, suggest_term
from registry.model.bell import Dimensions, Sound
from registry.model.survey import BellEntry, Survey
from registry.model.tower import Tower
from registry.model.vocabulary import vocabulary


@pytest.mark.parametrize(
    ("name", "section", "meant"),
    [
        ("mouth_diameter", Dimensions, "mouth_diameter_mm"),
        ("Mouth-Diameter mm", Dimensions, "mouth_diameter_mm"),
        ("mouth_diameter_cm", Dimensions, "mouth_diameter_mm"),
        ("diameter", Dimensions, "mouth_diameter_mm"),
        ("weight", Dimensions, "mass_kg"),
        ("slant", Dimensions, "slant_height_mm"),
        ("heigth_mm", Dimensions, "height_mm"),
        ("strike", Sound, "strike_hz"),
        ("lng", Tower, "longitude_deg"),
        ("location", Tower, "place"),
        ("bell", Survey, "bells"),
        ("zzz", Dimensions, None),
        ("", Dimensions, None),
        ("mm", Dimensions, None),  # many fields have it
    ],
)
def test_keys(name, section, meant) -> None:
    """A slip, another spelling, another unit, part of a name and other words of the trade are understood."""
    assert suggest_key(name, section._fields) == meant


@pytest.mark.parametrize(
    ("name", "section", "keys", "remedy"),
    [
        ("mouth_diameter_mm", "bells", BellEntry, "mouth_diameter_mm belongs in dimensions"),
        ("cracks", "", Survey, "cracks belongs in bells"),
        ("bells", "survey", Tower, "bells belongs in the form itself, not indented"),
        ("weight_kg", "dimensions", Dimensions, "write mass_kg"),
        ("zzz", "dimensions", Dimensions, "put it into remarks, in words, or leave it out"),
        ("zzz", "bells", BellEntry, "leave it out; remarks take what has no field"),
    ],
)
def test_advice(name, section, keys, remedy) -> None:
    """A key of another section is sent there; a slip is mended; anything else goes into the remarks."""
    finding = advice_on_key(name, section, keys._fields)
    assert finding.code == "unknown-key"
    assert finding.remedy == remedy


def test_sections_with() -> None:
    """A field that several sections have is known in all of them."""
    assert set(sections_with("number")) == {"inscriptions", "strike_points", "cracks"}
    assert sections_with("zzz") == ()


@pytest.mark.parametrize(
    ("text", "name", "meant"),
    [
        ("Bronce", "material", "bronze"),
        ("cast iron", "material", "cast-iron"),
        ("full_circle", "ringing_style", "full-circle"),
        ("y", "yes_no_unknown", "yes"),
        ("no", "crack_state", "none"),
        ("hum tone", "partial", None),
        ("through the wall", "crack_side", "through"),
        ("", "material", None),
    ],
)
def test_terms(text, name, meant) -> None:
    """A slip, another spelling and other words for yes and no are understood."""
    assert suggest_term(text, vocabulary(name)) == meant


def test_every_label_leads_to_its_term() -> None:
    """Whoever writes what the form prints beside a term is told the term."""
    for name in ("bell_status", "material", "crown_kind", "crack_position", "mass_basis"):
        words = vocabulary(name)
        for term in words.terms.values():
            assert suggest_term(term.label, words) == term.code
