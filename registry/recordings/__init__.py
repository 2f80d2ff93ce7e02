"""Audio files in, the samples of one channel or the reason why not out."""

from registry.recordings.reading import LONGEST_S, Recording, read_recording, recording_of

__all__ = ["LONGEST_S", "Recording", "read_recording", "recording_of"]
