"""Rules on strike points, cracks, and what the surveyor made of them."""

import pytest

from registry.forms.thresholds import band

SIZES = "{mouth_diameter_mm: 1000, height_mm: 800, soundbow_thickness_mm: 80}"


@pytest.fixture
def found(bell, codes):
    """Check a bell with these sections and give the codes of the rules across fields."""

    def check_bell(**sections: str) -> list[str]:
        return [code for code in codes(bell(**({"dimensions": SIZES} | sections))) if code != "unusual-value"]

    return check_bell


@pytest.mark.parametrize(
    ("point", "expected"),
    [
        ("pit_depth_mm: 4, thickness_at_pit_mm: 74, thickness_beside_mm: 78", None),
        ("pit_depth_mm: 79.9", None),
        ("pit_depth_mm: 80", "pit-against-thickness"),
        ("pit_depth_mm: 78, thickness_beside_mm: 78", "pit-against-thickness"),
        ("pit_depth_mm: 79, thickness_beside_mm: 80", None),
        ("thickness_at_pit_mm: 78, thickness_beside_mm: 78", "thickness-at-pit"),
        ("pit_depth_mm: 0, thickness_at_pit_mm: 78, thickness_beside_mm: 78", None),
        ("thickness_at_pit_mm: 79, thickness_beside_mm: 78", "thickness-at-pit"),
        ("pit_depth_mm: 7, thickness_at_pit_mm: 74, thickness_beside_mm: 78", None),
        ("pit_depth_mm: 7.1, thickness_at_pit_mm: 74, thickness_beside_mm: 78", "pit-depth-misfit"),
        ("pit_depth_mm: 0.9, thickness_at_pit_mm: 74, thickness_beside_mm: 78", "pit-depth-misfit"),
        ("thickness_beside_mm: 84", None),
        ("thickness_beside_mm: 84.1", "thickness-beside-pit"),
        ("use: old, turned: 1987", None),
        ("use: in-use, turned: 1987", "strike-point-contradiction"),
    ],
)
def test_strike_points(found, point, expected) -> None:
    """Pits are shallower than the wall, thinner than beside, and as deep as the thicknesses say."""
    assert band("pit-depth-misfit-mm").high == 3
    assert found(strike_points=f"[{{number: 1, {point}}}]") == ([expected] if expected else [])


@pytest.mark.parametrize(
    ("crack", "expected"),
    [
        ("state: confirmed, start_height_mm: 0, end_height_mm: 180, length_mm: 200", None),
        ("state: confirmed, start_height_mm: 0, end_height_mm: 180, length_mm: 162", None),
        ("state: confirmed, start_height_mm: 0, end_height_mm: 180, length_mm: 161", "crack-contradiction"),
        ("state: suspected, start_height_mm: 180, end_height_mm: 0", "crack-contradiction"),
        ("state: suspected, start_height_mm: 90, end_height_mm: 90, length_mm: 10", None),
        ("state: suspected, end_height_mm: 840", None),
        ("state: suspected, end_height_mm: 841", "crack-against-height"),
        ("state: suspected, start_height_mm: 900", "crack-against-height"),
        ("state: suspected, position: crown, end_height_mm: 900", None),
        ("state: none, position: soundbow, bearing_deg: 90, method: penetrant, remarks: clean", None),
        ("state: none, side: outside", "crack-contradiction"),
        ("state: none, length_mm: 0", "crack-contradiction"),
        ("state: none, growth: grown", "crack-contradiction"),
        ("state: none, growth: none-seen", None),
    ],
)
def test_cracks(found, crack, expected) -> None:
    """A crack lies on the bell, from start up to end; where none was found there is none to measure."""
    assert found(cracks=f"[{{number: 1, {crack}}}]") == ([expected] if expected else [])


def test_crack_on_a_bell_without_height(bell, codes) -> None:
    """Where the height is not known, nothing is said of it."""
    assert codes(bell(cracks="[{number: 1, state: suspected, end_height_mm: 2000}]")) == []


@pytest.mark.parametrize(
    ("crack", "judged", "expected"),
    [
        ("state: confirmed, side: through", ("bell", 0), 1),
        ("state: confirmed, side: through", ("bell", 1), 0),
        ("state: confirmed, side: outside", ("bell", 0), 1),
        ("state: suspected, side: through", ("bell", 0), 0),
        ("state: none", ("bell", 0), 0),
        ("state: confirmed, repaired: welded", ("bell", 0), 0),
        ("state: confirmed, repaired: stop-hole", ("bell", 0), 1),
        ("state: confirmed, position: crown", ("crown", 0), 1),
        ("state: confirmed, position: soundbow", ("crown", 0), 0),
        ("state: confirmed, side: through", ("clapper", 0), 0),
    ],
)
def test_cracked_bell_called_sound(check, codes, crack, judged, expected) -> None:
    """A bell with a confirmed crack that was not mended is not without symptoms."""
    checked = check(
        f"""\
        bells:
          - id: hinterau-hour-bell
            cracks: [{{number: 3, {crack}}}]
        assessments:
          - {{component: {judged[0]}, bell: hinterau-hour-bell, condition: {judged[1]}}}
        """
    )
    assert codes(checked) == ["crack-marked-sound"] * expected
    if expected:
        assert checked.problems[0].path == "assessments[1].condition"
        assert "crack 3" in checked.problems[0].read
        assert "stop ringing" in checked.problems[0].remedy


@pytest.mark.parametrize(
    ("part", "expected"),
    [
        ("part: clapper, bell: a", 2),
        ("part: clapper", 2),
        ("part: clapper, bell: b", 0),
        ("part: whole-bell, bell: a", 1),
        ("part: inside, bell: a", 0),
        ("part: frame", 1),
        ("part: tower", 0),
    ],
)
def test_not_inspected_and_judged(check, codes, part, expected) -> None:
    """A part that could not be inspected was neither assessed nor measured."""
    checked = check(
        f"""\
        form: soundbow survey 1
        survey:
          id: x
          kind: visit
          date: 2024-05-14
          surveyors: [Ilse Tarnow]
          not_inspected: [{{{part}, reason: No light.}}]
        tower: {{id: t, name: T, place: P}}
        bells:
          - {{id: a, clapper: {{presence: present, length_mm: 900}}}}
          - {{id: b, ringing: {{in_use: yes}}}}
        assessments:
          - {{component: clapper, bell: a, condition: 1}}
          - {{component: frame, condition: 1}}
          - {{component: tower, urgency: 1}}
        """,
        whole=True,
    )
    assert codes(checked) == ["not-inspected-contradiction"] * expected
