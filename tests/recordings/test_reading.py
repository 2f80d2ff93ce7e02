"""Audio files: the loudest channel out, or a clear problem, whatever the bytes."""

import io
from pathlib import Path

import numpy as np
import pytest
import soundfile
from hypothesis import given, settings
from hypothesis import strategies as st

from registry.problems import InputError
from registry.recordings import read_recording
from registry.recordings.reading import recording_of

RATE_HZ = 8000


def audio(
    samples: np.ndarray, rate_hz: int = RATE_HZ, kind: str = "WAV", subtype: str | None = None
) -> bytes:
    """Encode samples, one column a channel."""
    file = io.BytesIO()
    soundfile.write(file, samples, rate_hz, format=kind, subtype=subtype)
    return file.getvalue()


def tone(channels: int = 1) -> np.ndarray:
    """Give half a second of a tone, louder from channel to channel."""
    wave = np.sin(2.0 * np.pi * 440.0 * np.arange(RATE_HZ // 2) / RATE_HZ)
    return np.outer(wave, np.linspace(0.2, 0.8, channels)) if channels > 1 else 0.8 * wave


@pytest.mark.parametrize(
    ("kind", "subtype"),
    [
        ("WAV", "PCM_U8"),
        ("WAV", "PCM_16"),
        ("WAV", "PCM_24"),
        ("WAV", "FLOAT"),
        ("FLAC", "PCM_16"),
        ("OGG", None),
    ],
)
def test_formats(tmp_path: Path, kind: str, subtype: str | None) -> None:
    """WAV of 8 to 32 bit, FLAC and OGG give the same tone."""
    path = tmp_path / f"bell.{kind.lower()}"
    path.write_bytes(audio(tone(), kind=kind, subtype=subtype))
    recording = read_recording(path)
    assert (recording.rate_hz, recording.channels, recording.channel) == (RATE_HZ, 1, 1)
    assert recording.duration_s == pytest.approx(0.5, abs=0.01)
    assert float(np.max(np.abs(recording.samples))) == pytest.approx(0.8, abs=0.1)


def test_the_loudest_channel_is_taken() -> None:
    """Of six channels the loudest one is analysed; they are never added up."""
    recording = recording_of(audio(tone(6)), "six.wav")
    assert (recording.channels, recording.channel) == (6, 6)


def code_of(data: bytes) -> str:
    """Give the code of the one problem of a file."""
    with pytest.raises(InputError) as caught:
        recording_of(data, "bell.wav")
    (problem,) = caught.value.problems
    return problem.code


def test_what_is_no_audio_is_told() -> None:
    """Text, nothing at all and NaN are no recordings."""
    assert code_of(b"form: soundbow survey 1\n") == "recording-unreadable"
    assert code_of(b"") == "recording-unreadable"
    assert code_of(audio(np.full(900, np.nan), subtype="FLOAT")) == "recording-unreadable"


def test_what_is_too_long_is_told() -> None:
    """No stroke of a bell lasts eleven minutes."""
    assert code_of(audio(np.zeros(4000 * 661, np.int16), 4000)) == "recording-too-long"


def test_a_missing_file_is_told(tmp_path: Path) -> None:
    """A name without a file is a problem, not a traceback."""
    with pytest.raises(InputError) as caught:
        read_recording(tmp_path / "none.wav")
    assert [problem.code for problem in caught.value.problems] == ["file-missing"]


@settings(deadline=None, max_examples=150)
@given(st.data())
def test_spoiled_files_give_a_result_or_a_problem(data: st.DataObject) -> None:
    """Bytes cut off or changed at random never end in a traceback."""
    whole = bytearray(audio(tone(2), kind=data.draw(st.sampled_from(["WAV", "FLAC"]))))
    for _ in range(data.draw(st.integers(1, 6))):
        place = data.draw(st.integers(0, min(200, len(whole) - 1)))
        whole[place] = data.draw(st.integers(0, 255))
    end = data.draw(st.integers(0, len(whole)))
    try:
        recording = recording_of(bytes(whole[:end]), "spoiled")
    except InputError as refused:
        told = len(refused.problems)
    else:
        told = int(np.isfinite(recording.samples).all())
    assert told == 1
