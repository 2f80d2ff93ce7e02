"""Which characters can be printed, read from the fonts themselves."""

import struct
from pathlib import Path

import pytest

from registry.printing.glyphs import Face, can_print, characters_of, clusters, faces_in, missing_in
from registry.printing.typesetting import shipped_fonts

SHIPPED = faces_in(shipped_fonts())


def font_with(table: bytes) -> bytes:
    """Give the bytes of a font with nothing but one table of characters, platform 3, encoding 10."""
    cmap = struct.pack(">HHHHI", 0, 1, 3, 10, 12) + table
    head = struct.pack(">4sHHHH", b"\0\1\0\0", 1, 16, 0, 0)
    return head + struct.pack(">4sIII", b"cmap", 0, 28, len(cmap)) + cmap


def format_4(segments: list[tuple[int, int, int, int]], glyphs: list[int]) -> bytes:
    """Write a table of format 4: segments of (start, end, delta, offset), then glyph numbers."""
    ends = struct.pack(f">{len(segments)}H", *(end for _, end, _, _ in segments))
    starts = struct.pack(f">{len(segments)}H", *(start for start, _, _, _ in segments))
    deltas = struct.pack(f">{len(segments)}H", *(delta % 65536 for _, _, delta, _ in segments))
    offsets = struct.pack(f">{len(segments)}H", *(offset for *_, offset in segments))
    body = ends + b"\0\0" + starts + deltas + offsets + struct.pack(f">{len(glyphs)}H", *glyphs)
    return struct.pack(">HHHHHHH", 4, 14 + len(body), 0, 2 * len(segments), 0, 0, 0) + body


def test_format_4_by_delta_and_by_glyph_numbers() -> None:
    """Segments map by a difference or through a list; glyph 0 is no glyph (OpenType 1.9, cmap)."""
    # The second segment finds its glyphs 4 bytes on, behind the offsets.
    segments = [(65, 67, -60, 0), (97, 99, 0, 4), (0xFFFF, 0xFFFF, 1, 0)]
    assert characters_of(font_with(format_4(segments, [9, 0, 7]))) == {65, 66, 67, 97, 99}


def test_format_12_beyond_the_first_plane() -> None:
    """Groups of characters reach beyond 65535 (OpenType 1.9, cmap)."""
    table = struct.pack(">HHIII", 12, 0, 28, 0, 1) + struct.pack(">III", 0x10330, 0x10332, 5)
    assert characters_of(font_with(table)) == {0x10330, 0x10331, 0x10332}


@pytest.mark.parametrize("junk", [b"", b"OTTO", b"no font at all", b"\0\1\0\0\xff\xff" + b"x" * 40])
def test_what_is_no_font_has_no_characters(junk: bytes) -> None:
    """A file that only ends like a font is passed over."""
    assert characters_of(junk) == frozenset()


@pytest.mark.parametrize(
    "text",
    [
        "✠ O REX GLORIE VENI CVM PACE",
        "ꝑ ꝓ ꝗ ꝙ ꝝ ꝫ ꝯ ꝰ ꝭ ⁊ ⁜ ☩ ☧",
        "ā q̄ n̅ ẹ ạ̄ ͣ ͤ ᷑ ᷓ",
        "Þþ ſ ƿ Ʒʒ ꝼꞃꞅꞇᵹ ḃċḋḟġṁṗṡṫ ᚠᚢᚦ",
        "ΑΓΙΟΣ Νικόλαε ΐ ὕ Ϛ ϛ",
        "Слава Богу ҂аѱл҃г Ѣѣ Ѳѳ Ѵѵ Ꙋꙋ Ꙗꙗ ѿ",
        "קול יהוה שָׁלוֹם",
        "Աստուած ღმერთი ⰔⰎⰀⰂⰀ ሰላም سلام",
        "[---] ⟦abc⟧ ⟨abc⟩ {a} (b) ↄ ↀ ↁ Ⅻ",
        "1\u202f180\u00a0mm ≈ −12.5 ≤ ± × ° ′ ″ → ● ○ ◆ ♯ ♭ ♮ ☞ ★ ❧",
    ],
)
def test_inscriptions_can_be_printed(text: str) -> None:
    """What stands on bells of Europe and the old East is there: abbreviations, old letters, marks, signs."""
    assert not missing_in({"text": text}, SHIPPED)


def test_what_no_font_has_is_named_with_its_place() -> None:
    """The first place of each missing character is told, by the nearest words around it."""
    data = {
        "blocks": [
            {"text": "good"},
            {"where": "visit-1, line 7", "lines": ["Ave 鐘", "再 鐘"]},
            {"rows": [["a", "b\ufffe"]]},
        ]
    }
    missing = missing_in(data, SHIPPED)
    assert [(each.text, each.where) for each in missing] == [
        ("鐘", "visit-1, line 7"),
        ("再", "visit-1, line 7"),
        ("\ufffe", "blocks[3].rows[1][2]"),
    ]
    assert missing[0].names == "U+9418 CJK UNIFIED IDEOGRAPH-9418"


def test_a_mark_is_never_set_from_another_font() -> None:
    """A letter of one font and a mark of another make no printable character; composed ones do."""
    letters, marks = Face("letters", frozenset(map(ord, "eé"))), Face("marks", frozenset({0x301, 0x323}))
    assert can_print("e\u0301", [letters, marks])
    assert not can_print("e\u0323", [letters, marks])
    assert can_print("\u200d", [letters])


def test_clusters_keep_marks_with_their_letter() -> None:
    """Marks belong to the letter before them; one at the start stands alone."""
    assert list(clusters("\u0301a\u0304\u0323b")) == ["\u0301", "a\u0304\u0323", "b"]


def test_the_fonts_are_small_and_free() -> None:
    """Together they have less than 3 MB, and their licence lies beside them."""
    folder = shipped_fonts()
    assert sum(path.stat().st_size for path in folder.iterdir()) < 3_000_000
    licence = (folder / "OFL.txt").read_text(encoding="utf-8")
    assert "SIL OPEN FONT LICENSE Version 1.1" in licence
    readme = (folder / "README.md").read_text(encoding="utf-8")
    for path in folder.iterdir():
        if path.suffix in (".otf", ".ttf"):
            assert path.stem.partition("-")[0] in readme


def test_every_font_that_ships_is_asked_for() -> None:
    """A font that the template does not name would never be used."""
    import typst  # noqa: PLC0415 - only here

    families = typst.Fonts(
        include_system_fonts=False, include_embedded_fonts=False, font_paths=[str(shipped_fonts())]
    ).families()
    template = (Path(shipped_fonts()).parent / "templates" / "parts.typ").read_text(encoding="utf-8")
    assert [family for family in families if f'"{family}"' not in template] == []
