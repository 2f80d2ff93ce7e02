"""Read the published tables that the estimates are held against."""

import csv
import re
from pathlib import Path

TABLES = Path(__file__).resolve().parent / "derive" / "tables"
STEPS_FROM_A = {"C": -9, "D": -7, "E": -5, "F": -4, "G": -2, "A": 0, "B": 2}


def published(name: str) -> list[dict[str, str]]:
    """Give the rows of a table; its comment lines tell citation, units and tolerance."""
    with (TABLES / name).open(encoding="utf-8", newline="") as table:
        return [*csv.DictReader(line for line in table if not line.startswith("#"))]


def hertz(note: str) -> float:
    """Give the frequency of a note in scientific pitch, a' = 440 Hz (ISO 16:1975), equal temperament."""
    letter, sharp, octave = re.fullmatch(r"([A-G])(#?)(\d)", note).groups()
    return 440.0 * 2.0 ** (int(octave) - 4 + (STEPS_FROM_A[letter] + bool(sharp)) / 12)
