"""Rules on sizes and mass, at the very edges of their bands, and against published bells."""

import math

import pytest
from published import published

from registry.forms.thresholds import band

NONE = "[{number: 1, state: none}]"


def sized(bell, codes, material="bronze", **fields):
    """Check a bell with these sizes and give the codes of the rules across fields."""
    inner = ", ".join(f"{name}: {value}" for name, value in fields.items())
    checked = bell(identity=f"{{material: {material}}}", dimensions=f"{{{inner}}}", cracks=NONE)
    return [code for code in codes(checked) if code != "unusual-value"]


@pytest.mark.parametrize(
    ("name", "base", "field", "code"),
    [
        ("soundbow-thickness-to-diameter", "mouth", "soundbow_thickness_mm", "thickness-against-diameter"),
        ("steel-thickness-to-diameter", "mouth", "soundbow_thickness_mm", "thickness-against-diameter"),
        ("height-to-diameter", "mouth", "height_mm", "height-against-diameter"),
        ("shoulder-to-diameter", "mouth", "shoulder_diameter_mm", "shoulder-against-diameter"),
        ("waist-thickness-to-soundbow", "soundbow", "waist_thickness_mm", "waist-against-soundbow"),
    ],
)
def test_edges(edges_of, name, base, field, code) -> None:
    """A ratio just within the end of its band passes; a hundredth beyond is told."""
    material = "cast-steel" if name.startswith("steel") else "bronze"
    size = {"mouth": {"mouth_diameter_mm": 1180.0}, "soundbow": {"soundbow_thickness_mm": 100.0}}[base]
    edges_of(name, field, code, material, size)


@pytest.fixture
def edges_of(bell, codes):
    """Check a field at both ends of a band, against the one size that it is compared with."""

    def check_edges(name: str, field: str, code: str, material: str, size: dict[str, float]) -> None:
        (base,) = size.values()
        for end, within, beyond in ((band(name).low, 1.0001, 0.99), (band(name).high, 0.9999, 1.01)):
            if math.isfinite(end):
                assert sized(bell, codes, material, **size, **{field: f"{base * end * within:.6f}"}) == []
                assert sized(bell, codes, material, **size, **{field: f"{base * end * beyond:.6f}"}) == [code]

    return check_edges


def test_slant_height(bell, codes) -> None:
    """The slant height is the hypotenuse over the height and half the difference of the diameters."""
    right = math.hypot(930, (1180 - 590) / 2)
    sizes = {"mouth_diameter_mm": 1180, "height_mm": 930, "shoulder_diameter_mm": 590}
    assert sized(bell, codes, **sizes, slant_height_mm=f"{right:.1f}") == []
    assert sized(bell, codes, **sizes, slant_height_mm=f"{right * 1.05:.1f}") == []
    assert sized(bell, codes, **sizes, slant_height_mm=f"{right * 1.07:.1f}") == ["slant-against-height"]
    assert sized(bell, codes, **sizes, slant_height_mm=f"{right * 0.93:.1f}") == ["slant-against-height"]


@pytest.mark.parametrize(
    ("value", "readings", "expected"),
    [
        ("1180", "[1178, 1182]", []),
        ("1183", "[1178, 1182]", []),
        ("1190", "[1178, 1182]", ["readings-disagree"]),
        ("1165", "[1150, 1180]", ["readings-disagree"]),
        ("1180", "[1190]", ["readings-disagree"]),
        ("1190", "[1150, 1180]", ["readings-disagree", "readings-disagree"]),
    ],
)
def test_readings(bell, codes, value, readings, expected) -> None:
    """The diameter lies among its readings, which lie close together."""
    found = sized(bell, codes, mouth_diameter_mm=value, mouth_diameter_readings_mm=readings)
    assert found == expected


def test_readings_without_a_value(bell, codes) -> None:
    """Readings alone are told, for the registry goes by the value; an unreadable value is another fault."""
    assert sized(bell, codes, mouth_diameter_readings_mm="[1180, 1182]") == ["mean-missing"]
    found = sized(bell, codes, mouth_diameter_mm="x", mouth_diameter_readings_mm="[1180, 1182]")
    assert found == ["not-a-number"]


@pytest.mark.parametrize(
    ("material", "mouth", "name"),
    [
        ("bronze", 1180, "bronze-mass-to-cube"),
        ("bronze", 400, "bronze-small-mass-to-cube"),
        ("cast-steel", 1180, "steel-mass-to-cube"),
        ("cast-iron", 400, "steel-mass-to-cube"),
    ],
)
def test_mass_edges(bell, codes, material, mouth, name) -> None:
    """The mass is asked about beyond the band for its material and size."""
    cube = (mouth / 1000) ** 3
    sizes = {"mouth_diameter_mm": mouth, "mass_basis": "weighed"}
    for end, within, beyond in ((band(name).low, 1.0001, 0.99), (band(name).high, 0.9999, 1.01)):
        assert sized(bell, codes, material, **sizes, mass_kg=f"{end * cube * within:.6f}") == []
        found = sized(bell, codes, material, **sizes, mass_kg=f"{end * cube * beyond:.6f}")
        assert found == ["mass-against-diameter"]


def test_mass_with_the_strike_note(bell, codes) -> None:
    """With the strike note the mass of a bronze bell is held against a narrower band."""
    limits = band("bronze-mass-to-size-and-strike")
    for ratio, expected in ((limits.low * 1.01, []), (limits.low * 0.99, ["mass-against-diameter"])):
        mass = ratio * 400 * 1.0**4
        checked = bell(
            identity="{material: bronze}",
            dimensions=f"{{mouth_diameter_mm: 1000, mass_kg: {mass:.3f}, mass_basis: weighed}}",
            sound="{strike_hz: 400}",
            cracks=NONE,
        )
        assert codes(checked) == expected


@pytest.mark.parametrize("material", ["aluminium", "glass", "other"])
def test_mass_of_other_materials_is_not_judged(bell, codes, material) -> None:
    """Where nothing is published on a material, no mass is called odd."""
    assert sized(bell, codes, material, mouth_diameter_mm=1000, mass_kg=90, mass_basis="weighed") == []


def test_mass_on_the_scale_with_its_fittings_is_not_judged(bell, codes) -> None:
    """A mass that includes headstock or wheel says little of the bell."""
    sizes = {"mouth_diameter_mm": 1000, "mass_kg": 1100, "mass_basis": "weighed"}
    assert sized(bell, codes, **sizes, mass_includes="[clapper]") == ["mass-against-diameter"]
    assert sized(bell, codes, **sizes, mass_includes="[clapper, headstock]") == []


@pytest.mark.parametrize("table", ["published_bells.csv", "steel_and_iron.csv"])
def test_published_bells_pass(bell, codes, table) -> None:
    """No published bell, each with its source in the table, is called odd for its mass or its note."""
    rows = published(table)
    assert rows
    for row in rows:
        sizes = [f"mouth_diameter_mm: {1000 * float(row['mouth_diameter_m']):.1f}"]
        sizes += [f"mass_kg: {row['mass_kg']}", "mass_basis: unknown"] if row["mass_kg"] else []
        checked = bell(
            identity=f"{{material: {row['material']}}}",
            dimensions=f"{{{', '.join(sizes)}}}",
            sound=f"{{strike_hz: {row['strike_hz']}}}" if row["strike_hz"] else "",
            cracks=NONE,
        )
        assert {"mass-against-diameter", "strike-against-diameter"}.isdisjoint(codes(checked)), row
