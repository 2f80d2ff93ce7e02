"""Read the invented district once, for the tests that hold it to its promises and to published bands."""

import math
from datetime import date
from functools import cache
from typing import Any

from serving import CHECKOUT

from registry.forms.check import check_file
from registry.geography import read_regions

SAMPLE = CHECKOUT / "sample_data"
FORMS = sorted((SAMPLE / "surveys").glob("*.yaml"))
REGIONS = (SAMPLE / "vellmark.geojson").read_text(encoding="utf-8")
README = (SAMPLE / "README.md").read_text(encoding="utf-8")
TODAY = date(2026, 1, 1)
STATED = {"weighed", "founder-record", "inscribed"}
"""Ways to obtain a mass that do not rest on the sizes."""


@cache
def checked() -> dict[str, Any]:
    """Check every form of the sample once: file name to what was read and found."""
    regions = read_regions(REGIONS)
    return {path.name: check_file(path, path.name, today=TODAY, regions=regions) for path in FORMS}


@cache
def surveys() -> tuple[Any, ...]:
    """Give every survey of the sample in the order of its dates."""
    read = [form.read.survey for form in checked().values() if form.read is not None]
    return tuple(sorted(read, key=lambda each: each.survey.date))


def visits() -> list[Any]:
    """Give the surveys that are visits."""
    return [each for each in surveys() if each.survey.kind == "visit"]


def entries(kind: str | None = None) -> list[tuple[Any, Any]]:
    """Give every bell entry with its survey, of one kind of survey or of all."""
    return [(s, bell) for s in surveys() if kind in (None, s.survey.kind) for bell in s.bells]


def inscriptions() -> list[Any]:
    """Give every inscription of the sample."""
    return [each for _, bell in entries() for each in bell.inscriptions]


def materials() -> dict[str, str]:
    """Give the material of each bell, as any survey tells it."""
    return {
        bell.id: bell.identity.material
        for _, bell in entries()
        if bell.identity and bell.identity.material not in (None, "unknown")
    }


def measured() -> list[tuple[str, float, float | None, float | None, Any]]:
    """Give every visit's bell with a diameter: id, d in m, strike note in Hz, mass in kg if stated, sizes.

    The mass counts only where it does not come from the sizes and nothing heavier than a staple hung on it.
    """
    rows = []
    for _, bell in entries("visit"):
        sizes = bell.dimensions
        if sizes is None or sizes.mouth_diameter_mm is None:
            continue
        alone = not set(sizes.mass_includes) - {"staple"}
        mass = sizes.mass_kg if sizes.mass_basis in STATED and alone else None
        strike = bell.sound.strike_hz if bell.sound else None
        rows.append((bell.id, sizes.mouth_diameter_mm / 1000, strike, mass, sizes))
    return rows


def partials() -> list[tuple[str, dict[str, float]]]:
    """Give the partials of each bell and visit, in cents from its nominal, but for the struck broken ones."""
    rows = []
    for _, bell in entries("visit"):
        read = {each.name: each.frequency_hz for each in bell.sound.partials} if bell.sound else {}
        broken = any(crack.state == "confirmed" for crack in bell.cracks)
        if "nominal" in read and not broken:
            rows.append((bell.id, {n: 1200 * math.log2(f / read["nominal"]) for n, f in read.items()}))
    return rows
