"""Documents as PDF: nothing in a text acts as markup, nothing is a box, and the same gives the same."""

import io
import re
import struct
import zlib
from collections.abc import Callable
from pathlib import Path

import pypdf
import pytest

from registry.printing.typesetting import TypesettingError, as_pdf, printable
from registry.problems import InputError
from registry.report.blocks import (
    Box,
    Boxes,
    CautionBox,
    Cell,
    Column,
    Columns,
    Document,
    FactLine,
    Facts,
    FillIn,
    Heading,
    Item,
    Items,
    Picture,
    Prose,
    Ring,
    Sheet,
    Signature,
    Table,
    Verdict,
    Verdicts,
    Voice,
    as_data,
)
from registry.report.photos import Seen

HOSTILE = (
    '#panic("x") *bold* _it_ $y$ \\ @ref `raw` <label> = Heading // c /* c */ [b] {c} "quoted" #{1+1} ~ --'
)
SVG = (
    '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 10 10" width="10" height="10">'
    '<path d="M0 0h9"/></svg>'
)

Make = Callable[..., Document]


def read(pdf: bytes) -> pypdf.PdfReader:
    """Open a PDF with an independent reader."""
    return pypdf.PdfReader(io.BytesIO(pdf))


def text_of(pdf: bytes) -> str:
    """Give all words of a PDF with single spaces."""
    return " ".join(" ".join(page.extract_text() for page in read(pdf).pages).split())


def png() -> bytes:
    """Make a picture of one red point."""

    def chunk(kind: bytes, data: bytes) -> bytes:
        return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))

    head = struct.pack(">IIBBBBB", 1, 1, 8, 2, 0, 0, 0)
    pixels = zlib.compress(b"\0\xff\0\0")
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", pixels) + chunk(b"IEND", b"")


def every_block(text: str) -> tuple:
    """Give one of each block, with ``text`` wherever a text goes."""
    return (
        Prose(text, "lead"),
        Prose(text, "soft"),
        Prose(text, "stop"),
        Facts((FactLine(text, text, text, text),), text),
        Facts((FactLine(text, text),), text, computed=True),
        Table(
            text,
            (Column(text, share=1), Column(text, number=True, share=1)),
            ((Cell(text),), (Cell(text, text, "alarm"), Cell(text))),
            text,
        ),
        Picture(text, text, svg=SVG),
        Ring(((SVG, 10.0, 10.0, text, text),), text, 10.0, text, text),
        Voice((text, text), "la"),
        Voice((text,), "he", rtl=True),
        Items((Item(text, 3, text), Item(text, 2), Item(text, 1), Item(text))),
        CautionBox(text, (text, text), text, grave=True),
        Verdicts((Verdict(text, text, "warn"), Verdict(text, text))),
        Signature((text, text)),
        Columns((1, 1), ((Prose(text),), (Prose(text),))),
        Boxes(((Box(text, text, 2.0, (text, text)), Box(text, text, 3.0)),)),
        FillIn((text, text), (1.0, 1.0), ((text, text), ("", ""))),
        Sheet(),
        Heading(text, 2, text),
        Heading(text, 3, text, compact=True),
    )  # fmt: skip


def test_no_text_acts_as_markup(document: Make) -> None:
    """Signs that the typesetter would act on are printed as they stand, in every kind of block."""
    pdf = as_pdf(document(*every_block(HOSTILE)))
    printed = re.sub(r"\s", "", text_of(pdf))
    wanted = re.sub(r"\s", "", HOSTILE)
    assert printed.count(wanted) >= 25


def test_every_kind_of_block_is_set() -> None:
    """The template knows each kind of block that Python has."""
    from registry.report import blocks  # noqa: PLC0415 - the whole module is looked at

    kinds = {kind.__name__ for kind in blocks.Block.__args__}
    assert {type(block).__name__ for block in (*every_block("x"), Heading("x"))} == kinds


