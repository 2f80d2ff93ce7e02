"""Rules on clapper, hammer, crown and ringing."""

import math

import pytest

from registry.forms.rules_clapper import CLAPPER_BANDS
from registry.forms.thresholds import band

NONE = "[{number: 1, state: none}]"


@pytest.fixture
def found(bell, codes):
    """Check a bell with these sections and give the codes of the rules across fields."""

    def check_bell(**sections: str) -> list[str]:
        return [code for code in codes(bell(**sections, cracks=NONE)) if code != "unusual-value"]

    return check_bell


@pytest.mark.parametrize("style", [*CLAPPER_BANDS, "chiming", "carillon", None])
def test_mass_of_the_clapper(found, style) -> None:
    """The clapper's mass is held against the bell's by the way of ringing, by the widest band if unknown."""
    limits = band(CLAPPER_BANDS.get(style, "clapper-to-bell-otherwise"))
    ringing = f"{{style: {style}}}" if style else ""
    for end, within, beyond in ((limits.low, 1.0001, 0.99), (limits.high, 0.9999, 1.01)):
        for factor, expected in ((within, []), (beyond, ["clapper-against-bell"])):
            mass = f"{600 * end * factor:.6f}"
            assert expected == found(
                dimensions="{mouth_diameter_mm: 980, mass_kg: 600, mass_basis: weighed}",
                clapper=f"{{presence: present, mass_kg: {mass}}}",
                ringing=ringing,
            )


def test_published_ratios_pass(found) -> None:
    """Flying clappers of 4 to 5 % or 1/40, falling ones of 1.5 to 2 %, 1 % for full rotation are usual."""
    for style, percent in (("swinging", 4), ("swinging", 5), ("swinging", 2.5), ("swinging-low", 1.5),
                           ("swinging-low", 2), ("full-rotation", 1)):  # fmt: skip
        sizes = "{mouth_diameter_mm: 980, mass_kg: 600, mass_basis: weighed}"
        clapper = f"{{presence: present, mass_kg: {6 * percent}}}"
        assert found(dimensions=sizes, clapper=clapper, ringing=f"{{style: {style}}}") == []


def test_mass_of_the_clapper_without_that_of_the_bell(found) -> None:
    """Where the bell was not weighed, only what no bell of its size can have is asked about."""
    ratio, law = band("clapper-to-bell-otherwise"), band("bronze-mass-to-cube")
    least, most = ratio.low * law.low * 0.98**3, ratio.high * law.high * 0.98**3
    for mass, expected in ((1.01 * least, 0), (0.99 * least, 1), (0.99 * most, 0), (1.01 * most, 1)):
        clapper = f"{{presence: present, mass_kg: {mass:.6f}}}"
        sections = {"identity": "{material: bronze}", "dimensions": "{mouth_diameter_mm: 980}"}
        assert found(**sections, clapper=clapper) == ["clapper-against-bell"] * expected
    assert found(identity="{material: glass}", dimensions="{mouth_diameter_mm: 980}",
                 clapper="{presence: present, mass_kg: 300}") == []  # fmt: skip


@pytest.mark.parametrize(
    ("field", "name"),
    [("ball_diameter_mm", "clapper-ball-to-diameter"), ("strike_height_mm", "strike-height-to-diameter"),
     ("length_mm", "clapper-length-to-height")],
)  # fmt: skip
def test_sizes_of_the_clapper(found, field, name) -> None:
    """Ball, blow and length are held against the bell at the ends of their bands."""
    for end, within, beyond in ((band(name).low, 1.0001, 0.99), (band(name).high, 0.9999, 1.01)):
        for factor, expected in ((within, []), (beyond, ["clapper-against-bell"])):
            clapper = f"{{presence: present, {field}: {1000 * end * factor:.6f}}}"
            assert found(dimensions="{mouth_diameter_mm: 1000, height_mm: 1000}", clapper=clapper) == expected


def test_flat(found) -> None:
    """The flat worn on a ball is narrower than the ball."""
    assert found(clapper="{presence: present, ball_diameter_mm: 120, flat_width_mm: 60}") == []
    assert found(clapper="{presence: present, ball_diameter_mm: 60, flat_width_mm: 60}") == [
        "clapper-against-bell"
    ]


@pytest.mark.parametrize(
    ("presence", "expected"),
    [("present", []), ("stored", []), ("missing", ["absent-part-measured"]),
     ("never-had", ["absent-part-measured"]), ("not-seen", ["absent-part-measured"])],
)  # fmt: skip
def test_absent_parts(found, presence, expected) -> None:
    """What is not there was not measured: the clapper, and the hammer of the clock."""
    assert found(clapper=f"{{presence: {presence}, length_mm: 900}}") == expected
    assert found(clapper=f"{{presence: {presence}, kind: flying, remarks: see 1998}}") == []
    assert found(fittings=f"{{clock_hammer: {presence}, hammer_clearance_mm: 9}}") == expected


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("{style: full-circle, swing_angle_deg: 160}", 0),
        ("{style: full-circle, swing_angle_deg: 159}", 1),
        ("{style: swinging, swing_angle_deg: 170}", 0),
        ("{style: swinging, swing_angle_deg: 171}", 1),
        ("{style: clock-only, swing_angle_deg: 0}", 0),
        ("{style: clock-only, swing_angle_deg: 0.5}", 1),
        ("{style: unknown, swing_angle_deg: 10}", 0),
        ("{style: silent, in_use: no}", 0),
        ("{style: silent, in_use: yes}", 1),
        ("{strokes: 80, strokes_in_s: 124.3}", 0),  # 38.6 a minute (grabinski-online.de)
        ("{strokes: 80, strokes_in_s: 2 min}", 0),
        ("{strokes: 80, strokes_in_s: 10}", 1),
        ("{strokes: 2, strokes_in_s: 60}", 1),
        ("{strokes: 9000}", 0),
        ("{strokes_in_s: 1}", 0),
    ],
)
def test_ringing(found, text, expected) -> None:
    """Swing, rate and use are those of the way of ringing."""
    assert found(ringing=text) == ["ringing-contradiction"] * expected


def test_loops(found) -> None:
    """No more canons are broken than there are."""
    assert found(crown="{loops: 6, broken_loops: 6}") == []
    assert found(crown="{loops: 6, broken_loops: 7}") == ["crown-contradiction"]
    assert found(crown="{broken_loops: 7}") == []
    assert math.isinf(band("swing-angle-full-circle").high)
