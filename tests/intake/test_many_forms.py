"""The forms for measuring are real forms: full, without problems, and the same each time."""

import importlib.util
from datetime import date
from types import ModuleType

import pytest
from serving import CHECKOUT

from registry.forms.check import check_bytes
from registry.model.fields import section_fields
from registry.model.survey import BellEntry


@pytest.fixture(scope="module")
def make_forms() -> ModuleType:
    """Give the script that writes the forms."""
    spec = importlib.util.spec_from_file_location("make_forms", CHECKOUT / "benchmarks" / "make_forms.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


@pytest.mark.parametrize("number", [1, 2, 1999])
def test_forms_for_measuring_are_good(make_forms: ModuleType, number: int) -> None:
    """A generated form has ten bells, every section filled in, and not one problem."""
    text = make_forms.form_text(number)
    assert text == make_forms.form_text(number)
    assert text != make_forms.form_text(number, seed=2)
    checked = check_bytes(text.encode(), "form.yaml", today=date(2026, 1, 1))
    assert checked.problems == ()
    assert checked.read is not None
    survey = checked.read.survey
    assert len(survey.bells) == 10
    assert survey.frame is not None
    assert survey.hazards
    assert survey.assessments
    for bell in survey.bells:
        assert all(getattr(bell, field.name) for field in section_fields(BellEntry))
    assert 20_000 < len(text) < 40_000
