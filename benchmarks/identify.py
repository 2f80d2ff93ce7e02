"""Tell how often `soundbow identify` names the right bell, and how honest its probabilities are.

Run ``python benchmarks/identify.py``. An invented district (``invented_bells.py``) is put on record with the
gaps and errors that surveys have; one bell in five that turns up was never recorded, but comes from the same
founders with the same formulas. Each find has three noisy facts. The first table is for the facts a finder
has with a tape, a telephone and his eyes: diameter, strike note, and half the inscription, with letters
misread, or that it bears none. The others vary the facts, the registry and what is believed.

Constants were chosen on seeds 1 to 9; what is reported comes from seed 2026, used for nothing else.
"""

import argparse
import random
import sys
import time
from collections.abc import Sequence
from typing import NamedTuple

from invented_bells import FOUND, Bell, invent_bells, record_of

from registry.derive.identity.comparison import Register, identify
from registry.derive.identity.facts import Facts

USUAL = ("diameter", "note", "inscription")
TRIPLES = (
    USUAL,
    ("diameter", "note", "three words"),
    ("diameter", "inscription", "date"),
    ("diameter", "mass", "inscription"),
    ("note", "inscription", "material"),
    ("diameter", "note", "founder"),
    ("diameter", "note", "partials"),
    ("diameter", "note", "date"),
    ("diameter", "note", "mass"),
    ("diameter", "mass", "date"),
    ("diameter", "date", "loops"),
    ("material", "date", "loops"),
)
UNREGISTERED = 0.2


class Outcome(NamedTuple):
    """One find: the place of the right bell (0 for none of the first five), and what was said of it."""

    registered: bool
    place: int
    none_first: bool
    none: float
    said: tuple[tuple[float, bool], ...]
    """Probability and truth of the first candidate."""


class Case(NamedTuple):
    """A registry and the bells that can turn up."""

    register: Register
    recorded: list[Bell]
    others: list[Bell]


def make_case(seed: int, bells: int, documents: float = 0.0) -> Case:
    """Invent a district; four fifths of its bells are on record, tower by tower."""
    chance = random.Random(seed)
    everything = invent_bells(chance, round(bells * 1.25))
    recorded, others = everything[:bells], everything[bells:]
    records = [record_of(chance, bell, documents=documents) for bell in recorded]
    return Case(Register(records, 2026), recorded, others)


def find(chance: random.Random, bell: Bell, facts: Sequence[str]) -> Facts:
    """Tell of a bell as a finder would."""
    told: dict[str, object] = {}
    for fact in facts:
        told |= FOUND[fact](chance, bell)
    return Facts(**told)  # type: ignore[arg-type]


def simulate(
    case: Case, seed: int, finds: int, facts: Sequence[str], believed: float = UNREGISTERED
) -> list[Outcome]:
    """Let bells turn up, each bell of the district with the same chance, and identify each."""
    chance = random.Random(f"{seed} {' '.join(facts)}")
    outcomes = []
    for number in range(finds):
        registered = number % 5 != 0
        bell = chance.choice(case.recorded if registered else case.others)
        answer = identify(
            case.register, find(chance, bell, facts), unregistered=believed, by_status=False, most=5
        )
        ids = [each.bell_id for each in answer.candidates]
        best = answer.candidates[0]
        none_first = answer.none >= best.probability
        place = ids.index(bell.id) + 1 if registered and bell.id in ids else 0
        said = ((best.probability, registered and best.bell_id == bell.id),)
        outcomes.append(Outcome(registered, place, none_first, answer.none, said))
    return outcomes


def rates(outcomes: Sequence[Outcome]) -> tuple[float, ...]:
    """Give the rates in per cent.

    Of bells on record: put first, first and before "none", among the first five. Of the others: "none" put
    first, a bell named with more than one half. Of bells on record again: "none" with more than one half.
    """
    of = [each for each in outcomes if each.registered]
    new = [each for each in outcomes if not each.registered]
    first = sum(each.place == 1 for each in of)
    strict = sum(each.place == 1 and not each.none_first for each in of)
    five = sum(each.place > 0 for each in of)
    none = sum(each.none_first for each in new)
    alarm = sum(each.said[0][0] >= 0.5 for each in new)
    missed = sum(each.none >= 0.5 for each in of)
    return (
        *(100.0 * count / len(of) for count in (first, strict, five)),
        100.0 * none / len(new),
        100.0 * alarm / len(new),
        100.0 * missed / len(of),
    )


def line(words: str, outcomes: Sequence[Outcome]) -> None:
    """Print one row."""
    print(f"{words:44}" + "".join(f"{rate:9.1f}" for rate in rates(outcomes)))
    sys.stdout.flush()


def reliability(outcomes: Sequence[Outcome]) -> None:
    """Print how often what was said with some probability was true: of the first candidate, and of none."""
    kinds = {
        "first candidate": [said for each in outcomes for said in each.said],
        "none of them": [(each.none, not each.registered) for each in outcomes],
    }
    for kind, said in kinds.items():
        print(f"\n{kind + ', said':24}{'finds':>7}{'mean said':>12}{'true':>9}")
        for low, high in (
            (0, 0.05),
            (0.05, 0.2),
            (0.2, 0.5),
            (0.5, 0.8),
            (0.8, 0.95),
            (0.95, 0.99),
            (0.99, 1.01),
        ):
            inside = [(chance, true) for chance, true in said if low <= chance < high]
            if inside:
                mean = 100 * sum(chance for chance, _ in inside) / len(inside)
                true = 100 * sum(true for _, true in inside) / len(inside)
                words = f"{100 * low:.0f} to {100 * min(high, 1):.0f} %"
                print(f"{words:24}{len(inside):7}{mean:10.1f} %{true:7.1f} %")
        brier = sum((chance - true) ** 2 for chance, true in said) / len(said)
        print(f"Brier score {brier:.4f}")


def main() -> None:
    """Print the tables."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--seed", type=int, default=2026)
    parser.add_argument("--bells", type=int, default=2000)
    parser.add_argument("--finds", type=int, default=1000)
    parser.add_argument("--others", type=int, default=300, help="finds of the other rows")
    parser.add_argument("--only", action="store_true", help="the first row alone")
    asked = parser.parse_args()
    started = time.perf_counter()
    case = make_case(asked.seed, asked.bells)
    print(f"{asked.bells} records, {asked.finds} finds, one in five without record; seed {asked.seed}")
    print("all in per cent\n")
    print(f"{'facts':44}{'first':>9}{'& >none':>9}{'in five':>9}{'none ok':>9}{'alarm':>9}{'missed':>9}")
    usual = simulate(case, asked.seed, asked.finds, USUAL)
    line(", ".join(USUAL), usual)
    reliability(usual)
    if not asked.only:
        print(f"\n{asked.others} finds each")
        for facts in TRIPLES[1:]:
            line(", ".join(facts), simulate(case, asked.seed, asked.others, facts))
        for believed in (0.02, 0.5):
            line(
                f"usual, believed unregistered {believed:g}",
                simulate(case, asked.seed, asked.others, USUAL, believed),
            )
        for documents in (0.25, 1.0):
            other = make_case(asked.seed, asked.bells, documents)
            line(
                f"usual, {100 * documents:.0f} % known from lists alone",
                simulate(other, asked.seed, asked.others, USUAL),
            )
    print(f"\n{time.perf_counter() - started:.0f} s")


if __name__ == "__main__":
    main()
