"""How long it takes to find thousands of towers in hundreds of regions: ``python benchmarks/regions.py``.

The borders and places are made up by chance with a fixed seed: 200 regions of 300 corners, 5 000 towers.
"""

import random
from math import cos, pi, sin
from time import perf_counter

from registry.geography import Place, Region, border_of, holders, places_in_regions

REGIONS, CORNERS, TOWERS = 200, 300, 5000


def some_region(number: int, chance: random.Random) -> Region:
    """Make a round region with a ragged border."""
    east, north, wide = chance.uniform(-10, 10), chance.uniform(45, 55), chance.uniform(0.5, 3)
    ragged = [wide * (1 + 0.1 * chance.random()) for _ in range(CORNERS)]
    angles = [2 * pi * corner / CORNERS for corner in range(CORNERS)]
    ring = [
        (east + far * cos(turn), north + far * sin(turn)) for far, turn in zip(ragged, angles, strict=True)
    ]
    return Region(f"r{number}", "", border_of([[[*ring, ring[0]]]]).geometry)


def main() -> None:
    """Time both questions that a load asks."""
    chance = random.Random(1)
    regions = [some_region(number, chance) for number in range(REGIONS)]
    towers = [
        Place(f"t{number}", chance.uniform(44, 56), chance.uniform(-11, 11)) for number in range(TOWERS)
    ]
    start = perf_counter()
    found = sum(1 for _ in places_in_regions(regions, towers))
    print(f"{TOWERS} towers in {REGIONS} regions: {found} pairs in {perf_counter() - start:.2f} s")
    start = perf_counter()
    nested = sum(map(len, holders(regions, lambda _one, _other: True).values()))
    print(f"{REGIONS} regions in each other: {nested} pairs in {perf_counter() - start:.2f} s")


if __name__ == "__main__":
    main()
