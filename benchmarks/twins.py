"""Tell how many bells with two records `soundbow twins` finds, how many pairs wrongly, and in what time.

Run ``python benchmarks/twins.py``. In an invented district (``invented_bells.py``) some bells have a second
record: an old list, while a museum or a depot has the bell. Nothing is told of when and where bells were
seen, which in a real registry rules most of the wrong pairs out. Constants were chosen on seeds 1 to 9.
"""

import argparse
import random
import time
from collections.abc import Sequence

from invented_bells import invent_bells, record_of

from registry.derive.identity.comparison import Register, identify
from registry.derive.identity.facts import Facts, Record
from registry.derive.identity.next_measurement import what_next
from registry.derive.identity.twins import Twins, find_twins


def make_records(seed: int, bells: int, doubled: float) -> list[Record]:
    """Put a district on record, some bells of it a second time under another id."""
    chance = random.Random(seed)
    everything = invent_bells(chance, bells)
    records = [record_of(chance, bell, documents=0.3) for bell in everything]
    for bell in chance.sample(everything, round(doubled * bells)):
        again = record_of(chance, bell, documents=0.5)
        records.append(again._replace(bell_id=f"{bell.id}-again", status="on-display"))
    return records


def table(found: Sequence[Twins], doubled: int) -> None:
    """Print how many of the proposals were right, by what was said of them."""
    print(f"{'said':20}{'pairs':>8}{'mean said':>12}{'right':>9}")
    for low, high in ((0.2, 0.5), (0.5, 0.8), (0.8, 0.95), (0.95, 1.01)):
        inside = [each for each in found if low <= each.probability < high]
        if inside:
            right = sum(each.second == f"{each.first}-again" for each in inside)
            mean = 100 * sum(each.probability for each in inside) / len(inside)
            words = f"{100 * low:.0f} to {100 * min(high, 1):.0f} %"
            print(f"{words:20}{len(inside):8}{mean:10.1f} %{100 * right / len(inside):7.1f} %")
    right = sum(each.second == f"{each.first}-again" for each in found)
    print(f"{right} of {doubled} second records found, {len(found) - right} pairs proposed wrongly")


def main() -> None:
    """Print the table and the times."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--seed", type=int, default=2026)
    parser.add_argument("--bells", type=int, default=3000)
    parser.add_argument("--doubled", type=float, default=0.02, help="share of the bells with a second record")
    asked = parser.parse_args()
    records = make_records(asked.seed, asked.bells, asked.doubled)
    print(f"{len(records)} records, {100 * asked.doubled:g} % of the bells twice; seed {asked.seed}\n")
    started = time.process_time()
    register = Register(records, 2026)
    laid_out = time.process_time()
    found = find_twins(register, lambda _ids: {})
    compared = time.process_time()
    table(found, round(asked.doubled * asked.bells))
    find = Facts(mouth_diameter_mm=860, diameter_sd=0.005, inscription=("gloriainexcel",), strike_hz=480.0)
    answer = identify(register, find._replace(strike_sd_cents=10.0))
    answered = time.process_time()
    what_next(register, find, answer)
    ended = time.process_time()
    print("\nprocessor time")
    for words, seconds in (
        ("records laid out", laid_out - started),
        ("pairs compared", compared - laid_out),
        ("one bell identified", answered - compared),
        ("what to measure next", ended - answered),
    ):
        print(f"{words:24}{seconds:8.2f} s")


if __name__ == "__main__":
    main()
