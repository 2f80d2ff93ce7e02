"""How good are the estimates of mass and note? Leave one tower out, refit, and look at the bells left out.

Run ``python benchmarks/estimates.py``. It fits constants and scatter of the law without one tower (or one
founder's table), estimates the bells of that tower, and goes on to the next. The tables tell, for every
method, the median error with its own 90 % interval (towers drawn again and again), and how often the 90 %
interval of the estimate held. *Sisters* are the other bells of the tower, and the founder's elsewhere: each
bell in turn is taken as the one that was never weighed, by a law that knows none of them. Last come the
constants from all rows, beside the shipped ones in ``schema/rules/estimates.yaml``.

All carillon trebles come from one tower: where it is left out, nothing teaches the law how they differ.
*Church bells* are the tower bells of bronze without carillon trebles, disputed bells and catalogue lines.
"""

import math
import random
from collections import defaultdict
from collections.abc import Iterable, Sequence
from statistics import median
from typing import NamedTuple

from fitting import Row, constants_of, fit, published_rows

from registry.derive.law import Law, law_of
from registry.derive.mass import mass_estimates
from registry.derive.sisters import Sisters
from registry.derive.strike import strike_estimate
from registry.model.derived import Derived
from registry.model.known_bell import KnownBell

DRAWS = 2000


class Outcome(NamedTuple):
    """One estimate beside the published value: error in natural logarithm, and whether the interval held."""

    row: Row
    error: float
    held: bool


def outcome(row: Row, estimate: Derived, truth: float) -> Outcome:
    """Compare one estimate with the published value."""
    return Outcome(row, math.log(estimate.value / truth), estimate.low <= truth <= estimate.high)


def outcomes(law: Law, rows: Iterable[Row]) -> dict[str, list[Outcome]]:
    """Estimate every row in every way, as a user would, and compare."""
    found: dict[str, list[Outcome]] = defaultdict(list)
    for row in rows:
        diameter_mm = row.diameter_m * 1000.0
        estimates = [*mass_estimates(diameter_mm, row.strike_hz, row.profile_class, law=law)]
        if row.strike_hz and row.cast_year:
            estimates.append(mass_estimates(diameter_mm, row.strike_hz, cast_year=row.cast_year, law=law)[0])
        for estimate in estimates:
            found[f"mass by {estimate.method}"].append(outcome(row, estimate, row.mass_kg))
        if row.strike_hz:
            for word in dict.fromkeys((None, row.profile_class)):
                estimate = strike_estimate(diameter_mm, word, law=law)
                found[f"note by {estimate.method}"].append(outcome(row, estimate, row.strike_hz))
    return found


def known(row: Row, number: int) -> KnownBell:
    """Give a row as a bell of a registry."""
    kin = row.kin
    return KnownBell(
        str(number),
        kin.founder,
        kin.tower,
        kin.cast_year,
        row.diameter_m * 1000.0,
        row.strike_hz,
        row.mass_kg,
    )


def outcomes_with_sisters(law: Law, tower: str, rows: Sequence[Row]) -> dict[str, list[Outcome]]:
    """Estimate each bell of a tower with all its others, and those of the same founders, in the registry."""
    founders = {row.kin.founder for row in rows if row.tower == tower and row.kin.founder}
    bells = [
        (row, known(row, number))
        for number, row in enumerate(rows)
        if row.tower == tower or row.kin.founder in founders
    ]
    sisters = Sisters([bell for _, bell in bells], law=law)
    found: dict[str, list[Outcome]] = defaultdict(list)
    for row, bell in bells:
        if row.tower == tower:
            for estimate in sisters.masses(bell):
                if "registry" not in estimate.method:
                    found[f"mass by {estimate.method}"].append(outcome(row, estimate, row.mass_kg))
            note = sisters.strike(bell)
            if note is not None and row.strike_hz:
                found[f"note by {note.method}"].append(outcome(row, note, row.strike_hz))
    return found


def interval_of_median(chosen: Sequence[Outcome]) -> tuple[float, float]:
    """Give the 90 % interval of the median error, towers drawn with replacement; fixed seed."""
    by_tower: dict[str, list[float]] = defaultdict(list)
    for each in chosen:
        by_tower[each.row.tower].append(abs(math.expm1(each.error)))
    draw = random.Random(1)
    medians = sorted(
        median(error for tower in draw.choices([*by_tower], k=len(by_tower)) for error in by_tower[tower])
        for _ in range(DRAWS)
    )
    return medians[DRAWS // 20], medians[-DRAWS // 20]


KINDS = {
    "all": ("church", "carillon", "catalogue"),
    "bells": ("church", "carillon"),
    "church bells": ("church",),
}


def summary(found: dict[str, list[Outcome]], labels: Iterable[str] = KINDS) -> Iterable[str]:
    """Tell, for every method and kind of row, number, median error and coverage."""
    yield f"{'method':33}{'rows':14}{'n':>4}{'median error':>14}{'90 % of it':>16}{'in cents':>10}{'held':>7}"
    for method in sorted(found):
        for label in labels:
            chosen = [each for each in found[method] if each.row.kind in KINDS[label]]
            if not chosen:
                continue
            percent = median(abs(math.expm1(each.error)) for each in chosen) * 100.0
            low, high = interval_of_median(chosen)
            cents = median(abs(each.error) for each in chosen) * 1200.0 / math.log(2.0)
            held = sum(each.held for each in chosen) / len(chosen) * 100.0
            in_cents = f"{cents:.0f}" if method.startswith("note") else ""
            yield (
                f"{method:33}{label:14}{len(chosen):4}{percent:12.1f} %{low * 100:9.1f} to {high * 100:4.1f}"
                f"{in_cents:>10}{held:5.0f} %"
            )


def main() -> None:
    """Print how the estimates fare on towers they have not seen, and the constants."""
    rows = published_rows()
    towers = sorted({row.tower for row in rows})
    bells = sum(row.kind != "catalogue" for row in rows)
    print(f"{len(rows)} rows, {bells} of them bells, from {len(towers)} towers and tables")
    unseen: dict[str, list[Outcome]] = defaultdict(list)
    told: dict[str, list[Outcome]] = defaultdict(list)
    for tower in towers:
        law = fit([row for row in rows if row.tower != tower])
        for method, each in outcomes(law, [row for row in rows if row.tower == tower]).items():
            unseen[method] += each
        for method, each in outcomes_with_sisters(law, tower, rows).items():
            told[method] += each
    print("\nLeaving one tower out, constants and intervals refitted without it")
    print(*summary(unseen), sep="\n")
    print("\nThe same law, with the weighed bells of tower and founder beside the one that was never weighed")
    print(*summary(told, ["church bells"]), sep="\n")
    shipped = law_of("bronze")
    print("\nThe shipped constants on all rows")
    print(*summary(outcomes(shipped, rows), ["church bells"]), sep="\n")
    print(f"\n{'constant':26}{'from all rows':>16}{'shipped':>12}")
    refitted = constants_of(fit(rows))
    for name, value in constants_of(shipped).items():
        print(f"{name:26}{refitted[name]:16.4g}{value:12.4g}")


if __name__ == "__main__":
    main()
