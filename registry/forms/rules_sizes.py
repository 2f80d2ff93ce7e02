"""Rules on sizes and mass: what one measure of a bell says of another."""

import math
from collections.abc import Iterator
from statistics import fmean

from registry.forms.finding import Finding
from registry.forms.ruling import Comparison, Form, Found, between, misfit
from registry.forms.thresholds import Band, band
from registry.model.bell import Dimensions
from registry.model.survey import BellEntry, Path

SMALL_MM = 450.0
"""Mouth diameter below which a bell is cast thicker, and the laws of large bells no longer hold [mm]."""

BRONZES = frozenset({"bronze", "other-bronze"})
STEELS = frozenset({"cast-steel", "cast-iron"})
"""Words of ``material``."""

ON_THE_SCALE = frozenset({"headstock", "wheel", "bearings", "hammer"})
"""Words of ``mass_part`` for what can weigh so much that the mass says little of the bell."""


def sizes_fit_the_mouth(form: Form, path: Path, bell: BellEntry) -> Iterator[Found]:
    """Expect that thickness, height and shoulder stand in a usual ratio to the mouth diameter."""
    sizes = bell.dimensions
    if sizes is None:
        return
    here = (*path, "dimensions")
    mouth = sizes.mouth_diameter_mm
    thickness = (
        "steel-thickness-to-diameter" if _family(bell) == "steel" else "soundbow-thickness-to-diameter"
    )
    for field, code, name in (
        ("soundbow_thickness_mm", "thickness-against-diameter", thickness),
        ("height_mm", "height-against-diameter", "height-to-diameter"),
        ("shoulder_diameter_mm", "shoulder-against-diameter", "shoulder-to-diameter"),
    ):
        compared = (
            Comparison(code, name, getattr(sizes, field), mouth, f"at a mouth of {mouth:g} mm")
            if mouth
            else None
        )
        if compared:
            yield from misfit(form, here, field, compared)
    bow = sizes.soundbow_thickness_mm
    yield from misfit(
        form,
        here,
        "waist_thickness_mm",
        Comparison(
            "waist-against-soundbow",
            "waist-thickness-to-soundbow",
            sizes.waist_thickness_mm,
            bow,
            f"at a sound-bow of {bow:g} mm" if bow else "",
        ),
    )
    yield from _slant(form, here, sizes)


def _slant(form: Form, path: Path, sizes: Dimensions) -> Iterator[Found]:
    """Hold the slant height against the right-angled triangle of height and half the difference of widths."""
    mouth, shoulder, height = sizes.mouth_diameter_mm, sizes.shoulder_diameter_mm, sizes.height_mm
    if mouth is None or shoulder is None or height is None:
        return
    computed = math.hypot(height, (mouth - shoulder) / 2)
    yield from misfit(
        form,
        path,
        "slant_height_mm",
        Comparison(
            "slant-against-height",
            "slant-height-misfit",
            sizes.slant_height_mm,
            computed,
            f"(height {height:g} mm, mouth {mouth:g} mm, shoulder {shoulder:g} mm)",
        ),
    )


def readings_bear_out_the_diameter(form: Form, path: Path, bell: BellEntry) -> Iterator[Found]:
    """Expect that the mouth diameter lies among its readings, and these lie close together."""
    sizes = bell.dimensions
    if sizes is None or not sizes.mouth_diameter_readings_mm:
        return
    here = (*path, "dimensions")
    readings, mouth = sizes.mouth_diameter_readings_mm, sizes.mouth_diameter_mm
    mean, least, most = fmean(readings), min(readings), max(readings)
    if mouth is None:
        if not form.is_given(here, "mouth_diameter_mm"):
            finding = Finding(
                "mean-missing",
                "readings alone",
                "mouth_diameter_mm beside them",
                f"write the mean as mouth_diameter_mm: {mean:.5g}",
            )
            yield Found(here, "mouth_diameter_readings_mm", finding)
        return
    allowed = band("reading-misfit").high * mouth
    if not least - allowed <= mouth <= most + allowed:
        finding = Finding(
            "readings-disagree",
            form.as_written(here, "mouth_diameter_mm"),
            f"the mean of the readings, {mean:.5g} mm",
            "check the readings and the mean",
        )
        yield Found(here, "mouth_diameter_mm", finding)
    if most - least > band("readings-spread").high * mouth:
        finding = Finding(
            "readings-disagree",
            f"{least:g} to {most:g} mm",
            f"readings within {band('readings-spread').high * mouth:.3g} mm of each other",
            "measure again; if the mouth is oval, say so in the remarks",
        )
        yield Found(here, "mouth_diameter_readings_mm", finding)


def _family(bell: BellEntry) -> str | None:
    """Say by which laws a bell goes: bronze, steel, either (not known), or none that is known here."""
    material = bell.identity.material if bell.identity else None
    if material in BRONZES:
        return "bronze"
    if material in STEELS:
        return "steel"
    return "either" if material in (None, "unknown") else None


def law_band(bell: BellEntry, law: str) -> Band | None:
    """Find the band of a law for the material and size of a bell; None where none is known.

    Parameters
    ----------
    bell : BellEntry
        A bell with a mouth diameter.
    law : str
        The end of the band's name: ``mass-to-cube`` or ``strike-times-diameter``.
    """
    family = _family(bell)
    if family is None or bell.dimensions is None or bell.dimensions.mouth_diameter_mm is None:
        return None
    size = "-small" if bell.dimensions.mouth_diameter_mm < SMALL_MM else ""
    bronze, steel = band(f"bronze{size}-{law}"), band(f"steel-{law}")
    if family == "either":
        return bronze._replace(low=min(bronze.low, steel.low), high=max(bronze.high, steel.high))
    return bronze if family == "bronze" else steel


def mass_fits_the_size(form: Form, path: Path, bell: BellEntry) -> Iterator[Found]:
    """Expect that the mass is one that a bell of this size, material and note can have."""
    sizes = bell.dimensions
    if sizes is None or sizes.mass_kg is None or sizes.mouth_diameter_mm is None:
        return
    if ON_THE_SCALE.intersection(sizes.mass_includes):
        return
    here = (*path, "dimensions")
    mouth_m = sizes.mouth_diameter_mm / 1000
    limits = law_band(bell, "mass-to-cube")
    if limits is None:
        return
    base, beside = mouth_m**3, f"at a mouth of {sizes.mouth_diameter_mm:g} mm"
    strike = bell.sound.strike_hz if bell.sound else None
    if _family(bell) == "bronze" and strike and limits.holds(sizes.mass_kg / base):
        limits = band("bronze-mass-to-size-and-strike")
        base, beside = strike * mouth_m**4, f"{beside} and a strike note of {strike:g} Hz"
    if not limits.holds(sizes.mass_kg / base):
        finding = Finding(
            "mass-against-diameter",
            form.as_written(here, "mass_kg"),
            f"{between(limits.low * base, limits.high * base, 'kg')} {beside}",
            "check mass, unit, diameter and material; if all are right, say so in the remarks",
        )
        yield Found(here, "mass_kg", finding)
