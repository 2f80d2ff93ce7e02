"""``soundbow design``. The figures themselves are tested against publications in tests/derive."""

import pytest

from registry.cli.group import DONE, USAGE
from registry.derive.design import designs


def test_one_class(soundbow):
    """A note and a class give diameter, sound-bow and mass with their intervals."""
    run = soundbow("design", "--note", "D4", "--profile-class", "medium", "--format", "json")
    assert run.code == DONE
    (wanted,) = run.data["designs"]
    assert wanted["note"] == "D4"
    assert wanted["strike_hz"] == pytest.approx(293.66, abs=0.01)  # ISO 16:1975, equal temperament
    (size,) = wanted["sizes"]
    expected = designs(wanted["strike_hz"], profiles=["medium"])[0]
    assert size["mouth_diameter_mm"]["value"] == pytest.approx(expected.mouth_diameter.value, rel=1e-3)
    assert size["mass_kg"]["low"] < size["mass_kg"]["value"] < size["mass_kg"]["high"]
    assert "metal_kg" not in size
    assert "price" not in size
    assert "no drawing" in run.data["caution"]
    assert "never proposed for recasting" in run.data["cautions"][0]


def test_all_classes(soundbow):
    """Without a class all seven stand below each other, lightest first."""
    run = soundbow("design", "--note", "a'")
    assert run.code == DONE
    lines = [line for line in run.out.splitlines() if "diameter" in line]
    assert len(lines) == 7
    assert lines[0].split()[0] == "ultra-light"
    assert run.out.startswith("A4, 440")


def test_the_users_numbers(soundbow):
    """Metal, price and time appear with the user's own numbers and say whose they are."""
    run = soundbow(
        "design", "--strike-hz", "440", "--profile-class", "medium", "--allowance-percent", "8",
        "--price-per-kg", "30", "--days", "40", "--days-per-100-kg", "2",
    )  # fmt: skip
    assert run.code == DONE
    for word in ("metal", "by your price", "days, by your numbers"):
        assert word in run.out


def test_gaps_of_a_ring(soundbow):
    """A ring without its second is given one, at the ring's own pitch and as heavy as its bells."""
    run = soundbow(
        "design", "--ring", "263.2@1540/2180 331.6@1220/1090 351.4@1150 394.3@1030", "--format", "json"
    )
    assert run.code == DONE
    (wanted,) = run.data["designs"]
    assert wanted["note"] == "D4"
    assert wanted["strike_hz"] == pytest.approx(263.2 * 2 ** (2 / 12), rel=0.003)
    assert run.data["ring"]["modes"][0] == "major"
    assert [bell["note"] for bell in run.data["ring"]["bells"]] == ["C4", "E4", "F4", "G4"]
    (size,) = wanted["sizes"]
    assert size["profile"] == "as the ring"
    assert 1220 < size["mouth_diameter_mm"]["value"] < 1540


def test_scale_of_the_ring(soundbow):
    """In a just scale the wanted second is 9/8 of the key note."""
    run = soundbow("design", "--ring", "C4 E4 F4 G4", "--scale", "just", "--format", "json")
    (wanted,) = run.data["designs"]
    assert run.data["ring"]["scale"] == "just"
    key_hz = run.data["ring"]["reference_hz"] * 2 ** (-9 / 12)
    assert wanted["strike_hz"] == pytest.approx(key_hz * 9 / 8, rel=1e-4)
    assert len(wanted["sizes"]) == 7


def test_sheet_of_a_ring(soundbow):
    """For people the ring is told with its key, pitch and the deviation of each bell."""
    run = soundbow("design", "--ring", "C4@1540 E4@1220 F4@1150 G4@1030")
    assert "Ring in C4 major" in run.out
    assert "a' = 440.0 Hz" in run.out
    assert "as the ring" in run.out


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ((), "Say what is wanted"),
        (("--note", "H3"), "--note"),
        (("--note", "D4", "--material", "brass"), "no published bells of brass"),
        (("--note", "D4", "--material", "cast-steel", "--profile-class", "medium"), "not defined"),
        (("--strike-hz", "9000"), "strike_hz"),
        (("--ring", "C4 D4"), "lacks no note"),
        (("--ring", "C4@wide D4"), "plain numbers"),
        (("--ring", "C4/// D4"), "plain numbers"),
        (("--ring", "@1200 D4"), "write NOTE"),
        (("--ring", "C4@20 E4@1220", "--note", "D4"), "mouth"),
        (("--note", "D4", "--price-per-kg", "-1"), "--price-per-kg"),
    ],
)
def test_wrong_usage(soundbow, words, said):
    """What cannot be designed is wrong usage, and says why."""
    run = soundbow("design", *words)
    assert run.code == USAGE
    assert said in run.err
