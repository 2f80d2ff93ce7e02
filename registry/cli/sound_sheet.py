"""The analysis of a recording, written for people."""

from collections.abc import Iterator
from textwrap import fill
from typing import TYPE_CHECKING

from registry.derive.sound.signs import caution
from registry.model.pitch import cents_between, note_of
from registry.model.vocabulary import vocabulary

if TYPE_CHECKING:
    from registry.derive.sound import SoundAnalysis
    from registry.derive.sound.partial_tones import PartialTone
    from registry.model.derived import Derived
    from registry.recordings import Recording

WIDTH = 100
FINEST_HZ = 0.001
"""The last digit that is shown of a frequency."""
CLOCK = (
    "± is how far the recording itself leaves the frequency open, 9 times in 10. The clock of the recorder "
    "comes on top: 50 millionths off is 0.1 cent (common practice, no source)."
)


def as_text(recording: "Recording", analysis: "SoundAnalysis") -> str:
    """Write the analysis: what was heard, the partials, the strike note, and signs."""
    lines = [
        *_heard(recording, analysis),
        "",
        *_partials(analysis),
        "",
        *_notes(analysis),
        *(fill(f"Worth a closer look: {each.text} ({each.source}).", WIDTH) for each in analysis.signs),
    ]
    return "\n".join(lines)


def caution_text() -> str:
    """Write the caution that stands with every sound that is judged."""
    return fill(caution(), WIDTH)


def _heard(recording: "Recording", analysis: "SoundAnalysis") -> Iterator[str]:
    channel = "" if recording.channels == 1 else f", channel {recording.channel} of {recording.channels}"
    length = f"{recording.duration_s:.1f} s at {recording.rate_hz:.0f} Hz"
    yield f"{length}{channel}; SHA-256 {recording.sha256[:16]}…"
    at = ", ".join(f"{each.at_s:.2f}" for each in analysis.strokes[:8])
    more = f" and {len(analysis.strokes) - 8} more" if len(analysis.strokes) > 8 else ""
    if analysis.followed is not None:
        followed = analysis.strokes[analysis.followed].at_s
        followed_for = f"the one at {followed:.2f} s was followed for {analysis.followed_s:.1f} s"
        yield f"Strokes at {at} s{more}; {followed_for}"
    if analysis.steady:
        listed = ", ".join(f"{each.frequency_hz:.1f}" for each in analysis.steady[:8])
        yield f"Steady tones, not the bell's: {listed} Hz"


def _partials(analysis: "SoundAnalysis") -> Iterator[str]:
    yield f"{'Partial':16}{'Hz':>11} {'±':>7}{'note':>12}{'T60 s':>8}{'dB':>7}  doublet"
    for each in analysis.partials:
        name = each.name.replace("-", " ") if each.name in vocabulary("partial").terms else each.name
        doubt = "?" if each.answer == "doubtful" else ""
        yield _line(name + doubt, each.partial)
    for tone in analysis.unnamed:
        yield _line("–", tone)
    if any(each.answer == "doubtful" for each in analysis.partials):
        yield "? doubtful: it stands where published bells have none, or another name is as likely"
    if analysis.partials or analysis.unnamed:
        yield fill(CLOCK, WIDTH)
    if not analysis.partials:
        yield fill(
            "No name is given: the tones are not surely those of a bell of conventional shape "
            f"(probability {analysis.bell_of_usual_shape:.2f}).",
            WIDTH,
        )
    elif analysis.absent:
        names = ", ".join(name.replace("-", " ") for name in analysis.absent)
        yield f"Absent, or below {analysis.noise_db:.0f} dB: {names}"


def _line(name: str, partial: "PartialTone") -> str:
    tone, other = partial
    t60 = f">{tone.t60_low_s:.0f}" if tone.t60_s is None else f"{tone.t60_s:.2f}"
    note = note_of(tone.frequency_hz)
    pair = ""
    if other is not None:
        apart = cents_between(other.frequency_hz, tone.frequency_hz)
        pair = f"{other.frequency_hz:.3f} Hz ({apart:+.1f} c, {other.level_db - tone.level_db:+.0f} dB)"
    return (
        f"{name:16}{tone.frequency_hz:11.3f} {_half(tone.frequency_half_hz):>7}"
        f"{note.scientific:>12}{t60:>8}{partial.level_db:7.1f}  {pair}"
    ).rstrip()


def _half(half_hz: float) -> str:
    """Write half an interval; one too narrow to be shown is not nothing."""
    return f"{half_hz:.3f}" if half_hz >= FINEST_HZ else f"<{FINEST_HZ:g}"


def _notes(analysis: "SoundAnalysis") -> Iterator[str]:
    yield from _note("Strike note", analysis.strike, "none: no nominal was found")
    if analysis.secondary_strike is not None:
        yield from _note("Secondary", analysis.secondary_strike, "")
    yield from _from_size(analysis.from_size)
    if analysis.third is not None:
        yield f"{'Third':13}{analysis.third.below_nominal.note}"
    if analysis.true_harmonic is not None:
        yield f"{'Octaves':13}{analysis.true_harmonic.worst.note}"


def _from_size(derived: "Derived | None") -> Iterator[str]:
    if derived is None or derived.value is None or derived.low is None or derived.high is None:
        return
    half = 0.5 * (derived.high - derived.low)
    yield (
        f"{'By its size':13}{derived.value:+.0f} cents from what is expected; "
        f"{derived.level * 100:g} % of bells lie within {half:.0f}"
    )
    if derived.note:
        yield fill(derived.note, WIDTH, initial_indent=" " * 13, subsequent_indent=" " * 13)


def _note(label: str, derived: "Derived | None", none: str) -> Iterator[str]:
    if derived is None:
        yield f"{label:13}{none}"
        return
    if derived.value is None or derived.low is None or derived.high is None:
        yield fill(f"{label:13}none: {derived.note}", WIDTH, subsequent_indent=" " * 13)
        return
    value = f"{derived.value:.3f} Hz ({note_of(derived.value).scientific})"
    narrow = derived.high - derived.low < 2 * FINEST_HZ
    where = f"within {FINEST_HZ:g} Hz" if narrow else f"from {derived.low:.3f} to {derived.high:.3f}"
    yield f"{label:13}{value}, {derived.level * 100:g} % {where}"
    if derived.note:
        yield fill(derived.note, WIDTH, initial_indent=" " * 13, subsequent_indent=" " * 13)
