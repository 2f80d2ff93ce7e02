"""How far bells hung from where they were cast, held against geographiclib."""

import pytest
from geographiclib.geodesic import Geodesic
from hypothesis import given
from hypothesis import strategies as st

from registry.derive.delivery import Delivered, Deliveries, Site, delivered_from
from registry.model.life import days_of

ELY = Site("Ely", 52.0, 0.0, days_of("1700/1720"))
YORK = Site("York", 54.0, -1.0, days_of("1721/1740"))


def bell(name: str, latitude: float, longitude: float, cast: str = "") -> Delivered:
    """Make a bell in its first tower."""
    return Delivered(name, latitude, longitude, days_of(cast))


def line_m(a: tuple[float, float], b: tuple[float, float]) -> float:
    """Measure with the reference library (Karney 2013) [m]."""
    return float(Geodesic.WGS84.Inverse(*a, *b)["s12"])


def test_each_bell_counts_from_the_workshop_of_its_time() -> None:
    """A bell is measured from where its founder cast then; of two that fit the nearer counts."""
    bells = [
        bell("a", 53.0, 0.5, "1710"),
        bell("b", 53.0, 0.5, "1730"),
        bell("c", 53.9, -1.0),
        bell("d", 0, 0, "1800"),
    ]
    found = delivered_from([ELY, YORK], bells, 6)
    assert found.distance_m == pytest.approx(
        {
            "a": line_m((52.0, 0.0), (53.0, 0.5)),
            "b": line_m((54.0, -1.0), (53.0, 0.5)),
            "c": line_m((54.0, -1.0), (53.9, -1.0)),
        },
        abs=1e-6,
    )
    assert found.unjudged == 3
    assert found.nearest_m == found.distance_m["c"]
    assert found.median_m == sorted(found.distance_m.values())[1]
    assert found.farthest_m == max(found.distance_m.values())


def test_nothing_to_measure() -> None:
    """Without a workshop or a placed bell every bell is left unjudged."""
    assert delivered_from([], [bell("a", 1, 1)], 3) == Deliveries({}, None, None, None, 3)
    assert delivered_from([ELY], [], 0) == Deliveries({}, None, None, None, 0)


@given(st.floats(-90, 90), st.floats(-180, 180))
def test_distances_are_those_of_the_reference_library(latitude: float, longitude: float) -> None:
    """Anywhere on earth, poles and antimeridian included, the distance is that of geographiclib."""
    found = delivered_from([ELY], [bell("a", latitude, longitude)], 1)
    assert found.distance_m["a"] == pytest.approx(line_m((52.0, 0.0), (latitude, longitude)), abs=1e-5)
