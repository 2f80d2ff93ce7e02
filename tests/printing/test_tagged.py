"""A whole report as its readers get it: tagged for screen readers, and with all that it needs inside it.

ISO 14289-1 (PDF/UA-1): real content is tagged (7.1), figures have a text in their place (7.3), headings
follow without a gap (7.4.2), tables have headers (7.5), pages are read in the order of their structure
(7.18.3). ISO 19005-2 (PDF/A-2): fonts are embedded (6.2.11.4), their characters mapped (6.2.11.7), nothing is
encrypted (6.1.3). The numbers are from memory.
"""

import io
from collections.abc import Iterator
from contextlib import closing
from datetime import date
from itertools import pairwise
from pathlib import Path
from typing import Any

import pypdf
import pytest

from registry.judging import Settings
from registry.printing.making import blank_pdf, report_pdf
from registry.store.database import open_registry

MADE = date(2026, 1, 2)


@pytest.fixture(scope="module", params=["report", "form to fill in"])
def pdf(request: pytest.FixtureRequest, sample_registry: Path) -> pypdf.PdfReader:
    """Make the report on a tower with cracks, growth and old letters, and the form to fill in for it."""
    with closing(open_registry(sample_registry)) as conn:
        if request.param == "report":
            settings = Settings(MADE)
            data = report_pdf(conn, "kestrel-gate", kind="tower", database=sample_registry, settings=settings)
        else:
            data = blank_pdf(conn, "kestrel-gate", made=MADE)
    return pypdf.PdfReader(io.BytesIO(data))


def tags_of(node: Any) -> Iterator[Any]:
    """Give every element of the structure, in the order of reading."""
    node = node.get_object() if hasattr(node, "get_object") else node
    if isinstance(node, list):
        for each in node:
            yield from tags_of(each)
    elif isinstance(node, dict) and "/S" in node:
        yield node
        if "/K" in node:
            yield from tags_of(node["/K"])


def test_every_drawing_has_its_words(pdf: pypdf.PdfReader) -> None:
    """Who cannot see a drawing is told what it shows."""
    figures = [tag for tag in tags_of(pdf.root_object["/StructTreeRoot"]["/K"]) if tag["/S"] == "/Figure"]
    assert len(figures) >= 6
    assert all(figure["/Alt"].strip() for figure in figures)


def test_headings_lead_through_it(pdf: pypdf.PdfReader) -> None:
    """Headings follow without a gap, and the outline of the file leads to them."""
    named = [tag["/S"] for tag in tags_of(pdf.root_object["/StructTreeRoot"]["/K"])]
    levels = [int(name[2:]) for name in named if name[:2] == "/H" and name[2:].isdigit()]
    assert levels[0] == 1
    assert all(after <= before + 1 for before, after in pairwise(levels))
    assert pdf.outline


def test_tables_have_headers(pdf: pypdf.PdfReader) -> None:
    """Each table begins with a row of headers."""
    tables = [tag for tag in tags_of(pdf.root_object["/StructTreeRoot"]["/K"]) if tag["/S"] == "/Table"]
    assert tables
    for table in tables:
        assert any(tag["/S"] == "/TH" for tag in tags_of(table["/K"]))


def test_pages_are_read_in_their_order(pdf: pypdf.PdfReader) -> None:
    """The order of reading is that of the structure, on every page."""
    assert {page.get("/Tabs") for page in pdf.pages} == {"/S"}
    assert not pdf.is_encrypted


def test_fonts_are_inside_and_can_be_read_out(pdf: pypdf.PdfReader) -> None:
    """It looks the same everywhere, and its words can be searched and copied, old letters too."""
    found = 0
    for page in pdf.pages:
        for reference in page["/Resources"].get("/Font", {}).values():
            font = reference.get_object()
            assert "/ToUnicode" in font
            below = font["/DescendantFonts"][0].get_object() if "/DescendantFonts" in font else font
            assert any(key.startswith("/FontFile") for key in below["/FontDescriptor"])
            found += 1
    assert found
