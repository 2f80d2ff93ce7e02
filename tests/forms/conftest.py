"""What the tests of the forms share: a small good form, and the check of a form given as text."""

from collections.abc import Callable
from datetime import date
from textwrap import dedent, indent

import pytest

from registry.forms.check import Checked, check_bytes

TODAY = date(2026, 1, 1)

VISIT = """\
form: soundbow survey 1
survey:
  id: hinterau-2024
  kind: visit
  date: 2024-05-14
  surveyors: [Ilse Tarnow]
  not_inspected: []
tower:
  id: hinterau-st-gall
  name: St Gall
  place: Hinterau
"""

CheckText = Callable[..., Checked]


@pytest.fixture
def check() -> CheckText:
    """Check a form given as text: a whole one, or what follows the head of a small good one.

    ``tower`` takes further fields of the tower.
    """

    def check_text(text: str = "", *, tower: str = "", whole: bool = False, **options) -> Checked:
        form = dedent(text) if whole else VISIT + indent(dedent(tower), "  ") + dedent(text)
        return check_bytes(form.encode(), "form.yaml", today=TODAY, **options)

    return check_text


@pytest.fixture
def bell(check) -> Callable[..., Checked]:
    """Check a visit to one bell; each argument is a section of it as YAML, by its key."""

    def check_bell(**sections: str) -> Checked:
        lines = [f"    {name}: {text}\n" for name, text in sections.items()]
        return check("bells:\n  - id: hinterau-hour-bell\n" + "".join(lines))

    return check_bell


@pytest.fixture
def codes() -> Callable[[Checked], list[str]]:
    """Give the codes of what was found, in order."""
    return lambda checked: [problem.code for problem in checked.problems]
