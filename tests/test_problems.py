"""The catalogue of problems: permanent codes, each used, each tested, each told in plain words."""

import ast
import re

import pytest
from serving import CHECKOUT

from registry.problems import CATALOGUE, Level, Problem, whole_file_problem


def strings_in(folder: str) -> set[str]:
    """Collect the string constants of the modules in a folder, without those of the catalogue itself."""
    found: set[str] = set()
    for path in (CHECKOUT / folder).rglob("*.py"):
        if path != CHECKOUT / "registry" / "problems.py":
            tree = ast.parse(path.read_text(encoding="utf-8"))
            found |= {str(node.value) for node in ast.walk(tree) if isinstance(node, ast.Constant)}
    return found


@pytest.fixture(scope="module")
def used() -> set[str]:
    """Give every text in the program."""
    return strings_in("registry")


@pytest.fixture(scope="module")
def tested() -> str:
    """Give the text of all expected reports and tests."""
    reports = (CHECKOUT / "sample_data" / "faulty").glob("*.report.txt")
    tests = (path for path in (CHECKOUT / "tests").rglob("test_*.py") if path.name != "test_problems.py")
    return "\n".join(path.read_text(encoding="utf-8") for path in (*reports, *tests))


@pytest.mark.parametrize("code", CATALOGUE)
def test_codes_are_used(code: str, used: set[str]) -> None:
    """Each code of the catalogue is found by some check."""
    assert code in used


@pytest.mark.parametrize("code", CATALOGUE)
def test_codes_are_tested(code: str, tested: str) -> None:
    """Each code stands in an expected report or in a test."""
    assert re.search(rf"(?<![\w-]){re.escape(code)}(?![\w-])", tested)


@pytest.mark.parametrize(("code", "entry"), CATALOGUE.items())
def test_codes_are_kebab_case_with_a_meaning(code: str, entry: tuple[Level, str]) -> None:
    """A code is lower-case words joined by hyphens, and its meaning is a phrase."""
    assert re.fullmatch(r"[a-z]+(-[a-z]+)+", code)
    assert len(entry[1].split()) >= 4
    assert not entry[1].endswith(".")


def test_codes_are_permanent(golden) -> None:
    """A code that was ever given stays in the list with its level; a new one is added by `make generate`."""
    path = CHECKOUT / "tests" / "problem_codes.txt"
    given = path.read_text(encoding="utf-8").splitlines() if path.is_file() else []
    now = [f"{level} {code}" for code, (level, _) in CATALOGUE.items()]
    assert set(given) <= set(now)
    golden(path, "\n".join(sorted(now)) + "\n")


def test_a_problem_knows_its_level() -> None:
    """The level of a problem is that of its code in the catalogue."""
    problem = whole_file_problem("a.yaml", "file-empty", "nothing", "a form", "write one")
    assert problem.level is Level.ERROR
    assert (problem.line, problem.column, problem.path) == (0, 0, "")
    moved = problem.moved_to("b.yaml")
    assert moved == Problem("b.yaml", 0, 0, "file-empty", "", "nothing", "a form", "write one")
