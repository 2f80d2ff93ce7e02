"""Places on the earth: coordinates as written, distances, boxes round a place, and regions.

Latitude stands before longitude everywhere but in GeoJSON. ``geopy`` and ``shapely`` load only when a
function needs them.
"""

from registry.geography.containment import (
    Place,
    area_contains,
    contains,
    places_in_regions,
    swapped_axes_suspected,
)
from registry.geography.coordinates import CoordinateError, read_coordinate
from registry.geography.distances import Box, box_around, distance_m
from registry.geography.nesting import SHARE_INSIDE, holders, in_circles, share_inside
from registry.geography.regions import (
    Region,
    RegionError,
    RegionFault,
    read_regions,
)
from registry.geography.rings import Border, BorderError, border_of

__all__ = [
    "SHARE_INSIDE",
    "Border",
    "BorderError",
    "Box",
    "CoordinateError",
    "Place",
    "Region",
    "RegionError",
    "RegionFault",
    "area_contains",
    "border_of",
    "box_around",
    "contains",
    "distance_m",
    "holders",
    "in_circles",
    "places_in_regions",
    "read_coordinate",
    "read_regions",
    "share_inside",
    "swapped_axes_suspected",
]
