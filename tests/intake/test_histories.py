"""However a folder of forms came to be, its registry is the one that a single load gives."""

import tempfile
from datetime import date
from pathlib import Path

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from specimens import bell, logical_dump, visit, write

from registry.intake import load

TODAY = date(2026, 1, 1)
FILES = st.sampled_from(["a.yaml", "b.yaml", "c/d.yaml"])
FORMS = st.builds(
    lambda survey, tower, bells, year, size: visit(
        f"survey-{survey}",
        *(
            bell(
                f"bell-{number}",
                f"identity: {{name: Bell, material: bronze, founder_id: founder-{size % 3}}}\n"
                f"dimensions: {{mouth_diameter_mm: {size}}}\n"
                "cracks: [{number: 1, state: suspected}]\n"
                # A bell may turn up in any tower.
                "events: [{kind: moved}]\n",
            )
            for number in sorted(bells)
        ),
        tower=f"tower-{tower}",
        day=f"{year}-03-04",
    ),
    survey=st.integers(1, 4),
    tower=st.integers(1, 2),
    bells=st.sets(st.integers(1, 3), min_size=1),
    year=st.integers(2001, 2004),
    size=st.integers(1000, 1100),
)
STEPS = st.lists(
    st.one_of(
        st.tuples(st.just("write"), FILES, FORMS),
        st.tuples(st.just("rename"), FILES, FILES),
        st.tuples(st.just("spoil"), FILES, st.just("")),
    ),
    min_size=1,
    max_size=6,
)


def take(folder: Path, step: tuple[str, str, str]) -> None:
    """Change the folder as a surveyor might between two loads."""
    what, name, other = step
    path = folder / name
    if what == "write":
        write(folder, name, other)
    elif path.exists() and what == "rename" and not (folder / other).exists():
        (folder / other).parent.mkdir(exist_ok=True)
        path.rename(folder / other)
    elif path.exists() and what == "spoil":
        path.write_text(path.read_text().replace("mouth_diameter_mm: ", "mouth_diameter_mm: 9"))


@settings(deadline=None, max_examples=25, suppress_health_check=[HealthCheck.too_slow])
@given(STEPS)
def test_the_way_does_not_matter(steps: list[tuple[str, str, str]]) -> None:
    """Loads after every change leave what one load of the last good text of each survey gives."""
    with tempfile.TemporaryDirectory() as scratch:
        folder, database = Path(scratch) / "forms", Path(scratch) / "bells.db"
        folder.mkdir()
        for step in steps:
            take(folder, step)
            report = load([folder], database, jobs=1, today=TODAY)
            assert not [path for path in Path(scratch).iterdir() if path.name.startswith(".")]
        if report.left_out or any(problem.code == "source-removed" for problem in report.problems):
            return  # the registry keeps what a folder no longer tells
        if not report.files:
            assert not database.exists()
            return
        fresh = Path(scratch) / "fresh.db"
        load([folder], fresh, jobs=1, today=TODAY)
        assert logical_dump(database) == logical_dump(fresh)
