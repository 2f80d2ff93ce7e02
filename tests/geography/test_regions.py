"""Region files are read whole or refused with everything that is wrong in them."""

import json
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from registry.geography import (
    CoordinateError,
    Region,
    RegionError,
    contains,
    read_regions,
    swapped_axes_suspected,
)


def square(west: float, south: float, east: float, north: float) -> list[list[float]]:
    """Make a closed ring, counter-clockwise as RFC 7946 asks."""
    return [[west, south], [east, south], [east, north], [west, north], [west, south]]


def feature(id_: object = "vale", name: object = "The Vale", *rings: Any, **extra: Any) -> dict[str, Any]:
    """Make a feature of one polygon."""
    geometry = {"type": "Polygon", "coordinates": list(rings) or [square(10, 50, 12, 51)]}
    return {"type": "Feature", "id": id_, "properties": {"name": name}, "geometry": geometry} | extra


def collection(*features: Any, **extra: Any) -> str:
    """Write a collection of features."""
    return json.dumps({"type": "FeatureCollection", "features": list(features)} | extra)


def only(text: str) -> Region:
    """Read the one region of a text."""
    (region,) = read_regions(text)
    return region


def test_regions_are_read() -> None:
    """Each feature becomes a region with its id, name and border; the id may stand in the properties."""
    second = feature(None, "Hill", square(12, 50, 14, 51))
    del second["id"]
    second["properties"]["id"] = "hill"
    regions = read_regions(collection(feature(), second))
    assert [(region.id, region.name) for region in regions] == [("vale", "The Vale"), ("hill", "Hill")]
    assert regions[0].geometry.bounds == (10.0, 50.0, 12.0, 51.0)
    assert only(json.dumps(feature())).id == "vale"


@pytest.mark.parametrize(
    ("latitude", "longitude", "inside"),
    [
        (50.5, 11.0, True),
        (50.0, 10.0, True),  # a corner
        (51.0, 11.0, True),  # the border
        (51.0001, 11.0, False),
        (50.45, 10.95, False),  # the hole
        (50.4, 10.95, True),  # the border of the hole
        (11.0, 50.5, False),
    ],
)
def test_places_in_a_region(latitude: float, longitude: float, inside: bool) -> None:
    """A place in a region or on its border is in it, one in a hole is not; latitude comes first."""
    hole = square(10.9, 50.4, 11.0, 50.5)[::-1]
    region = only(collection(feature("vale", "Vale", square(10, 50, 12, 51), hole)))
    assert contains(region, latitude, longitude) is inside


def test_a_region_in_parts_over_the_antimeridian() -> None:
    """A region cut at the antimeridian holds places on both sides and on it, under either sign."""
    parts = {"type": "MultiPolygon", "coordinates": [[square(179, -1, 180, 1)], [square(-180, -1, -179, 1)]]}
    region = only(collection(feature(geometry=parts)))
    assert all(contains(region, 0.0, longitude) for longitude in (179.5, 180.0, -180.0, -179.5))
    assert not contains(region, 0.0, 178.9)
    east_only = only(collection(feature("east", "East", square(179, -1, 180, 1))))
    assert contains(east_only, 0.0, -180.0)


def test_heights_and_direction_of_rings_do_not_matter() -> None:
    """A third number in a position is passed over, and a clockwise ring is accepted (RFC 7946, 3.1.6)."""
    ring = [[*position, 120.0] for position in square(10, 50, 12, 51)][::-1]
    assert contains(only(collection(feature("vale", "Vale", ring))), 50.5, 11.0)


@settings(deadline=None)
@given(st.floats(-90, 90), st.floats(-180, 180))
def test_a_square_holds_what_lies_between_its_sides(latitude: float, longitude: float) -> None:
    """For a square, containment is a comparison of numbers."""
    region = only(collection(feature()))
    assert contains(region, latitude, longitude) is (50 <= latitude <= 51 and 10 <= longitude <= 12)


