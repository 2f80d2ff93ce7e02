"""How long do the pages of a question take? Ask a registry of your own, or one of invented towers.

Run ``python benchmarks/make_forms.py FOLDER --forms 3000``, ``soundbow load FOLDER --registry bells.db`` and
``python benchmarks/pages.py bells.db``. Each page is made several times in this process, without a network;
the least time counts, of the wall clock and of the processor alone.
"""

import argparse
import sqlite3
import time
from collections.abc import Callable
from contextlib import closing
from pathlib import Path
from urllib.parse import parse_qs

from registry.store.database import open_registry
from registry.store.pages import read_counts
from registry.web import page_bells, page_data, page_map, page_statistics, page_timeline
from registry.web.asking import Ask

TIMES = 3
PAGES = (
    (page_bells.bells_page, "/bells", "", {}),
    (page_bells.bells_page, "/bells", "from=1500&to=1600", {}),
    (page_bells.bells_page, "/bells", "text=maria", {}),
    (page_bells.bells_page, "/bells", "near=45,5,500", {}),
    (page_bells.bells_page, "/bells", "nearest=45,5,50", {}),
    (page_bells.bells_page, "/bells", "area=-10,-40 120,-40 120,60 -10,60", {}),
    (page_map.map_page, "/map", "", {}),
    (page_map.map_page, "/map", "century=15", {}),
    (page_timeline.timeline_page, "/timeline", "", {}),
    (page_timeline.timeline_page, "/timeline", "from=1500&to=1501&certain=yes", {}),
    (page_statistics.statistics_page, "/statistics", "", {}),
    (page_statistics.statistics_page, "/statistics", "century=16", {}),
    (page_statistics.statistics_file, "/statistics/reach.csv", "", {"name": "reach", "format": "csv"}),
    (page_statistics.statistics_file, "/statistics/masses.csv", "", {"name": "masses", "format": "csv"}),
    (page_data.table_page, "/data/current_fact", "", {"name": "current_fact"}),
)


def made_in(
    page: Callable[[sqlite3.Connection, Ask], object], conn: sqlite3.Connection, ask: Ask
) -> tuple[float, float]:
    """Make a page and give the seconds it took, of the wall clock and of the processor."""
    wall, processor = time.perf_counter(), time.process_time()
    page(conn, ask)
    return time.perf_counter() - wall, time.process_time() - processor


def main() -> None:
    """Make each page and print what it took."""
    parser = argparse.ArgumentParser(description=__doc__.partition("\n")[0])
    parser.add_argument("registry", type=Path)
    with closing(open_registry(parser.parse_args().registry)) as conn:
        counts = read_counts(conn)
        print(f"{counts.towers} towers, {counts.bells} bells")
        print(f"{'page':52} {'wall':>8} {'processor':>10}")
        for page, path, query, names in PAGES:
            ask = Ask(path, names, parse_qs(query))
            taken = [made_in(page, conn, ask) for _ in range(TIMES)]
            least = [min(each) for each in zip(*taken, strict=True)]
            print(f"{path + '?' * bool(query) + query:52} {least[0]:6.3f} s {least[1]:8.3f} s")


if __name__ == "__main__":
    main()
