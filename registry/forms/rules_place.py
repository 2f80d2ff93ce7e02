"""Rules on where the tower stands."""

from collections.abc import Iterator

from registry.forms.finding import Finding
from registry.forms.ruling import Form, Found
from registry.geography import Region, contains, swapped_axes_suspected
from registry.model.survey import Path

_TOWER: Path = ("tower",)
_AXES = ("latitude_deg", "longitude_deg")


def coordinates_come_in_pairs(form: Form) -> Iterator[Found]:
    """Expect that a latitude comes with a longitude, and not both are zero."""
    tower = form.survey.tower
    for given, absent in (_AXES, _AXES[::-1]):
        if form.is_given(_TOWER, given) and not form.is_given(_TOWER, absent):
            finding = Finding(
                "missing-required", f"{given} alone", f"{absent} beside {given}", f"fill in {absent}"
            )
            yield Found(_TOWER, given, finding)
    if tower.latitude_deg == 0 and tower.longitude_deg == 0:
        finding = Finding(
            "unusual-value",
            "0 and 0",
            "a place on land",
            "leave both empty where the place is not known",
        )
        yield Found(_TOWER, "latitude_deg", finding)


def tower_lies_in_its_region(form: Form) -> Iterator[Found]:
    """Expect that a tower lies in the region it names; if it lay there with its axes exchanged, they were."""
    tower = form.survey.tower
    latitude, longitude = tower.latitude_deg, tower.longitude_deg
    if not form.regions:
        return
    named = next((region for region in form.regions if region.id == tower.region), None)
    if tower.region is not None and named is None:
        finding = Finding(
            "unknown-region",
            tower.region,
            "a region whose border is loaded: " + ", ".join(region.id for region in form.regions[:8]),
            "check the id, or load the border of the region",
        )
        yield Found(_TOWER, "region", finding)
    if latitude is None or longitude is None:
        return
    candidates = [named] if named else list(form.regions)
    if any(contains(region, latitude, longitude) for region in candidates):
        return
    if swapped := _swapped_in(candidates, latitude, longitude):
        finding = Finding(
            "axes-swapped",
            f"{form.as_written(_TOWER, 'latitude_deg')}, {form.as_written(_TOWER, 'longitude_deg')}",
            f"a place in {swapped.id}, where the two lie the other way round",
            "exchange latitude_deg and longitude_deg",
        )
        yield Found(_TOWER, "latitude_deg", finding)
    elif named:
        finding = Finding(
            "outside-region",
            f"{form.as_written(_TOWER, 'latitude_deg')}, {form.as_written(_TOWER, 'longitude_deg')}",
            f"a place in {named.name}",
            "check the coordinates and the region",
        )
        yield Found(_TOWER, "region", finding)


def _swapped_in(regions: list[Region], latitude: float, longitude: float) -> Region | None:
    """Find the region in which the place lies when its axes are exchanged."""
    return next((one for one in regions if swapped_axes_suspected(one, latitude, longitude)), None)
