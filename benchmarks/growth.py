"""How honest are the intervals of growth? Simulate visits to a bell whose true wear is known, and count.

Run ``python benchmarks/growth.py``. For layouts of visits (days and instruments of towers of the sample
district, and others) and for ways in which readings err, it simulates histories, computes the growth as the
program does, and tells how often the interval held the true mean rate, how wide it was, and how often "cannot
tell yet" was the answer. Beside it stand the two intervals it is the wider of, and one that is not used: all
straight lines that pass within the errors of every reading. That one is the narrowest, and the first to fail
where wear is not steady.

The last way of erring breaks the promise of the form on purpose: there the "largest error" is a deviation.
"""

import math
import random
import sys
from collections.abc import Callable, Sequence
from datetime import date
from pathlib import Path
from typing import NamedTuple

from registry.derive.condition.loss import tolerance_mm
from registry.derive.condition.seen import seen_in
from registry.derive.condition.slope import Measured, Rate, theil_sen, yearly_rate, years_between
from registry.forms.check import check_file
from registry.geography import read_regions

LEVEL = 0.9
ROUNDING_MM = 0.05
HISTORIES = 500

SAMPLE = Path(__file__).resolve().parent.parent / "sample_data"
AT_LEAST_VISITS = 3

OTHER_LAYOUTS: dict[str, Sequence[tuple[str, float]]] = {
    "two visits": (("2008-05-20", 0.2), ("2023-10-10", 0.1)),
    "four visits, a gap": (
        ("1998-06-01", 0.5),
        ("2001-06-01", 0.2),
        ("2019-06-01", 0.2),
        ("2024-06-01", 0.1),
    ),
    "eight visits": tuple((f"{1990 + 5 * i}-05-01", 0.2) for i in range(8)),
}
"""Days of visits and the largest error of the depth gauge at each [mm]."""


def layouts_of_the_sample() -> dict[str, Sequence[tuple[str, float]]]:
    """Give days and errors of depth of the sample towers that were visited three times or more."""
    regions = read_regions((SAMPLE / "vellmark.geojson").read_text(encoding="utf-8"))
    found: dict[str, list[tuple[str, float]]] = {}
    for path in sorted((SAMPLE / "surveys").glob("*.yaml")):
        read = check_file(path, path.name, today=date.today(), regions=regions).read
        if read is not None and read.survey.survey.kind == "visit":
            seen = seen_in(read.survey)[0]
            error = tolerance_mm(seen, "pit") - ROUNDING_MM
            found.setdefault(read.survey.tower.id, []).append((seen.day.isoformat(), error))
    return {tower: sorted(visits) for tower, visits in found.items() if len(visits) >= AT_LEAST_VISITS}


Error = Callable[[random.Random, float], float]
ERRORS: dict[str, Error] = {
    "anywhere within the error": lambda rng, e: rng.uniform(-e, e),
    "normal, error two deviations": lambda rng, e: rng.gauss(0.0, e / 2.0),
    "steady offset per instrument": lambda rng, e: rng.choice([-1.0, 1.0]) * rng.uniform(0.5, 1.0) * e,
    "normal, error one deviation (!)": lambda rng, e: rng.gauss(0.0, e),
}


class Tally(NamedTuple):
    """How often an interval held, and how wide it was against the rate."""

    held: int = 0
    width: float = 0.0

    def counted(self, low: float, high: float, truth: float) -> "Tally":
        """Add one interval."""
        return Tally(self.held + (low <= truth <= high), self.width + high - low)


def simulated(
    rng: random.Random, layout: Sequence[tuple[str, float]], err: Error, unsteady: float
) -> tuple[list[Measured], float]:
    """Make readings of one pit and the true mean rate between the first and the last visit [mm/a]."""
    rate, depth = math.exp(rng.gauss(math.log(0.06), 0.5)), 1.0
    days = [date.fromisoformat(day) for day, _ in layout]
    readings, first, before = [], depth, days[0]
    for day, (_, error) in zip(days, layout, strict=True):
        depth += rate * rng.lognormvariate(0.0, unsteady) * years_between(before, day)
        readings.append(Measured(day, round(depth + err(rng, error), 1), error + ROUNDING_MM))
        before = day
    return readings, (depth - first) / years_between(days[0], days[-1])


def through_all(readings: Sequence[Measured]) -> tuple[float, float] | None:
    """Give the slopes of all straight lines within the error of every reading; None where there is none."""
    low, high = -math.inf, math.inf
    for place, one in enumerate(readings):
        for other in readings[place + 1 :]:
            years = years_between(one.day, other.day)
            slope, reach = (other.value - one.value) / years, (one.error + other.error) / years
            low, high = max(low, slope - reach), min(high, slope + reach)
    return (low, high) if low <= high else None


def rate_of(readings: Sequence[Measured]) -> Rate:
    """Give the rate of readings that lie on different days."""
    rate = yearly_rate(readings, LEVEL)
    if rate is None:
        raise ValueError("a layout needs two visits on different days")
    return rate


def line(layout: str, visits: Sequence[tuple[str, float]], errors: str, unsteady: float) -> str:
    """Simulate one combination and tell it in a line."""
    rng = random.Random(f"{layout} {errors} {unsteady}")
    used, sen, ends, lines, unsure = Tally(), Tally(), Tally(), Tally(), 0
    for _ in range(HISTORIES):
        readings, truth = simulated(rng, visits, ERRORS[errors], unsteady)
        rate, two = rate_of(readings), rate_of([readings[0], readings[-1]])
        x = [years_between(readings[0].day, each.day) for each in readings]
        slope = theil_sen(x, [each.value for each in readings], LEVEL)
        used = used.counted(rate.low, rate.high, truth)
        sen = sen.counted(slope.low, slope.high, truth)
        ends = ends.counted(two.low, two.high, truth)
        lines = lines.counted(*(through_all(readings) or (math.nan, math.nan)), truth)
        unsure += not rate.told_from_zero
    cells = [f"{100 * each.held / HISTORIES:6.1f} %" for each in (used, sen, ends, lines)]
    width = used.width / HISTORIES
    return (
        f"{layout:24}{errors:34}{unsteady:4.1f}{''.join(cells)}{width:9.3f}{100 * unsure / HISTORIES:7.0f} %"
    )


def main() -> None:
    """Print how often the intervals held."""
    print(
        f"{HISTORIES} histories each; rate about 0.06 mm a year; uns.: deviation of ln(rate) between visits\n"
    )
    print(
        f"{'visits':24}{'errors':34}{'uns.':>4}{'used':>8}{'Sen':>8}{'ends':>8}{'lines':>8}{'mm/a':>9}{'unsure':>9}"
    )
    for layout, visits in {**layouts_of_the_sample(), **OTHER_LAYOUTS}.items():
        for errors in ERRORS:
            for unsteady in (0.0, 0.3):
                print(line(layout, visits, errors, unsteady))
                sys.stdout.flush()


if __name__ == "__main__":
    main()
