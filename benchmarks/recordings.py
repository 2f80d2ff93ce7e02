"""How good is what a recording tells? Bells with known partials are synthesised, and analysed as files are.

Run ``python benchmarks/recordings.py``; ``--more 5`` draws each case five times, ``--wrong`` tells what
failed, ``--seconds`` how much time of one core a minute of sound takes instead.

Two ways of making a recording (``synthesis``, ``second_synthesis``) share the published partials and nothing
else. A case is one recording. Frequencies are held against the nearer tone of a doublet, decay against that
tone's; *labels right* counts the recordings in which every named partial that was made bears its name and no
other tone does. A doublet is expected to be split where 2/Δf fits the length. *T60 told* is how often the
90 % interval of T60 holds what was made.
"""

import argparse
import os
import subprocess
import sys
import time
from collections.abc import Callable, Iterator, Sequence
from functools import partial
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import NamedTuple

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # before numpy is loaded: figures are those of one core

import numpy as np
import second_synthesis as second
import soundfile
import synthesis as first
from synthesis import NAMES, Bell, Mode, Samples

from registry.derive.sound import SoundAnalysis, analyse
from registry.derive.sound.analysis import NamedPartial
from registry.recordings import read_recording, recording_of

RATE_HZ = 44100
SECONDS = 4.0
Made = tuple[Samples, float, Sequence[Mode]]
Band = tuple[float, float]
WHOLE = (0.0, np.inf)
TELEPHONE = (300.0, 3400.0)


class Outcome(NamedTuple):
    """What one recording gave: errors of frequency [cents] and decay [share], and counts."""

    refused: str
    cents: list[float]
    t60: list[float]
    t60_held: list[bool]
    right: bool
    invented: list[str]
    missed: list[str]
    doublets: list[bool]
    false_doublets: int
    strike_cents: float | None


def outcome(analysis: SoundAnalysis, modes: Sequence[Mode], seconds: float, band_hz: Band = WHOLE) -> Outcome:
    """Hold an analysis against what the recording was made of; outside the band, nothing need be heard."""
    made: dict[str, list[Mode]] = {}
    for mode in modes:
        made.setdefault(mode.name, []).append(mode)
    found = {each.name: each for each in analysis.partials}
    within = {mode.name for mode in modes if band_hz[0] < mode.frequency_hz < band_hz[1]}
    expected = [name for name in NAMES if name in within]
    off, t60, held, doublets, false = [], [], [], [], 0
    wrong: list[str] = []
    for name, each in found.items():
        if name not in made:
            continue
        nearest, cents = _nearest(each.partial.tone.frequency_hz, made[name])
        if abs(cents) > 10.0:
            wrong.append(name)
            continue
        off.append(abs(cents))
        tone = each.partial.tone
        t60.append(abs(tone.t60_s / nearest.t60_s - 1.0) if tone.t60_s else 1.0)
        held.append(tone.t60_low_s <= nearest.t60_s and (tone.t60_high_s or np.inf) >= nearest.t60_s)
        split, false_one = _doublet(each, made[name], seconds)
        false += false_one
        doublets += [] if split is None else [split]
    invented = [name for name in found if name in NAMES and name not in made] + wrong
    missed = [name for name in expected if name not in found]
    return Outcome(
        analysis.refusals[0].code if analysis.refusals else "",
        off,
        t60,
        held,
        not invented and not missed,
        invented,
        missed,
        doublets,
        false,
        _strike(analysis, made),
    )


def _nearest(hertz: float, modes: Sequence[Mode]) -> tuple[Mode, float]:
    near = min(modes, key=lambda mode: abs(mode.frequency_hz - hertz))
    return near, float(1200.0 * np.log2(hertz / near.frequency_hz))


def _doublet(each: NamedPartial, modes: Sequence[Mode], seconds: float) -> tuple[bool | None, int]:
    """Say whether a doublet that should be split is, and count one that is none."""
    other = each.partial.doublet
    if len(modes) < 2:
        return None, int(other is not None)
    apart = abs(modes[0].frequency_hz - modes[1].frequency_hz)
    if apart * seconds < 2.0:
        return None, 0
    if other is None:
        return False, 0
    both = {_nearest(tone.frequency_hz, modes)[0] for tone in (each.partial.tone, other)}
    return len(both) == 2 and abs(_nearest(other.frequency_hz, modes)[1]) < 2.0, 0


