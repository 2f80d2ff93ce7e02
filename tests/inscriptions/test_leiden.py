"""Leiden signs against the published tables, and every text read without a fault."""

import csv
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from registry.inscriptions.leiden import Kind, parse
from registry.inscriptions.reading import letters_on_bell, reading_text

TABLES = Path(__file__).resolve().parent / "tables"
SIGNS = "()[]{}<>⟨⟩⟦⟧`´|/=-+.…? \n\u0323\u0361aBçñß"


def table(name: str) -> list[dict[str, str]]:
    """Read a table; its comment lines tell citation and meaning."""
    with (TABLES / name).open(encoding="utf-8", newline="") as lines:
        return [*csv.DictReader(line for line in lines if not line.startswith("#"))]


ROWS = table("leiden_signs.csv")


@pytest.mark.parametrize("row", ROWS, ids=[row["sign"] for row in ROWS])
def test_signs_mean_what_is_published(row: dict[str, str]) -> None:
    """Each sign gives its letters their status, and both texts follow from that."""
    parsed = parse(row["transcription"])
    letters = [piece for piece in parsed.pieces if piece.kind is Kind.LETTER]
    assert " ".join(piece.status for piece in letters) == row["statuses"]
    assert reading_text(row["transcription"]).text == row["reading"]
    assert letters_on_bell(row["transcription"]).text == row["on_bell"]
    assert parsed.problems == ()


@pytest.mark.parametrize(
    ("text", "letters"),
    [
        ("[...]", 3), ("[. . .]", 3), ("[.....]", 5), ("[---]", None), ("[- - - - - -]", None), ("[—]", None),
        ("[…]", None), ("…", None), ("---", None), ("[c. 5]", 5), ("[ca. 12]", 12), ("[± 4]", 4),
        ("[..6..]", 6), ("[-7-]", 7), ("+++++", 5), ("[.]", 1), ("[-]", None),
    ],
)  # fmt: skip
def test_gaps_are_counted_where_the_edition_counts(text: str, letters: int | None) -> None:
    """One dot stands for one letter, a number for as many, dashes for nobody knows how many."""
    (gap,) = parse(text).pieces
    assert (gap.kind, gap.letters) == (Kind.GAP, letters)


@pytest.mark.parametrize(
    "text", ["S. MARIA", "[S. MARIA]", "A · B", "SAINT-DENIS", "[SAINT-DENIS]", "+ A + B", "[5]43"]
)
def test_points_and_hyphens_are_no_gaps(text: str) -> None:
    """A full stop, a hyphen, a cross and a restored figure lose nothing."""
    assert not [piece for piece in parse(text).pieces if piece.kind is Kind.GAP]


@pytest.mark.parametrize(
    ("text", "at", "sign"),
    [
        ("a[b", [1], ["["]),
        ("a]b", [1], ["]"]),
        ("[a(b]c)", [4], ["]"]),
        ("(a(b)c)", [2], ["("]),
        ("{a", [0], ["{"]),
        ("a>b<", [1, 3], [">", "<"]),
        ("a)b[c]d(", [1, 7], [")", "("]),
        ("⟦a[b⟧c]", [4], ["⟧"]),
    ],
)
def test_signs_without_partner_are_told_with_their_place(text: str, at: list[int], sign: list[str]) -> None:
    """Each bracket that is not closed, closes nothing or crosses another is a problem; letters are kept."""
    parsed = parse(text)
    assert [(each.at, each.sign) for each in parsed.problems] == list(zip(at, sign, strict=True))
    letters = "".join(piece.text for piece in parsed.pieces if piece.kind is Kind.LETTER)
    assert letters == "".join(each for each in text if each.isalpha())


@given(st.one_of(st.text(max_size=60), st.text(alphabet=SIGNS, max_size=60)))
def test_any_text_can_be_read(text: str) -> None:
    """No text is refused; pieces stand in order, apart, and all that is left out is brackets."""
    parsed = parse(text)
    done = 0
    left_out = ""
    for piece in parsed.pieces:
        assert done <= piece.start < piece.end <= len(text)
        left_out += text[done : piece.start]
        done = piece.end
    left_out += text[done:]
    assert set(left_out) <= set("()[]{}<>⟨⟩〈〉⟦⟧`´")
    for made in (reading_text(text), letters_on_bell(text)):
        assert len(made.text) == len(made.origins)
        assert list(made.origins) == sorted(made.origins)
        assert all(0 <= place < len(text) for place in made.origins)


def test_reading_of_a_whole_transcription() -> None:
    """Abbreviations are filled in, words that a line end parts are joined, losses stay visible."""
    text = "+ A(ve) M[aria] gra͡cia {x}ple|na ⟨d⟩ñs [---]"
    assert reading_text(text).text == "+ Ave Maria gracia plena dñs […]"
    assert letters_on_bell(text).text == "A M gracia xplena ñs […]"
