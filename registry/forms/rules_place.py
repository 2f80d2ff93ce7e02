"""Rules on where the tower stands."""

from collections.abc import Iterator

from registry.forms.finding import Finding
from registry.forms.ruling import Form, Found
from registry.geography import Region, contains, swapped_axes_suspected
from registry.model.survey import Path, as_of
from registry.model.validity import Validity, read_validity

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


def region_was_in_force(form: Form) -> Iterator[Found]:
    """Expect that the region a tower is said to lie in existed on the day the survey tells of."""
    survey = form.survey
    named = next((region for region in form.regions if region.id == survey.tower.region), None)
    if named is None or survey.survey.date is None:
        return
    day = as_of(survey)
    then = Validity(day, day)
    if read_validity(named.valid).overlaps(then):
        return
    in_force = [region for region in form.regions if read_validity(region.valid).overlaps(then)]
    latitude, longitude = survey.tower.latitude_deg, survey.tower.longitude_deg
    others = [
        region.id
        for region in in_force
        if region.kind == named.kind
        and latitude is not None
        and longitude is not None
        and contains(region, latitude, longitude)
    ] or [
        region.id for region in in_force if (region.version_of or region.id) == (named.version_of or named.id)
    ]
    remedy = f"name the region of that day, perhaps {' or '.join(others[:3])}" if others else "check both"
    finding = Finding(
        "region-not-valid", f"{named.id}, in force {named.valid}", f"a region in force on {day}", remedy
    )
    yield Found(_TOWER, "region", finding)


def _swapped_in(regions: list[Region], latitude: float, longitude: float) -> Region | None:
    """Find the region in which the place lies when its axes are exchanged."""
    return next((one for one in regions if swapped_axes_suspected(one, latitude, longitude)), None)
