"""Do radius, nearest, polygon and region agree with looking at every tower? Ten thousand random cases.

Run ``python benchmarks/places.py``. Towers stand all over the world, at both poles and on both sides of the
antimeridian among them; polygons have holes, cross the antimeridian and touch the poles. Distances are held
against Karney's method (geographiclib), polygons and regions against counting crossings in whole numbers. It
prints the cases, those that disagree, and the time a question takes.
"""

import argparse
import random
import sys
import time
from collections.abc import Callable
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "tests"))

from places_by_hand import (
    SPECIAL,
    Place,
    distances_by_hand,
    drawn_area,
    inside_by_hand,
    registry_of,
    towers_on_the_grid,
)

from registry.geography import Place as Placed
from registry.geography import Region, places_in_regions
from registry.geography.areas import shapes_of
from registry.geography.rings import BorderError
from registry.questions import BellQuery, link_of, read_link
from registry.questions.link import pairs_of
from registry.store.search import find_bells

TOWERS = 120
SAME_M = 1e-3


class Tally:
    """Counts cases of one kind, those that disagree, and the time the answers took."""

    def __init__(self, kind: str) -> None:
        self.kind = kind
        self.cases = self.wrong = self.found = 0
        self.seconds = 0.0

    def case(self, expected: set[str], answer: Callable[[], set[str]]) -> None:
        """Hold one answer against what was expected."""
        start = time.perf_counter()
        found = answer()
        self.seconds += time.perf_counter() - start
        self.cases += 1
        self.found += len(expected)
        if found != expected:
            self.wrong += 1
            print(f"{self.kind}: {sorted(found ^ expected)} differ")

    def line(self) -> str:
        """Sum up."""
        return (
            f"{self.kind:8} {self.cases:6} cases {self.found:8} bells expected {self.wrong:4} disagree"
            f" {self.seconds / max(self.cases, 1) * 1000:7.2f} ms a question"
        )


def main() -> None:
    """Put the questions and print what came of them."""
    parser = argparse.ArgumentParser(description=__doc__.partition("\n")[0])
    parser.add_argument("--cases", type=int, default=10_000)
    parser.add_argument("--seed", type=int, default=1)
    options = parser.parse_args()
    chance = random.Random(options.seed)
    towers = towers_on_the_grid(TOWERS, options.seed)
    conn = registry_of(towers)
    bells = [(at, f"t-{at}-{bell}") for at in range(TOWERS) for bell in range(1 + at % 3)]
    tallies = {kind: Tally(kind) for kind in ("radius", "nearest", "polygon", "region")}

    def found(query: BellQuery) -> set[str]:
        # By way of its link, as a reader asks.
        again = read_link(pairs_of(link_of(query))).query
        return {row["id"] for row in find_bells(conn, again._replace(limit=None)).rows}

    while sum(tally.cases for tally in tallies.values()) < options.cases:
        origin = _origin(chance, towers)
        away = distances_by_hand(origin, towers)
        radius_km = chance.choice((chance.uniform(1, 1500), chance.uniform(1500, 20_003)))
        within = {bell for at, bell in bells if away[at] / 1000 <= radius_km}
        tallies["radius"].case(within, lambda: found(BellQuery(near=(*origin, radius_km))))  # noqa: B023
        wanted = chance.choice((1, 2, 5, 20, 100))
        reach = sorted(away[at] for at, _ in bells)[wanted - 1]
        nearest = {bell for at, bell in bells if away[at] <= reach + SAME_M}
        tallies["nearest"].case(nearest, lambda: found(BellQuery(nearest=(*origin, wanted))))  # noqa: B023
        area = drawn_area(chance)
        try:
            (shape,) = shapes_of(area)
        except BorderError:
            continue
        inside = {at for at, place in enumerate(towers) if inside_by_hand(area, place)}
        expected = {bell for at, bell in bells if at in inside}
        tallies["polygon"].case(expected, lambda: found(BellQuery(area=area)))  # noqa: B023
        placed = [Placed(f"t-{at}", *place) for at, place in enumerate(towers)]
        tallies["region"].case(
            {f"t-{at}" for at in inside},
            lambda: {tower for tower, _ in places_in_regions([Region("r", "R", shape)], placed)},  # noqa: B023
        )
    for tally in tallies.values():
        print(tally.line())
    wrong = sum(tally.wrong for tally in tallies.values())
    print(f"{sum(tally.cases for tally in tallies.values())} cases, {wrong} disagree")
    sys.exit(bool(wrong))


def _origin(chance: random.Random, towers: list[Place]) -> Place:
    """Choose where to measure from: anywhere, a pole or the antimeridian, a tower, or its antipode."""
    north, east = chance.choice(towers)
    return chance.choice(
        (
            (chance.uniform(-90, 90), chance.uniform(-180, 180)),
            chance.choice(SPECIAL),
            (north, east),
            (-north, east - 180.0 if east > 0 else east + 180.0),
        )
    )


if __name__ == "__main__":
    main()
