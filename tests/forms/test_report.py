"""Reports: problems told to people as text, and to programs as JSON."""

import json

from registry.forms.report import as_json, as_text
from registry.problems import Problem

ONE = Problem(
    "surveys/x.yaml",
    34,
    25,
    "out-of-range",
    "bells[2].dimensions.mouth_diameter_mm",
    "11800 mm",
    "50 to 6700 mm",
    "check the unit; write the unit you read, e.g. 1180 mm",
)

TEXT = """\
surveys/x.yaml:34:25: error out-of-range  bells[2].dimensions.mouth_diameter_mm
    read      11800 mm
    expected  50 to 6700 mm
    do        check the unit; write the unit you read, e.g. 1180 mm
1 form checked: 1 error, 0 warnings, 0 notes
"""


def test_text() -> None:
    """A problem is told in four lines, and the last line counts."""
    assert as_text([ONE], files_checked=1) == TEXT


def test_nothing_found() -> None:
    """Where nothing is wrong there is the count alone."""
    assert as_text([], files_checked=12) == "12 forms checked: 0 errors, 0 warnings, 0 notes\n"


def test_order() -> None:
    """Problems stand in the order of files and places, however they come."""
    places = [("b", 1, 1), ("a", 10, 1), ("a", 9, 80), ("a", 9, 8), ("a", 0, 0)]
    problems = [ONE._replace(file=file, line=line, column=column) for file, line, column in places]
    heads = [
        line.partition(" ")[0] for line in as_text(problems, files_checked=2).splitlines() if line[0] != " "
    ]
    assert heads[:-1] == ["a:", "a:9:8:", "a:9:80:", "a:10:1:", "b:1:1:"]


def test_counts() -> None:
    """Errors, warnings and notes are counted each for itself."""
    problems = [ONE, ONE._replace(code="unusual-value"), ONE._replace(code="nothing-measured"), ONE]
    assert (
        as_text(problems, files_checked=3).splitlines()[-1] == "3 forms checked: 2 errors, 1 warning, 1 note"
    )
    assert json.loads(as_json(problems, files_checked=3))["counts"] == {
        "files": 3, "error": 2, "warning": 1, "note": 1,
    }  # fmt: skip


def test_json() -> None:
    """JSON has every part of a problem under its name, and its level."""
    (told,) = json.loads(as_json([ONE], files_checked=1))["problems"]
    assert told == ONE._asdict() | {"level": "error"}


def test_nothing_hidden_gets_out() -> None:
    """A file name or value with control characters cannot move the cursor or forge a line of the report."""
    odd = ONE._replace(file="a\nb\x1b[2J.yaml", read="x\ny", path="bells\u202e")
    text = as_text([odd], files_checked=1)
    assert text.splitlines()[0] == "a\\nb\\x1b[2J.yaml:34:25: error out-of-range  bells\\u202e"
    assert text.splitlines()[1] == "    read      x\\ny"
    lost = as_json([ONE._replace(file="\udcff.yaml")], files_checked=1)
    assert json.loads(lost.encode())["problems"][0]["file"] == "\\udcff.yaml"
