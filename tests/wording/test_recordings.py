"""What a recording tells in words: partials, decay, and the change against the one before."""

from typing import Any

import pytest

from registry.derive.temperature import cents_warmer
from registry.wording.recordings import recordings_shown

HEARD = {"hum": 200.0, "prime": 400.0, "tierce": 480.0, "nominal": 800.0}


def recording(
    file: str, cents: float = 0.0, *, temperature_c: float | None = None, refused: str | None = None
) -> tuple[dict[str, Any], dict[str, dict[str, Any]]]:
    """Make a recording as it is stored, its partials moved by some cents."""
    row = {
        "file": file,
        "as_of": "2020-05-04",
        "temperature_c": temperature_c,
        "mouth_diameter_mm": 1040.0,
        "refused": refused,
        "refused_because": "noise alone",
        "noise_db": -60.0,
        "signs": [],
    }
    values = {}
    for name, hz in HEARD.items():
        heard = hz * 2.0 ** (cents / 1200.0)
        told = {
            f"{name}_hz": (heard, heard - 0.01, heard + 0.01, ""),
            f"{name}_t60_s": (8.0, 7.9, 8.1, ""),
            f"{name}_level_db": (-6.0, None, None, ""),
        }
        for quantity, (value, low, high, note) in told.items():
            values[quantity] = {"value": value, "low": low, "high": high, "note": note, "version": 1}
    strike = HEARD["nominal"] / 2.0 * 2.0 ** (cents / 1200.0)
    values["strike_hz"] = {"value": strike, "low": strike, "high": strike, "note": "", "version": 1}
    absent = {"value": None, "low": None, "high": None, "note": "absent: nothing there", "version": 1}
    return row, {} if refused else values | {"quint_hz": absent}


def test_partials_stand_with_what_is_absent_and_the_caution() -> None:
    """The lowest partial comes first, an absent one is named, and no sound clears a bell."""
    shown = recordings_shown([recording("great.wav")], "bronze")
    assert shown is not None
    (one,) = shown.recordings
    assert [tone.name for tone in one.tones] == list(HEARD)
    assert one.absent == ["quint"]
    assert one.spectrum is not None
    assert one.spectrum.wide.levels
    assert one.decay is not None
    assert len(one.decay.rows) == len(HEARD)
    assert one.changes == []
    assert "clear" in shown.caution


def test_the_note_is_held_against_the_size() -> None:
    """The law's 416 Hz·m over 1.04 m is 400 Hz, half the nominal; an octave off is told as such."""
    shown = recordings_shown([recording("b.wav", -1200.0), recording("a.wav")], "bronze")
    assert shown is not None
    octave, usual = (each.from_size for each in shown.recordings)
    assert octave is not None
    assert usual is not None
    assert abs(usual.cents) < 10.0
    assert usual.doubt == ""
    assert "octave below" in octave.doubt
    assert 150.0 < usual.half_cents < 350.0
    other = recordings_shown([recording("a.wav")], "glass")
    assert other is not None
    assert other.recordings[0].from_size is None


def test_the_effect_of_temperature_is_taken_off() -> None:
    """A bell that is flatter by what its warmth makes has not changed."""
    warmer = cents_warmer(25.0, 5.0)
    assert warmer is not None
    assert warmer < 0.0
    shown = recordings_shown(
        [recording("b.wav", warmer, temperature_c=25.0), recording("a.wav", temperature_c=5.0)], "bronze"
    )
    assert shown is not None
    newest = shown.recordings[0]
    assert newest.before is not None
    assert newest.before["file"] == "a.wav"
    assert all(change.cents == pytest.approx(0.0, abs=1e-6) for change in newest.changes)
    assert all(change.low_cents < 0.0 < change.high_cents for change in newest.changes)
    assert "taken off" in newest.temperatures


@pytest.mark.parametrize(("then_c", "material"), [(None, "bronze"), (5.0, None)])
def test_without_both_temperatures_nothing_is_taken_off(then_c: float | None, material: str | None) -> None:
    """A change is told as it was heard, and the words say so."""
    shown = recordings_shown(
        [recording("b.wav", -5.0, temperature_c=25.0), recording("a.wav", temperature_c=then_c)], material
    )
    assert shown is not None
    newest = shown.recordings[0]
    assert [change.cents for change in newest.changes] == pytest.approx([-5.0] * len(HEARD))
    assert "nothing is taken off" in newest.temperatures


def test_a_refused_recording_tells_why_and_is_no_measure() -> None:
    """What could not be judged has no partials, and nothing is counted from it."""
    shown = recordings_shown(
        [recording("c.wav"), recording("b.wav", refused="recording-silent"), recording("a.wav")], "bronze"
    )
    assert shown is not None
    newest, refused, _ = shown.recordings
    assert "noise alone" in refused.refused
    assert refused.tones == []
    assert newest.before is not None
    assert newest.before["file"] == "a.wav"


def test_a_bell_without_recordings_shows_none() -> None:
    """No recording, no section."""
    assert recordings_shown([], "bronze") is None
