"""Time the report on a tower as a user waits for it: a whole process from the command to the file.

Run: ``python benchmarks/report.py``. Where other programs run, the processor time says more than the wait.
"""

import argparse
import os
import platform
import subprocess
import sys
import tempfile
import time
from pathlib import Path
from statistics import median

TOWER = "tarnwyke-all-saints"
"""The ring of ten of the invented district."""


def main() -> None:
    """Load the invented district, and print the report on one tower several times."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--tower", default=TOWER)
    parser.add_argument("--times", type=int, default=5)
    asked = parser.parse_args()
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        command = [sys.executable, "-m", "registry"]
        subprocess.run([*command, "demo", "--no-serve", "--folder", name], check=True, capture_output=True)
        print(f"{platform.python_implementation()} {platform.python_version()}, {os.cpu_count()} processors")
        waits, works = [], []
        for _ in range(asked.times):
            output = folder / "report.pdf"
            words = [
                "report",
                asked.tower,
                "--registry",
                str(folder / "registry.db"),
                "-o",
                str(output),
                "--force",
            ]
            before, start = os.times(), time.perf_counter()
            subprocess.run([*command, *words], check=True, capture_output=True)
            wall, after = time.perf_counter() - start, os.times()
            used = (after.children_user - before.children_user) + (
                after.children_system - before.children_system
            )
            waits.append(wall)
            works.append(used)
            print(f"{wall:.2f} s waited, {used:.2f} s of processor, {output.stat().st_size / 1000:.0f} kB")
        print(f"median {median(waits):.2f} s waited, {median(works):.2f} s of processor")


if __name__ == "__main__":
    main()
