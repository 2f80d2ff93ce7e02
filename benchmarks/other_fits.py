"""Would another fit tell the mass from size and strike better? Eleven forms, chosen without peeking.

Run ``python benchmarks/other_fits.py``. Each form is fitted without one tower and judged on the bells of that
tower, and so on through all towers. Of eleven forms one is the best by chance: so the choice itself is judged
too. For every tower that is left out, the form is chosen that does best among the other towers, each of them
left out in turn; *chosen anew for each tower* is the error of what was chosen on the bells it never saw.
"""

import math
from collections import Counter
from collections.abc import Callable, Sequence
from statistics import median
from typing import Any

import numpy as np
from fitting import Row, published_rows

from registry.derive.kinship import kinship

RING, BELL = 0.085, 0.045
"""Standard deviations of what kin have in common and of what each bell has alone, near the shipped ones."""

Told = Callable[[Row], float]
Fitter = Callable[[Sequence[Row]], Told]


def ratio(row: Row) -> float:
    """Give ln m/(f·d⁴), which the law takes to be one number."""
    return math.log(row.mass_kg / (row.strike_hz * row.diameter_m**4))


def terms_of(row: Row) -> dict[str, float]:
    """Give what the ratio may depend on beside: size, and how high a bell sounds for its size."""
    size = math.log(row.diameter_m)
    return {"d": size, "d²": size * size, "fd": math.log(row.strike_hz * row.diameter_m / 420.0)}


def weights_of(rows: Sequence[Row]) -> Any:
    """Give the inverse of the covariance: bells of one ring are not many witnesses."""
    alike = np.array([[kinship(one.kin, other.kin) for other in rows] for one in rows])
    return np.linalg.inv(RING**2 * alike + BELL**2 * np.eye(len(rows)))


def mixed(*names: str, pull: float = 9.0) -> Fitter:
    """Fit a constant and some terms by generalised least squares, the terms drawn towards none."""

    def fitted(rows: Sequence[Row]) -> Told:
        columns = np.array([[1.0, *(terms_of(row)[name] for name in names)] for row in rows])
        weights = weights_of(rows)
        towards = np.diag([0.0] + [pull**-2.0] * len(names))
        seen = np.array([ratio(row) for row in rows])
        found = np.linalg.solve(columns.T @ weights @ columns + towards, columns.T @ weights @ seen)
        return lambda row: float(found @ [1.0, *(terms_of(row)[name] for name in names)])

    return fitted


def constant(middle: Callable[[Sequence[Row]], float]) -> Fitter:
    """Fit a constant alone."""

    def fitted(rows: Sequence[Row]) -> Told:
        found = middle(rows)
        return lambda _: found

    return fitted


def median_of_towers(rows: Sequence[Row]) -> float:
    """Give the median of the medians of the towers."""
    towers = {row.tower for row in rows}
    return median(median(ratio(row) for row in rows if row.tower == tower) for tower in towers)


def weighted_median(rows: Sequence[Row]) -> float:
    """Give the median with the weights of the mixed model."""
    weights = np.maximum(weights_of(rows).sum(axis=1), 0.0)
    order = np.argsort([ratio(row) for row in rows])
    reached = np.cumsum(weights[order])
    return ratio(rows[order[int(np.searchsorted(reached, reached[-1] / 2.0))]])


FORMS: dict[str, Fitter] = {
    "the shipped form: a constant, kin weighed": mixed(),
    "mean of all bells": constant(lambda rows: float(np.mean([ratio(row) for row in rows]))),
    "median of all bells": constant(lambda rows: median(ratio(row) for row in rows)),
    "median of the medians of towers": constant(median_of_towers),
    "median, kin weighed": constant(weighted_median),
    "with a power of d": mixed("d"),
    "with a power of d, drawn to none": mixed("d", pull=0.05),
    "with powers of d and its square": mixed("d", "d²"),
    "with a power of f·d": mixed("fd"),
    "with a power of f·d, drawn to none": mixed("fd", pull=0.2),
    "with powers of d and f·d": mixed("d", "fd"),
}


def errors(form: str, rows: Sequence[Row]) -> list[float]:
    """Give the error of every bell, its tower left out."""
    found = []
    for tower in sorted({row.tower for row in rows}):
        told = FORMS[form]([row for row in rows if row.tower != tower])
        found += [abs(math.expm1(told(row) - ratio(row))) for row in rows if row.tower == tower]
    return found


def main() -> None:
    """Print the median error of every form, and of the choice among them."""
    rows = [row for row in published_rows() if row.kind == "church" and row.strike_hz]
    for form in FORMS:
        print(f"{form:44}{median(errors(form, rows)) * 100.0:6.1f} %")
    chosen: Counter[str] = Counter()
    found = []
    for tower in sorted({row.tower for row in rows}):
        others = [row for row in rows if row.tower != tower]
        best = min(FORMS, key=lambda form: median(errors(form, others)))
        chosen[best] += 1
        told = FORMS[best](others)
        found += [abs(math.expm1(told(row) - ratio(row))) for row in rows if row.tower == tower]
    print(f"{'chosen anew for each tower':44}{median(found) * 100.0:6.1f} %")
    print("chosen:", ", ".join(f"{form} {times} times" for form, times in chosen.most_common()))


if __name__ == "__main__":
    main()
