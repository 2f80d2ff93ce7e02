"""A bell set beside others: its mass in the band of the law, its note in the ring, its partials."""

import math
from collections.abc import Mapping, Sequence
from typing import NamedTuple

from registry.derive.constants import constants
from registry.derive.inputs import range_of
from registry.derive.law import law_of
from registry.derive.partials import third_of
from registry.derive.ring import RingNote, RingTuning, ring_tunings
from registry.drawing.masses import BandPoint, MarkedBell, MassDrawing, WeighedBell, mass_drawing
from registry.drawing.spectrum import NARROW, WIDE, SpectrumDrawing, Stem, spectrum_drawing
from registry.drawing.tuning import TunedBell, TuningDrawing, tuning_drawing
from registry.store.pages import Row
from registry.store.pages_sound import MassOnRecord, NoteOfRing
from registry.units import format_quantity
from registry.wording.words import plural, quantity, term

BAND_POINTS = 60
SEMITONE_LEAVES_CENTS = 45.0
"""A note without its deviation leaves 50 cents on either side; nine tenths of that (arithmetic)."""
SIXTEENTH_LEAVES_CENTS = 2.8
"""Half a sixteenth of a semitone is 3.1 cents; nine tenths of that (arithmetic)."""


class MassPicture(NamedTuple):
    """Masses against diameters, and the same in words."""

    drawing: MassDrawing
    title: str
    words: str
    source: str


class RingBellShown(NamedTuple):
    """One bell of the table beneath the drawing of a ring."""

    bell_id: str
    name: str
    strike_hz: float
    basis: str
    above_lowest_cents: float
    note: str
    deviation_cents: float
    low_cents: float
    high_cents: float


class RingPicture(NamedTuple):
    """A ring held against the scale that fits it best. ``others`` are the other scales."""

    drawing: TuningDrawing
    title: str
    words: str
    scale: str
    key: str
    reference_hz: float
    rms_cents: float
    bells: list[RingBellShown]
    others: list[tuple[str, float]]
    coarse: bool
    source: str


class SpectrumPicture(NamedTuple):
    """Partials on an axis of cents, for wide windows and narrow ones, and the same in words."""

    wide: SpectrumDrawing
    narrow: SpectrumDrawing
    words: str


def mass_picture(bell: Row, others: Sequence[MassOnRecord]) -> MassPicture | None:
    """Set the mass of a bell in the band of the law; None without a diameter or a law of its material."""
    law = law_of(bell["material"] or "unknown")
    diameter_mm = bell["mouth_diameter_mm"]
    if law is None or diameter_mm is None:
        return None
    sizes = [diameter_mm, *(other.mouth_diameter_mm for other in others)]
    low, high = math.log(min(sizes) / 1.5), math.log(max(sizes) * 1.5)
    band = []
    for step in range(BAND_POINTS + 1):
        mm = math.exp(low + (high - low) * step / BAND_POINTS)
        mass = law.mass_by_size(mm / 1000.0)
        band.append(BandPoint(mm, mass.value, *mass.interval))
    name = bell["name"] or bell["id"]
    drawing = mass_drawing(
        [
            WeighedBell(
                other.name or other.bell_id,
                other.mouth_diameter_mm,
                other.mass_kg,
                other.mass_basis == "weighed",
            )
            for other in others
        ],
        band,
        MarkedBell(
            name,
            diameter_mm,
            bell["mass_kg"],
            bell["mass_estimate_kg"],
            bell["mass_estimate_low_kg"],
            bell["mass_estimate_high_kg"],
        ),
    )
    if drawing is None:
        return None
    expected = law.mass_by_size(diameter_mm / 1000.0)
    ends = " to ".join(format_quantity(kg, "kg", 2) for kg in expected.interval)
    words = f"A bell of {quantity(diameter_mm, 'mm')} weighs {ends} by the law of its material."
    if bell["mass_kg"] is not None:
        words += f" On record: {quantity(bell['mass_kg'], 'kg')}."
    material = term("material", bell["material"])
    told = plural(len(others), f"other bell of {material}", f"other bells of {material}")
    words += f" Shown with it: {told} with a mass on record."
    return MassPicture(drawing, f"{name}: mass against diameter", words, law.source)


