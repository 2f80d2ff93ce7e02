"""The ring that several recordings make: each bell against the scale that fits all of them best."""

from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

from registry.derive.constants import constants
from registry.derive.ring import RingNote, RingTuning, ring_tunings
from registry.model.pitch import cents_between

if TYPE_CHECKING:
    from registry.derive.sound import SoundAnalysis


def ring_of(heard: Sequence[tuple[str, "SoundAnalysis | None"]]) -> tuple[RingTuning, ...]:
    """Hold the strike notes of several recordings against the scales, the best-fitting one first.

    Parameters
    ----------
    heard : sequence
        File and analysis of each; one without a strike note does not count.

    Returns
    -------
    tuple of RingTuning
        Empty with fewer than two notes.
    """
    notes = []
    for file, analysis in heard:
        strike = analysis.strike if analysis is not None else None
        if strike is None or strike.value is None or strike.low is None or strike.high is None:
            continue
        usual: float = constants("ring")["reading_uncertainty_cents"]
        half = max(usual, 0.5 * cents_between(strike.high, strike.low))
        notes.append(RingNote(Path(file).name, strike.value, half))
    return ring_tunings(sorted(notes, key=lambda note: note.strike_hz)) if len(notes) > 1 else ()


def ring_lines(tunings: Sequence[RingTuning]) -> Iterator[str]:
    """Write the ring: the scale that fits best, each bell against it, and how well the others fit."""
    if not tunings:
        yield "No ring: fewer than two of the recordings have a strike note."
        yield ""
        return
    best, *others = tunings
    fits = ", ".join(f"{tuning.scale} {tuning.rms_cents:.1f}" for tuning in others)
    yield (
        f"Ring of {len(best.bells)}: fits the {best.scale} scale on {best.key.scientific} best, at a' = "
        f"{best.reference_hz:.2f} Hz, {best.rms_cents:.1f} cents rms ({fits})"
    )
    yield ""
    width = max(len(bell.name) for bell in best.bells)
    yield f"{'Recording':{width}}{'note':>6}{'above lowest':>14}{'deviation':>11}  90 % interval, cents"
    for bell in best.bells:
        value, low, high = (each or 0.0 for each in bell.deviation[1:4])
        yield (
            f"{bell.name:{width}}{bell.pitch.scientific:>6}{bell.above_lowest_cents:14.1f}{value:+11.1f}"
            f"  {low:+.1f} to {high:+.1f}"
        )
    yield ""
    yield "Old rings deviate: that is character, not fault."
    yield ""


def ring_data(tunings: Sequence[RingTuning]) -> dict[str, Any] | None:
    """Give the ring as data: the best-fitting scale with its bells, and how well each scale fits."""
    if not tunings:
        return None
    best = tunings[0]
    return {
        "scale": best.scale,
        "key": best.key.scientific,
        "modes": list(best.modes),
        "reference_hz": round(best.reference_hz, 3),
        "rms_cents": {tuning.scale: round(tuning.rms_cents, 2) for tuning in tunings},
        "bells": [
            {
                "file": bell.name,
                "note": bell.pitch.scientific,
                "above_lowest_cents": round(bell.above_lowest_cents, 2),
                "deviation_cents": [round(each or 0.0, 2) for each in bell.deviation[1:4]],
            }
            for bell in best.bells
        ],
    }
