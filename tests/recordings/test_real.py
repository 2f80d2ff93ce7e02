"""A real recording: a small handbell, struck once (CC0, see ``real/LICENCE.txt``)."""

import hashlib
from pathlib import Path

import numpy as np
import pytest

from registry.derive.sound import SoundAnalysis, analyse
from registry.recordings import Recording, read_recording

FILE = Path(__file__).parent / "real" / "perc_bell.flac"


@pytest.fixture(scope="module")
def recording() -> Recording:
    """Read the recording."""
    return read_recording(FILE)


@pytest.fixture(scope="module")
def analysis(recording: Recording) -> SoundAnalysis:
    """Analyse the recording."""
    return analyse(recording.samples, recording.rate_hz)


def test_it_is_the_file_that_was_licensed(recording: Recording) -> None:
    """The fingerprint is that of the bytes, and the licence lies beside them."""
    assert recording.sha256 == hashlib.sha256(FILE.read_bytes()).hexdigest()
    assert "CC0" in (FILE.parent / "LICENCE.txt").read_text(encoding="utf-8")


def test_a_handbell_gets_no_names_of_a_tower_bell(analysis: SoundAnalysis) -> None:
    """It is not refused, its tones are measured, and none is given the name of a partial it has not."""
    assert analysis.refusals == ()
    assert len(analysis.strokes) == 1
    assert analysis.partials == ()
    assert analysis.strike is None


def test_its_loud_tones_are_peaks_of_its_spectrum(recording: Recording, analysis: SoundAnalysis) -> None:
    """Each loud tone lies within a bin of a peak of the plain transform of numpy, as a second opinion."""
    power = np.abs(np.fft.rfft(recording.samples * np.hanning(len(recording.samples))))
    peaks = 1 + np.flatnonzero((power[1:-1] > power[:-2]) & (power[1:-1] > power[2:]))
    hertz = peaks / recording.duration_s
    loud = [
        each.tone for each in analysis.unnamed if each.level_db > -25.0 and (each.tone.t60_s or 0.0) > 1.0
    ]
    assert len(loud) >= 2
    for tone in loud:
        assert np.min(np.abs(hertz - tone.frequency_hz)) < 1.0 / recording.duration_s


def test_a_doublet_is_told_apart(analysis: SoundAnalysis) -> None:
    """The tone of 3.62 kHz has a second one 5.6 Hz below, as far apart as published bells have them."""
    pair = next(each for each in analysis.unnamed if 3610.0 < each.tone.frequency_hz < 3630.0)
    assert pair.doublet is not None
    assert 2.0 < (pair.split_cents or 0.0) < 4.0