@pytest.mark.parametrize(
    ("latitude", "longitude", "suspected"),
    [
        (11.0, 50.5, True),
        (50.5, 11.0, False),  # in the region as it is
        (20.0, 30.0, False),  # outside either way
        (11.0, 150.5, False),  # 150.5 cannot be a latitude
    ],
)
def test_swapped_axes_are_suspected(latitude: float, longitude: float, suspected: bool) -> None:
    """Axes are suspected of being swapped where only the exchange puts the place into its region."""
    assert swapped_axes_suspected(only(collection(feature())), latitude, longitude) is suspected


def test_places_that_are_none_lie_in_no_region() -> None:
    """A latitude or longitude out of range is refused."""
    region = only(collection(feature()))
    with pytest.raises(CoordinateError):
        contains(region, 91.0, 0.0)
    with pytest.raises(CoordinateError):
        swapped_axes_suspected(region, 0.0, 181.0)


def faults(text: str) -> list[str]:
    """Give the paths of the faults of a text."""
    with pytest.raises(RegionError) as caught:
        read_regions(text)
    assert caught.value.code == "bad-region"
    assert all(fault.expected and fault.remedy for fault in caught.value.faults)
    return [fault.path for fault in caught.value.faults]


@pytest.mark.parametrize(
    "text",
    [
        "", "{", "[]", "5", "null", '"FeatureCollection"', "{}", "NaN", "[" * 100000, "\ufeff{}",
        collection(), '{"type":"FeatureCollection"}', '{"type":"FeatureCollection","features":{}}',
        '{"type":"Topology","objects":{}}', '{"type":"Polygon","coordinates":[]}',
        '{"type":"Feature","type":"Feature"}', json.dumps(feature())[:-1] + ',"bbox":[Infinity,0,0,0]}',
        "9" * 10000,
    ],
    ids=lambda text: text[:30],
)  # fmt: skip
def test_files_that_are_no_regions(text: str) -> None:
    """A file that is no JSON, or JSON of another kind, is one fault of the file."""
    assert faults(text) == [""]


FAULTY = [
    (feature("Vale"), "features[0].id"),
    (feature("the-vale-"), "features[0].id"),
    (feature(7), "features[0].id"),
    (feature(None), "features[0].id"),
    (feature("vale", ""), "features[0].properties.name"),
    (feature("vale", 3), "features[0].properties.name"),
    (feature(properties=None), "features[0].properties.name"),
    (5, "features[0]"),
    ({"type": "feature"}, "features[0]"),
    (feature(geometry=None), "features[0].geometry"),
    (feature(geometry={"type": "Point", "coordinates": [10, 50]}), "features[0].geometry"),
    (feature(geometry={"type": "Polygon"}), "features[0].geometry.coordinates"),
    (feature(geometry={"type": "Polygon", "coordinates": []}), "features[0].geometry.coordinates"),
    (feature(geometry={"type": "MultiPolygon", "coordinates": [5]}), "features[0].geometry.coordinates[0]"),
    (feature("vale", "Vale", 5), "features[0].geometry.coordinates[0]"),
    (feature("vale", "Vale", [[10, 50], [12, 50], [10, 50]]), "features[0].geometry.coordinates[0]"),
    (feature("vale", "Vale", square(10, 50, 12, 51)[:4]), "features[0].geometry.coordinates[0]"),
    (feature("vale", "Vale", square(10, 95, 12, 96)), "features[0].geometry.coordinates[0][0]"),
    (feature("vale", "Vale", square(10, 89, 12, 90.5)), "features[0].geometry.coordinates[0][2]"),
    (feature("vale", "Vale", square(10, -90.5, 12, 0)), "features[0].geometry.coordinates[0][0]"),
    (feature("vale", "Vale", [[10, 50, 0, 0]] * 4), "features[0].geometry.coordinates[0][0]"),
    (feature("vale", "Vale", square(181, 50, 182, 51)), "features[0].geometry.coordinates[0][0]"),
    (
        feature("vale", "Vale", [["10", 50], *square(10, 50, 12, 51)]),
        "features[0].geometry.coordinates[0][0]",
    ),
    (
        feature("vale", "Vale", [[True, 50], *square(10, 50, 12, 51)]),
        "features[0].geometry.coordinates[0][0]",
    ),
    (feature("vale", "Vale", [[10], *square(10, 50, 12, 51)]), "features[0].geometry.coordinates[0][0]"),
    (feature("vale", "Vale", [[0, 0], [1, 1], [0, 1], [1, 0], [0, 0]]), "features[0].geometry"),
    (feature("vale", "Vale", [[1, 1]] * 4), "features[0].geometry"),
    (feature("vale", "Vale", square(0, 0, 1, 1), square(2, 2, 3, 3)), "features[0].geometry"),
]


