"""The blank file of founders, written from the model."""

from typing import Any

from registry.forms.hints import hint_of
from registry.forms.page import WIDTH, Page
from registry.model.fields import section_fields, section_title
from registry.model.founders import FOUNDERS_FORM_NAME, Founders

OPENING = (
    "One file for all founders of a registry, or one for each region: load it with the forms. A form names "
    "a founder by its founder_id; a name that stands in a form without one is held against the spellings "
    "here, and proposed where it is the same. Whose a spelling is, is decided here and nowhere else: the "
    "same spelling under two founders needs a time (valid) or a place that tells them apart."
)
PRIVACY = "Pages are public once served to others: of people who live write only what they have published."


def blank_founders(*, schema: str = "founders.schema.json") -> str:
    """Write a blank file of founders with one empty entry.

    Parameters
    ----------
    schema : str
        Path from the file to its JSON Schema, for editors.
    """
    page = Page()
    title = "# Founders and workshops"
    page.put(f"# yaml-language-server: $schema={schema}", "#")
    page.put(f"{title}{FOUNDERS_FORM_NAME:>{WIDTH - len(title)}}", "#")
    page.prose(OPENING)
    page.prose(PRIVACY)
    page.put("", f"form: {FOUNDERS_FORM_NAME}")
    _section(page, Founders, "")
    return page.text


def _section(page: Page, section: Any, lead: str) -> None:
    """Write the fields of a section; ``lead`` stands before the first, its width before the others."""
    for field in section_fields(section):
        key = f"{lead}{field.name}:"
        if field.section is not None:
            page.rule(field.name, section_title(field.section), len(lead))
            page.field(key)
            _section(page, field.section, " " * (len(lead) + 2) + "- ")
        elif field.is_list:
            page.empty_list(key, hint_of(field))
        else:
            page.field(key, hint_of(field))
        lead = " " * len(lead)
