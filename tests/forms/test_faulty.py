"""Forms that are wrong on purpose, each beside the exact report it must give.

``pytest --rewrite tests/forms/test_faulty.py`` writes the reports anew; read the difference before a commit.
"""

import json
from datetime import date
from pathlib import Path

import pytest

from registry.forms.across import check_across, footprint
from registry.forms.check import check_file
from registry.forms.report import as_json, as_text
from registry.geography import read_regions
from registry.intake.dates_as_cast import DATE_RULES
from registry.problems import Problem
from registry.resources import shipped_text

FAULTY = Path(__file__).resolve().parents[2] / "sample_data" / "faulty"
CASES = sorted(path for path in FAULTY.iterdir() if path.is_dir() or path.suffix == ".yaml")
TODAY = date(2026, 1, 1)
REGIONS = read_regions(shipped_text("sample_data", "vellmark.geojson"))


def forms_of(case: Path) -> list[Path]:
    """Give the forms of a case: one file, or all of a folder."""
    return sorted(case.glob("*.yaml")) if case.is_dir() else [case]


def problems_of(case: Path) -> list[Problem]:
    """Check every form of a case by itself, and those that load against each other."""
    checked = [
        check_file(
            path,
            path.relative_to(FAULTY).as_posix(),
            today=TODAY,
            regions=REGIONS,
            bell_rules=DATE_RULES,
        )
        for path in forms_of(case)
    ]
    footprints = [footprint(form.read, form.file) for form in checked if form.read is not None]
    return [problem for form in checked for problem in form.problems] + check_across(footprints, ())


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.stem)
def test_report_is_the_expected_one(case, golden) -> None:
    """The report on a faulty form is, letter for letter, the one that stands beside it."""
    report = as_text(problems_of(case), files_checked=len(forms_of(case)))
    golden(FAULTY / f"{case.stem}.report.txt", report)


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.stem)
def test_json_says_the_same(case) -> None:
    """The same report as JSON names the same problems at the same places, in the same order."""
    problems = problems_of(case)
    text = as_text(problems, files_checked=len(forms_of(case)))
    report = json.loads(as_json(problems, files_checked=len(forms_of(case))))
    heads = [line for line in text.splitlines()[:-1] if not line.startswith(" ")]
    told = []
    for one in report["problems"]:
        place = f":{one['line']}:{one['column']}" if one["line"] else ""
        told.append(f"{one['file']}{place}: {one['level']} {one['code']}")
    assert [head.partition("  ")[0] for head in heads] == told
    assert sum(report["counts"][level] for level in ("error", "warning", "note")) == len(told)


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.stem)
def test_every_case_has_a_problem(case) -> None:
    """A faulty form has at least one problem, and each problem says what is expected and what to do."""
    problems = problems_of(case)
    assert problems
    assert all(problem.expected and problem.remedy and problem.read for problem in problems)


def test_there_is_no_report_without_its_form() -> None:
    """Every report stands beside the form or folder it is on."""
    reports = {path.name.removesuffix(".report.txt") for path in FAULTY.glob("*.report.txt")}
    assert reports == {case.stem for case in CASES}