@pytest.mark.parametrize(("faulty", "path"), FAULTY, ids=lambda value: str(value)[-60:])
def test_faults_are_named_by_their_place(faulty: object, path: str) -> None:
    """A feature with one fault is refused, and the fault is named by its place in the file."""
    assert faults(collection(faulty)) == [path]


@pytest.mark.parametrize("hidden", ["\ud800", "\x00", "\n", "\u202e", "\u2028"], ids=ascii)
def test_names_hold_what_can_be_seen(hidden: str) -> None:
    """Controls, halves of pairs (RFC 8259, 8.2, lets them in) and turned text are refused; joiners stay."""
    wrong = feature("vale", properties={"name": f"The {hidden}Vale", "kind": f"a{hidden}b"})
    assert faults(collection(wrong)) == ["features[0].properties.name", "features[0].properties.kind"]
    assert only(collection(feature("vale", "می\u200cخواهم"))).name == "می\u200cخواهم"


def test_ids_and_names_have_a_length() -> None:
    """An id is as long as one in a form may be, 80 characters, and a name 200."""
    assert only(collection(feature("v" * 80, "V" * 200))).id == "v" * 80
    too_long = collection(feature("v" * 81, "V" * 201))
    assert faults(too_long) == ["features[0].id", "features[0].properties.name"]


def test_text_that_ends_to_be_json_is_named_by_line_and_column() -> None:
    """The place where a file cannot be read on is that of the parser."""
    with pytest.raises(RegionError) as caught:
        read_regions('{"type": "FeatureCollection",\n "features": [}')
    assert [(fault.line, fault.column, fault.read) for fault in caught.value.faults] == [(2, 15, "'}'")]


def test_everything_wrong_is_told_at_once() -> None:
    """All faults of all features are listed, in the order of the file."""
    text = collection(feature("A", ""), feature(), feature("vale", "Again"), 5, feature("b", "B", [[0, 0]]))
    assert faults(text) == [
        "features[0].id",
        "features[0].properties.name",
        "features[2].id",
        "features[3]",
        "features[4].geometry.coordinates[0]",
    ]


def test_other_coordinate_systems_are_refused() -> None:
    """A file that says its coordinates are not WGS 84 is refused; one that says they are is read."""
    crs = {"type": "name", "properties": {"name": "urn:ogc:def:crs:EPSG::25832"}}
    assert faults(collection(feature(), crs=crs)) == ["crs"]
    crs["properties"] = {"name": "urn:ogc:def:crs:OGC:1.3:CRS84"}
    assert only(collection(feature(), crs=crs)).id == "vale"


def test_deep_nonsense_does_not_break_the_reader() -> None:
    """Coordinates nested hundreds deep, or numbers too large for a float, are faults like others."""
    deep: Any = 1
    for _ in range(400):
        deep = [deep]
    assert faults(collection(feature("vale", "Vale", deep)))
    assert faults(collection(feature("vale", "Vale", [[10**400, 50]] * 4)))


@settings(deadline=None)
@given(
    st.recursive(
        st.none() | st.booleans() | st.floats() | st.integers() | st.text(max_size=5),
        lambda inner: st.lists(inner, max_size=4) | st.dictionaries(st.text(max_size=5), inner, max_size=3),
        max_leaves=12,
    )
)
def test_any_json_gives_regions_or_faults(value: Any) -> None:
    """No JSON breaks the reader, wherever it stands in the file."""
    for text in (
        json.dumps(value),
        collection(value),
        collection(feature(value)),
        collection(feature(geometry=value)),
        collection(feature(geometry={"type": "MultiPolygon", "coordinates": value})),
        collection(feature("vale", "Vale", value)),
        collection(feature(), crs=value),
    ):
        try:
            read_regions(text)
        except RegionError as error:
            assert all(fault.remedy for fault in error.faults)  # noqa: PT017
