"""What templates receive is told field by field."""

from dataclasses import fields, is_dataclass
from typing import Annotated, get_args, get_origin, get_type_hints

import pytest

from registry.web import (
    page_about,
    page_bell,
    page_bells,
    page_data,
    page_formulas,
    page_founders,
    page_home,
    page_identify,
    page_lost,
    page_map,
    page_regions,
    page_report,
    page_statistics,
    page_survey,
    page_timeline,
    page_towers,
)

MODULES = (
    page_about,
    page_bell,
    page_bells,
    page_data,
    page_founders,
    page_formulas,
    page_home,
    page_lost,
    page_identify,
    page_map,
    page_report,
    page_regions,
    page_statistics,
    page_survey,
    page_timeline,
    page_towers,
)
CONTEXTS = [
    value
    for module in MODULES
    for value in vars(module).values()
    if is_dataclass(value) and isinstance(value, type) and value.__module__ == module.__name__
]


def test_every_page_has_a_context() -> None:
    """Each module of a page declares what its template receives."""
    assert {context.__module__ for context in CONTEXTS} == {module.__name__ for module in MODULES}


@pytest.mark.parametrize("context", CONTEXTS, ids=lambda context: context.__name__)
def test_every_field_of_a_context_has_help(context: type) -> None:
    """Whoever writes a template finds a sentence for each field, and the context cannot be changed by one."""
    hints = get_type_hints(context, include_extras=True)
    for field in fields(context):
        assert get_origin(hints[field.name]) is Annotated, field.name
        text = get_args(hints[field.name])[1]
        assert text.endswith("."), field.name
    assert context.__dataclass_params__.frozen
