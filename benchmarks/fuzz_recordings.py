"""Whatever file it is given, ``soundbow sound`` gives a result or says what is wrong: try thousands of them.

Run ``python benchmarks/fuzz_recordings.py``; ``--cases 500 --seed 3`` for other ones. Each case is a file
that is drawn from its number: what sounds in it, in which format, with 8 to 64 bits, 8 to 192 kHz, one to six
channels; then it may be cut short, have bytes of its header or of its body changed, or be no audio at all.
Every file is read, analysed, and the answer written as text and as JSON. Counted is what came of it; an
exception that is no problem told to the user, or a warning, is a fault, and is printed with its number.
"""

import argparse
import io
import json
import sys
import time
import traceback
import warnings
from collections import Counter
from typing import NamedTuple

import numpy as np
import second_synthesis as second
import soundfile
import synthesis as first
from synthesis import Samples

from registry.cli.sound_data import as_data
from registry.cli.sound_sheet import as_text
from registry.derive.sound import analyse
from registry.problems import InputError
from registry.recordings import recording_of

FORMATS = (
    ("WAV", "PCM_U8"), ("WAV", "PCM_16"), ("WAV", "PCM_24"), ("WAV", "PCM_32"), ("WAV", "FLOAT"),
    ("WAV", "DOUBLE"), ("WAV", "ULAW"), ("WAV", "IMA_ADPCM"), ("WAVEX", "PCM_16"), ("RF64", "PCM_24"),
    ("FLAC", "PCM_S8"), ("FLAC", "PCM_16"), ("FLAC", "PCM_24"), ("OGG", "VORBIS"), ("OGG", "OPUS"),
    ("AIFF", "PCM_16"), ("W64", "PCM_16"), ("MP3", "MPEG_LAYER_III"),
)  # fmt: skip
LOSSY = ("VORBIS", "OPUS", "MPEG_LAYER_III", "ULAW", "IMA_ADPCM")
RATES_HZ = (8000, 11025, 16000, 22050, 32000, 44100, 48000, 88200, 96000, 176400, 192000)
SOUNDS = (
    "bell",
    "bell",
    "bell",
    "noise",
    "silence",
    "speech",
    "clipped",
    "click",
    "steady",
    "constant",
    "odd",
)
HARM = ("none", "none", "cut short", "header", "body", "garbage", "no audio")


class Case(NamedTuple):
    """One file, and what it was made of."""

    data: bytes
    told: str


def case_of(number: int, seed: int) -> Case:
    """Draw one file."""
    random = np.random.default_rng([seed, number])
    container, subtype = FORMATS[random.integers(len(FORMATS))]
    rate_hz = int(random.choice(RATES_HZ))
    channels = int(random.integers(1, 7))
    sound, harm = str(random.choice(SOUNDS)), str(random.choice(HARM))
    seconds = float(random.choice([0.0, 0.001, 0.3, 0.9, 1.5, 1.5, 2.5, 2.5]))
    samples = _sounding(sound, rate_hz, seconds, random)
    columns = np.stack([samples * random.uniform(-1.0, 1.0) for _ in range(channels)], axis=1)
    data = _written(columns, rate_hz, container, subtype)
    told = f"{sound}, {seconds} s, {container} {subtype}, {rate_hz} Hz, {channels} channels, {harm}"
    return Case(_harmed(data, harm, random), told)


