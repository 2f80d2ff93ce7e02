"""A document as the bytes of a PDF: characters asked for first, then set by typst, tagged and archivable."""

import json
import tempfile
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Any

from registry.drawing.svg import standing_alone
from registry.printing.glyphs import Face, faces_in, missing_in
from registry.problems import InputError, Problem
from registry.report.blocks import Document, as_data
from registry.report.photos import Seen, whole
from registry.resources import shipped_folder

if TYPE_CHECKING:
    import typst

STANDARDS = ["a-2a", "ua-1"]
"""PDF/A-2a (ISO 19005-2): archivable, tagged, every character mapped; PDF/UA-1 (ISO 14289-1): accessible."""

TEMPLATES = ("report.typ", "parts.typ")

ONE_PICTURE = """
#set document(title: "picture", date: datetime(year: 2000, month: 1, day: 1))
= Picture
#image("picture.{ending}", alt: "picture", width: 10mm)
"""


class TypesettingError(Exception):
    """The document could not be set, and the input is not known to be at fault."""


def as_pdf(
    document: Document, files: Mapping[str, bytes] | None = None, font_folder: Path | None = None
) -> bytes:
    """Set a document; the same document gives the same bytes.

    Parameters
    ----------
    document : Document
        What to set.
    files : mapping, optional
        The photos it names, by file name.
    font_folder : Path, optional
        Fonts besides those that ship; they are asked last.

    Raises
    ------
    InputError
        When no font has one of its characters: each is named with where it stands.
    TypesettingError
        When typst fails or warns.
    """
    import typst  # noqa: PLC0415 - 34 MB that no other command needs

    data = _dressed(as_data(document))
    folders = [shipped_fonts(), *([font_folder] if font_folder else [])]
    refuse_missing(data, tuple(face for folder in folders for face in faces_in(folder)))
    families = _fonts(folders[1:]).families()
    with _folder({**(files or {}), **{name: template(name) for name in TEMPLATES}}) as root:
        root.joinpath("data.json").write_text(json.dumps(data, ensure_ascii=False), encoding="utf-8")
        try:
            made, warnings = typst.compile_with_warnings(
                str(root / TEMPLATES[0]),
                root=str(root),
                font_paths=_fonts(folders),
                ignore_system_fonts=True,
                sys_inputs={"families": json.dumps(families)},
                pdf_standards=STANDARDS,  # type: ignore[arg-type]
            )
        except typst.TypstError as error:
            raise TypesettingError("; ".join([error.message, *error.hints])) from error
    if warnings:
        raise TypesettingError("; ".join(warning.message for warning in warnings))
    return bytes(made)


def printable(path: Path) -> Seen:
    """Read a picture, and try whether it can stand in a report."""
    seen = whole(path)
    why_not = seen.why_not or _why_not_printable(seen.data, seen.ending)
    return Seen(b"", "", why_not) if why_not else seen


def _why_not_printable(picture: bytes, ending: str) -> str:
    """Set a picture alone, and say why it cannot be; empty where it can."""
    import typst  # noqa: PLC0415 - 34 MB that no other command needs

    text = ONE_PICTURE.format(ending=ending).encode()
    with _folder({f"picture.{ending}": picture, "main.typ": text}) as root:
        try:
            typst.compile(
                str(root / "main.typ"),
                root=str(root),
                font_paths=_fonts([shipped_fonts()]),
                ignore_system_fonts=True,
                pdf_standards=STANDARDS,  # type: ignore[arg-type]
            )
        except typst.TypstError as error:
            return f"cannot be printed: {error.message}"
    return ""


def _fonts(folders: list[Path]) -> "typst.Fonts":
    import typst  # noqa: PLC0415 - 34 MB that no other command needs

    return typst.Fonts(
        include_system_fonts=False,
        include_embedded_fonts=False,
        font_paths=[str(folder) for folder in folders],
    )


@contextmanager
def _folder(files: Mapping[str, bytes]) -> Iterator[Path]:
    """Put files into a folder of their own, for typst reads nothing outside it."""
    with tempfile.TemporaryDirectory(prefix="soundbow-") as name:
        root = Path(name)
        for file, content in files.items():
            root.joinpath(file).write_bytes(content)
        yield root


@cache
def template(name: str) -> bytes:
    """Read one of our templates."""
    return (shipped_folder("printing") / "templates" / name).read_bytes()


def shipped_fonts() -> Path:
    """Give the folder of the fonts that ship."""
    return Path(str(shipped_folder("printing") / "fonts"))


def _dressed(value: Any) -> Any:
    """Hand every drawing the style sheet of the paper; a page has one of its own."""
    if isinstance(value, dict):
        return {name: _dressed(each) for name, each in value.items()}
    if isinstance(value, list):
        return [_dressed(each) for each in value]
    if isinstance(value, str) and value.startswith("<svg "):
        return standing_alone(value, template("drawing.css").decode())
    return value


def refuse_missing(data: Any, faces: tuple[Face, ...]) -> None:
    """Refuse data with characters that no font has.

    Raises
    ------
    InputError
        With a problem for each character, named with the survey and the line where it stands.
    """
    missing = missing_in(data, faces)
    if missing:
        raise InputError(
            [
                Problem(
                    each.where.partition(", ")[0],
                    0,
                    0,
                    "missing-glyph",
                    each.where.partition(", ")[2],
                    f"{each.text} ({each.names})",
                    "a character that a font of the report has",
                    "name a folder with a free font that has it: --fonts FOLDER",
                )
                for each in missing
            ]
        )
