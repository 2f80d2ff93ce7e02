"""Measure how well dates as cast are read, and how fast.

Run ``python benchmarks/dates.py``. It prints the tables of ``docs/measurements.md``: published dates among
the readings and first, published chronograms among the sums, dates found in whole inscriptions, years in
words of six languages, the examples of the EDTF specification with their bounds; and the speed of both
readers, each text read anew. Times are those of the processor, so that other work on the machine counts less.
"""

import csv
import time
from collections.abc import Callable, Sequence
from pathlib import Path

from registry.derive.dating import read_date
from registry.derive.dating.chronogram import chronogram
from registry.model.edtf import parse_edtf

TESTS = Path(__file__).resolve().parents[1] / "tests"
DATES = TESTS / "derive" / "dating" / "tables"
THIS_YEAR = 2026
BEST_OF = 7

ON_BELLS = (
    *("1643", "164X", "1643?", "1643~", "1640/1650", "../1740", "[1480,1483]", "1788-08-19", "1350/1400~"),
    *("12XX", "[1410..1440]", "1904~", "1525", "1721?", "135X?"),
)
"""Expressions as forms hold them: those of the sample district."""


def rows(path: Path) -> list[dict[str, str]]:
    """Read a table without its comments."""
    lines = [line for line in path.read_text(encoding="utf-8").splitlines() if not line.startswith("#")]
    return list(csv.DictReader(lines))


def shares(name: str, texts: Sequence[tuple[str, int]]) -> str:
    """Count the texts whose year is among the readings, and first."""
    found = [[each.year for each in read_date(text, THIS_YEAR).readings] for text, _ in texts]
    among = sum(year in years for (_, year), years in zip(texts, found, strict=True))
    first = sum(years[:1] == [year] for (_, year), years in zip(texts, found, strict=True))
    mean = sum(len(years) for years in found) / len(texts)
    return f"| {name} | {len(texts)} | {among} | {first} | {mean:.1f} |"


def a_second(work: Callable[[str], object], texts: Sequence[str], rounds: int) -> float:
    """Give how many texts are read in a second of the processor, the best of some tries."""
    best = float("inf")
    for _ in range(BEST_OF):
        start = time.process_time()
        for _ in range(rounds):
            for text in texts:
                work(text)
        best = min(best, time.process_time() - start)
    return rounds * len(texts) / best


def main() -> None:
    """Print the tables."""
    roman = [
        (row["notation_as_published"], int(row["published_value"])) for row in rows(DATES / "roman_dates.csv")
    ]
    sums = [row for row in rows(DATES / "chronograms.csv") if row["rule"] != "NEGATIVE"]
    rejected = [row["text"] for row in rows(DATES / "chronograms.csv") if row["rule"] == "NEGATIVE"]
    whole = [(row["text"], int(row["year"])) for row in rows(DATES / "whole_inscriptions.csv")]
    printed = [(row["text"], int(row["year"])) for row in rows(DATES / "printed_dates.csv")]
    words = [(row["words"], int(row["year"])) for row in rows(DATES / "number_words.csv")]
    edtf = rows(TESTS / "model" / "tables" / "edtf_cases.csv")

    print("| published | texts | year among the readings | year first | readings a text |")
    print("|---|--:|--:|--:|--:|")
    print(shares("dates in numerals and words", roman))
    print(shares("chronograms", [(row["text"], int(row["published_year"])) for row in sums]))
    print(shares("whole inscriptions", whole))
    print(shares("irregular dates of printers", printed))
    print(shares("years in words, six languages", words))
    claimed = sum(
        int(row["published_year"]) in [each.sum for each in chronogram(row["text"]).sums] for row in sums
    )
    stated = sum(bool(read_date(text, THIS_YEAR).stated()) for text in rejected)
    print(f"\nChronograms whose year is among the sums by all rules: {claimed} of {len(sums)}.")
    print(f"Rejected chronograms read as a date: {stated} of {len(rejected)}.")
    right = sum(
        ((read := parse_edtf(row["expression"])).earliest or "", read.latest or "")
        == (row["earliest"], row["latest"])
        for row in edtf
    )
    print(f"EDTF examples of the specification with their bounds: {right} of {len(edtf)}.\n")

    fresh = parse_edtf.__wrapped__
    examples = [row["expression"] for row in edtf]
    print("| read anew, in one process | a second |")
    print("|---|--:|")
    print(f"| EDTF, all examples of the specification | {a_second(fresh, examples, 60):,.0f} |")
    print(f"| EDTF, expressions as forms hold them | {a_second(fresh, ON_BELLS, 300):,.0f} |")

    def read(text: str) -> object:
        return read_date.__wrapped__(text, THIS_YEAR)

    print(f"| dates as cast, numerals and words | {a_second(read, [text for text, _ in roman], 5):,.0f} |")
    print(f"| whole inscriptions | {a_second(read, [text for text, _ in whole], 5):,.0f} |")


if __name__ == "__main__":
    main()
