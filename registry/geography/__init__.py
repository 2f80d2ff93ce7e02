"""Places on the earth: coordinates as written, distances, boxes round a place, and regions.

Latitude stands before longitude everywhere but in GeoJSON. ``geopy`` and ``shapely`` load only when a
function needs them.
"""

from registry.geography.coordinates import CoordinateError, read_coordinate
from registry.geography.distances import Box, box_around, distance_m
from registry.geography.regions import (
    Region,
    RegionError,
    RegionFault,
    contains,
    read_regions,
    swapped_axes_suspected,
)

__all__ = [
    "Box",
    "CoordinateError",
    "Region",
    "RegionError",
    "RegionFault",
    "box_around",
    "contains",
    "distance_m",
    "read_coordinate",
    "read_regions",
    "swapped_axes_suspected",
]
