"""``soundbow sound``: what it prints of a recording, and how it refuses."""

from pathlib import Path
from typing import Any

import pytest
from recorded_bells import PARTIALS, ring, silence

DONE, PROBLEMS, USAGE = 0, 1, 2
NOMINAL_HZ = 800.0


@pytest.fixture(scope="module")
def recorded(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Give the recording of one stroke of an invented bell."""
    return ring(tmp_path_factory.mktemp("sound") / "great.wav", NOMINAL_HZ)


def test_json_gives_strike_and_partials_by_name(soundbow: Any, recorded: Path) -> None:
    """Every partial that was made stands under its name in lower case, with frequency, T60 and level."""
    run = soundbow("sound", recorded, "--format", "json")
    assert run.code == DONE
    assert run.data["strike_hz"] == pytest.approx(NOMINAL_HZ / 2.0, rel=1e-4)
    found = {each["name"]: each for each in run.data["partials"]}
    assert list(found) == [name.replace("-", " ") for name, *_ in PARTIALS]
    for name, ratio, _, t60_s in PARTIALS:
        told = found[name.replace("-", " ")]
        assert told["frequency_hz"] == pytest.approx(ratio * NOMINAL_HZ, rel=1e-4)
        assert told["t60_s"] == pytest.approx(t60_s, rel=0.05)
        assert told["level_db"] <= 0.0
        assert told["doublet_hz"] is None


def test_text_holds_the_note_against_the_size(soundbow: Any, recorded: Path) -> None:
    """A bell of 1.04 m sounds about 400 Hz by the law; by its radius the note is an octave too low."""
    fits = soundbow("sound", recorded, "--mouth-diameter-mm", "104 cm")
    radius = soundbow("sound", recorded, "--mouth-diameter-mm", "52 cm")
    assert fits.code == radius.code == DONE
    assert "By its size" in fits.out
    assert "octave below" not in fits.out
    assert "the radius for the diameter" in " ".join(radius.out.split())
    assert "Sound alone does not clear a bell" in fits.out


def test_what_cannot_be_judged_is_refused_with_the_reason(soundbow: Any, tmp_path: Path) -> None:
    """Silence has neither strike nor partials, in JSON too, and what is no audio is named."""
    quiet = silence(tmp_path / "quiet.wav")
    run = soundbow("sound", quiet, "--format", "json")
    assert run.code == PROBLEMS
    assert (run.data["strike_hz"], run.data["partials"]) == (None, [])
    assert [each["code"] for each in run.data["refused"]] == ["recording-silent"]
    noise = tmp_path / "no-audio.wav"
    noise.write_bytes(b"not a recording")
    assert soundbow("sound", noise).code == PROBLEMS
    assert "recording-unreadable" in soundbow("sound", noise).err + soundbow("sound", noise).out


@pytest.mark.parametrize("size", ["5 mm", "-3", "wide"])
def test_a_size_that_no_bell_has_is_wrong_usage(soundbow: Any, recorded: Path, size: str) -> None:
    """A diameter beyond the range of the form ends with 2, not with a fault."""
    assert soundbow("sound", recorded, "--mouth-diameter-mm", size).code == USAGE


@pytest.mark.parametrize("temperature", ["nan", "inf", "-400", "300", "warm"])
def test_a_temperature_that_no_bell_has_is_wrong_usage(
    soundbow: Any, recorded: Path, temperature: str
) -> None:
    """A temperature beyond the range of the form, or no number, never stands in a result."""
    assert soundbow("sound", recorded, "--temperature-c", temperature).code == USAGE


def test_a_temperature_is_read_with_its_unit(soundbow: Any, recorded: Path) -> None:
    """Degrees Fahrenheit become Celsius: 68 °F are 20 °C by definition."""
    warm = soundbow("sound", recorded, "--temperature-c", "68 °F", "--format", "json")
    assert warm.code == DONE
    assert '"temperature_c": 20.0' in warm.out


def test_an_interval_is_never_shown_as_nothing(soundbow: Any, recorded: Path) -> None:
    """A frequency that a clean recording fixes to a fraction of the last digit still shows its doubt."""
    told = soundbow("sound", recorded).out
    assert " <0.001 " in told
    assert " 0.000 " not in told
    assert "The clock of the recorder comes on top" in " ".join(told.split())


def test_several_recordings_are_held_against_each_other(soundbow: Any, tmp_path: Path) -> None:
    """Three bells tuned to an equal-tempered triad at a' = 440 Hz make a ring without deviations."""
    files = [
        ring(tmp_path / f"{name}.wav", 880.0 * 2.0 ** (step / 12.0))
        for name, step in (("fifth", -2), ("tonic", -9), ("third", -5))
    ]
    run = soundbow("sound", *files, "--format", "json")
    assert run.code == DONE
    assert [Path(each["file"]).stem for each in run.data["recordings"]] == ["fifth", "tonic", "third"]
    told = run.data["ring"]
    assert told["scale"] == "equal"
    assert told["reference_hz"] == pytest.approx(440.0, rel=1e-4)
    assert [(bell["file"], bell["note"]) for bell in told["bells"]] == [
        ("tonic.wav", "C4"),
        ("third.wav", "E4"),
        ("fifth.wav", "G4"),
    ]
    assert all(abs(bell["deviation_cents"][0]) < 0.2 for bell in told["bells"])
    text = soundbow("sound", *files)
    assert "Ring of 3: fits the equal scale on C4 best, at a' = 440.0" in text.out
    assert text.out.count("does not clear") == 1


def test_one_bad_recording_does_not_hide_the_others(soundbow: Any, recorded: Path, tmp_path: Path) -> None:
    """The good one is told, the silent one named, and there is no ring of one bell."""
    quiet = silence(tmp_path / "quiet.wav")
    run = soundbow("sound", quiet, recorded)
    assert run.code == PROBLEMS
    assert "Strike note" in run.out
    assert "No ring" in run.out
    assert "recording-silent" in run.out + run.err


def test_a_size_is_of_one_bell(soundbow: Any, recorded: Path) -> None:
    """One diameter for two recordings is wrong usage."""
    assert soundbow("sound", recorded, recorded, "--mouth-diameter-mm", "1040").code == USAGE