def ring_picture(notes: Sequence[NoteOfRing]) -> RingPicture | None:
    """Hold the bells of a tower against the scales; None with fewer than two known notes."""
    low_hz, high_hz = range_of("strike_hz")
    notes = [note for note in notes if low_hz <= note.strike_hz <= high_hz]
    if len(notes) < len("ab"):
        return None
    tunings = ring_tunings(
        [RingNote(note.name or note.bell_id, note.strike_hz, _doubt_cents(note)) for note in notes]
    )
    best = tunings[0]
    bells = [_ring_bell(note, best, place) for place, note in enumerate(notes)]
    drawing = tuning_drawing(
        [
            TunedBell(
                bell.name,
                f"{bell.note} {'≈' if note.strike_basis == 'note' else ''}",
                bell.deviation_cents,
                bell.low_cents,
                bell.high_cents,
            )
            for bell, note in zip(bells, notes, strict=True)
        ]
    )
    if drawing is None:
        return None
    words = " ".join(
        f"{bell.name}: {_signed(bell.deviation_cents)} cents from {bell.note}." for bell in bells
    )
    return RingPicture(
        drawing,
        f"The ring against the {best.scale} scale",
        words,
        best.scale,
        best.key.scientific,
        best.reference_hz,
        best.rms_cents,
        bells,
        [(tuning.scale, tuning.rms_cents) for tuning in tunings[1:]],
        any(note.strike_basis == "note" and not note.exactly for note in notes),
        best.bells[0].deviation.source,
    )


def _doubt_cents(note: NoteOfRing) -> float:
    """Guess half the width of the 90 % interval of a strike note, never finer than tuners read."""
    usual: float = constants("ring")["reading_uncertainty_cents"]
    if note.strike_basis == "note":
        return math.hypot(usual, SIXTEENTH_LEAVES_CENTS) if note.exactly else SEMITONE_LEAVES_CENTS
    if note.tolerance_hz and note.strike_basis != "recording":
        return max(usual, 1200.0 * math.log2(1.0 + note.tolerance_hz / note.strike_hz))
    return usual


def _ring_bell(note: NoteOfRing, tuning: RingTuning, place: int) -> RingBellShown:
    bell = tuning.bells[place]
    value, low, high = (
        each or 0.0 for each in (bell.deviation.value, bell.deviation.low, bell.deviation.high)
    )
    basis = {
        "recording": "from a recording",
        "measured": "measured",
        "note": "from the note written",
        "nominal": "half the nominal",
    }
    return RingBellShown(
        note.bell_id,
        bell.name,
        note.strike_hz,
        basis[note.strike_basis],
        bell.above_lowest_cents,
        bell.pitch.display,
        value,
        low,
        high,
    )


def spectrum_of_readings(
    partials_hz: Mapping[str, float], beats_hz: Mapping[str, float]
) -> SpectrumPicture | None:
    """Draw partials read by hand; None without a nominal to count from, or with nothing beside it.

    Parameters
    ----------
    partials_hz, beats_hz : mapping
        Frequency of each partial and beats of the doublets [Hz], by the word of the vocabulary ``partial``.
    """
    nominal_hz = partials_hz.get("nominal")
    if nominal_hz is None:
        return None
    ideal = ideal_cents(partials_hz)
    stems = [
        Stem(
            term("partial", name),
            _cents(hz, nominal_hz),
            None,
            ideal.get(name),
            _cents(hz + beats_hz[name], hz) if beats_hz.get(name) else None,
        )
        for name, hz in partials_hz.items()
    ]
    return spectrum_picture(stems)


def spectrum_picture(stems: Sequence[Stem], floor_db: float = -60.0) -> SpectrumPicture | None:
    """Draw stems for wide windows and for narrow ones, and say where they stand."""
    wide, narrow = (spectrum_drawing(stems, width, floor_db) for width in (WIDE, NARROW))
    if wide is None or narrow is None:
        return None
    words = " ".join(
        f"{stem.name} at {_signed(stem.cents)} cents." for stem in sorted(stems, key=lambda stem: stem.cents)
    )
    return SpectrumPicture(wide, narrow, words)


def ideal_cents(partials_hz: Mapping[str, float]) -> dict[str, float]:
    """Give the ideal place of each partial in cents from the nominal, the tierce by the third of the bell."""
    rules = constants("partials")
    ratios: dict[str, float] = dict(rules["ratios"])
    third = third_of(partials_hz, None)
    if third is not None and third.kind == "major":
        ratios["tierce"] = rules["major_tierce"]
    return {name: _cents(ratio, ratios["nominal"]) for name, ratio in ratios.items()}


def _cents(hz: float, from_hz: float) -> float:
    return 1200.0 * math.log2(hz / from_hz)


def _signed(cents: float) -> str:
    return f"{cents:+.0f}".replace("-", "−")
