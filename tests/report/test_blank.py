"""The form to fill in by hand: every field of the form, what was told last, and room to write."""

import io
from datetime import date
from typing import Any

import pypdf
import pytest

from registry.model.bell import Dimensions
from registry.model.condition import Crack, StrikePoint
from registry.model.fields import section_fields
from registry.printing.making import blank_pdf
from registry.report.blank import SECTIONS, blank_document
from registry.report.blocks import Box, Boxes, CautionBox, Document, FillIn, Heading, Picture
from registry.wording.words import heading, label

MADE = date(2026, 1, 2)


@pytest.fixture(scope="module")
def blank(conn) -> Document:
    """Make the form for a tower with three bells, one of them mended."""
    return blank_document(conn, "sint-brandaan", MADE)


def boxes_of(document: Document) -> list[Box]:
    """Give all boxes of a form."""
    return [box for block in document.blocks if isinstance(block, Boxes) for row in block.rows for box in row]


def tables_of(document: Document, first: str) -> list[FillIn]:
    """Give the tables to fill in whose second title is ``first``."""
    return [block for block in document.blocks if isinstance(block, FillIn) and block.titles[1] == first]


@pytest.mark.parametrize("section", [section for _, section in SECTIONS.values()])
def test_every_field_of_a_bell_has_a_box(blank: Document, section: type[Any]) -> None:
    """What the form asks can be written down in the tower; three bells make three boxes."""
    labels = [box.label.partition(",")[0] for box in boxes_of(blank)]
    for field in section_fields(section):
        if field.kind is not None and field.name != "remarks":
            assert labels.count(heading(label(field.name)).partition(",")[0]) >= 3


@pytest.mark.parametrize(("section", "first"), [(StrikePoint, "Bearing, °"), (Crack, "State")])
def test_numbered_parts_keep_their_numbers(blank: Document, section: type[Any], first: str) -> None:
    """Known strike points and cracks stand with number and last value; new ones get the next numbers."""
    tables = tables_of(blank, first)
    assert len(tables) == 3
    for table in tables:
        numbers = [int(row[0].lstrip("SC")) for row in table.rows]
        assert numbers == list(range(1, len(numbers) + 1))
        fields = [field.name for field in section_fields(section) if field.name not in ("number", "remarks")]
        assert len(table.titles) == len(fields) + 1


def test_last_values_stand_beside_as_written_with_their_year(blank: Document) -> None:
    """The surveyor compares with what was read last, in the words of that survey."""
    told = {(box.label, box.last) for box in boxes_of(blank)}
    assert ("Mouth diameter, mm", "1055.5 mm (2025)") in told
    assert ("Mass, kg", "838 kg (2025)") in told


def test_short_lists_of_words_can_be_ticked(blank: Document) -> None:
    """A field with few words offers them in the words people know."""
    options = {box.label: box.options for box in boxes_of(blank)}
    assert options["Bolts loose"] == ("yes", "no", "unknown")
    assert options["Headstock"] == ()


def test_there_are_drawings_to_mark_for_each_bell(blank: Document) -> None:
    """Rim and surface of each bell, with what is known on them."""
    pictures = [block for block in blank.blocks if isinstance(block, Picture)]
    assert len(pictures) == 6
    assert all(picture.svg and picture.caption for picture in pictures)


def test_cautions_come_first(blank: Document) -> None:
    """Nobody reads a field before what can kill."""
    kinds = [type(block) for block in blank.blocks]
    assert kinds.index(CautionBox) < kinds.index(Boxes)
    assert isinstance(blank.blocks[0], Heading)


def test_bells_that_are_gone_have_no_sheet(conn) -> None:
    """There is nothing to measure of a bell that was stolen."""
    words = {
        block.text
        for block in blank_document(conn, "vellhaven-minster", MADE).blocks
        if isinstance(block, Heading)
    }
    assert "Gloria" in words
    assert "Sanctus bell" not in words


def test_a_bell_without_diameter_says_that_nothing_is_to_scale(conn) -> None:
    """A general bell is drawn to mark on, and is not taken for this one."""
    assert section_fields(Dimensions)
    blocks = blank_document(conn, "oud-wierhoek", MADE).blocks
    assert not [block for block in blocks if isinstance(block, Picture)]


def test_an_unknown_tower_is_refused(conn) -> None:
    """There is no form for a tower that the registry does not know."""
    with pytest.raises(LookupError):
        blank_document(conn, "nowhere", MADE)


def test_the_form_is_a_pdf_with_a_page_or_two_a_bell(conn) -> None:
    """It can be printed, and does not fill a rucksack."""
    pdf = pypdf.PdfReader(io.BytesIO(blank_pdf(conn, "sint-brandaan", made=MADE)))
    assert 7 <= len(pdf.pages) <= 2 + 3 * 3
    assert "Isolate electric ringing" in pdf.pages[0].extract_text()
