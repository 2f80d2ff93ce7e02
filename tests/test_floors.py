"""The house: who may import whom, who may speak SQL, and how long a module may be."""

import ast
import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest

CHECKOUT = Path(__file__).resolve().parent.parent
PACKAGE = CHECKOUT / "registry"

FLOORS = {
    "resources": 0, "units": 0, "problems": 0,
    "model": 1, "geography": 1, "inscriptions": 1,
    "forms": 2, "derive": 2, "recordings": 2, "drawing": 2, "questions": 2,
    "store": 3,
    "intake": 4, "judging": 4, "wording": 4,
    "report": 5,
    "cli": 6, "web": 6, "printing": 6,
    "__main__": 7,
}  # fmt: skip
"""Floor of each room, from the ground; `registry` itself holds the version alone and may be read by all."""

LONGEST_MODULE = 400
FORBIDDEN_NAMES = {"utils", "util", "helpers", "helper", "common", "manager", "managers", "misc"}
ONLY_IN = {
    "datasette": {"web"},
    "uvicorn": {"web"},
    "click": {"cli"},
    "typst": {"printing"},
    "shapely": {"geography"},
    "geopy": {"geography"},
    "geographiclib": {"geography"},
    "importlib.resources": {"resources"},
}
"""Libraries and the rooms that may import them."""

MODULES = sorted(path.relative_to(PACKAGE) for path in PACKAGE.rglob("*.py"))


def room_of(module: Path) -> str:
    """Name the room a module stands in: the first part of its path."""
    return module.parts[0].removesuffix(".py")


@cache
def tree_of(module: Path) -> ast.Module:
    """Parse a module of the package."""
    return ast.parse((PACKAGE / module).read_text(encoding="utf-8"))


def imports_of(module: Path) -> Iterator[tuple[int, str]]:
    """Give each imported name in full with its line, also those inside functions and by text."""
    for node in ast.walk(tree_of(module)):
        if isinstance(node, ast.Import):
            for alias in node.names:
                yield node.lineno, alias.name
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{module}:{node.lineno}: imports name their module in full"
            for alias in node.names:
                yield node.lineno, f"{node.module}.{alias.name}"
        elif isinstance(node, ast.Call) and ast.unparse(node.func).endswith(("import_module", "__import__")):
            yield node.lineno, re.sub(r"\{.*?\}", "*", ast.unparse(node.args[0]).lstrip("f").strip("'\""))


@pytest.mark.parametrize("module", MODULES, ids=str)
def test_imports_point_down(module: Path) -> None:
    """A module imports only from its own room and from rooms on lower floors."""
    room = room_of(module)
    if room == "__init__":
        assert not [name for _, name in imports_of(module) if name.startswith("registry")]
        return
    for line, name in imports_of(module):
        first, _, rest = name.partition(".")
        if first != "registry" or not rest or rest == "__version__":
            continue
        other = rest.partition(".")[0]
        allowed = other == room or FLOORS[other] < FLOORS[room]
        assert allowed, f"registry/{module}:{line} imports {name}: that is not a lower floor"


def test_every_room_has_a_floor() -> None:
    """A new room is given its floor here before anything is built in it."""
    assert {room_of(module) for module in MODULES} - {"__init__"} <= set(FLOORS)


@pytest.mark.parametrize("module", MODULES, ids=str)
def test_libraries_stay_in_their_rooms(module: Path) -> None:
    """Datasette is known to the pages alone, click to the command line alone, borders to geography alone."""
    for line, name in imports_of(module):
        for library, rooms in ONLY_IN.items():
            if name == library or name.startswith(f"{library}."):
                assert room_of(module) in rooms, f"registry/{module}:{line} imports {name}"


SQL = re.compile(
    r"^\s*(select\s.+\sfrom\s|insert\s+(or\s+\w+\s+)?into\s|update\s+\w+\s+set\s|delete\s+from\s"
    r"|create\s+(table|view|index|virtual)|drop\s+(table|view|index)|with\s+\w+\s+as\s*\()",
    re.IGNORECASE | re.DOTALL,
)


@pytest.mark.parametrize("module", [m for m in MODULES if room_of(m) != "store"], ids=str)
def test_only_the_store_speaks_sql(module: Path) -> None:
    """No module outside the store holds an SQL statement; a setting of a connection (PRAGMA) is none."""
    for node in ast.walk(tree_of(module)):
        if isinstance(node, ast.Constant) and isinstance(node.value, str):
            assert not SQL.match(node.value), f"registry/{module}:{node.lineno} holds SQL"


def test_sql_is_recognised() -> None:
    """The pattern knows statements and leaves prose alone."""
    assert SQL.match("SELECT id FROM bell WHERE id = ?")
    assert SQL.match("\n  insert or replace into bell values (?)")
    assert SQL.match("create view attention as select 1")
    assert not SQL.match("Select the bells that need attention.")
    assert not SQL.match("Update this form with what you saw")


@pytest.mark.parametrize("module", MODULES, ids=str)
def test_modules_are_short_and_named_for_one_idea(module: Path) -> None:
    """A module has at most 400 lines, and its name says what it is about."""
    lines = (PACKAGE / module).read_text(encoding="utf-8").count("\n")
    assert lines <= LONGEST_MODULE, f"registry/{module} has {lines} lines: split it by idea"
    assert not FORBIDDEN_NAMES & {part.removesuffix(".py") for part in module.parts}


def test_tests_mirror_the_package() -> None:
    """Each folder of tests is named for a room, and no test folder is a package."""
    tests = CHECKOUT / "tests"
    assert not list(tests.rglob("__init__.py"))
    rooms = {path.name for path in tests.iterdir() if path.is_dir() and list(path.glob("test_*.py"))}
    assert rooms <= set(FLOORS)
