"""The analysis of a recording as data."""

import json
from typing import TYPE_CHECKING, Any

from registry.problems import Problem

if TYPE_CHECKING:
    from registry.derive.sound import SoundAnalysis
    from registry.recordings import Recording


def refused(problems: list[Problem]) -> dict[str, Any]:
    """Give a refusal as data: no strike note, no partials, and why."""
    return {
        "strike_hz": None,
        "partials": [],
        "refused": [
            {"code": each.code, "read": each.read, "expected": each.expected, "remedy": each.remedy}
            for each in problems
        ],
    }


def as_data(recording: "Recording", analysis: "SoundAnalysis") -> dict[str, Any]:
    """Give the analysis as data.

    ``strike_hz`` is a number or null. Each partial has its name, frequency, T60 and level, and the other tone
    of a doublet as ``doublet_hz``; the intervals stand beside them.
    """
    from registry.derive.sound.signs import caution  # noqa: PLC0415

    strike, second = analysis.strike, analysis.secondary_strike
    return {
        "strike_hz": _rounded(strike.value) if strike else None,
        "strike": _derived(strike),
        "secondary_strike_hz": _rounded(second.value) if second else None,
        "secondary_strike": _derived(second),
        "strike_from_size_cents": _derived(analysis.from_size),
        "partials": [
            {"name": each.name.replace("-", " ") if each.name in SPACED else each.name}
            | _tone(each.partial)
            | {"answer": each.answer, "confidence": round(each.confidence, 3)}
            for each in analysis.partials
        ],
        "absent": [name.replace("-", " ") for name in analysis.absent],
        "unnamed": [_tone(each) for each in analysis.unnamed],
        "steady_tones_hz": [_rounded(each.frequency_hz) for each in analysis.steady],
        "bell_of_usual_shape": round(analysis.bell_of_usual_shape, 3),
        "third": analysis.third.kind or "none" if analysis.third else None,
        "true_harmonic": analysis.true_harmonic.answer if analysis.true_harmonic else None,
        "deviations": {
            each.quantity: round(each.value, 2) for each in analysis.deviations if each.value is not None
        },
        "strokes_s": [round(each.at_s, 3) for each in analysis.strokes],
        "followed_stroke": None if analysis.followed is None else analysis.followed + 1,
        "followed_s": round(analysis.followed_s, 2),
        "noise_db": round(analysis.noise_db, 1),
        "signs": [{"code": each.code, "text": each.text, "source": each.source} for each in analysis.signs],
        "caution": caution(),
        "inputs": {
            "sha256": recording.sha256,
            "rate_hz": recording.rate_hz,
            "duration_s": round(recording.duration_s, 3),
            "channels": recording.channels,
            "channel": recording.channel,
            **analysis.inputs,
        },
    }


SPACED = frozenset({"octave-nominal"})
"""Names that people write in two words."""


def _tone(partial: Any) -> dict[str, Any]:
    tone, other = partial
    return {
        "frequency_hz": _rounded(tone.frequency_hz),
        "t60_s": _rounded(tone.t60_s),
        "level_db": round(partial.level_db, 2),
        "doublet_hz": _rounded(other.frequency_hz) if other else None,
        "frequency_interval_hz": _ends(tone),
        "t60_interval_s": [_rounded(tone.t60_low_s), _rounded(tone.t60_high_s)],
        "doublet_interval_hz": _ends(other) if other else None,
        "doublet_t60_s": _rounded(other.t60_s) if other else None,
        "doublet_level_db": round(other.level_db, 2) if other else None,
        "split_hz": _rounded(abs(other.frequency_hz - tone.frequency_hz)) if other else None,
        "split_cents": _rounded(partial.split_cents),
    }


def _ends(tone: Any) -> list[float | None]:
    return [
        _rounded(tone.frequency_hz - tone.frequency_half_hz),
        _rounded(tone.frequency_hz + tone.frequency_half_hz),
    ]


def _derived(derived: Any) -> dict[str, Any] | None:
    if derived is None:
        return None
    numbers = {name: _rounded(getattr(derived, name)) for name in ("value", "low", "high")}
    told = {
        "level": derived.level,
        "method": derived.method,
        "caveat": derived.note,
        "source": derived.source,
    }
    return numbers | told


def _rounded(value: float | None) -> float | None:
    """Round to what no recording can tell: a ten-thousandth of a cent, seven figures."""
    return None if value is None else float(f"{value:.8g}")


def json_of(data: dict[str, Any]) -> str:
    """Write data as JSON."""
    return json.dumps(data, ensure_ascii=False, indent=2, allow_nan=False)