def _strike(analysis: SoundAnalysis, made: dict[str, list[Mode]]) -> float | None:
    """Give how far the strike is from half the nominal [cents], where the rule holds: 500 to 1500 Hz."""
    if "nominal" not in made or analysis.refusals:
        return None
    if not all(500.0 <= mode.frequency_hz <= 1500.0 for mode in made["nominal"]):
        return None
    if analysis.strike is None or analysis.strike.value is None:
        return 1200.0
    return abs(_nearest(2.0 * analysis.strike.value, made["nominal"])[1])


def first_way(bell: Bell, random: np.random.Generator, *, room: float = 0.0, attack: bool = False) -> Made:
    """Make a recording by the first synthesis: white noise at 20 dB, 4 s."""
    modes = first.modes_of(bell, random)
    sound = first.ringing(modes, RATE_HZ, SECONDS)
    if attack:
        sound = first.with_attack(sound, RATE_HZ, random)
    if room:
        sound = first.in_a_room(sound, RATE_HZ, random, room, 0.5)
    return first.with_noise(first.to_full_scale(sound), random, 20.0), RATE_HZ, modes


def second_way(
    bell: Bell, random: np.random.Generator, recorder: second.Recorder, *, seconds: float = SECONDS
) -> Made:
    """Make a recording by the second synthesis, as a file, and read it."""
    modes = second.modes_by_chance(bell, random)
    read = recording_of(second.recorded(modes, random, recorder, seconds), "benchmark")
    return read.samples, read.rate_hz, modes


Maker = Callable[[Bell, np.random.Generator], Made]
HELD: dict[str, Maker] = {
    "white noise 20 dB, 4 s": first_way,
    "and the knock of the clapper": partial(first_way, attack=True),
    "second way, pink noise 20 dB, 4 s": partial(second_way, recorder=second.Recorder()),
    "two strokes, stereo, 16 bit, 44.1 kHz": partial(
        second_way, recorder=second.Recorder(44100, "PCM_16", "FLAC", 2, 0.7, 2)
    ),
    "no noise at all, 96 kHz, float": partial(
        second_way, recorder=second.Recorder(96000, "FLOAT", "WAV", 1, 0.2, 1, None)
    ),
}
"""The cases that the aims are about."""
HARDER: dict[str, Maker] = {
    "in a room of 1.5 s": partial(first_way, room=1.5, attack=True),
    "telephone, 300 to 3400 Hz": partial(
        second_way, recorder=second.Recorder(16000, "PCM_16", snr_db=30.0, band_hz=TELEPHONE)
    ),
    "lossy coding (Vorbis)": partial(second_way, recorder=second.Recorder(44100, "VORBIS", "OGG", 2, 0.4)),
    "2 s only": partial(second_way, recorder=second.Recorder(44100, "PCM_16"), seconds=2.0),
}
"""What goes beyond them."""


def run(
    bells: Sequence[Bell], make: Maker, times: int, band_hz: Band = WHOLE
) -> tuple[list[Outcome], list[str], float]:
    """Analyse every bell in one way; give the outcomes, what went wrong, and the seconds it took."""
    outcomes, told, spent = [], [], 0.0
    for number, bell in enumerate(bells):
        for draw in range(times):
            samples, rate_hz, modes = make(bell, np.random.default_rng([2026, draw, number]))
            begun = time.perf_counter()
            analysis = analyse(samples, rate_hz)
            spent += time.perf_counter() - begun
            found = outcome(analysis, modes, SECONDS, band_hz)
            outcomes.append(found)
            if found.refused or not found.right:
                why = found.refused and f"{found.refused}: {analysis.refusals[0].read}"
                told.append(f"{bell.title[:40]}, draw {draw}: {why} +{found.invented} -{found.missed}")
    return outcomes, told, spent


def figures(outcomes: Sequence[Outcome]) -> Iterator[tuple[str, str]]:
    """Give every figure of a set of cases with its name."""
    cents = [each for one in outcomes for each in one.cents]
    t60 = [each for one in outcomes for each in one.t60]
    doublets = [each for one in outcomes for each in one.doublets]
    strikes = [one.strike_cents for one in outcomes if one.strike_cents is not None]
    yield "recordings", f"{len(outcomes)}"
    yield "refused", f"{sum(bool(one.refused) for one in outcomes)}"
    yield "partials", f"{len(cents)}"
    if not cents:
        return
    yield "frequency, median [cents]", f"{np.median(cents):.4f}"
    yield "frequency, worst [cents]", f"{max(cents):.3f}"
    yield "labels right", f"{100.0 * np.mean([one.right for one in outcomes]):.1f} %"
    yield "invented", f"{sum(len(one.invented) for one in outcomes)}"
    yield "doublets split", f"{sum(doublets)} of {len(doublets)}"
    yield "false doublets", f"{sum(one.false_doublets for one in outcomes)}"
    yield "T60, median", f"{100.0 * np.median(t60):.2f} %"
    yield "T60 within 5 %", f"{100.0 * np.mean(np.array(t60) <= 0.05):.1f} %"
    yield "T60 told", f"{100.0 * np.mean([each for one in outcomes for each in one.t60_held]):.0f} %"
    if strikes:
        yield "strike, worst [cents]", f"{max(strikes):.3f}"


