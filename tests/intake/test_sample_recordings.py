"""The sample's recordings are made of the partials its forms list, and tell them when they are analysed."""

from contextlib import closing
from pathlib import Path

import pytest
from sample_forms import surveys
from specimens import bell, rows, visit, write

from registry.intake.sample_recordings import make_recordings
from registry.recordings import read_recording
from registry.recordings.made import Partial, recording_made_of
from registry.store.database import open_registry
from registry.store.pages_sound import read_ring

REFUSED = "SELECT refused FROM recording WHERE survey_id = ? AND bell_id = ?"
VALUES = "SELECT quantity, value FROM recording_value WHERE survey_id = ? AND bell_id = ?"
PARTIALS = [Partial("hum", 200.0), Partial("nominal", 800.0, 2.0)]


def test_the_sample_has_its_recordings_analysed(sample_registry: Path) -> None:
    """Each listed partial and beat of the forms is found within a tenth of a hertz, and none is refused."""
    listed = {
        (survey.survey.id, each.bell): {one.name: one for one in found.sound.partials}
        for survey in surveys()
        for each in survey.attachments
        for found in survey.bells
        if each.kind == "recording" and each.bell == found.id
    }
    assert len(listed) == 5
    for (survey_id, bell_id), partials in listed.items():
        which = (survey_id, bell_id)
        assert rows(sample_registry, REFUSED, *which) == [(None,)]
        values = dict(rows(sample_registry, VALUES, *which))
        for name, partial in partials.items():
            word = name.replace("-", "_")
            assert values[f"{word}_hz"] == pytest.approx(partial.frequency_hz, abs=0.1)
            if partial.beat_hz:
                second = partial.frequency_hz + partial.beat_hz
                assert values[f"{word}_doublet_hz"] == pytest.approx(second, abs=0.1)


def test_a_ring_goes_by_its_recordings(sample_registry: Path) -> None:
    """A bell whose recording gives a strike note stands in its ring with that, half its nominal."""
    with closing(open_registry(sample_registry)) as conn:
        ring = {note.bell_id: note for note in read_ring(conn, "vellhaven-minster")}
    angelus = ring["vellhaven-minster-angelus"]
    assert angelus.strike_basis == "recording"
    assert angelus.strike_hz == pytest.approx(828.0 / 2.0, abs=0.1)
    assert ring["vellhaven-minster-noon"].strike_basis != "recording"


def test_a_recording_is_made_once_and_below_the_folder(tmp_path: Path) -> None:
    """What is there is left as it is, and a form without partials makes nothing."""
    sound = bell(
        "oster-gate-great",
        "identity: {status: hanging}\nsound: {partials: [{name: hum, frequency_hz: 200}]}\n",
    )
    attached = "attachments:\n  - {file: a/one.flac, kind: recording, bell: oster-gate-great}\n"
    write(tmp_path, "with.yaml", visit("with", sound, extra=attached))
    write(tmp_path, "without.yaml", visit("without", extra=attached.replace("one", "two")))
    assert make_recordings(tmp_path) == 1
    assert make_recordings(tmp_path) == 0
    assert [path.name for path in (tmp_path / "a").iterdir()] == ["one.flac"]


def test_a_seed_makes_the_same_bytes(tmp_path: Path) -> None:
    """The same partials and seed make the same file, another seed another one; both can be read."""
    first, again, other = (recording_made_of(PARTIALS, 60.0, seed) for seed in (1, 1, 2))
    assert first == again != other
    (tmp_path / "made.flac").write_bytes(first)
    read = read_recording(tmp_path / "made.flac")
    assert (read.rate_hz, read.channels) == (22050, 1)
    assert 0.5 < float(abs(read.samples).max()) < 1.0
