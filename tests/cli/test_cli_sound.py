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