def seconds_a_minute() -> Iterator[tuple[str, float]]:
    """Measure the analysis of one minute, and the whole command, each the best of three, on one core."""
    bell = next(bell for bell in first.published_bells() if "Albert" in bell.title)
    random = np.random.default_rng(1)
    wet = first.in_a_room(
        first.ringing(first.modes_of(bell, random), RATE_HZ, 60.0), RATE_HZ, random, 1.5, 0.5
    )
    one_core = {**os.environ, "OPENBLAS_NUM_THREADS": "1", "OMP_NUM_THREADS": "1"}
    with TemporaryDirectory() as folder:
        for title, strokes, rate_hz, channels in (
            ("one stroke, 44.1 kHz", 1, 44100, 1),
            ("six strokes, 44.1 kHz, stereo", 6, 44100, 2),
            ("thirty strokes, 96 kHz", 30, 96000, 1),
        ):
            recorder = second.Recorder(rate_hz, "PCM_16", "WAV", channels, strokes=strokes)
            modes = second.modes_by_chance(bell, random)
            file = Path(folder) / f"{strokes}.wav"
            file.write_bytes(second.recorded(modes, random, recorder, 60.0 / strokes))
            if strokes == 1:
                room = Path(folder) / "room.wav"
                soundfile.write(room, first.to_full_scale(wet), RATE_HZ, subtype="PCM_16")
                yield "one stroke in a room: read and analysed", _best_of_three(partial(_analysed, room))
            yield f"{title}: read and analysed", _best_of_three(partial(_analysed, file))
            command = [sys.executable, "-m", "registry", "sound", str(file), "--format", "json"]
            whole = partial(subprocess.run, command, env=one_core, capture_output=True, check=True)
            yield f"{title}: the whole command", _best_of_three(whole)
    start = partial(subprocess.run, [sys.executable, "-c", "import numpy"], env=one_core, check=True)
    yield "interpreter and numpy alone", _best_of_three(start)


def _analysed(file: Path) -> None:
    read = read_recording(file)
    analyse(read.samples, read.rate_hz)


def _best_of_three(work: Callable[[], object]) -> float:
    """Give the time of the processor, ours and of commands, which other work on the machine hardly moves."""
    spent = []
    for _ in range(3):
        begun = os.times()
        work()
        spent.append(sum(os.times()[:4]) - sum(begun[:4]))
    return min(spent)


def main() -> None:
    """Print the tables of `docs/measurements.md`."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--more", type=int, default=1, help="how often each case is drawn")
    parser.add_argument("--only", default="", help="part of the name of a case")
    parser.add_argument("--wrong", action="store_true", help="tell what went wrong")
    parser.add_argument("--seconds", action="store_true", help="tell how long one minute of sound takes")
    asked = parser.parse_args()
    if asked.seconds:
        print("\n".join(f"{title:<44}{value:6.2f} s" for title, value in seconds_a_minute()))
        return
    published = [bell for bell in first.published_bells() if "handbell" not in bell.title]
    random = np.random.default_rng(2027)
    drawn = [second.drawn_bell(kind, random) for kind in second.KINDS for _ in range(4)]
    cases: list[tuple[str, Sequence[Bell], Maker]] = [
        *((title, published, make) for title, make in {**HELD, **HARDER}.items()),
        *((f"drawn bells: {title}", drawn, make) for title, make in HELD.items()),
    ]
    for title, bells, make in cases:
        if asked.only not in title:
            continue
        outcomes, told, spent = run(bells, make, asked.more, TELEPHONE if "telephone" in title else WHOLE)
        print(f"\n{title} ({spent / len(outcomes):.2f} s a recording)")
        for name, value in figures(outcomes):
            print(f"  {name:<28}{value:>14}")
        if asked.wrong:
            print("\n".join(f"  ! {each}" for each in told))


if __name__ == "__main__":
    main()
