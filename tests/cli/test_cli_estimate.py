"""``soundbow estimate``. The figures themselves are tested against publications in tests/derive."""

import pytest

from registry.cli.group import DONE, USAGE
from registry.derive.mass import mass_estimates
from registry.derive.strike import strike_estimate
from registry.model.pitch import note_of


def test_json_has_mass_strike_and_note(soundbow):
    """Size alone gives mass, strike note and note name, each with its 90 % interval and method."""
    run = soundbow("estimate", "--mouth-diameter-mm", "1180", "--profile-class", "medium", "--format", "json")
    assert run.code == DONE
    for quantity in ("mass_kg", "strike_hz"):
        estimate = run.data[quantity]
        assert estimate["low"] < estimate["value"] < estimate["high"]
        assert estimate["level"] == 0.9
        assert estimate["method"] == "size-and-class"
        assert estimate["source"]
    assert run.data["mass_kg"]["value"] == pytest.approx(
        mass_estimates(1180, profile_class="medium")[0].value, rel=1e-3
    )
    assert run.data["strike_hz"]["value"] == pytest.approx(strike_estimate(1180, "medium").value, rel=1e-3)
    assert run.data["note"] == note_of(run.data["strike_hz"]["value"]).scientific


def test_a_given_value_is_not_estimated(soundbow):
    """With the strike note given there is no estimate of it; the mass and the note name rest on it."""
    run = soundbow("estimate", "--mouth-diameter-mm", "1180", "--strike-hz", "330", "--format", "json")
    assert "strike_hz" not in run.data
    assert run.data["mass_kg"]["method"] == "size-and-strike"
    assert run.data["inputs"]["strike_hz"] == 330
    assert run.data["note"] == "E4"  # 329.63 Hz, ISO 16:1975 and equal temperament


@pytest.mark.parametrize("written", ["46 1/2 in", "118.11 cm", "3 ft 10 1/2 in", "1181.1 mm"])
def test_size_is_read_with_its_unit(soundbow, written):
    """A size with another unit of length gives what its millimetres give (1 in = 25.4 mm, 1959)."""
    in_mm = soundbow("estimate", "--mouth-diameter-mm", "1181.1", "--format", "json")
    assert soundbow("estimate", "--mouth-diameter-mm", written, "--format", "json").data == in_mm.data


def test_steel_never_uses_bronze(soundbow):
    """The mass of a steel bell is what a plate of steel needs for its note, and cannot be that of bronze.

    At one size and note masses go with density^1.5 / stiffness^0.5. Bronze 8800 kg/m3 and 110 GPa (C91300,
    Copper Development Association), steel 7870 kg/m3 and 200 GPa (Callister).
    """
    words = ("estimate", "--mouth-diameter-mm", "1180", "--strike-hz", "392", "--format", "json")
    bronze = soundbow(*words).data["mass_kg"]
    steel = soundbow(*words, "--material", "cast-steel").data["mass_kg"]
    expected = bronze["value"] * (7870 / 8800) ** 1.5 * (110 / 200) ** 0.5
    assert steel["low"] < expected < steel["high"] < bronze["value"]


def test_no_basis_no_figure(soundbow):
    """For a material of which no bell is published there is no figure, but a reason."""
    run = soundbow("estimate", "--mouth-diameter-mm", "1180", "--material", "glass", "--format", "json")
    assert run.code == DONE
    assert run.data["mass_kg"]["value"] is None
    assert run.data["strike_hz"] is None
    assert run.data["note"] is None
    assert run.data["mass_kg"]["caveat"]


def test_a_doubtful_strike_note_is_told(soundbow):
    """A strike note an octave off is not trusted: the mass rests on the size, and the doubt is printed."""
    run = soundbow("estimate", "--mouth-diameter-mm", "1180", "--strike-hz", "680")
    assert "by size\n" in run.out.splitlines(keepends=True)[2]
    assert "octave too high" in " ".join(run.out.split())


def test_table_prints_the_caution_and_the_sources(soundbow):
    """The text for people ends with what the figures rest on and what they must not be used for."""
    run = soundbow("estimate", "--mouth-diameter-mm", "1180")
    assert "Sources\n" in run.out
    assert "lifting gear" in run.out


@pytest.mark.parametrize(
    "words",
    [
        [],
        ["--mouth-diameter-mm", "wide"],
        ["--mouth-diameter-mm", "1180,5"],
        ["--mouth-diameter-mm", "5"],
        ["--mouth-diameter-mm", "1180", "--material", "cheese"],
        ["--mouth-diameter-mm", "1180", "--strike-hz", "-3"],
        ["--mouth-diameter-mm", "1180", "--strike-hz", "0"],
        ["--mouth-diameter-mm", "nan"],
    ],
)
def test_what_no_bell_can_have_is_wrong_usage(soundbow, words):
    """An option that cannot be read, or that no bell can have, is wrong usage and says what is wrong."""
    run = soundbow("estimate", *words)
    assert run.code == USAGE
    assert run.out == ""
    assert "Error:" in run.err


def test_soundbow_and_year(soundbow):
    """Thickness and year are ways of their own to the mass, and the thickness to the note."""
    run = soundbow(
        "estimate", "--mouth-diameter-mm", "1180", "--soundbow-thickness-mm", "3.4 in", "--strike-hz", "345",
        "--cast-year", "1890", "--format", "json",
    )  # fmt: skip
    assert run.data["mass_kg"]["method"] == "size-strike-and-date"
    assert "size-and-thickness" in [each["method"] for each in run.data["other_estimates"]]
    silent = soundbow(
        "estimate", "--mouth-diameter-mm", "1180", "--soundbow-thickness-mm", "87", "--format", "json"
    )
    assert silent.data["strike_hz"]["method"] == "size-and-thickness"


def test_class_from_size_and_note(soundbow):
    """Size and note give a probability for each of the seven classes; a class that is given is not judged."""
    words = ("estimate", "--mouth-diameter-mm", "1180", "--strike-hz", "345", "--format", "json")
    shares = soundbow(*words).data["profile_class"]
    assert len(shares) == 7
    assert sum(shares.values()) == pytest.approx(1.0, abs=0.01)
    assert "profile_class" not in soundbow(*words, "--profile-class", "medium").data
    assert "Class" in soundbow("estimate", "--mouth-diameter-mm", "1180", "--strike-hz", "345").out


def test_contradiction(soundbow):
    """A note that fits neither size nor sound-bow is told with the likelier mistake."""
    words = ("estimate", "--mouth-diameter-mm", "1180", "--strike-hz", "690", "--soundbow-thickness-mm", "86")
    assert "octave too high" in soundbow(*words, "--format", "json").data["contradiction"]
    assert "Doubt" in soundbow(*words).out
