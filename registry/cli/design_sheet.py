"""What ``soundbow design`` answers: sizes, and what casting takes by the user's numbers."""

from collections.abc import Iterator, Sequence
from textwrap import fill
from typing import Any, NamedTuple

from registry.derive.design import OF_RING, Design, Plan, plan
from registry.derive.ring import RingTuning
from registry.model.cautions import cautions
from registry.model.derived import Derived
from registry.model.pitch import Pitch
from registry.model.vocabulary import label_of
from registry.units import format_estimate, format_quantity

CAUTION = (
    "A first size to talk over with a founder, no drawing to cast from: he has his own profiles, and the",
    "inner tuning of a bell lies in their curves. What a frame, a tower or a hoist must bear goes by the",
    "upper end of the mass and beyond, and is for licensed practice to judge.",
)


class Wanted(NamedTuple):
    """A note that a bell is wanted for."""

    note: Pitch
    strike_hz: float


class OnTheWay(NamedTuple):
    """What the user says of metal, price and time."""

    allowance_percent: float | None
    price_per_kg: float | None
    days: float
    days_per_100_kg: float | None

    def of(self, design: Design) -> Plan:
        """Work out what a design takes."""
        return plan(
            design.mass,
            allowance_percent=self.allowance_percent,
            price_per_kg=self.price_per_kg,
            days=self.days,
            days_per_100_kg=self.days_per_100_kg,
        )


def as_data(
    tuning: RingTuning | None, found: Sequence[tuple[Wanted, tuple[Design, ...]]], way: OnTheWay
) -> dict[str, Any]:
    """Give the designs as data."""
    data: dict[str, Any] = {"designs": [_data_of(wanted, each, way) for wanted, each in found]}
    if tuning is not None:
        data["ring"] = {
            "scale": tuning.scale,
            "key": tuning.key.scientific,
            "modes": list(tuning.modes),
            "reference_hz": round(tuning.reference_hz, 2),
            "rms_cents": round(tuning.rms_cents, 1),
            "bells": [
                {
                    "note": bell.pitch.scientific,
                    "above_lowest_cents": round(bell.above_lowest_cents, 1),
                    "deviation_cents": _three(bell.deviation),
                }
                for bell in tuning.bells
            ],
        }
    data["caution"] = " ".join(CAUTION)
    data["cautions"] = list(cautions()["recasting"].points)
    return data


def _data_of(wanted: Wanted, found: Sequence[Design], way: OnTheWay) -> dict[str, Any]:
    sizes = []
    for design in found:
        bow, needs = design.soundbow_thickness, way.of(design)
        size: dict[str, Any] = {
            "profile": design.profile,
            "mouth_diameter_mm": _three(design.mouth_diameter),
            "soundbow_thickness_mm": None if bow is None else _three(bow),
            "mass_kg": _three(design.mass),
            "method": design.mouth_diameter.method,
            "caveat": design.mouth_diameter.note,
            "source": design.mouth_diameter.source,
        }
        for name, ends in needs._asdict().items():
            if ends is not None:
                size[name] = dict(zip(("low", "value", "high"), map(_rounded, ends), strict=True))
        sizes.append(size)
    return {"note": wanted.note.scientific, "strike_hz": round(wanted.strike_hz, 2), "sizes": sizes}


def _rounded(number: float) -> float:
    return float(f"{number:.4g}")


def _three(derived: Derived) -> dict[str, Any]:
    ends = {name: getattr(derived, name) for name in ("value", "low", "high")}
    return {name: None if number is None else _rounded(number) for name, number in ends.items()}


def as_lines(
    tuning: RingTuning | None,
    found: Sequence[tuple[Wanted, tuple[Design, ...]]],
    way: OnTheWay,
    material: str,
) -> Iterator[str]:
    """Write the designs for people."""
    if tuning is not None:
        yield from _ring_lines(tuning)
    for wanted, each in found:
        metal = label_of("material", material)
        yield f"{wanted.note.scientific}, {format_quantity(wanted.strike_hz, 'hz')}, {metal}"
        for design in each:
            yield from _design_lines(design, way.of(design))
        yield ""
    notes = dict.fromkeys(design.mouth_diameter.note for _, each in found for design in each)
    yield from (fill(note, 100) for note in notes if note)
    sources = dict.fromkeys(design.mouth_diameter.source for _, each in found for design in each)
    yield "Sources"
    yield from (fill(source, 100, initial_indent="  ", subsequent_indent="    ") for source in sources)
    yield ""
    yield from CAUTION
    yield from cautions()["recasting"].points


def _ring_lines(tuning: RingTuning) -> Iterator[str]:
    mode = f" {' or '.join(tuning.modes[:3])}" if tuning.modes else ""
    yield (
        f"Ring in {tuning.key.scientific}{mode}, {tuning.scale} scale, a' = {tuning.reference_hz:.1f} Hz,"
        f" bells off by {tuning.rms_cents:.0f} cents (root mean square)"
    )
    for bell in tuning.bells:
        value = format_quantity(bell.deviation.value or 0.0, "cents")
        yield f"  {bell.pitch.scientific:5}{value:>14}"
    yield ""


def _design_lines(design: Design, needs: Plan) -> Iterator[str]:
    name = design.profile if design.profile == OF_RING else label_of("profile_class", design.profile)
    parts = [f"diameter {_said(design.mouth_diameter)}"]
    if design.soundbow_thickness is not None:
        parts.append(f"sound-bow {_said(design.soundbow_thickness)}")
    parts.append(f"mass {_said(design.mass)}")
    yield f"  {name:14}{', '.join(parts)}"
    if needs.metal_kg is not None:
        yield f"{'':16}metal {_ends(needs.metal_kg, 'kg')}"
    if needs.price is not None:
        yield f"{'':16}price {_ends(needs.price, 'number')}, by your price for a kilogram"
    if needs.days is not None:
        yield f"{'':16}time {_ends(needs.days, 'number')} days, by your numbers"


def _said(derived: Derived) -> str:
    ends = (derived.low or 0.0, derived.value or 0.0, derived.high or 0.0)
    return _ends(ends, derived.unit)


def _ends(ends: tuple[float, float, float], unit: str) -> str:
    low, value, high = (format_estimate(each, unit, ends[0], ends[2]) for each in ends)
    return f"{value} ({low} to {high})"
