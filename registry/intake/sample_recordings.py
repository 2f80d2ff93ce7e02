"""Make the recordings that forms of the sample name, from the partials the same forms list."""

from datetime import date
from pathlib import Path
from zlib import crc32

from registry.forms.check import check_file
from registry.model.survey import Survey


def make_recordings(folder: Path) -> int:
    """Make every recording that is named in a form of a folder, has partials there, and is not there yet.

    Parameters
    ----------
    folder : Path
        The forms of the sample. Only what they name below this folder is written.

    Returns
    -------
    int
        How many were made.
    """
    made = 0
    for path in sorted(folder.glob("*.yaml")):
        if "kind: recording" not in path.read_text(encoding="utf-8"):
            continue
        read = check_file(path, path.name, today=date.today()).read
        made += _make_those_of(read.survey, folder) if read is not None else 0
    return made


def _make_those_of(form: Survey, folder: Path) -> int:
    # Numbers and sound are slow to load, and a demonstration that was shown before has its recordings.
    from registry.recordings.made import Partial, recording_made_of  # noqa: PLC0415

    made = 0
    sounds = {bell.id: bell.sound for bell in form.bells if bell.sound is not None}
    for attachment in form.attachments:
        sound, path = sounds.get(attachment.bell or ""), folder / attachment.file
        if attachment.kind != "recording" or sound is None or not sound.partials or path.exists():
            continue
        partials = [Partial(each.name, each.frequency_hz, each.beat_hz) for each in sound.partials]
        path.parent.mkdir(parents=True, exist_ok=True)
        seed = crc32(attachment.file.encode())
        path.write_bytes(recording_made_of(partials, sound.rings_for_s or 60.0, seed))
        made += 1
    return made
