"""Read a WAV, FLAC or OGG file: the samples of the loudest channel, and the fingerprint of the file."""

import hashlib
import io
from pathlib import Path
from typing import NamedTuple

import numpy as np
import soundfile
from numpy.typing import NDArray

from registry.problems import InputError, whole_file_problem

LARGEST_BYTES = 1 << 30
LONGEST_S = 600.0
"""Ten minutes: no bell rings longer than some."""
MOST_SAMPLES = 150_000_000
"""Of all channels together: ten minutes in stereo at 96 kHz; a limit to what a false header can ask for."""
LOWEST_RATE_HZ, HIGHEST_RATE_HZ = 4000, 400_000
MOST_CHANNELS = 32
BLOCK_FRAMES = 1 << 18
EXPECTED = "a WAV, FLAC or OGG recording"


class Recording(NamedTuple):
    """A recording as it is analysed.

    Parameters
    ----------
    samples : array of float32, shape (n,)
        One channel, full scale ±1: the one with most energy. Channels are never added up, for what reaches
        two microphones at different times would weaken or cancel. A file of floating-point numbers that
        exceeds full scale is brought down to it.
    rate_hz : float
        Sampling rate [Hz].
    sha256 : str
        Of the bytes of the file, hexadecimal.
    duration_s : float
        Length [s].
    channels : int
        How many the file has.
    channel : int
        Which one was taken, from 1.
    """

    samples: NDArray[np.float32]
    rate_hz: float
    sha256: str
    duration_s: float
    channels: int
    channel: int


def read_recording(path: Path | str, file: str | None = None) -> Recording:
    """Read a recording.

    Parameters
    ----------
    path : Path or str
        Where it is.
    file : str, optional
        What the file is called for people; ``path`` unless given.

    Returns
    -------
    Recording
        Samples and fingerprint.

    Raises
    ------
    InputError
        With one problem, when the file is not there, is no recording, is too long, or holds what are no
        numbers.
    """
    path = Path(path)
    shown = file or str(path)
    try:
        if path.exists() and not path.is_file():
            kind = "a folder" if path.is_dir() else "a device"
            raise _refused(shown, "recording-unreadable", kind, EXPECTED, "name the file itself")
        size = path.stat().st_size
        if size > LARGEST_BYTES:
            raise _too_long(shown, f"{size / 1e6:.0f} MB")
        data = path.read_bytes()
    except FileNotFoundError:
        raise _refused(shown, "file-missing", "nothing of this name", EXPECTED, "check the name") from None
    except (OSError, ValueError) as error:
        told = getattr(error, "strerror", None) or "a name that cannot be used"
        raise _refused(
            shown, "file-unreadable", told, "a file that may be read", "check its permissions"
        ) from None
    if not data:
        raise _refused(shown, "file-empty", "0 bytes", EXPECTED, "copy it again from the recorder")
    return recording_of(data, shown)


def recording_of(data: bytes, file: str) -> Recording:
    """Read a recording from the bytes of a file; ``file`` is what it is called. See `read_recording`."""
    every, rate_hz = _decoded(data, file)
    if not len(every):
        raise _refused(
            file, "recording-silent", "not a single sample", "a sound", "copy it again from the recorder"
        )
    wrong = int(np.count_nonzero(~np.isfinite(every)))
    if wrong:
        raise _refused(
            file,
            "recording-unreadable",
            f"{wrong} samples that are no numbers",
            "finite samples",
            "export the recording again as 16 or 24 bit WAV or FLAC",
        )
    peak = float(np.max(np.abs(every)))
    if peak > 1.0:
        every = every / np.float32(peak)
    channel = int(np.argmax(np.einsum("ij,ij->j", every, every, dtype=np.float64)))
    return Recording(
        np.ascontiguousarray(every[:, channel]),
        float(rate_hz),
        hashlib.sha256(data).hexdigest(),
        len(every) / rate_hz,
        every.shape[1],
        channel + 1,
    )


class _Bytes(io.BytesIO):
    """Bytes to be decoded. A broken header may ask for a place before the first: the decoder stays put."""

    def seek(self, offset: int, whence: int = io.SEEK_SET, /) -> int:
        try:
            return super().seek(offset, whence)
        except ValueError:
            return self.tell()


def _decoded(data: bytes, file: str) -> tuple[NDArray[np.float32], int]:
    """Give all samples, one column a channel, and the sampling rate."""
    try:
        with soundfile.SoundFile(_Bytes(data)) as opened:
            rate_hz, channels = int(opened.samplerate), int(opened.channels)
            if not LOWEST_RATE_HZ <= rate_hz <= HIGHEST_RATE_HZ or channels > MOST_CHANNELS:
                raise _refused(
                    file,
                    "recording-unreadable",
                    f"{rate_hz} samples a second, {channels} channels",
                    f"{LOWEST_RATE_HZ} to {HIGHEST_RATE_HZ} a second, at most {MOST_CHANNELS} channels",
                    "copy it again from the recorder, or record with 44 100 or 48 000 samples a second",
                )
            blocks, frames = [], 0
            while len(block := opened.read(BLOCK_FRAMES, dtype="float32", always_2d=True)):
                blocks.append(block)
                frames += len(block)
                if frames > LONGEST_S * rate_hz or frames * channels > MOST_SAMPLES:
                    raise _too_long(file, f"more than {frames / rate_hz:.0f} s, {channels} channels")
    except (soundfile.SoundFileError, RuntimeError, ValueError, TypeError, OSError, MemoryError) as error:
        raise _refused(
            file,
            "recording-unreadable",
            f"no audio that can be decoded ({_first_line(error)})",
            EXPECTED,
            "play the file to its end; export it again as WAV or FLAC",
        ) from None
    return np.concatenate(blocks) if blocks else np.zeros((0, channels), np.float32), rate_hz


def _first_line(error: Exception) -> str:
    """Give what the sound library says, without addresses of objects."""
    told = str(getattr(error, "error_string", "")).strip().rstrip(".")
    return told.splitlines()[0][:200] if told else type(error).__name__


def _too_long(file: str, read: str) -> InputError:
    return _refused(
        file,
        "recording-too-long",
        read,
        f"at most {LONGEST_S / 60.0:.0f} minutes",
        "cut out one stroke, from just before the blow until it has died away",
    )


def _refused(file: str, code: str, read: str, expected: str, remedy: str) -> InputError:
    return InputError([whole_file_problem(file, code, read, expected, remedy)])
