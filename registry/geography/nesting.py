"""Which regions lie in each other."""

from collections.abc import Callable, Mapping, Sequence

from registry.geography.regions import Region

SHARE_INSIDE = 0.99
"""Part of a region's area that must lie in another for that to hold it.

Borders drawn from different maps differ by slivers. Common practice, no source.
"""

ALIKE = 1.001
"""Times a region must be larger than another to hold it: of two over the same land neither does."""


def holders(regions: Sequence[Region], together: Callable[[Region, Region], bool]) -> Mapping[str, list[str]]:
    """Name for each region the regions that hold it, the smallest first, by their ids.

    A region holds another where at least ``SHARE_INSIDE`` of the other's area lies in it and it is larger;
    areas are those of the map of longitudes and latitudes. Versions of one region never hold each other.

    Parameters
    ----------
    regions : sequence of Region
        All of them.
    together : callable
        Says whether two regions were valid at the same time.
    """
    from shapely import STRtree, box  # noqa: PLC0415

    boxes = STRtree([box(*region.geometry.bounds) for region in regions])
    found: dict[str, list[str]] = {}
    for region in regions:
        area = region.geometry.area
        near = boxes.query(box(*region.geometry.bounds))
        larger = sorted(
            (regions[place] for place in near if regions[place].geometry.area > ALIKE * area),
            key=lambda outer: (outer.geometry.area, outer.id),
        )
        found[region.id] = [
            outer.id
            for outer in larger
            if (outer.version_of or outer.id) != (region.version_of or region.id)
            and together(region, outer)
            and share_inside(region, outer) >= SHARE_INSIDE
        ]
    return found


def share_inside(inner: Region, outer: Region) -> float:
    """Give the part of a region's area that lies in another, 0 to 1."""
    if outer.geometry.covers(inner.geometry):
        return 1.0
    return float(outer.geometry.intersection(inner.geometry).area / inner.geometry.area)


def in_circles(regions: Sequence[Region]) -> set[str]:
    """Name the regions that, going from each to the parent it states, come back to themselves."""
    parents = {region.id: region.parent for region in regions if region.parent}
    circles = set()
    for start in parents:
        seen: list[str] = []
        at = start
        while at in parents and at not in seen:
            seen.append(at)
            at = parents[at]
        if at == start:
            circles.add(start)
    return circles