def _sounding(sound: str, rate_hz: int, seconds: float, random: np.random.Generator) -> Samples:
    """Give samples of one kind of sound; ``odd`` holds what is no number, or far beyond full scale."""
    length = round(seconds * rate_hz)
    if sound in ("bell", "clipped"):
        kind = str(random.choice(list(second.KINDS)))
        modes = first.modes_of(second.drawn_bell(kind, random), random)
        modes = [mode for mode in modes if mode.frequency_hz < 0.45 * rate_hz]
        made = first.ringing(modes, rate_hz, seconds)
        made = made / max(float(np.max(np.abs(made), initial=0.0)), 1e-9)
        made = made + random.normal(0.0, 0.01, length)
        return np.clip(made, -0.3, 0.3) if sound == "clipped" else 0.9 * made
    if sound == "noise":
        return random.normal(0.0, 0.2, length)
    if sound == "speech" and length:
        return 0.1 * first.speaking(rate_hz, seconds, random)[:length]
    made = np.zeros(length)
    if sound == "click" and length:
        made[random.integers(length)] = 1.0
    elif sound == "steady":
        made = 0.5 * np.sin(2.0 * np.pi * random.uniform(40.0, 3000.0) / rate_hz * np.arange(length))
    elif sound == "constant":
        made += random.uniform(-1.0, 1.0)
    elif sound == "odd" and length:
        places = random.integers(length, size=3)
        made = random.normal(0.0, 0.1, length)
        made[places] = random.choice([np.nan, np.inf, -np.inf, 1e30, 1e-40, 5.0], 3)
    return made


def _written(columns: Samples, rate_hz: int, container: str, subtype: str) -> bytes:
    """Write a file; what a format cannot hold is written as WAV of floating-point numbers."""
    file = io.BytesIO()
    if subtype in LOSSY:  # the library that writes these cannot stand what is no number
        columns = np.clip(np.nan_to_num(columns), -1.0, 1.0)
    try:
        soundfile.write(file, columns, rate_hz, format=container, subtype=subtype)
    except (soundfile.SoundFileError, ValueError, AssertionError):
        file = io.BytesIO()
        soundfile.write(file, columns, rate_hz, format="WAV", subtype="FLOAT")
    return file.getvalue()


def _harmed(data: bytes, harm: str, random: np.random.Generator) -> bytes:
    """Cut a file short, change bytes of it, or give something else altogether."""
    changed = bytearray(data)
    if harm == "cut short":
        return data[: random.integers(len(data) + 1)]
    if harm in ("header", "body") and changed:
        last = min(64, len(changed)) if harm == "header" else len(changed)
        for place in random.integers(last, size=random.integers(1, 9)):
            changed[place] = random.integers(256)
        return bytes(changed)
    if harm == "garbage":
        return data + random.bytes(int(random.integers(1, 2000)))
    if harm == "no audio":
        return data[:12] + random.bytes(int(random.integers(0, 3000)))
    return data


def outcome_of(data: bytes) -> str:
    """Do all that the command does with a file, and name what came of it."""
    try:
        recording = recording_of(data, "case")
    except InputError as error:
        json.dumps([problem._asdict() for problem in error.problems], default=str)
        return error.problems[0].code
    analysis = analyse(recording.samples, recording.rate_hz)
    json.dumps(as_data(recording, analysis), allow_nan=False)
    as_text(recording, analysis)
    if analysis.refusals:
        return analysis.refusals[0].code
    return "named" if analysis.partials else "measured, no name given"


def main() -> None:
    """Try the cases and count what came of them; 1 if there was any fault."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--cases", type=int, default=5000)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--first", type=int, default=0, help="number of the first case")
    asked = parser.parse_args()
    warnings.simplefilter("error")
    faults: list[str] = []
    sys.unraisablehook = lambda found: faults.append(f"{found.exc_value!r} in {found.object!r}")
    counted: Counter[str] = Counter()
    slowest = 0.0, ""
    for number in range(asked.first, asked.first + asked.cases):
        case = case_of(number, asked.seed)
        begun = time.perf_counter()
        try:
            came = outcome_of(case.data)
        except Exception:
            came = "FAULT"
            print(f"{number}: {case.told}\n{traceback.format_exc()}")
        if faults:
            came = "FAULT"
            print(f"{number}: {case.told}\n{faults.pop()}")
        counted[came] += 1
        slowest = max(slowest, (time.perf_counter() - begun, f"{number}: {case.told}"))
    for came, count in counted.most_common():
        print(f"{count:6}  {came}")
    print(f"slowest {slowest[0]:.1f} s, {slowest[1]}")
    sys.exit(counted["FAULT"] > 0)


if __name__ == "__main__":
    main()