def test_the_same_document_gives_the_same_bytes(document: Make) -> None:
    """Nothing of the day, the machine or the place enters a report by itself."""
    assert as_pdf(document(*every_block("Ave"))) == as_pdf(document(*every_block("Ave")))


def test_pages_are_numbered_and_carry_head_and_foot(document: Make) -> None:
    """Each page names the record and itself, and says what a report is not."""
    pdf = read(as_pdf(document(Prose("one"), Sheet(), Heading("Second", 1), Prose("two"))))
    assert len(pdf.pages) == 2
    for number, page in enumerate(pdf.pages, start=1):
        words = page.extract_text()
        assert f"Page {number} of 2" in words
        assert "head" in words
        assert "record" in words
        assert "foot" in words


def test_the_pdf_says_what_it_is(document: Make) -> None:
    """Title, language, author and day stand in it; by its own word it is archivable and accessible."""
    pdf = read(as_pdf(document(Prose("Ave"))))
    assert pdf.metadata is not None
    assert pdf.metadata.title == "A bell"
    assert pdf.metadata.author == "Ilse"
    assert str(pdf.metadata.creation_date).startswith("2026-01-02")
    root = pdf.root_object
    assert root["/Lang"].startswith("en")
    assert root["/MarkInfo"]["/Marked"]
    assert root["/ViewerPreferences"]["/DisplayDocTitle"]
    xmp = root["/Metadata"].get_data().decode()
    assert "<pdfaid:part>2</pdfaid:part><pdfaid:conformance>A</pdfaid:conformance>" in xmp
    assert "<pdfuaid:part>1</pdfuaid:part>" in xmp


def test_a_missing_character_stops_the_report(document: Make) -> None:
    """No box is printed in its place: the character, its name and where it stands are told."""
    with pytest.raises(InputError) as refused:
        as_pdf(document(Voice(("ave 鐘",), where="kestrel-gate-2003, line 12")))
    (problem,) = refused.value.problems
    assert (problem.code, problem.file, problem.path) == ("missing-glyph", "kestrel-gate-2003", "line 12")
    assert problem.read == "鐘 (U+9418 CJK UNIFIED IDEOGRAPH-9418)"
    assert "--fonts" in problem.remedy


def test_a_missing_character_in_a_drawing_stops_the_report_too(document: Make) -> None:
    """What stands in a drawing alone is still never printed as a box."""
    svg = SVG.replace("<path", '<text y="9">鐘</text><path')
    with pytest.raises(TypesettingError, match="鐘"):
        as_pdf(document(Picture("A drawing", svg=svg)))


def test_a_font_of_the_user_is_asked_last(document: Make, tmp_path: Path) -> None:
    """A folder without fonts changes nothing, and files that are no fonts do no harm."""
    tmp_path.joinpath("broken.ttf").write_bytes(b"no font")
    assert as_pdf(document(Prose("Ave")), font_folder=tmp_path) == as_pdf(document(Prose("Ave")))


def test_pictures_are_set_or_refused_with_the_reason(document: Make, tmp_path: Path) -> None:
    """A sound picture stands in the report; of a broken one it is told why it cannot."""
    path = tmp_path / "photo"
    path.write_bytes(png())
    assert printable(path) == Seen(png(), "png")
    path.write_bytes(png()[:40])
    assert printable(path).why_not.startswith("cannot be printed: ")
    pdf = as_pdf(document(Picture("A red point", "Red.", file="point.png")), {"point.png": png()})
    assert len(read(pdf).pages[0].images) == 1


def test_texts_keep_their_type_as_data() -> None:
    """Blocks become plain data: marked-up strings become strings, numbers stay numbers."""
    data = as_data(Table("c", (Column("a", number=True, share=1.5),), ((Cell("x"),),)))
    assert data == {
        "is": "table",
        "caption": "c",
        "columns": [{"is": "column", "title": "a", "number": True, "share": 1.5}],
        "rows": [[{"is": "cell", "text": "x", "sub": "", "style": "plain", "where": ""}]],
        "note": "",
    }
