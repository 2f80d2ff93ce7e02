"""Pictures beside the forms: printed where they can be, named where they cannot."""

import shutil
import struct
import subprocess
import sys
import zlib
from contextlib import closing
from pathlib import Path

import pytest
from serving import CHECKOUT

from registry.printing.typesetting import printable
from registry.report import photos
from registry.report.photos import photos_of
from registry.report.reading import subject_of
from registry.store.database import open_registry

BELL = "marrewijk-town-hall-hour"
PHOTO = "photos/marrewijk-hour-pit.jpg"


def png(width: int = 2) -> bytes:
    """Make a grey picture."""

    def chunk(kind: bytes, data: bytes) -> bytes:
        return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))

    rows = (b"\0" + b"\x80" * width) * width
    head = struct.pack(">IIBBBBB", width, width, 8, 0, 0, 0, 0)
    return (
        b"\x89PNG\r\n\x1a\n"
        + chunk(b"IHDR", head)
        + chunk(b"IDAT", zlib.compress(rows))
        + chunk(b"IEND", b"")
    )


@pytest.fixture
def registry(sample_registry: Path, tmp_path: Path) -> Path:
    """Copy the sample registry and one form, so that pictures can be put beside it."""
    shutil.copytree(sample_registry.parent, tmp_path / "copy")
    return tmp_path / "copy" / sample_registry.name


def gathered(registry: Path) -> photos.Photos:
    """Gather the pictures of the tower."""
    with closing(open_registry(registry)) as conn:
        return photos_of(conn, subject_of(conn, "tower", "marrewijk-town-hall").surveys, registry, printable)


def place(registry: Path, data: bytes) -> None:
    """Put a picture where the form says it lies."""
    path = registry.parent / "surveys" / PHOTO
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_bytes(data)


def test_a_lost_photo_is_named(registry: Path) -> None:
    """The gap is seen: what the picture showed, its name, and that it is not at hand."""
    found = gathered(registry)
    assert found.pictures == {}
    (item,) = found.missing[BELL]
    assert "Hammer pit of the hour bell" in item.text
    assert f"({PHOTO}): not at hand" in item.text


def test_a_photo_at_hand_is_printed_with_its_words(registry: Path) -> None:
    """What it shows, its day and who made it stand below it; its bytes go to the typesetter unchanged."""
    place(registry, png())
    found = gathered(registry)
    ((picture,),) = found.pictures.values()
    assert picture.caption == (
        "Hammer pit of the hour bell from the market side, scale 5 cm. 15 May 2024."
        " Bram Oudecamp (invented), CC0."
    )
    assert found.files == {picture.file: png()}
    assert picture.file.endswith(".png")


@pytest.mark.parametrize(
    ("data", "reason"),
    [
        (b"no picture", "no JPEG, PNG, GIF or WebP picture"),
        (png()[:45], "cannot be printed"),
        (b"", "no JPEG"),
    ],
)
def test_what_is_no_picture_is_named_with_the_reason(registry: Path, data: bytes, reason: str) -> None:
    """A broken or foreign file does not stop the report."""
    place(registry, data)
    (item,) = gathered(registry).missing[BELL]
    assert reason in item.text


def test_a_very_large_picture_is_named(registry: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A report must still go by post."""
    monkeypatch.setattr(photos, "LARGEST_BYTES", 10)
    place(registry, png())
    (item,) = gathered(registry).missing[BELL]
    assert "larger than" in item.text


def test_the_photo_stands_in_the_pdf(registry: Path, tmp_path: Path) -> None:
    """From the command line to the page."""
    import pypdf  # noqa: PLC0415 - only here

    place(registry, png(8))
    output = tmp_path / "out" / "report.pdf"
    command = [
        sys.executable,
        "-m",
        "registry",
        "report",
        BELL,
        "--registry",
        str(registry),
        "-o",
        str(output),
    ]
    subprocess.run(command, check=True, cwd=CHECKOUT, capture_output=True)
    assert sum(len(page.images) for page in pypdf.PdfReader(output).pages) == 1
