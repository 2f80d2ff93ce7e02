"""What the recordings of a bell tell: partials, decay, deviations, and what changed since the one before."""

import math
from collections.abc import Mapping, Sequence
from typing import NamedTuple

from registry.derive.temperature import cents_warmer
from registry.drawing.decay import DecayDrawing, Ring, decay_drawing
from registry.drawing.spectrum import Stem
from registry.problems import CATALOGUE
from registry.store.pages import Row
from registry.wording.compared import SpectrumPicture, ideal_cents, spectrum_picture
from registry.wording.words import quantity, term

WORD_OF_PARTIAL = "_t60_s"
"""Every partial found has a value whose quantity ends so; what stands before it is its word."""


class Tone(NamedTuple):
    """One partial of a recording; ``other_hz`` is the second tone of a doublet."""

    name: str
    frequency_hz: float
    half_hz: float
    other_hz: float | None
    t60_s: float | None
    t60_low_s: float | None
    t60_high_s: float | None
    level_db: float | None
    deviation_cents: float | None
    note: str


class Change(NamedTuple):
    """A partial against the recording before [cents], with the ends of the interval."""

    name: str
    cents: float
    low_cents: float
    high_cents: float


class FromSize(NamedTuple):
    """How far the strike note stands from what the size tells [cents], the spread of bells, and a doubt."""

    cents: float
    half_cents: float
    doubt: str


class RecordingShown(NamedTuple):
    """One recording in words and drawings.

    ``refused`` says why nothing was judged. ``before`` names the recording that ``changes`` are counted from,
    ``temperatures`` what was done about the temperatures of the two.
    """

    row: Row
    refused: str
    strike: str
    strike_note: str
    from_size: FromSize | None
    tones: list[Tone]
    absent: list[str]
    spectrum: SpectrumPicture | None
    decay: DecayDrawing | None
    decay_words: str
    before: Row | None
    changes: list[Change]
    temperatures: str
    signs: list[dict[str, str]]
    version: int | None


class RecordingsShown(NamedTuple):
    """All recordings of a bell, the newest first, and the caution that stands with them."""

    recordings: list[RecordingShown]
    caution: str


def recordings_shown(
    found: Sequence[tuple[Row, Mapping[str, Row]]], material: str | None
) -> RecordingsShown | None:
    """Word the recordings of a bell; None where none was analysed.

    Parameters
    ----------
    found : sequence
        Rows of ``recording`` with their values by quantity, the newest first.
    material : str or None
        What the bell is cast from, for the effect of its temperature.
    """
    if not found:
        return None
    # Numbers are slow to load, and most bells have no recording.
    from registry.derive.sound.signs import caution  # noqa: PLC0415

    shown = []
    for place, (row, values) in enumerate(found):
        earlier = next((each for each in found[place + 1 :] if not each[0]["refused"]), None)
        shown.append(_recording(row, values, earlier if not row["refused"] else None, material))
    return RecordingsShown(shown, caution())


def _recording(
    row: Row,
    values: Mapping[str, Row],
    earlier: tuple[Row, Mapping[str, Row]] | None,
    material: str | None,
) -> RecordingShown:
    tones = _tones(values)
    heard = {word: tone.frequency_hz for word, tone in tones.items() if word in _VOCABULARY}
    spectrum = _spectrum(tones, heard, row["noise_db"]) if "nominal" in heard else None
    decay = decay_drawing(
        [Ring(tone.name, tone.t60_s, tone.t60_low_s, tone.t60_high_s) for tone in tones.values()]
    )
    strike = values.get("strike_hz")
    changes, temperatures = _changes(row, tones, earlier, material) if earlier else ([], "")
    refused = ""
    if row["refused"]:
        refused = f"{CATALOGUE[row['refused']][1]}: {row['refused_because']}"
    return RecordingShown(
        row,
        refused,
        quantity(strike["value"], "hz") if strike and strike["value"] is not None else "",
        strike["note"] if strike else "",
        _from_size(row, strike, material),
        list(tones.values()),
        [
            _name(each.removesuffix("_hz"))
            for each, value in values.items()
            if value["note"].startswith("absent")
        ],
        spectrum,
        decay,
        " ".join(
            f"{tone.name}: {quantity(tone.t60_s, 's')}." for tone in tones.values() if tone.t60_s is not None
        ),
        earlier[0] if earlier else None,
        changes,
        temperatures,
        row["signs"],
        next((each["version"] for each in values.values() if each.get("method") == "recording"), None),
    )


