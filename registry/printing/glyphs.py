"""Which characters the fonts at hand can print: asked before anything is set, so that no box is printed."""

import struct
import unicodedata
from collections.abc import Iterator, Sequence
from functools import cache
from pathlib import Path
from typing import NamedTuple

FONT_ENDINGS = (".otf", ".ttf")
_UNICODE_TABLES = {(0, 3), (0, 4), (0, 6), (3, 1), (3, 10)}
"""Platform and encoding of the tables of a font that map Unicode characters."""

_INVISIBLE = frozenset("\u00ad\u034f\u061c\u200b\u200c\u200d\u200e\u200f\u2028\u2029\u2060\ufeff") | {
    *map(chr, range(0x202A, 0x202F)),
    *map(chr, range(0x2066, 0x206A)),
    *map(chr, range(0xFE00, 0xFE10)),
}
"""Characters that say how others join or run, and have no shape of their own."""


class Face(NamedTuple):
    """One font file and the code points it has shapes for."""

    name: str
    characters: frozenset[int]


class Missing(NamedTuple):
    """A character that no font has, and where it stands.

    ``where`` names the value in the words of the report.
    """

    text: str
    where: str

    @property
    def names(self) -> str:
        """Name the characters: ``U+4E2D CJK UNIFIED IDEOGRAPH-4E2D``."""
        return ", ".join(
            f"U+{ord(each):04X} {unicodedata.name(each, 'without a name')}" for each in self.text
        )


@cache
def faces_in(folder: Path) -> tuple[Face, ...]:
    """Read what the fonts of a folder can print; files that are no fonts are passed over."""
    files = (path for path in sorted(folder.iterdir()) if path.suffix.lower() in FONT_ENDINGS)
    return tuple(Face(path.name, characters_of(path.read_bytes())) for path in files)


def characters_of(font: bytes) -> frozenset[int]:
    """Read the code points of an OpenType font, formats 4 and 12 of its ``cmap``; none if it is no font.

    References
    ----------
    OpenType specification 1.9, ``cmap``: character to glyph index mapping table.
    """
    try:
        start = _table_at(font, b"cmap")
        count = struct.unpack_from(">H", font, start + 2)[0] if start else 0
        found: set[int] = set()
        for index in range(count):
            platform, encoding, offset = struct.unpack_from(">HHI", font, start + 4 + 8 * index)
            if (platform, encoding) in _UNICODE_TABLES:
                found.update(_mapped(font, start + offset))
    except struct.error:
        return frozenset()
    return frozenset(found)


def _table_at(font: bytes, tag: bytes) -> int:
    if font[:4] not in (b"OTTO", b"\0\1\0\0", b"true"):
        return 0
    (tables,) = struct.unpack_from(">H", font, 4)
    for index in range(tables):
        name, _, offset, _ = struct.unpack_from(">4sIII", font, 12 + 16 * index)
        if name == tag:
            return int(offset)
    return 0


def _mapped(font: bytes, start: int) -> Iterator[int]:
    """Give the code points of one table that lead to a shape."""
    (form,) = struct.unpack_from(">H", font, start)
    if form == 4:
        segments = struct.unpack_from(">H", font, start + 6)[0] // 2
        ends, starts, deltas, offsets = (
            struct.unpack_from(f">{segments}H", font, start + 14 + 2 * segments * part + (2 if part else 0))
            for part in range(4)
        )
        offsets_at = start + 16 + 6 * segments
        for segment in range(segments):
            for character in range(starts[segment], ends[segment] + 1):
                if offsets[segment]:
                    at = offsets_at + 2 * segment + offsets[segment] + 2 * (character - starts[segment])
                    (glyph,) = struct.unpack_from(">H", font, at)
                else:
                    glyph = (character + deltas[segment]) % 0x10000
                if glyph and character != 0xFFFF:
                    yield character
    elif form == 12:
        (groups,) = struct.unpack_from(">I", font, start + 12)
        for group in range(groups):
            first, last, _ = struct.unpack_from(">III", font, start + 16 + 12 * group)
            yield from range(first, last + 1)


def clusters(text: str) -> Iterator[str]:
    """Split a text into its characters, each with the marks that stand on it."""
    cluster = ""
    for each in text:
        if cluster and _is_mark(each):
            cluster += each
            continue
        if cluster:
            yield cluster
        cluster = each
    if cluster:
        yield cluster


def _is_mark(character: str) -> bool:
    return unicodedata.category(character) in ("Mn", "Me", "Mc")


def can_print(cluster: str, faces: Sequence[Face]) -> bool:
    """Say whether one font has all of a character and its marks: a mark is never set from another font."""
    visible = "".join(each for each in cluster if each not in _INVISIBLE)
    if visible.isspace() and visible.isascii():
        return True
    forms = {visible, unicodedata.normalize("NFC", visible), unicodedata.normalize("NFD", visible)}
    return any(all(ord(each) in face.characters for each in form) for form in forms for face in faces)


def missing_in(data: object, faces: Sequence[Face]) -> list[Missing]:
    """List what cannot be printed of all texts in some data, each character where it first stands.

    Where it stands is told by the nearest ``where`` around the text, else by the way that leads to it.
    """
    found: dict[str, Missing] = {}
    good: set[str] = set()
    letters: set[str] = set()
    for text, where in _texts(data, "", ""):
        # Most texts hold nothing but letters that were asked for before, and no marks.
        if (text.isascii() and text.isprintable()) or letters.issuperset(text):
            continue
        for cluster in clusters(text):
            if cluster in good or cluster in found:
                continue
            if can_print(cluster, faces):
                good.add(cluster)
                if len(cluster) == 1 and not _is_mark(cluster):
                    letters.add(cluster)
            else:
                found[cluster] = Missing(cluster, where)
    return list(found.values())


def _texts(data: object, path: str, where: str) -> Iterator[tuple[str, str]]:
    """Go through all texts of some data, each with where it stands."""
    if isinstance(data, str):
        yield data, where or path
    elif isinstance(data, dict):
        near = str(data.get("where") or where)
        for key, value in data.items():
            if key not in NOT_SET:
                yield from _texts(value, f"{path}.{key}" if path else str(key), near)
    elif isinstance(data, list | tuple):
        for index, value in enumerate(data, start=1):
            yield from _texts(value, f"{path}[{index}]", where)


NOT_SET = frozenset({"where", "svg"})
"""Keys whose texts are not set as such: a drawing's words stand beside it as well."""
