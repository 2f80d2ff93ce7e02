"""The bytes of a form: encodings, hidden characters, files of another kind, places as an editor has them."""

import pytest

from registry.forms.source import LARGEST_BYTES, MOST_PLACES, hash_lines, line_of, place_of, read_source


def told(data: bytes) -> list[tuple[str, int, int, str]]:
    """Give what is said of some bytes."""
    return [(one.code, one.line, one.column, one.read) for one in read_source(data, "f").problems]


@pytest.mark.parametrize(
    "data", ["a: Größte 🔔\n".encode(), b"\xef\xbb\xbfa\r\n", b"a\tb", "ꝑ \ue8bf שלום\u200f".encode()]
)
def test_good_text(data) -> None:
    """UTF-8 in any script, with tabs, line ends and joiners, is text without a fault."""
    source = read_source(data, "f")
    assert source.problems == []
    assert source.text == data.removeprefix(b"\xef\xbb\xbf").decode()


def test_latin_1() -> None:
    """Bytes that are not UTF-8 are reported once, at the first, with what it may have been."""
    source = read_source("a: x\nname: Große Glocke für Jürgen\n".encode("latin-1"), "f")
    assert [(one.code, one.line, one.column) for one in source.problems] == [("text-encoding", 2, 10)]
    assert source.problems[0].read == "byte DF (ß in Windows-1252), and 2 more"
    assert source.text.count("\n") == 2


@pytest.mark.parametrize("encoding", ["utf-16", "utf-16-le", "utf-16-be"])
def test_utf_16(encoding) -> None:
    """UTF-16 is named, with or without its byte order mark."""
    assert told("form: soundbow survey 1\n".encode(encoding)) == [("text-encoding", 0, 0, "UTF-16 text")]


@pytest.mark.parametrize(
    ("start", "kind"),
    [(b"PK\x03\x04", "spreadsheet"), (b"%PDF-1.7", "PDF"), (b"\xff\xd8\xff\xe1", "photo"),
     (b"\x89PNG\r\n", "picture"), (b"RIFF\0\0\0\0WAVE", "sound"), (b"SQLite format 3\x00", "database"),
     (bytes(range(256)), "binary")],
)  # fmt: skip
def test_other_kinds_of_file(start, kind) -> None:
    """A file of another kind is named, not read."""
    ((code, _, _, read),) = told(start + bytes(100))
    assert code == "file-not-a-form"
    assert kind in read


def test_size() -> None:
    """A file up to the limit is read, a larger one is not."""
    assert told(b"#" * LARGEST_BYTES) == []
    assert [code for code, *_ in told(b"#" * (LARGEST_BYTES + 1))] == ["file-too-large"]


@pytest.mark.parametrize(
    "character",
    [
        "\x00",
        "\x07",
        "\x0c",
        "\x1b",
        "\x7f",
        "\x85",
        "\xad",
        "\u200b",
        "\u2028",
        "\u202e",
        "\ufeff",
        "\uffff",
    ],
)
def test_hidden_characters(character) -> None:
    """A character that no one can see is reported at its place, and does not shift what follows."""
    source = read_source(f"a: x\nb: y{character}z\nc: w\n".encode(), "f")
    assert [(one.code, one.line, one.column) for one in source.problems] == [("control-character", 2, 5)]
    assert source.text == "a: x\nb: y\ufffdz\nc: w\n"
    assert source.problems[0].read.isprintable()


def test_lost_characters() -> None:
    """The sign for a letter that was lost is a warning of its own."""
    assert [one[:3] for one in told("a: Gr\ufffd\n".encode())] == [("lost-character", 1, 6)]


def test_many_hidden_characters_are_not_all_named() -> None:
    """Of many hidden characters in a long text the first ones are named; a text full of them is no form."""
    assert len(told(("x" * 2000 + "\x07" * 60).encode())) == MOST_PLACES
    assert [code for code, *_ in told(("x" * 10 + "\x07" * 60).encode())] == ["file-not-a-form"]


def test_places_and_lines() -> None:
    """Places count lines by LF, CR and CRLF, and nothing else."""
    text = "ab\r\ncd\refg\nh\u2028i"
    assert [tuple(place_of(text, text.index(letter))) for letter in "abcdefghi"] == [
        *((1, 1), (1, 2), (2, 1), (2, 2), (3, 1), (3, 2), (3, 3), (4, 1), (4, 3))
    ]
    assert [line_of(text, number) for number in range(6)] == ["", "ab", "cd", "efg", "h\u2028i", ""]


@pytest.mark.parametrize(
    ("line", "found"),
    [("name: Bell #3", True), ("name: Bell\t#3", True), ("name: Bell # 3", False), ("name: Bell#3", False),
     ("# name", False), ("name: x #", False)],
)  # fmt: skip
def test_hash_lines(line, found) -> None:
    """A # with something right behind it, after a space, may have cut a text short."""
    assert hash_lines(f"a: 1\n{line}\n") == ({2: line} if found else {})