def _from_size(row: Row, strike: Row | None, material: str | None) -> FromSize | None:
    """Hold the strike note against the size on record; None without both, or without a law."""
    from registry.derive.sound.size import strike_from_size  # noqa: PLC0415

    diameter_mm = row["mouth_diameter_mm"]
    if strike is None or strike["value"] is None or diameter_mm is None:
        return None
    try:
        told = strike_from_size(strike["value"], diameter_mm, material)
    except ValueError:  # a diameter that no bell has: the form was told so
        return None
    if told is None or told.value is None or told.low is None or told.high is None:
        return None
    return FromSize(told.value, 0.5 * (told.high - told.low), told.note)


_VOCABULARY = frozenset(ideal_cents({}))
"""Words of the partials that have an ideal place."""


def _name(word: str) -> str:
    code = word.replace("_", "-")
    return term("partial", code) if code in _VOCABULARY else word.replace("_", " ")


def _tones(values: Mapping[str, Row]) -> dict[str, Tone]:
    """Give the partials by their words, the lowest first."""
    tones = {}
    for told, t60 in values.items():
        if not told.endswith(WORD_OF_PARTIAL):
            continue
        word = told.removesuffix(WORD_OF_PARTIAL)
        frequency, other = values[f"{word}_hz"], values.get(f"{word}_doublet_hz")
        level, deviation = values.get(f"{word}_level_db"), values.get(f"{word}_deviation_cents")
        tones[word.replace("_", "-")] = Tone(
            _name(word),
            frequency["value"],
            (frequency["high"] - frequency["low"]) / 2.0,
            other["value"] if other else None,
            t60["value"],
            t60["low"],
            t60["high"],
            level["value"] if level else None,
            deviation["value"] if deviation else None,
            frequency["note"],
        )
    return dict(sorted(tones.items(), key=lambda item: item[1].frequency_hz))


def _spectrum(
    tones: Mapping[str, Tone], heard: Mapping[str, float], noise_db: float | None
) -> SpectrumPicture | None:
    nominal_hz, ideal = heard["nominal"], ideal_cents(heard)
    stems = [
        Stem(
            tone.name,
            _cents(tone.frequency_hz, nominal_hz),
            tone.level_db,
            ideal.get(word),
            _cents(tone.other_hz, tone.frequency_hz) if tone.other_hz else None,
            tone.note.startswith("doubtful"),
        )
        for word, tone in tones.items()
    ]
    return spectrum_picture(stems, min(noise_db or -60.0, -20.0))


def _changes(
    row: Row, tones: Mapping[str, Tone], earlier: tuple[Row, Mapping[str, Row]], material: str | None
) -> tuple[list[Change], str]:
    """Hold the partials against those of an earlier recording, at one temperature where both are told."""
    now_c, then_c = row["temperature_c"], earlier[0]["temperature_c"]
    ten_k = cents_warmer(10.0, 0.0, material)
    expected, said = 0.0, ""
    if now_c is not None and then_c is not None and ten_k is not None:
        expected = cents_warmer(now_c, then_c, material) or 0.0
        said = (
            f"{quantity(then_c, 'c')} then and {quantity(now_c, 'c')} now: the {expected:+.1f} cents that"
            " this makes by itself are taken off"
        ).replace("-", "−")
    elif ten_k is not None:
        said = (
            "the temperatures are not both on record, and nothing is taken off: ten degrees alone make about"
            f" {abs(ten_k):.0f} cents"
        )
    else:
        said = "what a change of temperature does to this material is not known, and nothing is taken off"
    before = _tones(earlier[1])
    changes = []
    for word, tone in tones.items():
        old = before.get(word)
        if old is not None:
            cents = _cents(tone.frequency_hz, old.frequency_hz) - expected
            half = math.hypot(_half_cents(tone), _half_cents(old))
            changes.append(Change(tone.name, cents, cents - half, cents + half))
    return changes, said


def _half_cents(tone: Tone) -> float:
    return _cents(tone.frequency_hz + tone.half_hz, tone.frequency_hz)


def _cents(hz: float, from_hz: float) -> float:
    return 1200.0 * math.log2(hz / from_hz)
